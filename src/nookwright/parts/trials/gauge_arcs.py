"""Gauges for wide things: three short arcs on a flat star that the thing stands on.

They see the whole diameter, the printer's scale included, for a fraction of a ring's plastic. The star keeps the thing
off the first layer.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.module.seat import whole_layers
from nookwright.parts.cradles.plan_outlines import Slab, bar, covered_mm2, slab
from nookwright.parts.model import Kind, Part
from nookwright.parts.trials.gauge_tag import TAG_DEPTH, lettering, lettering_mm3, plate, tag_width
from nookwright.shapes.regions import Path
from nookwright.shapes.solids import Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.trials.gauge_tag import GaugeSpec

ARM = Fact(3.6, unit="mm", kind=SourceKind.CHOICE, source="Width of an arm of the star: that of a liner's strap.")
ARM_HEIGHT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Of the star: a liner's panel, flat on the table.")
ARC = Fact(12.0, unit="mm", kind=SourceKind.CHOICE, source="Length of an arc: it finds the side and does not bend.")
ARC_RISE = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Of an arc above the star.")
_ARMS_DEG = (270.0, 30.0, 150.0)


def arcs(module: Module, spec: GaugeSpec) -> Part:
    """Three arcs of a round pocket on their star.

    Args:
        module: the household's module.
        spec: the slice of the pocket.
    """
    layer, inner = module.seat.layer, spec.width / 2
    low = whole_layers(ARM_HEIGHT, layer)
    height = round(low + whole_layers(ARC_RISE, layer), 6)
    flat = _flat(module, spec)
    body = Union((
        *(plate(each, low) for each in flat),
        *(_arc(inner, inner + module.wall, angle, height) for angle in _ARMS_DEG),
        lettering(spec.mark, 0.0, -_front(module, spec), low, layer),
    ))  # fmt: skip
    x0, y0, *_ = body.bounds
    return Part(
        kind=Kind.GAUGE,
        name=f"arc gauge {spec.words} h{height:g}",
        parameters=(("arcs", len(_ARMS_DEG)), ("height", height), ("wall", module.wall), ("width", spec.width)),
        recipe=Move(body, x=-x0, y=-y0),
        plastic=_plastic(module, spec, flat, low=low, height=height),
    )


def _flat(module: Module, spec: GaugeSpec) -> tuple[Slab, ...]:
    """The star's arms, and the tag before the front one: outside, so that no thing stands on the lettering."""
    inner = spec.width / 2
    arms = (bar((0.0, 0.0), _polar(inner + module.wall / 2, math.radians(angle)), ARM) for angle in _ARMS_DEG)
    wide = tag_width(spec.mark)
    return (*arms, slab(-wide / 2, -_front(module, spec), wide / 2, -inner))


def _front(module: Module, spec: GaugeSpec) -> float:
    """How far the tag reaches to the front, from the middle of the star."""
    return spec.width / 2 + module.wall + TAG_DEPTH


def _polar(radius: float, angle: float) -> tuple[float, float]:
    return radius * math.cos(angle), radius * math.sin(angle)


def _arc(inner: float, outer: float, angle_deg: float, height: float) -> Solid:
    """A piece of a ring about an angle."""
    middle, half = math.radians(angle_deg), ARC / 2 / inner
    bulge = math.tan(half / 2)
    corners = (
        (*_polar(outer, middle - half), bulge),
        (*_polar(outer, middle + half), 0.0),
        (*_polar(inner, middle + half), -bulge),
        (*_polar(inner, middle - half), 0.0),
    )
    return Prism(Path(corners), height)


def _plastic(module: Module, spec: GaugeSpec, flat: tuple[Slab, ...], *, low: float, height: float) -> Plastic:
    points = [point for each in flat for point in each.points]
    page = slab(
        min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points)
    )
    star = covered_mm2(flat, page)
    arc = len(_ARMS_DEG) * ARC * module.wall * (1 + module.wall / spec.width)
    beside = (len(_ARMS_DEG) - 1) * (ARC - ARM / 2) * module.wall  # of the arcs behind, what no arm is under
    return Plastic(
        body_mm3=star * low + beside * low + arc * (height - low) + lettering_mm3(spec.mark, module.seat.layer),
        sparse_mm3=0.0,
        first_mm2=star + beside,
        height=height,
        hops=len(_ARMS_DEG) * (height - low) / module.seat.layer,
    )
