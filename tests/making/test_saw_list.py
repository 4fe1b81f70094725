from __future__ import annotations

from collections import defaultdict
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.saw_list import least_bars, saw_list

LENGTHS = st.lists(st.integers(20, 1000).map(float), max_size=14)


@given(lengths=LENGTHS, kerf=st.sampled_from([0.0, 1.5, 4.0]))
def test_every_strip_lies_on_a_bar_with_a_cut_between(lengths: list[float], kerf: float) -> None:
    """Each strip once, none over the end, a kerf between neighbours; bars within the bound and 3/2 of it, and one."""
    done = saw_list(lengths, bar=1000, kerf=kerf)
    assert sorted(cut.strip for cut in done.cuts) == list(range(len(lengths)))
    assert all(cut.length == lengths[cut.strip] for cut in done.cuts)
    by_bar = defaultdict(list)
    for cut in done.cuts:
        by_bar[cut.bar].append(cut)
    assert sorted(by_bar) == list(range(done.bars))
    for cuts in by_bar.values():
        assert cuts[-1].start + cuts[-1].length <= 1000 + 0.01
        assert all(b.start - (a.start + a.length) == pytest.approx(kerf) for a, b in pairwise(cuts))
    assert done.least <= done.bars <= 1.5 * done.least + 1


def fewest(lengths: list[float], bar: float, kerf: float) -> int:
    """The fewest bars, by trying every way; for a few strips."""
    best = len(lengths)

    def lay(number: int, room: tuple[float, ...]) -> None:
        nonlocal best
        if len(room) >= best:
            return
        if number == len(lengths):
            best = len(room)
            return
        for at, used in enumerate(room):
            if used + lengths[number] <= bar:
                lay(number + 1, (*room[:at], used + lengths[number] + kerf, *room[at + 1 :]))
        lay(number + 1, (*room, lengths[number] + kerf))

    lay(0, ())
    return best


@given(lengths=st.lists(st.integers(100, 1000).map(float), max_size=7), kerf=st.sampled_from([0.0, 3.0]))
def test_the_bound_never_exceeds_the_best_way(lengths: list[float], kerf: float) -> None:
    """Against every way of laying up to seven strips; first fit is seldom more than one bar worse."""
    best = fewest(lengths, 1000, kerf)
    assert least_bars(lengths, 1000, kerf) <= best <= saw_list(lengths, bar=1000, kerf=kerf).bars <= best + 1


def test_three_long_strips_need_three_bars() -> None:
    """The area alone would say two; the bound knows that none lies beside another."""
    assert least_bars([600, 600, 600], 1000, 0) == 3
    assert saw_list([600, 600, 600], bar=1000, kerf=0).bars == 3


def test_a_strip_longer_than_a_bar_is_refused() -> None:
    """It says how long a bar is."""
    with pytest.raises(ValueError, match="1000 mm; found 1200"):
        saw_list([1200.0], bar=1000)
