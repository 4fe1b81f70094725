"""Gauges as rings and frames: the wall of the pocket itself, relieved below, so no first layer touches the thing."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.parts.cradles.plan_outlines import RoundedBox, covered_mm2, slab
from nookwright.parts.model import Kind, Part
from nookwright.parts.trials.gauge_tag import TAG_DEPTH, lettering, lettering_mm3, tag, tag_height, tag_width
from nookwright.shapes.cutters import taper_open_below, through
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.trials.gauge_tag import GaugeSpec

RELIEF = Fact(
    0.6,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="More than a first layer spreads, 0.15 and twice 0.1 to each side.",
)


def ring(module: Module, spec: GaugeSpec, height: float) -> Part:
    """A ring, or a frame for boxes, with its tag before it.

    Args:
        module: the household's module.
        spec: the slice of the pocket.
        height: of the ring, mm.
    """
    layer, wide = module.seat.layer, tag_width(spec.mark)
    inner = _inner(module, spec, wide)
    outer = inner.grown(module.wall)
    depth = _tag_depth(outer, wide)
    body = Union((
        _raised(outer, height),
        tag(outer.x, wide, depth, layer),
        lettering(spec.mark, outer.x, 0.0, tag_height(layer), layer),
    ))  # fmt: skip
    return Part(
        kind=Kind.GAUGE,
        name=f"{'ring' if spec.round else 'frame'} gauge {spec.words} h{height:g}",
        parameters=(
            ("depth", spec.depth),
            ("height", height),
            ("radius", spec.radius),
            ("wall", module.wall),
            ("width", spec.width),
        ),
        recipe=Difference(body, _cuts(inner, height)),
        plastic=_plastic(spec, inner, outer, depth, height=height, layer=layer),
    )


def _inner(module: Module, spec: GaugeSpec, wide: float) -> RoundedBox:
    """The pocket's outline: right of the tag's left end, behind the tag."""
    half, back = spec.width / 2, (spec.width if spec.round else spec.depth) / 2
    middle = max(half + module.wall, wide / 2)
    radius = half if spec.round else spec.radius
    return RoundedBox(middle, TAG_DEPTH + module.wall + back, half, back, radius)


def _tag_depth(outer: RoundedBox, wide: float) -> float:
    """How deep the tag is: under the ring as far as its corners need to be held; the pocket is cut out of it."""
    beside = min(outer.radius, max(0.0, wide / 2 - outer.core[0]))
    curved = outer.radius - math.sqrt(outer.radius**2 - beside**2)
    return min(TAG_DEPTH + curved + RELIEF, outer.y)


def _raised(box: RoundedBox, height: float) -> Solid:
    width, depth = 2 * box.half_width, 2 * box.half_depth
    if box.radius == box.half_width == box.half_depth:
        return Move(Prism(Circle(box.radius), height), x=box.x, y=box.y)
    rect = Rect(width, depth, box.radius)
    return Move(Prism(rect, height), x=box.x - box.half_width, y=box.y - box.half_depth)


def _cuts(inner: RoundedBox, height: float) -> tuple[Solid, ...]:
    """The pocket, and its wider mouth at the bed."""
    mouth = inner.grown(RELIEF)
    if inner.radius == inner.half_width == inner.half_depth:
        hole = Move(through(Circle(inner.radius), 0.0, height), x=inner.x, y=inner.y)
        wide = taper_open_below(Circle(mouth.radius), 0.0, RELIEF, RELIEF)
        return hole, Move(wide, x=inner.x, y=inner.y)
    rect, wider = (Rect(2 * one.half_width, 2 * one.half_depth, one.radius) for one in (inner, mouth))
    return (
        Move(through(rect, 0.0, height), x=inner.x - inner.half_width, y=inner.y - inner.half_depth),
        Move(taper_open_below(wider, 0.0, RELIEF, RELIEF), x=inner.x - mouth.half_width, y=inner.y - mouth.half_depth),
    )


def _plastic(
    spec: GaugeSpec, inner: RoundedBox, outer: RoundedBox, depth: float, *, height: float, layer: float
) -> Plastic:
    wide = tag_width(spec.mark)
    page = slab(0.0, 0.0, outer.x + max(outer.half_width, wide / 2), outer.y + outer.half_depth)
    wall_mm2 = covered_mm2((outer,), page, (inner,))
    strip = slab(outer.x - wide / 2, 0.0, outer.x + wide / 2, depth)
    tag_mm2 = covered_mm2((outer, strip), page, (inner,)) - wall_mm2
    round_inside = 4 * (inner.core[0] + inner.core[1]) + 2 * math.pi * inner.radius
    relief = RELIEF**2 / 2 * round_inside
    return Plastic(
        body_mm3=wall_mm2 * height - relief + tag_mm2 * tag_height(layer) + lettering_mm3(spec.mark, layer),
        sparse_mm3=0.0,
        first_mm2=wall_mm2 + tag_mm2 - RELIEF * round_inside,
        height=height,
        hops=0.0,
    )
