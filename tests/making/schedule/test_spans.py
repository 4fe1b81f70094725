from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from tests.making.schedule.rules import minutes

from nookwright.making.schedule.spans import both, first_from, fitting, gaps, joined, length, meet, shifted, without

LOOSE = st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), max_size=6)


@given(LOOSE)
def test_joined_spans_hold_the_same_minutes_and_stand_apart(loose: list[tuple[int, int]]) -> None:
    """Order, overlaps and empty spans do not matter."""
    spans = joined(loose)
    assert minutes(spans) == minutes(tuple(loose))
    assert all(one[1] < other[0] for one, other in pairwise(spans))
    assert length(spans) == len(minutes(spans))


@given(LOOSE, LOOSE)
def test_both_and_without_are_those_of_sets(one: list[tuple[int, int]], other: list[tuple[int, int]]) -> None:
    """Minute by minute."""
    mine, theirs = joined(one), joined(other)
    assert minutes(both(mine, theirs)) == minutes(mine) & minutes(theirs)
    assert minutes(without(mine, theirs)) == minutes(mine) - minutes(theirs)
    assert minutes(gaps(mine, 0, 60)) == set(range(60)) - minutes(mine)


@given(LOOSE, st.integers(0, 70), st.integers(0, 20))
def test_the_first_minute_from_another_on(loose: list[tuple[int, int]], minute: int, more: int) -> None:
    """None where nothing comes after."""
    spans = joined(loose)
    assert first_from(spans, minute) == min((one for one in minutes(spans) if one >= minute), default=None)
    assert meet(spans, minute, minute + more) == bool(minutes(spans) & set(range(minute, minute + more)))


@given(LOOSE, st.integers(1, 20))
def test_what_fits_lies_in_one_span(loose: list[tuple[int, int]], many: int) -> None:
    """It may begin where all of its minutes are in."""
    spans = joined(loose)
    inside = minutes(spans)
    assert minutes(fitting(spans, many)) == {at for at in range(70) if set(range(at, at + many)) <= inside}
    assert minutes(shifted(spans, many)) == {one + many for one in inside}
