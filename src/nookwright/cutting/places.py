"""Where to cut a part: the fewest shares that fit the bed, where least is harmed, nearly equal.

A good place is one where the part looks the same on both sides of the cut, where nothing thin is met, where the outer
walls are whole, and no pocket, grip or window is cut through. No kind of part is known here: dividers, strips and
sleeves show in the sections beside a cut, pockets and grips in what the recipe takes away.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.cutting.leaves import leaves
from nookwright.cutting.sight import IN_FRONT
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.cutting.model import Bed
    from nookwright.cutting.sections import Look, Sections
    from nookwright.cutting.sight import Sight
    from nookwright.parts.model import Part, Value
    from nookwright.shapes.boxes import Box3

CHANGE = Fact(6.0, unit="cost", kind=Kind.CHOICE, source="A cut where half of what it meets ends beside it costs 3.")
RUN = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="Each wall more that a cut goes through: one more seam to glue.")
BROKEN_EDGE = Fact(4.0, unit="cost", kind=Kind.CHOICE, source="An outer wall that is missing there: a grip, a notch.")
CROSSED = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="Each pocket, grip or window that a cut goes through.")
WALL_LEFT = Fact(
    8.0, unit="mm", kind=Kind.CHOICE, source="Of wall between a cut and a grip or window in it: less breaks off."
)
SEAM_IN_FRONT = Fact(0.5, unit="cost", kind=Kind.CHOICE, source="A seam that shows in the front of a drawer or shelf.")
TO_FRONT = Fact(
    0.05, unit="cost", kind=Kind.CHOICE, source="Of equal cuts the one nearer the back: less than any other reason."
)
UNEVEN = Fact(
    5.0, unit="cost", kind=Kind.CHOICE, source="Times the squares of the shares' deviations from their mean: no sliver."
)
LEAST_SHARE = Fact(
    25.0, unit="mm", kind=Kind.CHOICE, source="A shorter piece is a sliver: hard to hold square while the glue sets."
)
MOST_OF_PART = Fact(
    0.5,
    unit="1",
    kind=Kind.CHOICE,
    source="What is taken out of a part over more of its length is its inside: it is cut.",
)
FREE_STEP = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Between places to cut on a part that has no cells.")
_GRAZED = 1.0  # mm that a cut may reach into the box of a pocket
_MORE = 3  # shares beyond the fewest that are tried where no cut of the fewest will do


@dataclass(frozen=True)
class Cuts:
    """Places along x and y, mm, what they cost, the room that they leave for dovetails, and heights, mm."""

    along_x: tuple[float, ...]
    along_y: tuple[float, ...]
    cost: float
    reach: float
    along_z: tuple[float, ...] = ()

    @property
    def fields(self) -> int:
        """How many fields they leave."""
        return (len(self.along_x) + 1) * (len(self.along_y) + 1) * (len(self.along_z) + 1)


def borders(part: Part, axis: int, *, least: float = 0.0) -> tuple[float, ...]:
    """The borders of a part's cells along an axis, or places a step apart where it has none, mm.

    Args:
        part: the part.
        axis: 0 for x, 1 for y.
        least: distance to both ends, mm.
    """
    named: Mapping[str, Value] = dict(part.parameters)
    size, pitch = part.size[axis], named.get("pitch")
    cells = named.get(("cols", "rows")[axis], named.get("cells") if axis == 0 else None)
    if isinstance(pitch, int | float) and isinstance(cells, int | float):
        middle = outer_size(int(cells), pitch) / 2 if part.seated else size / 2  # a fence's tongue is not its middle
        found = (middle + (number - cells / 2) * pitch for number in range(1, int(cells)))
    else:
        count = math.ceil(size / FREE_STEP)
        found = (size * number / count for number in range(1, count))
    return tuple(round(place, 4) for place in found if least <= place <= size - least)


class Places:
    """The places where one part may be cut, each looked at once."""

    def __init__(self, part: Part, sections: Sections, sight: Sight = IN_FRONT) -> None:
        """Prepare a part."""
        self._part, self._sections, self._sight = part, sections, sight
        self._borders = tuple(borders(part, axis, least=float(LEAST_SHARE)) for axis in (0, 1))
        self._taken = {box for box, cutter in leaves(part.recipe) if cutter}
        self._costs: dict[int, dict[float, float]] = {}

    def cuts(self, bed: Bed, reach: float) -> Cuts | None:
        """The best cuts for a bed, lengthwise or turned; ``None`` where no share fits.

        Args:
            bed: room on it, mm.
            reach: by which a joint makes each piece longer than its share, the last one aside, mm.
        """
        found = []
        for room in ((bed.width, bed.depth), (bed.depth, bed.width)):
            ways = [self._along(axis, room[axis], reach) for axis in (0, 1)]
            if ways[0] is not None and ways[1] is not None:
                found.append(Cuts(ways[0][1], ways[1][1], ways[0][0] + ways[1][0], reach))
        return min(found, key=lambda one: (one.fields, round(one.cost, 6), one.along_x, one.along_y), default=None)

    def _along(self, axis: int, room: float, reach: float) -> tuple[float, tuple[float, ...]] | None:
        """Cost and places of the fewest cuts along one axis."""
        size = self._part.size[axis]
        if size <= room + GRID:
            return 0.0, ()
        fewest = max(2, math.ceil(size / room)) if room > 0 else 0
        for count in range(fewest, fewest + _MORE) if fewest else ():
            if self._possible(axis, room, count, reach):
                return cheapest(size, self._cost(axis), count, room, reach)
        return None

    def _possible(self, axis: int, most: float, count: int, reach: float) -> bool:
        """Whether so many shares can be short enough, wherever that may be."""
        free = dict.fromkeys(self._borders[axis], 0.0)
        return cheapest(self._part.size[axis], free, count, most, reach) is not None

    def _cost(self, axis: int) -> Mapping[float, float]:
        """What each place costs."""
        if axis not in self._costs:
            places = self._borders[axis]
            met = _costs([self._sections.look(axis, place) for place in places])
            self._costs[axis] = {
                place: cost + CROSSED * self._crossed(axis, place) + self._seen(axis, place)
                for place, cost in zip(places, met, strict=True)
            }
        return self._costs[axis]

    def _seen(self, axis: int, place: float) -> float:
        """How much a seam shows: in the front, or far from the back."""
        share, back = place / self._part.size[axis], self._sight.back[axis]
        to_front = (1 - share) * max(0.0, back) + share * max(0.0, -back)
        return float(SEAM_IN_FRONT * self._sight.seams[axis] + TO_FRONT * to_front)

    def _crossed(self, axis: int, place: float) -> int:
        """How many pockets, grips or windows a cut goes through."""
        most = MOST_OF_PART * self._part.size[axis]
        return sum(
            box[axis] - self._beside(axis, box) < place < box[axis + 3] + self._beside(axis, box)
            for box in self._taken
            if box[axis + 3] - box[axis] < most
        )

    def _beside(self, axis: int, box: Box3) -> float:
        """How far a cut stays off something taken away; more where that is in an outer wall."""
        across = 1 - axis
        in_wall = box[across] <= 0 or box[across + 3] >= self._part.size[across]
        return float(WALL_LEFT) if in_wall and box[2] > 0 else -_GRAZED


def _costs(looks: Sequence[Look]) -> list[float]:
    """Costs of places, beside what is usual on this part."""
    if not looks:
        return []
    fewest = min(look.runs for look in looks)
    whole = [max(look.edges[end] for look in looks) for end in (0, 1)]
    found = []
    for look in looks:
        broken = sum(1 - edge / full for edge, full in zip(look.edges, whole, strict=True) if full)
        cost = CHANGE * min(look.change, 1.0) + RUN * (look.runs - fewest) + BROKEN_EDGE * broken
        found.append(cost if look.area_mm2 else math.inf)
    return found


def cheapest(
    size: float,
    costs: Mapping[float, float],
    count: int,
    most: float,
    reach: float = 0.0,
    *,
    least: float = float(LEAST_SHARE),
) -> tuple[float, tuple[float, ...]] | None:
    """The cheapest cuts into so many shares, by dynamic programming; ``None`` where there are none.

    Args:
        size: of the part, mm.
        costs: of each place, from the start, mm.
        count: how many shares.
        most: longest share, mm.
        reach: by which all but the last have to be shorter, mm.
        least: shortest share, mm.

    >>> cheapest(100, {40: 0, 50: 1, 60: 0}, 2, 60)
    (0.4, (40,))
    >>> cheapest(100, {40: 0, 50: 0, 60: 0}, 2, 40) is None
    True
    """
    mean = size / count
    places = sorted(costs)

    def share(start: float, end: float) -> float:
        longest = most - (reach if end < size else 0.0)
        if not least - GRID <= end - start <= longest + GRID:
            return math.inf
        return float(UNEVEN * ((end - start) / mean - 1) ** 2)

    best: dict[float, tuple[float, tuple[float, ...]]] = {0.0: (0.0, ())}
    for _ in range(count - 1):
        found: dict[float, tuple[float, tuple[float, ...]]] = {}
        for place in places:
            ways = [
                (cost + costs[place] + share(start, place), (*cuts, place))
                for start, (cost, cuts) in best.items()
                if start < place
            ]
            way = min(ways, default=(math.inf, ()))
            if math.isfinite(way[0]):
                found[place] = way
        best = found
    ends = [(round(cost + share(start, size), 9), cuts) for start, (cost, cuts) in best.items()]
    last = min(ends, default=(math.inf, ()))
    return last if math.isfinite(last[0]) else None
