"""A gauge: a slice of a pocket, a few mm high, marked with its size, to be tried before the pocket is printed.

Small ones are rings (or frames, for boxes) with the wall of the real pocket, so they come off the printer as it does.
The wider, the lower, so that three of them stay cheap; beyond that, three arcs on a star.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import whole_layers
from nookwright.parts.model import Example
from nookwright.parts.refusals import refuse_part
from nookwright.parts.trials.gauge_arcs import arcs
from nookwright.parts.trials.gauge_ring import ring
from nookwright.parts.trials.gauge_tag import GaugeSpec

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

SET = Fact(3, unit="1", kind=Kind.CHOICE, source="Gauges of one print: below, at and above the likeliest size.")
MOST_SET_G = Fact(5.0, unit="g", kind=Kind.CHOICE, source="Three gauges together: a fraction of any tray.")
MOST_SET_S = Fact(900.0, unit="s", kind=Kind.CHOICE, source="A quarter of an hour: printed while one waits.")
HIGHEST = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="A few mm: a thing stands in it without being led.")
LOWEST = Fact(2.4, unit="mm", kind=Kind.CHOICE, source="A lower ring is floppy, and a thing rides up on it.")
DENSEST_G_CM3 = Fact(
    1.27, unit="g/cm3", kind=Kind.HANDBOOK, source="PETG, the densest of the usual filaments, by makers' data sheets."
)
SMALLEST = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="What is thinner needs no pocket.")


def gauge(module: Module, spec: GaugeSpec) -> Part:
    """One gauge: a ring or frame where three of them are cheap enough, else three arcs.

    Args:
        module: the household's module.
        spec: the slice of the pocket.

    Raises:
        RecipeError: smaller than any pocket, or three of them cost more than gauges may.
    """
    _check(spec)
    layer = module.seat.layer
    high, low = (round(whole_layers(each, layer) / layer) for each in (HIGHEST, LOWEST))
    for level in range(high, low - 1, -1):
        found = ring(module, spec, round(level * layer, 6))
        if is_cheap(found, layer):
            return found
    found = arcs(module, spec) if spec.round else found
    if not is_cheap(found, layer):
        refuse_part(
            "a gauge",
            f"{SET:g} of them take at most {MOST_SET_G:g} g and {MOST_SET_S / 60:g} minutes",
            found=f"a size of {spec.words}",
            allowed="smaller ones",
            remedy="Measure more of the things instead.",
        )
    return found


def is_cheap(part: Part, layer: float) -> bool:
    """Whether three gauges like this one cost no more than gauges may.

    Args:
        part: one gauge.
        layer: of the printer, mm.
    """
    mass_g, time_s = part.plastic.mass_g(DENSEST_G_CM3), part.plastic.time_s(layer)
    return mass_g * SET <= MOST_SET_G and time_s * SET <= MOST_SET_S


def _check(spec: GaugeSpec) -> None:
    sides = (spec.width,) if spec.round else (spec.width, spec.depth)
    if min(sides) < SMALLEST or not 0 <= 2 * spec.radius <= min(sides):
        refuse_part(
            "a gauge",
            "it is a slice of a pocket",
            found=f"{spec.words} with corners of {spec.radius:g}",
            allowed=f"{SMALLEST:g} and more, corners of at most half of it",
            remedy="Give the size of the pocket.",
        )


def examples(module: Module) -> tuple[Example, ...]:
    """Rings have one handle, the pocket; a star has none."""
    wanted = (
        ("smallest", GaugeSpec(8.0), 1),
        ("middle", GaugeSpec(40.5), 1),
        ("middle", GaugeSpec(30.2, 18.4, 2.0), 1),
        ("middle", GaugeSpec(90.3), 1),
        ("largest", GaugeSpec(180.0), 0),
    )
    return tuple(Example(size, gauge(module, spec), genus) for size, spec, genus in wanted)
