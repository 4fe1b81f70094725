"""Room that the options of a tray take from its inside."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.tray_needs import Parting, TrayNeeds, shared_out
from nookwright.sizing.ways import Limits, PartKind, ways_of
from nookwright.survey.models import FloorStyle, Keep, Lot
from nookwright.survey.tray_wishes import TrayWishes

LIMITS = Limits(length=400.0, height=90.0, wall=1.2, floor=FloorStyle.SHELL)


@st.composite
def partings(draw: st.DrawFn) -> Parting:
    """Equal compartments or given places, with slots or without, with a front that takes something or none."""
    thick = draw(st.floats(0.4, 3.0))
    guide = thick + draw(st.sampled_from([0.0, 2.8]))
    front = draw(st.sampled_from([(0.0, 0.0), (2.4, 0.0), (6.2, 0.302)]))
    least = draw(st.sampled_from([0.0, 28.0]))
    steps = draw(st.lists(st.floats(14.0, 60.0), max_size=3))
    if steps:
        at = tuple(sum(steps[: number + 1]) for number in range(len(steps)))
        return Parting(1, at, thick, guide, least, *front)
    return Parting(draw(st.integers(1, 6)), (), thick, guide, least, *front)


PITCH, EDGE, COUNT = st.floats(3.0, 60.0), st.floats(0.0, 6.0), st.integers(1, 60)


@given(parting=partings(), count=COUNT, pitch=PITCH, edge=EDGE)
def test_the_least_inside_takes_all_things(parting: Parting, count: int, pitch: float, edge: float) -> None:
    """The sum of what the spans take is what was asked for, or more."""
    inside = parting.least(count, pitch, edge)
    assert sum(parting.room_for(inside, pitch, edge)) >= count


@given(parting=partings(), count=COUNT, pitch=PITCH, edge=EDGE, more=st.floats(0.0, 40.0))
def test_a_larger_inside_takes_no_fewer(parting: Parting, count: int, pitch: float, edge: float, more: float) -> None:
    """Trays are rounded up to cells, and grow: what was planned still fits."""
    inside = parting.least(count, pitch, edge) + more
    assert sum(parting.room_for(inside, pitch, edge)) >= count


@given(parting=partings(), count=COUNT, pitch=PITCH, edge=EDGE)
def test_no_smaller_inside_would_do(parting: Parting, count: int, pitch: float, edge: float) -> None:
    """A tenth less takes fewer things, or a compartment is narrower than it may be."""
    inside = parting.least(count, pitch, edge)
    less = sum(parting.room_for(inside - 0.1, pitch, edge))
    clear = (inside - 0.1 - (parting.compartments - 1) * parting.thick) / parting.compartments
    too_narrow = clear < max(parting.least_clear, 2 * parting.front)
    last = bool(parting.at) and inside - 0.1 < parting.at[-1] + max(
        parting.guide / 2 + edge, parting.thick / 2 + parting.least_clear
    )
    assert less < count or too_narrow or last


@given(parting=partings(), inside=st.floats(190.0, 400.0))
def test_spans_lie_apart_and_inside(parting: Parting, inside: float) -> None:
    """From wall to wall, behind what the front takes, a divider with its slot between two of them."""
    spans = parting.spans(inside)
    assert len(spans) == (len(parting.at) or parting.compartments - 1) + 1
    assert spans[0][0] >= parting.front
    assert spans[-1][1] == inside
    for (_, end), (start, _) in pairwise(spans):
        assert start - end <= parting.guide + 1e-6
        assert start >= end


def test_equal_compartments_are_equal() -> None:
    """Three of 30 between dividers of 1.2 in 92.4."""
    spans = Parting(3, thick=1.2, guide=1.2).spans(92.4)
    assert [pytest.approx(end - start) for start, end in spans] == [30.0, 30.0, 30.0]


def test_a_slot_takes_more_than_its_divider() -> None:
    """Ribs of a wall's thickness and the play, on both sides: 1.2 + 0.4 + 2.4."""
    (_, end), (start, _) = Parting(2, thick=1.2, guide=4.0).spans(61.2)
    assert start - end == pytest.approx(4.0)
    assert (start + end) / 2 == pytest.approx(30.6)


@given(room=st.lists(st.integers(0, 9), min_size=1, max_size=6), count=st.integers(0, 30))
def test_things_are_shared_out_evenly(room: list[int], count: int) -> None:
    """None beyond its room; two spans differ by more than one only where the emptier is full."""
    shares = shared_out(tuple(room), count)
    assert sum(shares) == min(count, sum(room))
    for share, most in zip(shares, room, strict=True):
        assert share <= most
        assert share == most or share >= max(shares) - 1


@pytest.mark.parametrize("columns", [2, 3])
def test_no_compartment_stays_empty(columns: int) -> None:
    """Ways with fewer things side by side than compartments are left out; each compartment is a hand wide."""
    lot = Lot.model_validate(
        {"id": "a", "count": 9, "shape": "box", "width": 30, "depth": 12, "height": 10, "stands": ["upright"]}
    )
    needs = TrayNeeds(columns=Parting(columns, (), 1.2, 1.2, 28.0))
    ways = ways_of(lot, LIMITS, needs)
    assert ways
    for way in ways:
        assert way.columns >= columns
        assert way.inner_width >= columns * 28.0 + (columns - 1) * 1.2 - 1e-9


def test_an_inlay_counts_in_every_height() -> None:
    """Two millimetres more of wall and of the things' height."""
    lot = Lot.model_validate({"id": "a", "count": 3, "shape": "box", "width": 30, "depth": 40, "height": 20})
    bare, laid = ways_of(lot, LIMITS), ways_of(lot, LIMITS, TrayNeeds(inlay=2.0))
    for one, other in zip(bare, laid, strict=True):
        assert other.stack_height == pytest.approx(one.stack_height + 2)
        assert other.wall_height == pytest.approx(one.wall_height + 2)


def test_wishes_for_a_tray_mean_a_tray() -> None:
    """A lot that could stand in a cradle gets a tray when it says what the tray should have."""
    jars = {"id": "a", "count": 3, "shape": "round", "diameter": 40, "height": 60, "stands": ["upright"]}
    kinds = {way.kind for way in ways_of(Lot.model_validate(jars), LIMITS)}
    assert kinds == {PartKind.TRAY, PartKind.CRADLE}
    wished = Lot.model_validate(jars | {"tray": {"inlay": 1.0}})
    assert wished.keep is Keep.ANY
    assert wished.tray != TrayWishes()
    assert {way.kind for way in ways_of(wished, LIMITS)} == {PartKind.TRAY}
