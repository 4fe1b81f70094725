"""What helps a thing out of a pocket from below: a hole through the floor, or a rib that tips it up."""

from __future__ import annotations

import math
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import LEAD_IN, SOCKET_SKIN, rings_of, whole_layers
from nookwright.parts.cradles.cradle import ROOT
from nookwright.parts.cradles.plan_outlines import RoundedBox
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, Rect, RegionMove
from nookwright.shapes.solids import Move, Prism, Solid

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.module.module import Module
    from nookwright.parts.cradles.pocket import Placed

HOLE = Fact(5.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Wide enough for the blunt end of a pencil.")
RIB_HEIGHT = Fact(
    1.6,
    unit="mm",
    kind=Kind.CHOICE,
    source="A thing of 20 mm that is pressed down on one side rises by 3 on the other.",
)
HOLE_LAND = Fact(0.4, unit="mm", kind=Kind.CHOICE, source="A hole keeps one line of floor to the wall of its pocket.")
SEARCH_STEP = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="A hole's place is looked for in steps of this.")


class PushOut(StrEnum):
    """How a thing is helped out of its pocket."""

    BY_HAND = "by hand"
    HOLE = "through a hole"
    RIB = "over a rib"


def hole_place(module: Module, cols: int, rows: int, placed: Placed, diameter: float) -> tuple[float, float]:
    """Where a hole goes through the floor of a pocket: nearest to its middle, clear of all sockets, mm.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        placed: the pocket.
        diameter: of the hole, mm.

    Raises:
        RecipeError: there is no such place.
    """
    foot = placed.pocket.floor_outline(placed.x, placed.y)
    room = foot.grown(-diameter / 2 - HOLE_LAND) if min(foot.half_width, foot.half_depth) > diameter else None
    sockets = [
        (x, y, module.seat.cone_base + ring.clearance + LEAD_IN + SOCKET_SKIN + diameter / 2)
        for ring in rings_of(cols, rows, module.pitch, module.seat.growth, module.seat.clearance)
        for x, y in ring.places
        if abs(x - foot.x) < foot.half_width + module.pitch and abs(y - foot.y) < foot.half_depth + module.pitch
    ]
    if room is not None:
        for x, y in _from_the_middle(room):
            if all(math.hypot(x - u, y - v) >= reach for u, v, reach in sockets):
                return x, y
    return refuse_part(
        f"the hole in a pocket ({placed.pocket.words})",
        "it goes through the floor between the sockets",
        found=f"{diameter:g} wide at {placed.x:g}, {placed.y:g}",
        allowed="a place clear of all sockets",
        remedy="Take a narrower hole, shift the pocket, or take a rib.",
    )


def _from_the_middle(room: RoundedBox) -> Iterator[tuple[float, float]]:
    """Places within an outline, nearest to its middle first."""
    wide, deep = (math.floor(half / SEARCH_STEP) for half in (room.half_width, room.half_depth))
    steps = [(i * SEARCH_STEP, j * SEARCH_STEP) for i in range(-wide, wide + 1) for j in range(-deep, deep + 1)]
    for dx, dy in sorted(steps, key=lambda step: (math.hypot(*step), step)):
        if RoundedBox(room.x + dx, room.y + dy, 0.0, 0.0, 0.0).gap(room) <= 0:
            yield room.x + dx, room.y + dy


def hole(place: tuple[float, float], diameter: float, floor: float) -> Solid:
    """A hole through a floor, as a cutter."""
    return through(RegionMove(Circle(diameter / 2), x=place[0], y=place[1]), 0.0, floor)


def rib(module: Module, placed: Placed) -> Solid:
    """A rib across the floor of a pocket, along x, its ends sunk in the sleeve and its root in the floor."""
    half, wall = placed.pocket.floor_outline().half_width + ROOT / 2, module.wall
    return Move(
        Prism(Rect(2 * half, wall), rib_height(module) + ROOT),
        x=placed.x - half,
        y=placed.y - wall / 2,
        z=module.seat.dome - ROOT,
    )


def rib_height(module: Module) -> float:
    """Height of a rib above the floor, mm."""
    return whole_layers(RIB_HEIGHT, module.seat.layer)
