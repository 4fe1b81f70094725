"""The cap of a hollow riser's filling hole: a plate, flush in its recess, and a skirt that holds it by friction.

It is printed on its head, as its recipe lies; ``worn`` says how it lies on its riser.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.module.seat import whole_layers
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.risers.hollow_riser import CAP_LAND, HOLE, Chamber, HollowSpec
from nookwright.parts.risers.riser import RiserTop
from nookwright.parts.swollen_rim import turned_over
from nookwright.shapes.cutters import open_above, through
from nookwright.shapes.regions import Rect, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

CLEARANCE = Fact(0.15, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Snug, on each side: pressed in by a thumb.")
SKIRT = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="How far a cap reaches below the roof.")
NICK = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Width of a nick for a blade, to lift the cap.")
NICK_DEPTH = Fact(
    0.8, unit="mm", kind=SourceKind.CHOICE, source="Less than the land below it, so that it stays closed."
)
WALL = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="Of the skirt: three lines.")


def cap(module: Module, spec: HollowSpec) -> Part:
    """The cap of the filling hole, on its head.

    Args:
        module: the household's module.
        spec: of the riser.

    Raises:
        RecipeError: the riser is refused.
    """
    room = Chamber(module, spec)
    thick, height = room.cap_thickness, _height(room)
    wide, deep = (size + 2 * (CAP_LAND - CLEARANCE) for size in (room.hole_width, float(HOLE)))
    outer = Rect(wide - 2 * CAP_LAND, deep - 2 * CAP_LAND)
    inner = Rect(outer.width - 2 * WALL, outer.depth - 2 * WALL)
    skirt = Difference(
        Prism(outer, height), (open_above(RegionMove(inner, x=float(WALL), y=float(WALL)), thick, height),)
    )
    nick = through(RegionMove(Rect(NICK, 2 * NICK_DEPTH), x=(wide - NICK) / 2, y=-float(NICK_DEPTH)), 0.0, thick)
    plate = Difference(Prism(Rect(wide, deep), thick), (nick,))
    ring = outer.width * outer.depth - inner.width * inner.depth
    return Part(
        kind=Kind.CAP,
        name=f"cap {size_name(wide, deep)}",
        parameters=(("deep", round(deep, 4)), ("height", height), ("pitch", module.pitch), ("wide", round(wide, 4))),
        recipe=Union((plate, Move(skirt, x=float(CAP_LAND), y=float(CAP_LAND)))),
        plastic=Plastic(
            (wide * deep - NICK * NICK_DEPTH) * thick + ring * (height - thick), 0.0, wide * deep, height, 0.0
        ),
    )


def worn(module: Module, spec: HollowSpec) -> Solid:
    """The cap as it lies on its riser, in the riser's axes."""
    room = Chamber(module, spec)
    part = cap(module, spec)
    x, y = room.hole_middle
    return Move(turned_over(part.recipe), x=x - part.size[0] / 2, y=y - part.size[1] / 2, z=room.high - _height(room))


def _height(room: Chamber) -> float:
    """Plate and skirt, mm."""
    return round(room.roof + whole_layers(SKIRT, room.module.seat.layer), 6)


def examples(module: Module) -> tuple[Example, ...]:
    """Caps; a cup has no handle, and the nick is open at the edge."""
    sizes = (
        ("smallest", HollowSpec(1, 2, 2)),
        ("middle", HollowSpec(4, 3, 4)),
        ("largest", HollowSpec(2, 2, 4, RiserTop.SMOOTH)),
    )
    return tuple(Example(size, cap(module, spec), 0) for size, spec in sizes)
