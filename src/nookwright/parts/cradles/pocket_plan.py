"""What a cradle with pockets of any shape is made from, and where its sleeves, ties, troughs and cuts lie."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.plan_outlines import RoundedBox, Slab, slab
from nookwright.parts.cradles.pocket import LEAD_IN_DEFAULT
from nookwright.parts.cradles.pocket_floor import HOLE, PushOut, hole, hole_place, rib_height
from nookwright.parts.cradles.sleeve_lines import thickness_of, wall_lines
from nookwright.parts.cradles.sleeves import Inside, ties, webs
from nookwright.parts.cradles.strip import Strip, slot_reach, slots
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Rect, Region, RegionIntersection, RegionMove, RegionUnion
from nookwright.shapes.solids import Move, Solid

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.cradles.pocket import Placed


@dataclass(frozen=True)
class PocketCradle:
    """What a cradle is made from.

    Attributes:
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
        pockets: with their middles.
        lead_in: chamfer at every mouth, mm; 0 for none.
        push_out: how things are helped out from below.
        hole: diameter of the hole where there is one, mm.
        finger_gap: depth of a trough along x through each row, half as wide as its least pocket is deep; 0 for none.
        strip: felt or rubber that lines every pocket; round and boxed ones only.
    """

    cols: int
    rows: int
    height: float
    pockets: tuple[Placed, ...]
    lead_in: float = LEAD_IN_DEFAULT
    push_out: PushOut = PushOut.BY_HAND
    hole: float = HOLE
    finger_gap: float = 0.0
    strip: Strip | None = None


@dataclass(frozen=True)
class Plan:
    """The plan of one cradle; each thing in it is worked out once."""

    module: Module
    asked: PocketCradle

    @cached_property
    def size(self) -> tuple[float, float]:
        """Outer width and depth, mm."""
        return outer_size(self.asked.cols, self.module.pitch), outer_size(self.asked.rows, self.module.pitch)

    @property
    def high(self) -> float:
        """Depth of a pocket, mm."""
        return self.asked.height - self.module.seat.dome

    @property
    def rib(self) -> float:
        """Height of the ribs that things are tipped over, mm."""
        return rib_height(self.module) if self.asked.push_out is PushOut.RIB else 0.0

    @cached_property
    def inside(self) -> Inside:
        """The inside of the outer wall."""
        (width, depth), wall = self.size, self.module.wall
        return Inside(wall, wall, width - wall, depth - wall, wall)

    @cached_property
    def outlines(self) -> tuple[RoundedBox, ...]:
        """The pockets just below their chamfers."""
        mouth = self.high - self.asked.lead_in
        return tuple(placed.pocket.outline(mouth, placed.x, placed.y) for placed in self.asked.pockets)

    @cached_property
    def thick(self) -> float:
        """Thickness of all sleeves: a line is left beside chamfers and slots, mm."""
        strip, line = self.asked.strip, wall_lines(self.module).width
        reach = max(slot_reach(outline, strip) for outline in self.outlines) if strip else 0.0
        least = max(self.asked.lead_in, reach)
        return thickness_of(self.module, least + line) if least else self.module.wall

    @cached_property
    def shapes(self) -> tuple[RoundedBox | Slab, ...]:
        """Sleeves before they are bored, webs and ties."""
        sleeves = tuple(outline.grown(self.thick) for outline in self.outlines)
        return (*sleeves, *webs(sleeves, self.inside), *ties(sleeves, self.inside))

    def region(self) -> Region:
        """All of these, clipped in the middle of the outer wall."""
        (width, depth), wall = self.size, self.module.wall
        clip = RegionMove(Rect(width - wall, depth - wall, CORNER_RADIUS - wall / 2), x=wall / 2, y=wall / 2)
        return RegionIntersection((RegionUnion(tuple(shape.region() for shape in self.shapes)), clip))

    @cached_property
    def troughs(self) -> tuple[Slab, ...]:
        """Finger gaps: one along each row, from wall to wall."""
        if not self.asked.finger_gap:
            return ()
        rows: dict[float, list[RoundedBox]] = defaultdict(list)
        for outline in self.outlines:
            rows[round(outline.y, 2)].append(outline)
        halves = [(y, min(each.half_depth for each in row) / 2) for y, row in rows.items()]
        spans = _joined([(y - half, y + half) for y, half in halves])
        return tuple(slab(self.inside.left, low, self.inside.right, high) for low, high in spans)

    def cuts(self) -> tuple[Solid, ...]:
        """Everything that is cut away: pockets, slots, troughs, holes."""
        asked, floor = self.asked, self.module.seat.dome
        pockets = (
            Move(placed.pocket.cutter(self.high, asked.lead_in), x=placed.x, y=placed.y, z=floor)
            for placed in asked.pockets
        )
        open_ones = [(each, floor) for outline in self.outlines if asked.strip for each in slots(outline, asked.strip)]
        open_ones += [(each, asked.height - asked.finger_gap) for each in self.troughs]
        return (
            *pockets,
            *(open_above(each.region(), low, asked.height) for each, low in open_ones),
            *self._holes(),
        )

    def _holes(self) -> tuple[Solid, ...]:
        asked = self.asked
        if asked.push_out is not PushOut.HOLE:
            return ()
        places = [hole_place(self.module, asked.cols, asked.rows, each, asked.hole) for each in asked.pockets]
        return tuple(hole(place, asked.hole, self.module.seat.dome) for place in places)


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spans in order, those that overlap or meet made one.

    >>> _joined([(5, 8), (0, 2), (1, 4)])
    [(0, 4), (5, 8)]
    """
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(high, found[-1][1]))
        else:
            found.append((low, high))
    return found
