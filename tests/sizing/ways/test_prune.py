"""What beats what among the ways of a lot."""

from __future__ import annotations

from typing import NamedTuple

from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.ways.prune import undominated


class Bare(NamedTuple):
    """What a way is judged by."""

    inner_width: float
    inner_depth: float
    stack_height: float
    wall_height: float
    trouble: float


FEW = st.integers(1, 5).map(float)
BARE = st.builds(Bare, FEW, FEW, FEW, FEW, FEW)


@given(ways=st.lists(BARE, max_size=30))
def test_those_that_stay_are_those_that_none_beats(ways: list[Bare]) -> None:
    """Pair by pair: each that goes is beaten by one that stays; none that stays is beaten, none is doubled."""
    kept = undominated(ways)
    assert len(set(kept)) == len(kept)
    assert [way for way in dict.fromkeys(ways) if way in kept] == kept
    for way in ways:
        better = [other for other in kept if all(a <= b for a, b in zip(other, way, strict=True))]
        assert better
        assert way not in kept or better == [way]


def test_gutters_stay_only_where_there_is_nothing_else() -> None:
    """Nine times as long as wide goes, unless all are so."""
    gutter, tray = Bare(9.0, 1.0, 1.0, 1.0, 0.0), Bare(4.0, 3.0, 1.0, 1.0, 0.0)
    assert undominated([gutter, tray]) == [tray]
    assert undominated([gutter]) == [gutter]
