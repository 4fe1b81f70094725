"""The dovetail that ties panels and fillers: half of one is a tongue, a whole one is a loose key dropped in from above.

A key is as thick as the panel, no more: the undersides of parts are flat at the panel's top over their whole
footprint, so anything thicker would lift them. It holds in the plane of the liner, which is where a slam pulls; upwards
the parts on top and the fillers' lips hold. At a neck of 5 x 0.6 and 20 MPa in shear, each carries about 60 N.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.shapes.regions import Polygon, Region, RegionMove
from nookwright.shapes.solids import Prism, Solid

if TYPE_CHECKING:
    from nookwright.module.module import Module

LENGTH = Fact(
    6.0, unit="mm", kind=SourceKind.CHOICE, source="Reach of a dovetail into a panel: clear of the cone beside it."
)
NECK = Fact(5.0, unit="mm", kind=SourceKind.CHOICE, source="Narrow end, at the edge: 60 N in shear at 0.6 thick.")
HEAD = Fact(8.0, unit="mm", kind=SourceKind.CHOICE, source="Wide end: 14 degrees a side hold without wedging.")
CLEARANCE = Fact(
    0.12, unit="mm", kind=SourceKind.CALCULATED, source="A side: free enough to drop in from above, 0.10 to 0.15."
)
LAND = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Of panel around a slot, full thickness.")
ROOT = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="A tongue starts this far inside the strip.")


def tongue(start: float, clearance: float = 0.0) -> Region:
    """Half a dovetail that points in +y: neck on the x axis, widening up to its reach.

    Args:
        start: y at which it begins, 0 or less (to root it in a body), mm.
        clearance: grown by this on all sides, for the slot, mm.
    """
    slope = (HEAD - NECK) / 2 / LENGTH
    neck, reach = NECK / 2 + clearance, LENGTH + clearance
    low, high = neck + slope * start, neck + slope * reach
    return Polygon(((-low, start), (low, start), (high, reach), (-high, reach)))


def rooted_tongue(thickness: float, x: float, border: float, inset: float, *, towards_back: bool = True) -> Solid:
    """A tongue whose neck lies on the border between a strip and a panel, begun inside the strip.

    Args:
        thickness: of the panel, mm.
        x: middle of the tongue along the strip, mm.
        border: y of the border, mm.
        inset: how far the strip's edge lies back from it, mm.
        towards_back: whether it points in +y; otherwise in -y.
    """
    turns = 0 if towards_back else 2
    return Prism(RegionMove(tongue(-inset - ROOT), x=x, y=border, quarter_turns=turns), thickness)


def tongue_mm2(inset: float) -> float:
    """Area of a tongue from the strip's edge on, mm2."""
    slope = (HEAD - NECK) / 2 / LENGTH
    return float((HEAD / 2 + NECK / 2 - slope * inset) * (LENGTH + inset))


def slot_land() -> tuple[float, float]:
    """Width along the edge and depth of the full plate around a slot, mm."""
    return HEAD + 2 * LAND, LENGTH + LAND


def key(module: Module) -> Part:
    """A loose key: two tongues, neck to neck."""
    half = HEAD / 2
    outline = Polygon(
        (
            (0.0, 0.0), (HEAD, 0.0), (half + NECK / 2, LENGTH), (HEAD, 2 * LENGTH),
            (0.0, 2 * LENGTH), (half - NECK / 2, LENGTH),
        )
    )  # fmt: skip
    area = (NECK + HEAD) * LENGTH
    return Part(
        kind=Kind.KEY,
        name=f"key {size_name(HEAD, 2 * LENGTH)}",
        parameters=(
            ("head", float(HEAD)),
            ("length", 2 * LENGTH),
            ("neck", float(NECK)),
            ("thickness", module.seat.panel),
        ),
        recipe=Prism(RegionMove(outline), module.seat.panel),
        plastic=Plastic(area * module.seat.panel, 0.0, area, module.seat.panel, 0.0),
    )


def examples(module: Module) -> tuple[Example, ...]:
    """The one key that there is; flat, so without a handle."""
    return (Example("middle", key(module), 0),)
