"""The modules that are tried: pitches, rises, and what a household's module is made of at each of them."""

from __future__ import annotations

from nookwright.ground.sources import Fact, Kind
from nookwright.module.lines import WALL
from nookwright.module.module import Module
from nookwright.module.seat import CLEARANCE_GROWTH, seat_of, whole_layers

RISE_START = Fact(
    6.0, unit="mm", kind=Kind.CHOICE, source="30 layers of 0.2, 24 of 0.25, 20 of 0.3: whole at all usual heights."
)
RISE_STEP = Fact(
    3.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="The least height that layers of 0.2, 0.25 and 0.3 all make whole: parts of any usual printer swap.",
)
SMALLEST_RISE = Fact(
    3.0, unit="mm", kind=Kind.CALCULATED, source="Below, rims that differ by a step look like a fault of the print."
)
LARGEST_RISE = Fact(
    12.0, unit="mm", kind=Kind.CALCULATED, source="The lowest wall that keeps things in; above, one step is a tray."
)
SMALLEST_FINE = Fact(
    17.0, unit="mm", kind=Kind.CALCULATED, source="Below, sockets leave too little land for their rings."
)
LARGEST_FINE = Fact(19.0, unit="mm", kind=Kind.CALCULATED, source="Upper end of the fine range, for small things.")
SMALLEST_COARSE = Fact(22.0, unit="mm", kind=Kind.CALCULATED, source="Lower end of the coarse range, for heavy things.")
LARGEST_COARSE = Fact(24.0, unit="mm", kind=Kind.CALCULATED, source="Above, the gap at an edge is a hand's width.")
PITCH_STEP = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="Sizes stay readable on a rule.")
TYPICAL_DENSITY_G_CM3 = Fact(
    1.24, unit="g/cm3", kind=Kind.HANDBOOK, source="PLA, ISO 1183 figure of several data sheets."
)


def pitches() -> tuple[float, ...]:
    """The pitches that are tried, mm.

    >>> pitches()[:2], pitches()[-1]
    ((17.0, 17.5), 24.0)
    """
    return (
        *_steps(SMALLEST_FINE, LARGEST_FINE, PITCH_STEP),
        *_steps(SMALLEST_COARSE, LARGEST_COARSE, PITCH_STEP),
    )


def rises(layer: float) -> tuple[float, ...]:
    """The rises that are tried, mm: whole layers of the household, each once.

    Args:
        layer: the household's common layer, mm.

    >>> rises(0.2), rises(0.28)
    ((3.0, 6.0, 9.0, 12.0), (3.08, 6.16, 9.24, 12.04))
    """
    return tuple(sorted({whole_layers(step, layer) for step in _steps(SMALLEST_RISE, LARGEST_RISE, RISE_STEP)}))


def _steps(first: float, last: float, step: float) -> tuple[float, ...]:
    """From the first to the last in equal steps."""
    return tuple(float(first + step * number) for number in range(round((last - first) / step) + 1))


def module_of(pitch: float, rise: float, layer: float, chosen: str, growth: float = CLEARANCE_GROWTH) -> Module:
    """The module of a pitch and rise.

    Args:
        pitch: cell size, mm.
        rise: height step, mm; rounded up to whole layers.
        layer: the household's common layer, mm.
        chosen: why, in one sentence.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
    """
    seat = seat_of(layer, growth)
    return Module(pitch=pitch, rise=whole_layers(rise, layer), seat=seat, wall=float(WALL), chosen=chosen)
