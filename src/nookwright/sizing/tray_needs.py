"""Room that the options of a tray take from its inside, so that things are never planned into plastic.

Handed in as plain data by what knows the options; no shapes here. All lengths are measured from the inside of the left
or front wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind

Span = tuple[float, float]

HAIR = Fact(1e-6, unit="mm", kind=Kind.CHOICE, source="Noise of sums of lengths; far below anything that is made.")
CORNER_ROOM = Fact(
    1.2,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A box's corner clears an inside corner of 3.8 at equal distances of 3.8 (1 - 1/sqrt 2) = 1.12 from both.",
)
ROLLED_CORNER_ROOM = Fact(
    3.3,
    unit="mm",
    kind=Kind.CALCULATED,
    source="The same on a smooth floor, whose roll of 3 leaves 0.8 of the corner level: 3.8 - 0.8 / sqrt 2 = 3.24.",
)


@dataclass(frozen=True)
class Parting:
    """How one side of the inside is parted, and what the front takes of it.

    Attributes:
        compartments: equal ones; 1 for a side that nothing parts, or that dividers part where they are said to be.
        at: middles of dividers at given places, mm, ascending; then ``compartments`` is 1.
        thick: thickness of a divider, mm.
        guide: what a divider takes with its slot, mm; the thickness where it has none.
        least_clear: between dividers at least, mm.
        front: what the front takes of the first compartment at least, mm.
        front_share: what it takes as a share of that compartment, if that is more.
        fixed: whether the dividers are printed in one with the tray.
    """

    compartments: int = 1
    at: tuple[float, ...] = ()
    thick: float = 0.0
    guide: float = 0.0
    least_clear: float = 0.0
    front: float = 0.0
    front_share: float = 0.0
    fixed: bool = True

    @property
    def parted(self) -> bool:
        """Whether there are dividers."""
        return self.compartments > 1 or bool(self.at)

    @property
    def plain(self) -> bool:
        """Whether it is one span from wall to wall."""
        return not (self.parted or self.front)

    def spans(self, inside: float) -> tuple[Span, ...]:
        """The spans that are free for things, from the left or front.

        Args:
            inside: from wall to wall, mm.
        """
        middles = self.at or tuple(self._middle(number, inside) for number in range(1, self.compartments))
        half = self.guide / 2
        edges = [0.0, *(edge for middle in middles for edge in (middle - half, middle + half)), inside]
        clear = (middles[0] - self.thick / 2) if middles else inside
        edges[0] = max(self.front, self.front_share * clear) if self.front else 0.0
        return tuple((start, max(start, end)) for start, end in zip(edges[::2], edges[1::2], strict=True))

    def _middle(self, number: int, inside: float) -> float:
        return number * (self._clear(inside) + self.thick) - self.thick / 2

    def _clear(self, inside: float) -> float:
        """Between two dividers, where compartments are equal, mm."""
        return (inside - (self.compartments - 1) * self.thick) / self.compartments

    def _inside(self, clear: float) -> float:
        return clear * self.compartments + (self.compartments - 1) * self.thick

    def room_for(self, inside: float, pitch: float, edge: float) -> tuple[int, ...]:
        """How many things each span takes side by side.

        Args:
            inside: from wall to wall, mm.
            pitch: from thing to thing, mm.
            edge: what the first and last thing of a span need besides, mm.
        """
        return tuple(max(0, int((end - start - edge + HAIR) // pitch)) for start, end in self.spans(inside))

    def least(self, count: int, pitch: float, edge: float) -> float:
        """The smallest inside whose spans take so many things, mm.

        Args:
            count: how many things.
            pitch: from thing to thing, mm.
            edge: what the first and last thing of a span need besides, mm.
        """
        if self.plain:
            return max(count * pitch + edge, self.least_clear)
        if self.at:
            taken = sum(self.room_for(self.at[-1] + self.guide, pitch, edge)[:-1])
            room = max(0, count - taken) * pitch + edge
            return self.at[-1] + max(self.guide / 2 + room, self.thick / 2 + self.least_clear)
        least_clear = max(self.least_clear, 2 * self.front if self.front else 0.0)
        most = math.ceil(count / max(1, self.compartments - 1)) if self.parted else count
        clears = (self._clear_for(number * pitch + edge, kind) for number in range(most + 1) for kind in _Taken)
        insides = sorted({self._inside(max(clear, least_clear)) for clear in clears})
        return next(one for one in insides if sum(self.room_for(one, pitch, edge)) >= count)

    def _clear_for(self, room: float, taken: tuple[bool, float]) -> float:
        """Between two dividers so that a span has so much room, mm."""
        behind_front, guides = taken
        room += guides * (self.guide - self.thick) / 2
        return max(room + self.front, room / (1 - self.front_share)) if behind_front else room


# What a span can lose besides its dividers: to the front, and to slots on none, one or both of its sides.
_Taken = ((False, 0.0), (False, 1.0), (False, 2.0), (True, 0.0), (True, 1.0))


@dataclass(frozen=True)
class TrayNeeds:
    """What the options of a lot's tray need.

    Attributes:
        columns: how the inside is parted along x.
        rows: the same along y, with what the front takes.
        inlay: thickness of a sheet on the floor, mm.
        least_width, least_depth: inside at least, mm.
        least_wall: height over the domes of the floor at least, mm, the inlay included.
        faces_front: it has a front, which should face the front of its space.
        below_rim: how far its dividers end below the rim, mm.
        swept_mm2: section of what fills a swept front at its tightest, mm2; it grows with what the front takes.
        strip: length at most and height of a name strip, mm.
    """

    columns: Parting = Parting()
    rows: Parting = Parting()
    inlay: float = 0.0
    least_width: float = 0.0
    least_depth: float = 0.0
    least_wall: float = 0.0
    faces_front: bool = False
    below_rim: float = 0.0
    swept_mm2: float = 0.0
    strip: tuple[float, float] = (0.0, 0.0)


PLAIN = TrayNeeds()


def shared_out(room: tuple[int, ...], count: int) -> tuple[int, ...]:
    """So many things on spans, each as full as the others as far as it has room.

    Args:
        room: what each span takes.
        count: how many there are; at most the sum of the room.

    >>> shared_out((1, 3, 3), 6)
    (1, 3, 2)
    """
    found = [0] * len(room)
    while sum(found) < min(count, sum(room)):
        open_spans = [number for number, most in enumerate(room) if found[number] < most]
        found[min(open_spans, key=lambda number: found[number])] += 1
    return tuple(found)
