"""What is remembered of parts and rows says the same as working it out anew: the same figure, the same places."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.calm.judging import judge_of
from nookwright.layout.calm.laying import Laying
from nookwright.layout.calm.quick import QuickJudge
from nookwright.layout.calm.rows import Block, Field, Row, Rows, Slot
from nookwright.layout.calm.tables import Option
from nookwright.layout.calm.terms import Terms
from nookwright.layout.model import Placed
from nookwright.layout.packing import pack
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid
    from nookwright.module.module import Module

COLS, ROWS = 14, 11
PART = st.tuples(st.integers(1, 5), st.integers(1, 4), st.integers(2, 14), st.integers(0, 3), st.booleans())
DRAWN = st.tuples(st.booleans(), st.integers(0, 99))
CELLS = st.sets(st.tuples(st.integers(0, COLS - 1), st.integers(0, ROWS - 1)), max_size=6)


def asks_of(make: Make, parts: list[tuple[int, int, int, int, bool]]) -> list[Ask]:
    """A lot a part: low and high, trays and cradles, some in groups, each wishes to be near the next."""
    asks = []
    for n, (cols, rows, rises, group, cradle) in enumerate(parts):
        kind = PartKind.CRADLE if cradle else PartKind.TRAY
        one = replace(make.candidate(f"l{n}", cols, rows, kind=kind, cost=n / 7), height=6.0 * rises, tall=15.0 * rises)
        ask = make.ask(f"l{n}", near=(f"l{n + 1}", f"l{n // 2}"), use=0.2 + n / 3)
        asks.append(replace(ask, candidates=(one,), group=("", "a", "b", "c")[group]))
    return asks


def packings(grid: Grid, asks: list[Ask], seed: int) -> list[list[Placed]]:
    """Some packings of them that differ in a part or two, one with a spare tray."""
    random = Random(seed)  # noqa: S311 - nothing secret
    sizes = [(a.candidates[0].cols, a.candidates[0].rows) for a in asks]
    packing = pack(grid.cols, grid.rows, grid.blocked, sizes, tries=20, seed=seed, turn=[True] * len(sizes))
    here = []
    for ask, spot in zip(asks, packing.spots, strict=True):
        if spot:
            one = ask.candidates[0]
            cols, rows = (one.rows, one.cols) if spot.turned else (one.cols, one.rows)
            here.append(Placed("s", spot.col, spot.row, cols, rows, spot.turned, one, one.height))
    found = [here]
    for _ in range(4):
        changed = list(found[-1])
        if changed:
            number = random.randrange(len(changed))
            changed[number] = replace(changed[number], height=changed[number].height + 6.0)
        found.append(changed)
    found.append([replace(one, candidate=None) if n == 0 else one for n, one in enumerate(here)])
    return found


@settings(max_examples=150, deadline=None)
@given(st.lists(PART, min_size=1, max_size=12), CELLS, DRAWN)
def test_the_quick_judge_says_what_the_judge_says(
    make: Make,
    module: Module,
    parts: list[tuple[int, int, int, int, bool]],
    blocked: set[tuple[int, int]],
    drawn: tuple[bool, int],
) -> None:
    """To the last bit, for drawers and shelves, with an order, also where it has judged others before."""
    drawer, seed = drawn
    grid = make.grid("s", COLS, ROWS, blocked=tuple(sorted(blocked)), drawer=drawer, behind=3, height=300.0)
    asks = asks_of(make, parts)
    judge = judge_of(asks, module, order=("b", "l2", "a"))
    quick = QuickJudge(judge, grid)
    for here in packings(grid, asks, seed):
        cost = judge.cost(grid, here)
        assert quick.cost(here) == cost
        for limit in (cost - 1e-9, cost, cost / 2):
            assert (quick.cost(here, limit=limit) > limit) == (judge.cost(grid, here, limit=limit) > limit)


def rows_of(make: Make, depths: list[tuple[int, list[int], bool]]) -> Rows:
    """Rows of trays of these widths; some have a piece that is parted in front and behind."""
    rows = []
    for number, (depth, widths, parted) in enumerate(depths):
        slots = []
        for n, wide in enumerate(widths):
            one = make.candidate(f"{number}-{n}", wide, depth)
            slots.append(Slot(n, Option(one, turned=False, wide=wide, deep=depth), wide, depth, one.height))
        blocks = [Block((slot,)) for slot in slots]
        line = depth // 2 if parted and depth > 1 else 0
        if line:
            front, back = replace(slots[0], deep=line), replace(slots[-1], deep=depth - line)
            blocks.append(Block((front,), (back,)))
        rows.append(Row(depth, line, tuple(blocks)))
    return Rows(tuple(rows), 0)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(1, 4), st.lists(st.integers(1, 4), min_size=1, max_size=3), st.booleans()),
        min_size=1, max_size=4,
    ),
    CELLS, DRAWN,
)  # fmt: skip
def test_rows_that_are_laid_again_lie_where_they_would_anew(
    make: Make,
    module: Module,
    depths: list[tuple[int, list[int], bool]],
    blocked: set[tuple[int, int]],
    drawn: tuple[bool, int],
) -> None:
    """After rows changed places, and what is free went elsewhere."""
    field = Field(make.grid("s", COLS, ROWS, blocked=tuple(sorted(blocked)), opening=(60.0, 60.0)), swap=drawn[0])
    laying, random = Laying(field, Terms(module)), Random(drawn[1])  # noqa: S311 - nothing secret
    rows = rows_of(make, depths)
    for _ in range(5):
        found = laying.lay(rows)
        assert (found and found.spans) == rows.spans(field)
        assert (found and found.placed) == rows.lay(field)
        if found:
            anew = Laying(field, Terms(module)).lay(rows)
            assert anew == found
        lines = list(rows.rows)
        random.shuffle(lines)
        rows = replace(rows, rows=tuple(lines), gap=random.randint(0, len(lines)))


def test_only_the_row_that_changed_is_laid_anew(make: Make, module: Module) -> None:
    """The parts of the others are the same objects again."""
    field, rows = Field(make.grid("s", COLS, ROWS), swap=False), rows_of(make, [(2, [3, 4], False), (3, [2, 5], False)])
    laying = Laying(field, Terms(module))
    before = laying.lay(rows)
    row = rows.rows[1]
    after = laying.lay(rows.replaced(1, replace(row, blocks=row.blocks[::-1])))
    assert before
    assert after
    assert [one is other for one, other in zip(before.placed, after.placed, strict=True)] == [True, True, False, False]


def test_a_part_too_wide_for_the_opening_is_said(make: Make, module: Module) -> None:
    """Five cells of 18 mm do not pass 60 x 60; three do."""
    field = Field(make.grid("s", COLS, ROWS, opening=(60.0, 60.0)), swap=False)
    found = [Laying(field, Terms(module)).lay(rows_of(make, [(side, [side], False)])) for side in (3, 5)]
    assert [one and one.passes for one in found] == [True, False]
