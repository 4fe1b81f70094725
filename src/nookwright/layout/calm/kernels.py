# ruff: noqa: PLR0917 - nopython functions hand arrays on by position
"""The search for rows, compiled: which lots stand together in a row, and how deep and high it is.

A state says of each lot its row and its part of the row: 0 stands through the whole depth, 1 and 2 stand in front and
behind in the row's parted piece. Rows follow each other from the front to the back; one without lots takes nothing.
What is judged is all that can be said before edges are lined up. Importing this module loads numba.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final, NamedTuple

import numpy as np

from nookwright.layout.calm.tables import NEVER
from nookwright.layout.packing.compiled import compiled, inner
from nookwright.layout.packing.kernels import below, draw
from nookwright.layout.packing.moves import Draws, state_from

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Words = NDArray[np.uint64]

_NEVER: Final = int(NEVER)
_PARTS: Final = 3
_PIECE: Final = 6  # bits of parts 1 and 2: only with both is there a parted piece
_TO_ROW, _SWAP, _TO_PART, _KINDS = 3, 6, 7, 8  # of _KINDS changes so many are of the first kinds
_BIG: Final = 1e18
_STEP: Final = 4  # depths that are added up at once
_SMALL: Final = 1e-9
_KEPT: Final = 1 << 14  # rows that are remembered
_HALF: Final = 4294967296.0


class Space(NamedTuple):
    """What does not change during a search.

    Attributes:
        wide, cost: of each lot at each price, rim and depth; see ``tables``.
        least: the least cost of each lot at each rim.
        span: lowest and highest rim of each lot.
        free: ``[y, depth, run]``, lengths of the free runs of such a row, the last one 0; one y where all are alike.
        deep: cells from the front to the back.
        kind: of each lot; those of one kind are the same in all tables.
        group, rank: of each lot, numbered from 0; -1 for no group and no rank.
        groups, ranks: how many there are.
        tall: whether a lot would topple.
        use: weight of reach of each lot.
        late: price of a cell of depth.
        lack: of a cell that is lacking.
        row, parted: of a row, of one that is parted.
        waste: of a cell of a parted piece that is lost.
        apart: of so many pairs of alike lots in two rows.
        before: of two lots in another order than the one given.
        front: of a cell further back, for a use of 1.
        back: of something tall that is not in the last row.
    """

    wide: Any
    cost: Any
    least: Any
    span: Any
    free: Any
    deep: int
    kind: Any
    group: Any
    rank: Any
    groups: int
    ranks: int
    tall: Any
    use: Any
    late: float
    lack: float
    row: float
    parted: float
    waste: float
    apart: Any
    before: float
    front: float
    back: float


class Memory(NamedTuple):
    """What is known of rows that were judged before.

    Attributes:
        sign: a random word for each kind of lot in each part of a row, and for each place where a row may begin.
        key: the words of a row's lots, added up; 0 for nothing known.
        price, found: of it; depth, rim, level, line, over.
    """

    sign: Any
    key: Any
    price: Any
    found: Any


class State(NamedTuple):
    """What the search changes.

    Attributes:
        row, part: of each lot.
        depth, rim, level, line, over: of each row; its price level, its inner line and the width that it lacks.
        begins: where each row begins.
        price: of each row.
        sums, sum_costs: of each part and depth, to work with.
        widths, left: of lots and runs, to work with.
        members: lots of the row that is judged, ended by -1.
        hope: of each rim, the least price of a depth that lacks width if it lacked none.
        alike, ranked: lots of each group and rank in each row, to work with.
        work: what was done so far: moves, and lots that were added up for some depths of a row.
    """

    row: Any
    part: Any
    depth: Any
    rim: Any
    level: Any
    line: Any
    over: Any
    begins: Any
    price: Any
    sums: Any
    sum_costs: Any
    widths: Any
    left: Any
    members: Any
    hope: Any
    alike: Any
    ranked: Any
    work: Any


def dealt(space: Space, rows: int) -> State:
    """A state in which the lots are dealt out to so many rows."""
    lots, runs = space.wide.shape[0], space.free.shape[2]
    depth, rim, level, line, over, begins = (np.zeros(rows, dtype=np.int64) for _ in range(6))
    return State(
        row=np.arange(lots, dtype=np.int64) % rows,
        part=np.zeros(lots, dtype=np.int64),
        depth=depth,
        rim=rim,
        level=level,
        line=line,
        over=over,
        begins=begins,
        price=np.zeros(rows),
        sums=np.zeros((_PARTS, space.deep + 1), dtype=np.int64),
        sum_costs=np.zeros((_PARTS, space.deep + 1)),
        widths=np.zeros(lots + 1, dtype=np.int64),
        left=np.zeros(runs, dtype=np.int64),
        members=np.zeros(lots + 1, dtype=np.int64),
        hope=np.zeros(space.wide.shape[2]),
        alike=np.zeros((space.groups, rows), dtype=np.int64),
        ranked=np.zeros((space.ranks, rows), dtype=np.int64),
        work=np.zeros(1, dtype=np.int64),
    )


def empty(space: Space, seed: int) -> Memory:
    """A memory in which nothing is known."""
    draws = Draws(state_from(seed))
    count = (int(space.kind.max()) + 1) * _PARTS + space.free.shape[0]
    words = [draws.draw() << 32 | draws.draw() for _ in range(count)]
    return Memory(
        sign=np.array(words, dtype=np.uint64),
        key=np.zeros(_KEPT, dtype=np.uint64),
        price=np.zeros(_KEPT),
        found=np.zeros((_KEPT, 5), dtype=np.int64),
    )


@inner
def _over(space: Space, state: State, y: int, depth: int, count: int) -> int:
    """Cells that the first widths lack in the free runs of a row, the widest first into the first run with room."""
    free, widths, left = space.free, state.widths, state.left
    runs = free.shape[2]
    total, room = 0, 0
    for number in range(count):
        total += widths[number]
    for run in range(runs):
        left[run] = free[y, depth, run]
        room += left[run]
    if total > room:
        return total - room
    for one in range(1, count):
        width, at = widths[one], one
        while at > 0 and widths[at - 1] < width:
            widths[at] = widths[at - 1]
            at -= 1
        widths[at] = width
    lacking = 0
    for one in range(count):
        run = 0
        while run < runs and left[run] < widths[one]:
            run += 1
        if run < runs:
            left[run] -= widths[one]
        else:
            lacking += widths[one]
    return lacking


@inner
def _lacking(space: Space, state: State, number: int, y: int, at: tuple[int, int, int], block: int) -> int:
    """Cells that a row lacks at a price level, rim and depth, beside a parted piece of a width, 0 for none."""
    level, rim, depth = at
    total = state.sums[0, depth] + block
    if space.free[y, depth, 1] == 0:
        return int(max(0, total - space.free[y, depth, 0]))
    count = 0
    for lot in range(space.wide.shape[0]):
        if state.row[lot] == number and (block == 0 or state.part[lot] == 0):
            state.widths[count] = space.wide[lot, level, rim, depth]
            count += 1
    if block:
        state.widths[count] = block
        count += 1
    return _over(space, state, y, depth, count)


@inner
def _piece(space: Space, state: State, depth: int) -> tuple[float, int, int]:
    """The cheapest line of a parted piece: its cost, the line (0 for none), its width."""
    sums, costs = state.sums, state.sum_costs
    lean, least, line, block = _BIG, _BIG, 0, 0
    for front in range(1, depth):
        back = depth - front
        if sums[1, front] >= _NEVER or sums[2, back] >= _NEVER:
            continue
        longer = max(sums[1, front], sums[2, back])
        lost = (longer - sums[1, front]) * front + (longer - sums[2, back]) * back
        cost = costs[1, front] + costs[2, back] + space.waste * lost
        if cost + space.waste * longer * depth < lean:
            lean, least, line, block = cost + space.waste * longer * depth, cost, front, longer
    return least, line, block


@inner
def _summary(space: Space, state: State, number: int) -> tuple[int, int, int]:
    """Of the lots of a row, which get listed: the lowest and the highest rim, whether it is parted."""
    lowest, highest, parts, count = 0, 0, 0, 0
    for lot in range(space.wide.shape[0]):
        if state.row[lot] == number:
            state.members[count] = lot
            count += 1
            lowest, highest = max(lowest, space.span[lot, 0]), max(highest, space.span[lot, 1])
            parts |= 1 << state.part[lot]
    state.members[count] = -1
    return lowest, highest, int(parts & _PIECE == _PIECE)


@inner
def _floor(space: Space, state: State, rim: int) -> float:
    """The least that the listed lots cost at a rim, however deep their row is."""
    floor = 0.0
    for lot in state.members:
        if lot < 0:
            break
        floor += space.least[lot, rim]
    return floor


@inner
def _add_up(space: Space, state: State, at: tuple[int, int, int, int], parted: int) -> None:
    """Widths and costs of each part of the listed row at a price level and rim, from a depth to another."""
    level, rim, first, last = at
    sums, costs = state.sums, state.sum_costs
    for one in range(_PARTS):
        for depth in range(first, last + 1):
            sums[one, depth] = 0
            costs[one, depth] = 0.0
    for lot in state.members:
        if lot < 0:
            break
        state.work[0] += 1
        one = state.part[lot] * parted
        for depth in range(first, last + 1):
            sums[one, depth] += space.wide[lot, level, rim, depth]
            costs[one, depth] += space.cost[lot, level, rim, depth]


@inner
def _deepen(
    space: Space, state: State, number: int, y: int, at: tuple[int, int, int, int], limits: tuple[float, float, int]
) -> float:
    """The cheapest of some depths at a price level and rim, if it beats the best so far; and what it is."""
    level, rim, first, last = at
    floor, best, parted = limits
    for depth in range(first, last + 1):
        if floor + space.late * depth >= best:
            break
        if state.sums[0, depth] >= _NEVER:
            continue
        extra, line, block = 0.0, 0, 0
        if parted:
            extra, line, block = _piece(space, state, depth)
            if line == 0:
                continue
            extra += space.parted
        over = _lacking(space, state, number, y, (level, rim, depth), block)
        wide_enough = state.sum_costs[0, depth] + extra + space.late * depth
        if over:
            state.hope[rim] = min(state.hope[rim], wide_enough)
        price = wide_enough + space.lack * over * depth
        if price < best:
            best = price
            state.depth[number], state.rim[number], state.level[number] = depth, rim, level
            state.line[number], state.over[number] = line, over
    return best


@inner
def _judge(space: Space, state: State, number: int, y: int) -> float:
    """The least cost of a row with lots that begins at ``y``; and what it is.

    Depths are added up a few at a time, since of most rims only the first few can be cheaper than what is known. Where
    no depth of a rim lacks width, or none of those that do could be cheaper with width enough, narrower lots at a
    higher price of a cell are no cheaper either.
    """
    state.depth[number], state.over[number] = 0, 0
    lowest, highest, parted = _summary(space, state, number)
    best = _BIG
    where, most = min(y, space.free.shape[0] - 1), min(space.free.shape[1], space.wide.shape[3]) - 1
    state.hope[:] = _BIG
    for level in range(space.wide.shape[1]):
        for rim in range(lowest, highest + 1):
            if level and not parted and state.hope[rim] >= best:
                continue
            first, floor = 1, _floor(space, state, rim)
            while first <= most and floor + space.late * first < best:
                at = (level, rim, first, min(first + _STEP - 1, most))
                _add_up(space, state, at, parted)
                best = _deepen(space, state, number, where, at, (floor, best, parted))
                first += _STEP
    if best == _BIG:
        state.depth[number], state.over[number] = 1, _NEVER
        return float(space.lack * _NEVER)
    return float(best + space.row)


@inner
def _recall(space: Space, memory: Memory, state: State, number: int, y: int) -> float:
    """The least cost of a row, from memory if it was judged before."""
    key, count = np.uint64(0), 0
    for lot in range(space.wide.shape[0]):
        if state.row[lot] == number:
            key += memory.sign[space.kind[lot] * _PARTS + state.part[lot]]
            count += 1
    if count == 0:
        state.depth[number], state.over[number] = 0, 0
        return 0.0
    begins = space.free.shape[0]
    key += memory.sign[memory.sign.shape[0] - begins + min(y, begins - 1)]
    at = np.int64(key & np.uint64(_KEPT - 1))
    found = memory.found
    if memory.key[at] == key:
        state.depth[number], state.rim[number], state.level[number] = found[at, 0], found[at, 1], found[at, 2]
        state.line[number], state.over[number] = found[at, 3], found[at, 4]
        return float(memory.price[at])
    price = _judge(space, state, number, y)
    memory.key[at], memory.price[at] = key, price
    found[at, 0], found[at, 1], found[at, 2] = state.depth[number], state.rim[number], state.level[number]
    found[at, 3], found[at, 4] = state.line[number], state.over[number]
    return price


@inner
def _counted(numbers: Words, row: Words, counts: Words) -> None:
    """Count lots by a number of theirs, -1 for none, and by row."""
    counts[:] = 0
    for lot in range(row.shape[0]):
        if numbers[lot] >= 0:
            counts[numbers[lot], row[lot]] += 1


@inner
def _apart(space: Space, state: State) -> float:
    """What it costs that alike lots stand in two rows, or lots in another order than the one given."""
    parted, wrong, rows = 0, 0, state.begins.shape[0]
    if space.groups:
        _counted(space.group, state.row, state.alike)
        for group in range(space.groups):
            before = 0
            for number in range(rows):
                parted += before * state.alike[group, number]
                before += state.alike[group, number]
    if space.ranks:
        _counted(space.rank, state.row, state.ranked)
        for rank in range(1, space.ranks):  # the rows of the ranks below are summed up in the row before theirs
            behind = 0
            for number in range(rows - 1, -1, -1):
                wrong += behind * state.ranked[rank, number]
                behind += state.ranked[rank - 1, number]
                state.ranked[rank, number] += state.ranked[rank - 1, number]
    return float(space.apart[parted] + space.before * wrong)


@inner
def whole(space: Space, memory: Memory, state: State, first: int, second: int) -> float:
    """The cost of a state of which the rows ``first`` and ``second`` are new; all where ``first`` is -1."""
    total, y, final = 0.0, 0, 0
    uneven = space.free.shape[0] > 1
    for number in range(state.depth.shape[0]):
        if first < 0 or number in (first, second) or (uneven and state.begins[number] != y):
            state.price[number] = _recall(space, memory, state, number, y)
        state.begins[number] = y
        total += state.price[number]
        if state.depth[number]:
            final = number
        y += state.depth[number]
    if y > space.deep:
        total += space.lack * (y - space.deep) * space.free[0, 1, 0]
    for lot in range(space.wide.shape[0]):
        total += space.front * space.use[lot] * state.begins[state.row[lot]]
        if space.tall[lot] and state.row[lot] != final:
            total += space.back
    return total + _apart(space, state)


@inner
def _copy(one: State, other: State) -> None:
    """Make the second state like the first."""
    for lot in range(one.row.shape[0]):
        other.row[lot], other.part[lot] = one.row[lot], one.part[lot]
    for number in range(one.begins.shape[0]):
        other.begins[number], other.price[number] = one.begins[number], one.price[number]
        other.depth[number], other.rim[number], other.level[number] = (
            one.depth[number],
            one.rim[number],
            one.level[number],
        )
        other.line[number], other.over[number] = one.line[number], one.over[number]


@inner
def _change(state: State, rng: Words) -> tuple[int, int]:
    """Change a state; says which rows are new."""
    row, part = state.row, state.part
    lots, rows = row.shape[0], state.begins.shape[0]
    one, other, kind = below(rng, lots), below(rng, lots), below(rng, _KINDS)
    first, second = row[one], row[other]
    if kind < _TO_ROW:  # a lot goes to the row of another one, or to any
        if kind == 0:
            second = below(rng, rows)
        row[one], part[one] = second, 0
        if below(rng, 2):
            part[one] = below(rng, _PARTS)
    elif kind < _SWAP:  # two lots change places
        row[one], row[other] = row[other], row[one]
        part[one], part[other] = part[other], part[one]
    elif kind < _TO_PART:  # one goes to another part of its row
        part[one], second = below(rng, _PARTS), first
    else:  # two rows change places
        second = below(rng, rows)
        for lot in range(lots):
            if row[lot] == first:
                row[lot] = second
            elif row[lot] == second:
                row[lot] = first
    return first, second


@compiled
def search(
    space: Space,
    memory: Memory,
    now: State,
    best: State,
    before: State,
    moves: int,
    hot: float,
    cold: float,
    rng: Words,
) -> float:
    """Anneal from the state ``now``; ``best`` becomes the best one seen, and its cost is given back."""
    cost = whole(space, memory, now, -1, -1)
    _copy(now, best)
    least = cost
    for number in range(moves):
        heat = hot * (cold / hot) ** (number / moves)
        _copy(now, before)
        now.work[0] += 1
        first, second = _change(now, rng)
        new = whole(space, memory, now, first, second)
        if new - cost <= -heat * math.log((draw(rng) + 1) / _HALF):
            cost = new
            if cost < least - _SMALL:
                least = cost
                _copy(now, best)
        else:
            _copy(before, now)
    return least
