"""The first nesting looks at kinds of boxes, and places what looking at every box would place."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.nesting import plain
from nookwright.making.nesting.model import Bin, bins_of
from nookwright.making.nesting.plain import first_nesting, one_bin

if TYPE_CHECKING:
    import pytest

SIDE = st.integers(1, 30)
KINDS = st.lists(st.tuples(SIDE, SIDE), min_size=1, max_size=6)


def widest(ledge: plain._Ledge, waiting: plain._Waiting, into: Bin) -> tuple[int, bool] | None:
    """As its words say, box by box in their order: the widest that fits, among equals the first."""
    places = sorted((place, at) for at, kind in enumerate(waiting.kinds) for place in kind.places)
    best: tuple[int, bool] | None = None
    most = 0
    for _, at in places:
        for turned, wide, deep in waiting.kinds[at].ways:
            if most < wide <= ledge.width and ledge.y + deep <= into.depth:
                best, most = (at, turned), wide
    return best


@given(kinds=KINDS, drawn=st.lists(st.integers(0, 5), min_size=1, max_size=30), width=st.integers(30, 60))
def test_the_box_that_fills_a_ledge_best_is_taken(kinds: list[tuple[int, int]], drawn: list[int], width: int) -> None:
    """For every ledge of a bin, kinds that end at a perfect fit give what all boxes give."""
    boxes = [kinds[n % len(kinds)] for n in drawn]
    into = Bin(width, 40)
    waiting = plain._Waiting(list(range(len(boxes))), boxes, into)
    just = {side + more for box in kinds for side in box for more in (0, 1, 2)}
    while waiting.kinds:
        for y in (0, 15, 30):
            for wide in sorted({5, 17, width, *just}):
                ledge = plain._Ledge(0, wide, y)
                assert plain._widest(ledge, waiting, into) == widest(ledge, waiting, into)
        waiting.take(len(waiting.kinds) // 2)


@given(kinds=KINDS, drawn=st.lists(st.integers(0, 5), max_size=30))
def test_boxes_of_a_kind_are_taken_in_the_order(kinds: list[tuple[int, int]], drawn: list[int]) -> None:
    """The first kind always has the first box that waits; all are taken once."""
    boxes = [kinds[n % len(kinds)] for n in drawn]
    waiting = plain._Waiting(list(range(len(boxes))), boxes, Bin(30, 30))
    assert [waiting.take(0) for _ in boxes] == list(range(len(boxes)))
    assert not waiting.kinds


def test_how_a_kind_may_lie_is_asked_once_for_each_order(monkeypatch: pytest.MonkeyPatch) -> None:
    """Not for every box and every ledge: with 60 boxes of 3 kinds, 8 orders ask 3 times each."""
    asked: Counter[tuple[int, int]] = Counter()
    ways = Bin.ways

    def counted(self: Bin, box: tuple[int, int]) -> list[tuple[bool, tuple[int, int]]]:
        asked[box] += 1
        return ways(self, box)

    monkeypatch.setattr(Bin, "ways", counted)
    first_nesting([(7, 5), (11, 4), (13, 9)] * 20, Bin(40, 30), 0)
    assert set(asked.values()) == {8}


@given(kinds=KINDS, drawn=st.lists(st.integers(0, 5), min_size=1, max_size=12), width=st.integers(30, 60))
def test_one_bin_is_what_few_bins_come_to(kinds: list[tuple[int, int]], drawn: list[int], width: int) -> None:
    """The same spots where a first nesting needs one bin, nothing where it needs more."""
    boxes = [kinds[n % len(kinds)] for n in drawn]
    spots, _ = first_nesting(boxes, Bin(width, 40), 1)
    assert one_bin(boxes, Bin(width, 40)) == (spots if bins_of(spots) == 1 else None)
