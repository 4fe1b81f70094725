"""One printer's bed: what lies on it at the same time, and how few times it must be filled.

Boxes first, in tenths of a millimetre; in cells of a millimetre where places must stay free, or where outlines leave
room that could save a bedful.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import CELL, kept_free, room_between
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.packing.moves import Draws, state_from
from nookwright.making.beds.footprints import (
    LEAST_ROOM,
    area_of,
    box_ways,
    least_boxes,
    outline_cells,
    outline_ways,
    useful,
)
from nookwright.making.nesting.bins import nested
from nookwright.making.nesting.bounds import least_bins
from nookwright.making.nesting.cells import Grid, lay
from nookwright.making.nesting.model import Bin, bins_of
from nookwright.making.nesting.plain import one_bin
from nookwright.making.pads import pad_reach, sides_with_pads, with_pads

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from nookwright.making.beds.model import Contours, Job, Outlines
    from nookwright.making.nesting.cells import Footprint, Laid, Ways
    from nookwright.making.nesting.model import Box, Spot
    from nookwright.survey.models import Printer

CELL_TRIES = Fact(
    1200, unit="copies", kind=Kind.CHOICE, source="Tries times the copies of a search in cells: about a second."
)
FEWEST_TRIES = Fact(12, unit="tries", kind=Kind.CHOICE, source="The same for very many copies.")
MOST_JUMPS = Fact(4, unit="1", kind=Kind.CHOICE, source="Widths at which a bound begins to count; each takes a look.")
_CHANGES = 3  # kinds of change of an order
_QUARTERS = 4
_TENTHS = 10  # boxes are nested in whole tenths of a millimetre


@dataclass(frozen=True)
class Place:
    """Where a copy lies: its number, the corner of its box from that of the printable area in mm, its quarter turns."""

    copy: int
    x: float
    y: float
    turns: int


Fill = tuple[Place, ...]


class Bed:
    """The bed of a printer for the copies of some jobs; a copy is known by its number."""

    def __init__(self, printer: Printer, copies: Sequence[Job], outlines: Outlines | None = None) -> None:
        """Look at the copies.

        Args:
            printer: as surveyed.
            copies: what each copy is of; copies of one job beside each other or not.
            outlines: of pieces seen from above, where they are known; their boxes count without.
        """
        self.printer, self.copies = printer, copies
        self._known: dict[tuple[int, tuple[Box, ...]], bool] = {}
        self.outlines = None if printer.one_by_one else outlines  # one by one, nothing grows within another
        jobs = list(dict.fromkeys(copies))
        number = {job: at for at, job in enumerate(jobs)}
        self.jobs, self.kinds = jobs, [number[job] for job in copies]
        self.pads = [pad_reach(printer, job.width, job.depth) if job.pads else 0.0 for job in jobs]
        self.sides = [
            sides_with_pads(printer, job.width, job.depth, reach) for job, reach in zip(jobs, self.pads, strict=True)
        ]
        self.boxes: list[Box] = [self._box(kind) for kind in self.kinds]
        head = printer.one_by_one
        self.lone = frozenset(at for at, job in enumerate(jobs) if head and job.height > head.height)

    @cached_property
    def spacing(self) -> float:
        """Between two pieces, brims included; one by one the head must pass as well."""
        return room_between(self.printer)

    @cached_property
    def _inside(self) -> tuple[float, float]:
        """Width and depth between the margins."""
        off = 2 * self.printer.margin
        return self.printer.bed_width - off, self.printer.bed_depth - off

    @cached_property
    def bin(self) -> Bin:
        """The bed in tenths, with the room that the last piece of a row keeps to nothing."""
        return Bin(*self._bin_sides)

    @cached_property
    def _bin_sides(self) -> tuple[int, int]:
        width, depth = (math.floor(round((side + self.spacing) * _TENTHS, 6)) for side in self._inside)
        return width, depth

    @cached_property
    def grid(self) -> Grid:
        """The same in cells."""
        width, depth = (math.floor(round((side + self.spacing) / CELL, 6)) for side in self._inside)
        return Grid(width, depth, tuple(self._blocked()))

    def _blocked(self) -> list[tuple[int, int, int, int]]:
        """The cells of places that must stay free, less the room that pieces bring along on their right and back."""
        found = []
        for x0, y0, x1, y1 in kept_free(self.printer):
            right, back = (math.ceil(round(to / CELL, 6)) for to in (x1, y1))
            left, front = (math.floor(round((at + self.spacing) / CELL, 6)) for at in (x0, y0))
            left, front = min(left, right - 1), min(front, back - 1)
            found.append((left, front, right - left, back - front))
        return found

    def _box(self, kind: int) -> Box:
        width, depth = (math.ceil(round((side + self.spacing) * _TENTHS, 6)) for side in self.sides[kind])
        if not self.pads[kind]:
            return width, depth
        small, large = (min(pair) for pair in zip(sorted((width, depth)), sorted(self._bin_sides), strict=True))
        return (small, large) if width <= depth else (large, small)

    @property
    def by_cells(self) -> bool:
        """Whether boxes alone do not say what fits."""
        return bool(self.printer.keep_out or self.lone)

    @cached_property
    def box_ways(self) -> list[Ways]:
        """Each kind as a box of cells."""
        return [box_ways(*sides, self.spacing) for sides in self.sides]

    @cached_property
    def outline_ways(self) -> list[Ways]:
        """Each kind by its outline where that leaves room for any kind, else as a box."""
        boxes = self._boxes_of(range(len(self.jobs)))
        found = []
        for kind, sides in enumerate(self.sides):
            if self._leaves_room(kind, range(len(self.jobs))):
                ways = outline_ways(self._open[kind], *sides, self.spacing)
                found.append(tuple((turns, useful(way, boxes)) for turns, way in ways))
            else:
                found.append(self.box_ways[kind])
        return found

    def _boxes_of(self, kinds: Iterable[int]) -> set[tuple[int, int]]:
        """The boxes of some kinds in cells, in all their ways."""
        return {(way.width, way.depth) for kind in kinds for _, way in self.box_ways[kind]}

    def _leaves_room(self, kind: int, others: Iterable[int]) -> bool:
        """Whether the outline of a kind leaves room that one of some kinds could use, if only in part."""
        if kind not in self._open:
            return False
        boxes = least_boxes(self._boxes_of(others))
        if (kind, boxes) not in self._known:
            way = useful(self._open_cells[kind], boxes)
            self._known[kind, boxes] = way.area <= (1 - LEAST_ROOM) * way.width * way.depth
        return self._known[kind, boxes]

    @cached_property
    def _open(self) -> dict[int, Contours]:
        """The outlines that leave some room in their box, by kind."""
        found = {}
        for kind, job in enumerate(self.jobs):
            contours, sides = self.outlines(job.piece) if self.outlines else None, self.sides[kind]
            if contours is not None and self.pads[kind]:
                contours = with_pads(contours, self.pads[kind], sides)
            if contours is not None and area_of(contours) <= (1 - LEAST_ROOM) * sides[0] * sides[1]:
                found[kind] = contours
        return found

    @cached_property
    def _open_cells(self) -> dict[int, Footprint]:
        """The same as cells, as they are drawn."""
        return {kind: outline_cells(contours, *self.sides[kind], self.spacing) for kind, contours in self._open.items()}

    def area(self, copy: int) -> int:
        """Of the box of a copy, in tenths, its room to the next included."""
        width, depth = self.boxes[copy]
        return width * depth

    def time_s(self, fill: Fill) -> float:
        """To print what lies on the bed, heating apart."""
        return sum(self.copies[place.copy].time_s for place in fill)

    def one(self, copies: Sequence[int]) -> Fill | None:
        """Some copies on one bed, or nothing where a short look finds no way."""
        if self.by_cells:
            return self._one_in_cells(copies, self.box_ways)
        boxes = [self.boxes[copy] for copy in copies]
        if sum(width * depth for width, depth in boxes) > self.bin.width * self.bin.depth:
            return None
        spots = one_bin(boxes, self.bin)
        return self._from_spots(spots, copies)[0] if spots else None

    def _one_in_cells(self, copies: Sequence[int], ways: Sequence[Ways]) -> Fill | None:
        if sum(ways[self.kinds[copy]][0][1].area for copy in copies) > self.grid.width * self.grid.depth:
            return None
        for order in self._orders(copies, ways):
            laid, out = lay(order, self.kinds, ways, self.grid, 1, lone=self.lone)
            if not out:
                return self._from_cells(laid)[0]
        return None

    def all(self, copies: Sequence[int]) -> tuple[Fill, ...]:
        """Some copies on as few beds as a search finds."""
        if not copies:
            return ()
        if self.by_cells:
            found = self._in_cells(copies, self.box_ways, len(copies))
        else:
            spots = nested([self.boxes[copy] for copy in copies], self.bin).spots
            found = self._from_spots(spots, copies)
        if len(found) > 1 and self.outlines and self.bound(copies) < len(found):
            found = self._in_cells(copies, self.outline_ways, len(found) - 1) or found
        return found

    def bound(self, copies: Sequence[int]) -> int:
        """No filling needs fewer beds: by area, by what cannot lie beside each other, by dual feasible functions.

        Where outlines leave room, the last two count only what cannot lie in each other's pockets, not even in part.
        """
        if not copies:
            return 0
        lone = sum(self.kinds[copy] in self.lone for copy in copies)
        closed = ([self.boxes[copy] for copy in copies if self.kinds[copy] in kinds] for kinds in self._closed)
        return max(1, self._by_area(copies), lone, *(least_bins(boxes, self.bin) for boxes in closed))

    def _by_area(self, copies: Sequence[int]) -> int:
        """Fewest beds by the cells that outlines take up."""
        if not self._open and not self.printer.keep_out:
            return 1
        area = sum(self._areas[self.kinds[copy]] for copy in copies)
        return -(-area // self.grid.free.bit_count())

    @cached_property
    def _areas(self) -> list[int]:
        """The cells that each kind takes up, however it lies; what no other could use is taken too."""
        kinds = range(len(self.jobs))
        boxes = self._boxes_of(kinds)
        return [
            useful(self._open_cells[kind], boxes).area
            if self._leaves_room(kind, kinds)
            else self.box_ways[kind][0][1].area
            for kind in kinds
        ]

    @cached_property
    def _closed(self) -> tuple[frozenset[int], ...]:
        """Sets of kinds that are boxes to each other: none leaves room that another could use.

        All that is wider than so much, less those that leave room even then; where widths jump, the narrow ones end.
        """
        if not self._open:
            return (frozenset(range(len(self.jobs))),)
        kinds = sorted(range(len(self.jobs)), key=lambda kind: (self._narrow(kind), kind))
        jumps = {at: self._narrow(kinds[at]) - self._narrow(kinds[at - 1]) for at in range(1, len(kinds))}
        firsts = sorted(jumps, key=lambda at: (-jumps[at], at))[: int(MOST_JUMPS)]
        return tuple(
            frozenset(kind for kind in kinds[first:] if not self._leaves_room(kind, kinds[first:]))
            for first in (0, *sorted(firsts))
        )

    def _narrow(self, kind: int) -> int:
        return min(self._box(kind))

    def _in_cells(self, copies: Sequence[int], ways: Sequence[Ways], most: int) -> tuple[Fill, ...]:
        """Some copies on at most so many beds by a search in cells; nothing where it finds no way."""
        tries = max(int(FEWEST_TRIES), int(CELL_TRIES) // len(copies))
        best: tuple[Laid, ...] = ()
        beds, bound = most, self.bound(copies)
        for order in self._orders(copies, ways):
            laid, out = lay(order, self.kinds, ways, self.grid, beds, lone=self.lone)
            if not out:
                best, beds = laid, max(one.bed for one in laid)
            if beds < bound:
                break
        draws = Draws(state_from(len(copies)))
        order, first = self._orders(copies, ways)[0], dict[int, int]()
        left = math.inf
        for _ in range(tries):
            if beds < bound:
                break
            tried, lying = _changed(order, first, draws)
            laid, out = lay(tried, self.kinds, ways, self.grid, beds, lone=self.lone, most_out=left, first=lying)
            area = sum(ways[self.kinds[copy]][0][1].area for copy in out)
            if area <= left:
                order, first, left = tried, lying, area
            if not out:
                best, beds, left = laid, max(one.bed for one in laid), math.inf
        return self._from_cells(best)

    def _orders(self, copies: Sequence[int], ways: Sequence[Ways]) -> list[list[int]]:
        """Orders worth a first look: large before small by area, longer side or shorter side; lone ones first."""

        def size(copy: int) -> tuple[int, int, int]:
            way = ways[self.kinds[copy]][0][1]
            return way.area, max(way.width, way.depth), min(way.width, way.depth)

        return [
            sorted(copies, key=lambda copy: (self.kinds[copy] not in self.lone, -size(copy)[by], -size(copy)[0], copy))
            for by in range(3)
        ]

    def _from_spots(self, spots: Sequence[Spot], copies: Sequence[int]) -> tuple[Fill, ...]:
        """Beds as filled, from boxes."""
        off = self.printer.margin
        fills: list[list[Place]] = [[] for _ in range(bins_of(tuple(spots)))]
        for spot in spots:
            x, y = off + spot.x / _TENTHS, off + spot.y / _TENTHS
            fills[spot.bin].append(Place(copies[spot.box], round(x, 6), round(y, 6), int(spot.turned)))
        return tuple(tuple(fill) for fill in fills)

    def _from_cells(self, laid: Sequence[Laid]) -> tuple[Fill, ...]:
        """Beds as filled, from cells."""
        off = self.printer.margin
        fills: list[list[Place]] = [[] for _ in range(max((one.bed for one in laid), default=-1) + 1)]
        for one in laid:
            fills[one.bed].append(
                Place(one.copy, round(off + one.x * CELL, 6), round(off + one.y * CELL, 6), one.turns)
            )
        return tuple(tuple(fill) for fill in fills)


def _changed(order: Sequence[int], first: Mapping[int, int], draws: Draws) -> tuple[list[int], dict[int, int]]:
    """An order with one copy moved, two exchanged, or one tried in another way first."""
    tried, lying = list(order), dict(first)
    one, two = draws.below(len(tried)), draws.below(len(tried))
    kind = draws.below(_CHANGES)
    if kind == 0:
        tried[one], tried[two] = tried[two], tried[one]
    elif kind == 1:
        tried.insert(two, tried.pop(one))
    else:
        lying[tried[one]] = draws.below(_QUARTERS)
    return tried, lying
