"""How work grows with the lots of a space, counted in calls, not in seconds."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.calm.judging import judge_of
from nookwright.layout.calm.polish import polish
from nookwright.layout.calm.rows import Block, Field, Row, Rows, Slot
from nookwright.layout.calm.tables import options_of
from nookwright.layout.model import Placed
from nookwright.layout.positions import settled

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import FrameType

    from tests.layout.conftest import Make

    from nookwright.module.module import Module

PER_ROW = 10
MOST = 3.6  # times as many calls for twice the lots: measured are 2.8 and 3.1, and 4.1 where pairs are looked at


def calls_of(work: Callable[[], object]) -> int:
    """How often Python code was entered meanwhile, steps of generators included."""
    count = 0

    def called(_: FrameType, event: str, __: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(called)
    try:
        work()
    finally:
        sys.setprofile(None)
    return count


def settling(make: Make, module: Module, lots: int) -> Callable[[], object]:
    """Trays of one size in a drawer, set in better places."""
    asks = [make.ask(f"l{n}", (2, 3)) for n in range(lots)]
    grid = make.grid("s", 2 * PER_ROW, 4 * lots // PER_ROW, drawer=True, load_g=1e9)
    here = [
        Placed("s", 2 * (n % PER_ROW), 3 * (n // PER_ROW), 2, 3, turned=False, candidate=a.candidates[0], height=48.0)
        for n, a in enumerate(asks)
    ]
    judge = judge_of(asks, module)
    return lambda: settled(grid, here, judge, seed=1)


def polishing(make: Make, module: Module, lots: int) -> Callable[[], object]:
    """The same in rows that are made to read better."""
    asks = [make.ask(f"l{n}", (2, 3)) for n in range(lots)]
    options = [options_of(ask.candidates, swap=False)[0] for ask in asks]
    slots = [Slot(n, one, one.wide, one.deep, 48.0) for n, one in enumerate(options)]
    rows = [Row(3, 0, tuple(Block((slot,)) for slot in slots[at : at + PER_ROW])) for at in range(0, lots, PER_ROW)]
    field = Field(make.grid("s", 2 * PER_ROW + 2, 4 * lots // PER_ROW, drawer=True), swap=False)
    from random import Random

    judge = judge_of(asks, module)
    return lambda: polish(Rows(tuple(rows), 0), field, judge, random=Random(1))  # noqa: S311 - nothing secret


@pytest.mark.parametrize("work", [settling, polishing])
def test_an_arrangement_of_many_parts_is_judged_without_looking_at_their_pairs(
    make: Make, module: Module, work: Callable[[Make, Module, int], Callable[[], object]]
) -> None:
    """Twice the lots ask for twice the changes, each of twice the parts; looking at pairs of them would add to that."""
    few, many = (calls_of(work(make, module, lots)) for lots in (20, 40))
    assert few > 0
    assert many / few < MOST
