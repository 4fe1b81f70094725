from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks import boxes
from nookwright.checks.boxes import pairs_between, pairs_within, tree

if TYPE_CHECKING:
    from collections.abc import Iterable

    import pytest

    from nookwright.checks.boxes import Floats, Pairs

DEPTHS = st.sampled_from([-0.5, 0.0, 0.5])
BOXES = st.lists(st.tuples(*[st.integers(0, 12)] * 3, *[st.integers(0, 12)] * 3), min_size=1, max_size=40)


def corners(numbers: list[tuple[int, ...]]) -> tuple[Floats, Floats]:
    """Low and high corners of drawn boxes; some are flat, some are the same."""
    drawn = np.array(numbers, dtype=np.float64)
    return drawn[:, :3], drawn[:, :3] + drawn[:, 3:]


def brute(some: tuple[Floats, Floats], others: tuple[Floats, Floats], depth: float) -> set[tuple[int, int]]:
    """All pairs that meet, by looking at every one."""
    return {
        (i, j)
        for i in range(len(some[0]))
        for j in range(len(others[0]))
        if (np.minimum(some[1][i] - others[0][j], others[1][j] - some[0][i]) > depth).all()
    }


def listed(portions: Iterable[Pairs]) -> list[tuple[int, int]]:
    """All pairs of all portions."""
    return [pair for left, right in portions for pair in zip(left.tolist(), right.tolist(), strict=True)]


@given(BOXES, DEPTHS)
def test_within_one_set_every_pair_is_found_once(numbers: list[tuple[int, ...]], depth: float) -> None:
    """The tree finds what looking at every pair finds, each pair once."""
    low, high = corners(numbers)
    found = [(min(pair), max(pair)) for pair in listed(pairs_within(tree(low, high), depth))]
    expected = {(i, j) for i, j in brute((low, high), (low, high), depth) if i < j}
    assert len(found) == len(set(found))
    assert set(found) == expected


@given(BOXES, BOXES, DEPTHS)
def test_between_two_sets_every_pair_is_found_once(
    some: list[tuple[int, ...]], others: list[tuple[int, ...]], depth: float
) -> None:
    """The same between trees of different heights."""
    found = listed(pairs_between(tree(*corners(some)), tree(*corners(others)), depth))
    assert len(found) == len(set(found))
    assert set(found) == brute(corners(some), corners(others), depth)


def test_portions_lose_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """With room for few pairs at a time, the same pairs are found."""
    low = np.random.default_rng(3).uniform(0, 10, (200, 3))
    whole = set(listed(pairs_within(tree(low, low + 3), 0.0)))
    monkeypatch.setattr(boxes, "_MOST_AT_ONCE", 16)
    assert set(listed(pairs_within(tree(low, low + 3), 0.0))) == whole
    assert len(whole) > 1000


def test_flat_boxes_on_a_face_do_not_meet_it() -> None:
    """A box that stands on a plane shares no depth with it, so neighbours in a mesh mostly fall out here."""
    low, high = np.array([[0.0, 0, 0], [2, 2, 0]]), np.array([[9.0, 9, 0], [4, 4, 5]])
    assert listed(pairs_within(tree(low, high), 0.0)) == []
    assert len(listed(pairs_within(tree(low, high), -0.1))) == 1
