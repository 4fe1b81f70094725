"""From lots to rows: the compiled search called from many beginnings, its best answers read back as rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.calm.rows import Block, Row, Rows, Slot, rim_of
from nookwright.layout.calm.tables import tables_of
from nookwright.layout.calm.terms import CRUMB, ROW, SPLIT_ROW, may_grow

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.layout.calm.kernels import Space, State
    from nookwright.layout.calm.rows import Field
    from nookwright.layout.calm.tables import Option, Tables
    from nookwright.layout.calm.terms import Terms

STARTS = Fact(
    8,
    unit="starts",
    kind=Kind.MEASURED,
    source="For each direction: many short walks found better rows than few long ones, in the same time.",
)
GLANCES = Fact(4, unit="starts", kind=Kind.CHOICE, source="For each direction, to see whether rows fit at all.")
MOVES = Fact(
    200, unit="moves/lot", kind=Kind.MEASURED, source="For each start: 500 found the same rows on the demo's spaces."
)
MOST_ROWS = Fact(10, unit="rows", kind=Kind.CHOICE, source="More rows in one space are not rows that read.")
HOT = Fact(4.0, unit="cost", kind=Kind.CHOICE, source="Temperature at the start: one cell lacking is soon given up.")
COLD = Fact(0.2, unit="cost", kind=Kind.CHOICE, source="Temperature at the end: less than any row costs.")
LACK = Fact(1.0, unit="cost/cell", kind=Kind.CHOICE, source="A cell that is lacking: dearer than any that is there.")
DEPTH_SHARE = Fact(
    0.7, unit="1", kind=Kind.CHOICE, source="Of the price of all its cells: what a row does not fill is not all lost."
)
LEAST_PRICE = Fact(
    0.001,
    unit="cost/cell",
    kind=Kind.CHOICE,
    source="Of a row's depth where floor costs nothing: shallow rows still win.",
)
FRONT = Fact(0.02, unit="cost/cell", kind=Kind.CHOICE, source="A row further back, for a weekly use.")
APART = Fact(0.3, unit="cost", kind=Kind.CHOICE, source="Two alike lots in two rows.")
OUT_OF_ORDER = Fact(6.0, unit="cost", kind=Kind.CHOICE, source="Two lots in another order than the one given.")
NOT_BACKED = Fact(2.0, unit="cost", kind=Kind.CHOICE, source="Something that would topple, not in the last row.")


@dataclass(frozen=True)
class Wish:
    """What a lot wishes of its row.

    Attributes:
        options: what it could be.
        use: weight of reach.
        group: number of those that it is like, -1 for none.
        rank: its place in the order given, -1 for none.
        topples: whether it would topple in a slam.
    """

    options: tuple[Option, ...]
    use: float
    group: int
    rank: int
    topples: bool


@dataclass(frozen=True)
class Found:
    """Rows, and what they lack.

    Attributes:
        rows: the rows.
        cost: as the search judges it.
        short: cells that are lacking; 0 where all fits.
        work: what the search did for it: its moves, and lots that it added up for some depths of a row.
    """

    rows: Rows
    cost: float
    short: int
    work: int


def seek(field: Field, wishes: Sequence[Wish], terms: Terms, *, seed: int, starts: range) -> list[Found]:
    """The best rows of each start, in their order: a walk is the same whichever others are walked.

    Args:
        field: the space.
        wishes: the lots; each has an option.
        terms: prices.
        seed: of what is drawn.
        starts: numbers of the walks.
    """
    from nookwright.layout.calm import kernels
    from nookwright.layout.packing.moves import state_from

    tables = tables_of([wish.options for wish in wishes], field.deep, field.grid, terms)
    space = _space(field, wishes, tables, terms)
    count = min(len(wishes), int(MOST_ROWS), max(1, field.deep // 2))
    memory = kernels.empty(space, seed)
    answers = []
    for start in starts:
        rng = np.array([state_from(seed * int(STARTS) + start)], dtype=np.uint64)
        now, best, before = (kernels.dealt(space, count) for _ in range(3))
        moves = int(MOVES) * len(wishes)
        cost = kernels.search(space, memory, now, best, before, moves, float(HOT), float(COLD), rng)
        rows, short = _read(tables, best, terms)
        short += max(0, int(best.depth.sum()) - field.deep) * field.long
        answers.append(Found(rows, float(cost), short, int(now.work[0])))
    return answers


def _space(field: Field, wishes: Sequence[Wish], tables: Tables, terms: Terms) -> Space:
    """What the search reads."""
    from nookwright.layout.calm.kernels import Space

    group, rank = _numbered([wish.group for wish in wishes]), _numbered([wish.rank for wish in wishes])
    return Space(
        wide=tables.wide,
        cost=tables.cost,
        least=tables.least,
        span=tables.span,
        free=_free(field),
        deep=field.deep,
        kind=_kinds(tables),
        group=group,
        rank=rank,
        groups=int(group.max()) + 1,
        ranks=int(rank.max()) + 1,
        tall=np.array([wish.topples and not field.swap for wish in wishes], dtype=np.int64),
        use=np.array([wish.use for wish in wishes]),
        late=terms.cell_cost * field.long * float(DEPTH_SHARE) + float(LEAST_PRICE),
        lack=float(LACK),
        row=float(ROW),
        parted=float(SPLIT_ROW),
        waste=float(CRUMB),
        apart=_sums(float(APART) * terms.weights.alike, group),
        before=float(OUT_OF_ORDER),
        front=0.0 if field.swap else float(FRONT) * terms.weights.reach,
        back=float(NOT_BACKED) * terms.weights.tall_back,
    )


def _numbered(values: Sequence[int]) -> NDArray[np.int64]:
    """Numbers from 0 in the order of some values, without gaps; values below 0 stay below."""
    known = sorted({value for value in values if value >= 0})
    return np.array([known.index(value) if value >= 0 else -1 for value in values], dtype=np.int64)


def _sums(price: float, group: NDArray[np.int64]) -> NDArray[np.float64]:
    """What no pair of one group costs, one pair, two, ... up to all."""
    alike = np.bincount(group + 1)[1:]
    pairs = int((alike * (alike - 1)).sum()) // 2
    return np.concatenate([[0.0], np.cumsum(np.full(pairs, price))])


def _kinds(tables: Tables) -> NDArray[np.int64]:
    """Of each lot the number of its kind: what two lots of one kind take and cost is the same in every row."""
    numbers: dict[bytes, int] = {}
    columns = (tables.wide, tables.cost, tables.least, tables.span)
    keys = [b"".join(column[lot].tobytes() for column in columns) for lot in range(len(tables.options))]
    return np.array([numbers.setdefault(key, len(numbers)) for key in keys], dtype=np.int64)


def _free(field: Field) -> NDArray[np.int64]:
    """Lengths of the free runs of every row that could be."""
    if field.even:
        free = np.zeros((1, field.deep + 1, 2), dtype=np.int64)
        free[0, :, 0] = field.long
        return free
    runs = {(y, depth): field.runs(y, depth) for y in range(field.deep) for depth in range(1, field.deep - y + 1)}
    free = np.zeros((field.deep, field.deep + 1, max(len(one) for one in runs.values()) + 1), dtype=np.int64)
    for (y, depth), found in runs.items():
        for number, (_, length) in enumerate(found):
            free[y, depth, number] = length
    return free


def _found(state: State) -> list[tuple[int, int, int, int, int]]:
    """Depth, rim, price level, inner line and lacking width of each row."""
    columns = (state.depth, state.rim, state.level, state.line, state.over)
    return list(zip(*(column.tolist() for column in columns), strict=True))


def _read(tables: Tables, state: State, terms: Terms) -> tuple[Rows, int]:
    """The rows that the search found, as narrow as they are, and the cells that they lack."""
    rows, short = [], 0
    row, part = state.row.tolist(), state.part.tolist()
    for number, (depth, rim, level, line, over) in enumerate(_found(state)):
        if not depth:
            continue
        here = [lot for lot, mine in enumerate(row) if mine == number]
        short += over * depth
        if any(tables.pick[lot, level, rim, depth] < 0 for lot in here if not line or part[lot] == 0):
            return Rows((), 0), short
        slots: list[list[Slot]] = [[], [], []]
        for lot in here:
            which = part[lot] if line else 0
            deep = (depth, line, depth - line)[which]
            option = tables.options[lot][int(tables.pick[lot, level, rim, deep])]
            own = deep if may_grow(option.candidate) else option.deep
            height = rim_of(option, tables.rims[rim], terms.module.rise)
            slots[which].append(Slot(lot, option, option.wide, own, height))
        blocks = [Block((slot,)) for slot in slots[0]]
        if line:
            blocks.append(Block(tuple(slots[1]), tuple(slots[2])))
        rows.append(Row(depth, line, tuple(blocks)))
    return Rows(tuple(rows), len(rows)), short
