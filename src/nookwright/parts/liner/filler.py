"""A filler: a plain strip between panel and wall, with lips on its long edges and tongues that key it to the panel.

Both edges stand up by default, not only the one at the wall: a panel's edge of 0.6 would ride up over a flat strip in a
slam. A strip between two panels is keyed on both sides. The tall and the sprung filler have modules of their own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.layout.filler_forms import travel_for
from nookwright.layout.liner import EDGE_INSET, FillerForm, FillerSpec, Lips
from nookwright.module.estimates import LIP_WIDTH, Plastic, lip_height
from nookwright.parts.liner.filler_rules import check_filler
from nookwright.parts.liner.keys import LENGTH, rooted_tongue, tongue_mm2
from nookwright.parts.liner.sprung_filler import sprung_filler
from nookwright.parts.liner.tall_filler import tall_filler
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Value


def filler(module: Module, spec: FillerSpec) -> Part:
    """A filler of any form.

    Args:
        module: the household's module.
        spec: its sizes.

    Raises:
        RecipeError: too thin, too short, or a tongue that runs over an end or into another.
    """
    if spec.form is FillerForm.TALL:
        return tall_filler(module, spec)
    if spec.form is FillerForm.SPRUNG:
        return sprung_filler(module, spec)
    return _plain(module, spec)


def _plain(module: Module, spec: FillerSpec) -> Part:
    """A strip; between two panels it lies back from both of them."""
    check_filler(spec)
    thick, high = module.seat.panel, lip_height(module)
    ahead = LENGTH + EDGE_INSET if spec.far_tongues else 0.0
    width = spec.width - EDGE_INSET * (2 if spec.far_tongues else 1)
    lips = 2 if spec.lips is Lips.BOTH else 1
    body = Union((Prism(Rect(spec.length, width), thick), *_lips(spec.length, width, high, lips)))
    border = ahead + width + EDGE_INSET
    keys = [rooted_tongue(thick, x, border, EDGE_INSET) for x in spec.tongues]
    keys += [rooted_tongue(thick, x, LENGTH, EDGE_INSET, towards_back=False) for x in spec.far_tongues]
    area = spec.length * width + len(keys) * tongue_mm2(float(EDGE_INSET))
    lying = Move(body, y=ahead) if ahead else body
    return Part(
        kind=Kind.FILLER,
        name=f"{_word(spec)}filler {size_name(spec.length, width)}",
        parameters=_parameters(module, spec, width, high),
        recipe=_united(lying, keys),
        plastic=Plastic(
            body_mm3=area * thick + lips * spec.length * LIP_WIDTH * (high - thick),
            sparse_mm3=0.0,
            first_mm2=area,
            height=high,
            hops=0.0,
        ),
    )


def _word(spec: FillerSpec) -> str:
    """What tells it from the usual one."""
    if spec.far_tongues:
        return "two-sided "
    return "" if spec.lips is Lips.BOTH else "one-lipped "


def _lips(length: float, width: float, high: float, count: int) -> tuple[Solid, ...]:
    """The lip at the wall, and the one at the panel."""
    lip = Prism(Rect(length, LIP_WIDTH), high)
    return (lip, Move(lip, y=width - LIP_WIDTH))[:count]


def _united(body: Solid, keys: list[Solid]) -> Union:
    """Strip and tongues as one body; a plain strip without a shift is one flat union."""
    parts = body.solids if isinstance(body, Union) else (body,)
    return Union((*parts, *keys))


def _parameters(module: Module, spec: FillerSpec, width: float, high: float) -> tuple[tuple[str, Value], ...]:
    """What it was made from; what is as usual is not named."""
    named: dict[str, Value] = {
        "length": spec.length,
        "lip": high,
        "thickness": module.seat.panel,
        "tongues": spec.tongues,
        "width": width,
    }
    if spec.lips is not Lips.BOTH:
        named["lips"] = spec.lips.value
    if spec.far_tongues:
        named["far_tongues"] = spec.far_tongues
    return tuple(sorted(named.items()))


def examples(module: Module) -> tuple[Example, ...]:
    """Each form from short to long; strips, troughs and leaves on posts have no handles."""
    pitch = module.pitch
    short = FillerSpec(round(3 * pitch - 0.4, 1), 5.0, (round(1.5 * pitch, 1),))
    middle = FillerSpec(round(6 * pitch - 0.4, 1), 7.0, (round(2 * pitch, 1), round(4 * pitch, 1)))
    largest = FillerSpec(round(11 * pitch - 0.4, 1), 9.0, (round(3 * pitch, 1), round(8 * pitch, 1)))
    sizes = (("smallest", short), ("middle", middle), ("largest", largest))
    long = (("smallest", middle), ("middle", replace(middle, length=round(8 * pitch, 1))), ("largest", largest))
    tall, sprung = FillerForm.TALL, FillerForm.SPRUNG
    specs = [(size, spec) for size, spec in sizes]
    specs += [(size, replace(spec, lips=Lips.WALL, width=spec.width + 0.5)) for size, spec in sizes]
    specs += [(size, replace(spec, far_tongues=spec.tongues, width=spec.width + 1)) for size, spec in sizes]
    heights = {"smallest": 2, "middle": 6, "largest": 15}
    specs += [(size, replace(spec, form=tall, height=heights[size] * module.rise)) for size, spec in sizes]
    specs += [(size, replace(spec, form=sprung, width=9.0, travel=travel_for(2 * spec.length))) for size, spec in long]
    return tuple(Example(size, filler(module, spec), 0) for size, spec in specs)
