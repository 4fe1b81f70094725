from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.learning.spoilage import spoilage_of


@given(failed=st.lists(st.booleans(), max_size=200))
def test_the_share_lies_between_what_was_believed_and_what_was_seen(failed: list[bool]) -> None:
    """And its upper bound above it."""
    found = spoilage_of(failed)
    seen = sum(failed) / len(failed) if failed else 0.05
    assert min(seen, 0.05) - 1e-9 <= found.share <= max(seen, 0.05) + 1e-9
    assert found.most() > found.share
    assert found.tries >= 1 / (1 - found.share)


def test_many_sound_prints_make_failures_rare() -> None:
    """A hundred without a failure: less than one in a hundred, surely less than three."""
    found = spoilage_of([False] * 100)
    assert found.share == pytest.approx(1 / 120)
    assert found.most() < 0.03


def test_tries_by_adding_up() -> None:
    """The mean of 1/(1 - share) over the belief, by simple sums over many shares."""
    found = spoilage_of([True, False, False])
    shares = [(n + 0.5) / 20_000 for n in range(19_999)]
    weights = [p ** (found.failed - 1) * (1 - p) ** (found.done - 1) for p in shares]
    by_sum = sum(w / (1 - p) for p, w in zip(shares, weights, strict=True)) / sum(weights)
    assert found.tries == pytest.approx(by_sum, rel=1e-3)
