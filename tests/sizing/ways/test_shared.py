"""Trays that several lots share."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.module.choice import module_of
from nookwright.parts.contents import shared_places
from nookwright.sizing.tray_needs import Parting, TrayNeeds
from nookwright.sizing.ways import Arrangement, Limits, PartKind, capacity
from nookwright.sizing.ways.household import together
from nookwright.sizing.ways.shared import spans_of
from nookwright.survey.models import FloorStyle, Lot

LIMITS = Limits(length=500.0, height=150.0, wall=1.2, floor=FloorStyle.SHELL)
MODULE = module_of(18.0, 6.0, 0.2, "")


def lot(name: str, **keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of six boxes."""
    usual = {"shape": "box", "width": 60, "depth": 30, "height": 20, "count": 6, "mass_g": 10}
    return Lot.model_validate({"id": name} | (usual if "shape" not in keys else {"count": 6, "mass_g": 10}) | keys)


SIZE = st.floats(6, 90)
BOXES = st.builds(
    lambda width, depth, height, count: lot("a", width=width, depth=depth, height=height, count=count),
    SIZE, SIZE, SIZE, st.integers(1, 20),
)  # fmt: skip
ROUNDS = st.builds(
    lambda diameter, height, count: lot("a", shape="round", diameter=diameter, height=height, count=count),
    SIZE, SIZE, st.integers(1, 45),
)  # fmt: skip


@settings(max_examples=40)
@given(lots=st.lists(BOXES | ROUNDS, min_size=2, max_size=3), loose=st.booleans(), more=st.integers(0, 2))
def test_each_lot_keeps_to_its_compartment(lots: list[Lot], loose: bool, more: int) -> None:  # noqa: FBT001
    """In the cells that the way takes and in a grown tray: between its dividers, its own things apart."""
    parting = Parting(thick=1.2, guide=4.0 if loose else 1.2)
    for way in together(lots, LIMITS, TrayNeeds(columns=parting))[:6]:
        cols, rows = MODULE.cells(way.inner_width) + more, MODULE.cells(way.inner_depth) + more
        spans = spans_of(way, MODULE.inner(cols), 1.2)
        assert all(b[0] - a[1] >= parting.guide - 1e-3 for a, b in pairwise(spans))
        assert spans[0][0] == 0
        assert spans[-1][1] == pytest.approx(MODULE.inner(cols), abs=1e-3)
        every = shared_places(MODULE, way, cols=cols, rows=rows, counts=[one.count for one in lots])
        for one, (start, end), spots, own in zip(way.compartments, spans, every, lots, strict=True):
            assert len(spots) * one.each >= own.count
            for x, y, _ in spots:
                assert x - one.thing.width / 2 >= 1.2 + start + 0.9
                assert x + one.thing.width / 2 <= 1.2 + end - 0.9
                assert y - one.thing.depth / 2 >= 1.2 - 1e-3
                assert y + one.thing.depth / 2 <= 1.2 + MODULE.inner(rows) + 1e-3


def test_a_shared_tray_holds_the_growth_of_all() -> None:
    """Widths and the divider between add up; the deepest and the highest lot say the rest."""
    lots = (lot("a"), lot("b", height=35), lot("c", count=9))
    ways = together(lots, LIMITS)
    assert ways
    for way in ways:
        assert way.lots == ("a", "b", "c")
        assert way.kind is PartKind.TRAY
        assert [one.room >= capacity(own) for one, own in zip(way.compartments, lots, strict=True)] == [True] * 3
        assert way.inner_width == pytest.approx(sum(one.inner_width for one in way.compartments) + 2 * 1.2)
        assert way.inner_depth == max(one.inner_depth for one in way.compartments)
        assert way.stack_height == max(one.stack_height for one in way.compartments)
        assert way.trouble == sum(one.trouble for one in way.compartments)


def test_a_lot_that_needs_a_smooth_floor_gives_it_to_its_neighbours() -> None:
    """They keep off its rounder corners too."""
    alone = together((lot("a"), lot("b")), LIMITS)
    beside = together((lot("a"), lot("c", shape="loose", volume_ml=80, count=1)), LIMITS)
    assert {way.floor for way in alone} == {FloorStyle.SHELL}
    assert {way.floor for way in beside} == {FloorStyle.SMOOTH}
    assert {way.compartments[1].arrangement for way in beside} == {Arrangement.HEAP}
    assert min(way.compartments[0].edge for way in beside) > min(way.compartments[0].edge for way in alone)


def test_lots_that_do_not_go_together_have_no_way() -> None:
    """One as long as the drawer, and another one."""
    assert together((lot("a", width=480, count=1), lot("b", width=300, depth=290, height=140, count=4)), LIMITS) == ()
