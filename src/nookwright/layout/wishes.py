"""What people wish inside a space, as costs with names: handy, backed, alike beside alike, in order, in one hand.

The layout of the room decides which space a lot goes to; here it is judged where in the space it stands, for calm and
tightest arrangements alike. Every part of the cost is 0 or more, and 0 for an empty space. What it does not know: how
far the cells end before a wall (up to a cell, filled up); a wall counts as standing right beside them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.model import CostPart
from nookwright.module.seat import outer_size
from nookwright.survey.layout_wishes import Weights

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.layout.model import Ask, Grid, Layout, Placed

FURTHER = Fact(
    0.001,
    unit="cost/mm",
    kind=Kind.CHOICE,
    source="A metre further in, for a weekly use: as much as 100 mm of stooping.",
)
BEHIND = Fact(
    0.02,
    unit="cost/mm",
    kind=Kind.CHOICE,
    source="What stays inside an open drawer is felt for, not seen: 50 mm of it cost as much as 100 mm of stooping.",
)
SLAM_M_S = Fact(0.5, unit="m/s", kind=Kind.COMMON_PRACTICE, source="A drawer that is shut without care.")
GRAVITY_M_S2 = Fact(9.81, unit="m/s2", kind=Kind.STANDARD, source="ISO 80000-3, standard acceleration of free fall.")
NOT_BACKED_BACK = Fact(
    4.0, unit="cost", kind=Kind.CHOICE, source="Shutting throws to the back, and a drawer is shut hard more often."
)
NOT_BACKED_FRONT = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="Opening against the stop throws to the front.")
BACKED_SHARE = Fact(0.5, unit="1", kind=Kind.CHOICE, source="Half of a side must lean on something, or the part turns.")
MASS_HEIGHT = Fact(0.5, unit="1", kind=Kind.COMMON_PRACTICE, source="The centre of mass is taken as half way up.")
BESIDE_SHARE = Fact(
    0.05,
    unit="1",
    kind=Kind.CHOICE,
    source="In one space but not side by side: so much of what two spaces would cost.",
)
SCATTERED = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="A group in one more place of a space.")
OUT_OF_ORDER = Fact(3.0, unit="cost", kind=Kind.CHOICE, source="Two lots the other way round than asked for.")
ANOTHER_SIZE = Fact(1.0, unit="cost", kind=Kind.CHOICE, source="One more size of part: it swaps with fewer others.")
HEMMED_IN = Fact(4.0, unit="cost", kind=Kind.CHOICE, source="A tray that comes out only after its neighbour.")
HAND = Fact(
    100.0,
    unit="mm",
    kind=Kind.MEMORY,
    source="Breadth of a large hand over the knuckles with a little room; wider trays are gripped from inside.",
)
FINGERTIP = Fact(
    15.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="A fingertip still reaches a rim that lies so far below the next.",
)
FAR_KG_M = Fact(
    2.0, unit="cost/(kg m)", kind=Kind.CHOICE, source="A kilogram lifted out over one metre of shelf with a bent back."
)
G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI.")
MM_PER_M = Fact(1000.0, unit="mm/m", kind=Kind.STANDARD, source="SI.")

USUAL = Weights()
_WALL = float("inf")  # higher than all that stands before it
Cell = tuple[int, int]  # its column and row


@dataclass(frozen=True)
class Wishes:
    """What is wished, of all spaces alike.

    Attributes:
        asks: the lots by id.
        pitch: size of a cell, mm.
        weights: what counts how much.
        order: ids of lots or groups, in the order that they should lie: left to right, front to back.
    """

    asks: Mapping[str, Ask]
    pitch: float
    weights: Weights = USUAL
    order: tuple[str, ...] = ()

    def rank(self, lot: str) -> int:
        """Its place in the order given; -1 for none."""
        ask = self.asks.get(lot)
        for number, name in enumerate(self.order):
            if name == lot or (ask is not None and ask.group == name):
                return number
        return -1


def wish_cost(grid: Grid, placed: Sequence[Placed], wishes: Wishes) -> tuple[CostPart, ...]:
    """The cost of one space by its parts: handy, backed, beside, alike, order, sizes, one hand, far.

    Args:
        grid: the space.
        placed: what stands in it.
        wishes: what is wished.
    """
    weights = wishes.weights
    beside = _beside(placed)
    return (
        CostPart("handy", sum(handy_cost(grid, one, wishes) for one in placed)),
        CostPart("backed", weights.tall_back * sum(_unbacked(grid, one, placed, wishes.pitch) for one in placed)),
        CostPart("beside", _parted(placed, beside, wishes)),
        CostPart("alike", weights.alike * SCATTERED * _scattered(placed, beside, wishes)),
        CostPart("order", OUT_OF_ORDER * _out_of_order(placed, wishes)),
        CostPart("sizes", weights.fewer_sizes * ANOTHER_SIZE * max(0, len({size_of(one) for one in placed}) - 1)),
        CostPart("one hand", weights.one_hand * HEMMED_IN * len(hemmed_in(grid, placed, wishes.pitch))),
        CostPart("far", weights.heavy_low * sum(far_cost(grid, one, wishes.pitch) for one in placed)),
    )


def about_standing(
    grids: Sequence[Grid], layout: Layout, pitch: float, names: Mapping[str, str]
) -> tuple[Finding, ...]:
    """What there is to say about how things stand in the spaces of a room.

    Args:
        grids: the spaces.
        layout: what goes where.
        pitch: size of a cell, mm.
        names: of lots by their id, for people.
    """
    return tuple(said for grid in grids for said in about_wishes(grid, layout.in_space(grid.space), pitch, names))


def about_wishes(grid: Grid, placed: Sequence[Placed], pitch: float, names: Mapping[str, str]) -> tuple[Finding, ...]:
    """What there is to say about how things stand in a space: what is hemmed in, and what nothing backs.

    Args:
        grid: the space.
        placed: what stands in it.
        pitch: size of a cell, mm.
        names: of lots by their id, for people.
    """
    found = []
    if hemmed := hemmed_in(grid, placed, pitch):
        text = f"A hand does not get to the grips of {_called(hemmed, names)}: what stands beside both is higher."
        remedy = "Lift out a neighbour first, or say one_hand = 2 under [choices.weights]."
        found.append(Finding("tray-hemmed-in", Severity.NOTE, grid.space, text, remedy))
    loose = [one for one in placed if _unbacked(grid, one, placed, pitch)]
    if loose:
        text = f"A slam may topple {_called(loose, names)}: nothing behind or before reaches above the middle."
        remedy = "Shut the drawer gently, give it a soft close, or say tall_back = 2 under [choices.weights]."
        found.append(Finding("part-not-backed", Severity.NOTE, grid.space, text, remedy))
    return tuple(found)


def _called(parts: Sequence[Placed], names: Mapping[str, str]) -> str:
    """Parts by what is in them."""
    lots = [one.candidate.lot if one.candidate else "" for one in parts]
    return ", ".join(names.get(lot, lot) or one.label or "a spare tray" for lot, one in zip(lots, parts, strict=True))


def topples(deep: float, tall: float) -> bool:
    """Whether something would fall over in a slam if nothing backed it: its speed lifts its middle over its edge.

    Args:
        deep: its foot in the direction of travel, mm.
        tall: its height, mm.

    >>> topples(150.0, 60.0), topples(60.0, 200.0)
    (False, True)
    """
    rise = math.hypot(deep / 2, MASS_HEIGHT * tall) - MASS_HEIGHT * tall
    return rise < MM_PER_M * SLAM_M_S**2 / (2 * GRAVITY_M_S2)


def hemmed_in(grid: Grid, placed: Sequence[Placed], pitch: float) -> tuple[Placed, ...]:
    """Trays that a hand does not get to while their neighbours are in place.

    A tray is taken by two opposite rims, those that are nearer to each other. It is hemmed in where it is narrower
    than a hand there and what stands beside the middles of both is higher than its own rim by more than a fingertip.

    Args:
        grid: the space.
        placed: what stands in it.
        pitch: size of a cell, mm.
    """
    return tuple(one for one in placed if _hemmed_in(grid, one, placed, pitch))


def _hemmed_in(grid: Grid, one: Placed, placed: Sequence[Placed], pitch: float) -> bool:
    spots = grips_of(one, pitch)
    return bool(spots) and all(_top_at(grid, spot, placed) > one.height + FINGERTIP for spot in spots)


def grips_of(one: Placed, pitch: float) -> tuple[Cell, ...]:
    """The cells beside the two rims that a hand takes a part by; none where no neighbour is in its way.

    Args:
        one: the part.
        pitch: size of a cell, mm.
    """
    if one.fence or one.level or (one.candidate and one.candidate.way.long):
        return ()  # nobody lifts a fence; beside what stands on a lid, and in a rest, there is air
    across = one.cols <= one.rows  # the hand spans its width, else its depth
    if _outer(one.cols if across else one.rows, pitch) >= HAND:
        return ()
    middle_col, middle_row = one.col + one.cols // 2, one.row + one.rows // 2
    if across:
        return (one.col - 1, middle_row), (one.col + one.cols, middle_row)
    return (middle_col, one.row - 1), (middle_col, one.row + one.rows)


def _top_at(grid: Grid, cell: tuple[int, int], placed: Sequence[Placed]) -> float:
    """How high the rim is that stands over a cell; a wall or a pipe is higher than all."""
    col, row = cell
    if not (0 <= col < grid.cols and 0 <= row < grid.rows) or cell in grid.blocked:
        return _WALL
    tops = (
        one.raised + one.height
        for one in placed
        if one.col <= col < one.col + one.cols and one.row <= row < one.row + one.rows
    )
    return max(tops, default=0.0)


@lru_cache(maxsize=256)
def _outer(cells: int, pitch: float) -> float:
    return outer_size(cells, pitch)


def _use(one: Placed, wishes: Wishes) -> float:
    ask = wishes.asks.get(one.candidate.lot) if one.candidate else None
    return ask.use if ask else 0.0


def handy_cost(grid: Grid, one: Placed, wishes: Wishes) -> float:
    """Reaching in over what stands in front, and feeling for what stays inside.

    Args:
        grid: the space.
        one: the part.
        wishes: what is wished.
    """
    use = _use(one, wishes)
    hidden = max(0, one.row + one.rows - (grid.rows - grid.behind))
    return use * wishes.pitch * (FURTHER * one.row + BEHIND * min(hidden, one.rows))


def far_cost(grid: Grid, one: Placed, pitch: float) -> float:
    """A mass that is lifted out over what stands in front of it; a drawer is pulled out first.

    Args:
        grid: the space.
        one: the part.
        pitch: size of a cell, mm.
    """
    if grid.drawer or one.candidate is None:
        return 0.0
    return FAR_KG_M * one.candidate.mass_g / G_PER_KG * one.row * pitch / MM_PER_M


def _unbacked(grid: Grid, one: Placed, placed: Sequence[Placed], pitch: float) -> float:
    """What it costs that something that would topple leans on nothing, to the back and to the front."""
    cost = 0.0
    for cells, price in leans_of(grid, one, pitch):
        high = sum(_top_at(grid, cell, placed) > MASS_HEIGHT * tall_of(one) for cell in cells)
        cost += price if high < BACKED_SHARE * len(cells) else 0.0
    return cost


def leans_of(grid: Grid, one: Placed, pitch: float) -> tuple[tuple[tuple[Cell, ...], float], ...]:
    """The cells behind and before something that would topple, and what it costs that it leans on nothing there.

    Args:
        grid: the space.
        one: the part.
        pitch: size of a cell, mm.
    """
    if not grid.drawer or one.candidate is None or one.level or not topples(_outer(one.rows, pitch), tall_of(one)):
        return ()
    sides = ((one.row + one.rows, float(NOT_BACKED_BACK)), (one.row - 1, float(NOT_BACKED_FRONT)))
    return tuple((tuple((col, row) for col in range(one.col, one.col + one.cols)), price) for row, price in sides)


def tall_of(one: Placed) -> float:
    """How high a part reaches with its things in, mm."""
    return one.candidate.tall if one.candidate else one.height


Pairs = frozenset[tuple[int, int]]


def _beside(placed: Sequence[Placed]) -> Pairs:
    """Numbers of those that stand side by side."""
    pairs = combinations(range(len(placed)), 2)
    return frozenset((one, other) for one, other in pairs if touch(placed[one], placed[other]))


def touch(one: Placed, other: Placed) -> bool:
    """Whether two parts stand side by side."""
    across = min(one.col + one.cols, other.col + other.cols) - max(one.col, other.col)
    along = min(one.row + one.rows, other.row + other.rows) - max(one.row, other.row)
    return (across > 0 and along == 0) or (across == 0 and along > 0)


def _parted(placed: Sequence[Placed], beside: Pairs, wishes: Wishes) -> float:
    """Lots that belong together and are in one space, but not side by side."""
    at = {one.candidate.lot: number for number, one in enumerate(placed) if one.candidate}
    costs: dict[tuple[int, int], float] = {}
    for lot, number in at.items():
        for other, cost in wishes.asks[lot].bonds if lot in wishes.asks else ():
            if other in at and other != lot:
                pair = (min(number, at[other]), max(number, at[other]))
                costs[pair] = max(cost, costs.get(pair, 0.0))
    return BESIDE_SHARE * sum(cost for pair, cost in sorted(costs.items()) if pair not in beside)


def _scattered(placed: Sequence[Placed], beside: Pairs, wishes: Wishes) -> int:
    """In how many places more than one the groups stand, summed."""
    groups: dict[str, list[int]] = {}
    for number, one in enumerate(placed):
        ask = wishes.asks.get(one.candidate.lot) if one.candidate else None
        if ask and ask.group:
            groups.setdefault(ask.group, []).append(number)
    return sum(_places(numbers, beside) - 1 for numbers in groups.values())


def _places(numbers: Sequence[int], beside: Pairs) -> int:
    """How many pieces some parts make."""
    left, pieces = set(numbers), 0
    while left:
        pieces += 1
        edge = [left.pop()]
        while edge:
            one = edge.pop()
            near = {other for other in left if (min(one, other), max(one, other)) in beside}
            left -= near
            edge += sorted(near)
    return pieces


def _out_of_order(placed: Sequence[Placed], wishes: Wishes) -> int:
    """Pairs that lie the other way round than asked for."""
    ranked = [(wishes.rank(one.candidate.lot), one) for one in placed if one.candidate] if wishes.order else []
    return sum(_wrong(one, other) for one, other in _in_order(ranked))


def _in_order(ranked: Sequence[tuple[int, Placed]]) -> Iterator[tuple[Placed, Placed]]:
    """Pairs of which the first should lie before the second."""
    for (one, first), (other, second) in combinations(ranked, 2):
        if one >= 0 and other >= 0 and one != other:
            yield (first, second) if one < other else (second, first)


def _wrong(first: Placed, second: Placed) -> bool:
    """Whether the first lies behind the second, or beside it on the right."""
    if first.row >= second.row + second.rows:
        return True
    return second.row < first.row + first.rows and first.col >= second.col + second.cols


def size_of(one: Placed) -> tuple[object, ...]:
    """What makes a part another part: its sides, its height, its kind and, for a cradle, its lot."""
    kind = one.candidate.way.kind if one.candidate else ""
    own = one.candidate.lot if one.candidate and one.candidate.way.pocket else ""
    return (min(one.cols, one.rows), max(one.cols, one.rows), one.height, kind, own)
