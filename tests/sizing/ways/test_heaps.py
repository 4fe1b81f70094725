"""Heaps: bulk by its volume, and small things that are poured."""

from __future__ import annotations

import math
from typing import Any

import manifold3d
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.things import standings_of
from nookwright.sizing.tray_needs import Parting, TrayNeeds
from nookwright.sizing.ways import Arrangement, Limits, PartKind, ways_of
from nookwright.sizing.ways.heaps import heaped_mm3, level_of
from nookwright.survey.models import FloorStyle, Lot
from nookwright.survey.readings import Published

LIMITS = Limits(length=700.0, height=120.0, wall=1.2, floor=FloorStyle.SHELL)


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of one."""
    return Lot.model_validate({"id": "a", "count": 1, "mass_g": 10} | keys)


@settings(max_examples=50)
@given(ml=st.floats(5, 4000), grow=st.floats(0, 100), count=st.integers(1, 4))
def test_every_heap_holds_its_volume(ml: float, grow: float, count: int) -> None:
    """Room of the tray to the level of the heap, its round corners and its roll taken off: never less than asked."""
    bulk = lot(shape="loose", volume_ml=ml, grow_percent=grow, count=count)
    for way in ways_of(bulk, LIMITS):
        corners = (4 - math.pi) * 3.8**2 * way.stack_height
        roll = (1 - math.pi / 4) * 9 * 2 * (way.inner_width + way.inner_depth)
        room = way.inner_width * way.inner_depth * way.stack_height - corners - roll
        assert room >= ml * 1000 * count * (1 + grow / 100) * (1 - 1e-9)
        assert way.stack_height <= 36 + 1e-9
        assert way.stack_height < way.wall_height
        assert way.thing.width < way.inner_width
        assert way.thing.depth < way.inner_depth


def test_a_heap_comes_in_several_footprints_and_levels() -> None:
    """A quarter of a litre: square and long, 36 high and lower."""
    ways = ways_of(lot(shape="loose", volume_ml=250), LIMITS)
    assert len({round(way.inner_width / way.inner_depth, 1) for way in ways}) >= 5
    assert max(way.stack_height for way in ways) == pytest.approx(36)
    assert min(way.stack_height for way in ways) == pytest.approx(18)
    assert all(way.kind is PartKind.TRAY and way.floor is FloorStyle.SMOOTH for way in ways)


def test_small_things_are_poured_where_there_are_many() -> None:
    """A hundred screws in a heap; a dozen in rows; what is said to stand, stands."""
    screws = {"shape": "round", "diameter": 8.5, "height": 20}
    assert {way.arrangement for way in ways_of(lot(**screws, count=100), LIMITS)} == {Arrangement.HEAP}
    assert Arrangement.HEAP not in {way.arrangement for way in ways_of(lot(**screws, count=12), LIMITS)}
    standing = ways_of(lot(**screws, count=100, stands=["upright"]), LIMITS)
    assert Arrangement.HEAP not in {way.arrangement for way in standing}
    assert {way.arrangement for way in ways_of(lot(**screws, count=12, keep="loose"), LIMITS)} == {Arrangement.HEAP}


@pytest.mark.parametrize(("diameter", "height", "share"), [(10, 10, 0.55), (2, 40, 0.27), (5, 25, 0.55)])
def test_slender_things_fill_less_of_a_heap(diameter: float, height: float, share: float) -> None:
    """Stubby ones 0.55 of it; rods twenty times as long as thick 5.4 / 20: their bodies by that are the heap."""
    rods = lot(standard="any", shape="round", diameter=diameter, height=height, count=200, grow_percent=0)
    exact = {"diameter": Published(floor=(diameter,)), "height": Published(floor=(height,))}
    heap = heaped_mm3(rods.model_copy(update=exact), standings_of(rods.model_copy(update=exact)))
    assert heap == pytest.approx(200 * math.pi / 4 * diameter**2 * height / share)


def test_a_parted_tray_holds_the_heap_between_its_dividers() -> None:
    """Three compartments and a front that takes 12: the same volume, and a third of it in each."""
    needs = TrayNeeds(columns=Parting(3, thick=1.2, guide=1.2, least_clear=28.0), rows=Parting(front=12.0))
    for way in ways_of(lot(shape="loose", volume_ml=300, count=1, grow_percent=0), LIMITS, needs):
        assert (way.columns, way.rows) == (3, 1)
        across, back = way.needs.columns.spans(way.inner_width), way.needs.rows.spans(way.inner_depth)
        clear = sum(end - start for start, end in across) * sum(end - start for start, end in back)
        assert clear * way.stack_height >= 300_000
        assert all(way.thing.width <= end - start for start, end in across)
        assert all(way.thing.depth <= end - start for start, end in back)


def test_the_level_is_that_of_the_body_that_the_tray_is() -> None:
    """A tray of 60 x 40 with corners of 3.8, filled to 20: the kernel's own volume comes back as that level."""
    plan = manifold3d.CrossSection.square((52.4, 32.4)).offset(3.8, manifold3d.JoinType.Round, 2.0, 256)
    body = manifold3d.Manifold.extrude(plan, 20.0)
    rolls = (1 - math.pi / 4) * 9 * 2 * (60 + 40)
    assert level_of(body.volume() - rolls, 60.0, 40.0) == pytest.approx(20.0, rel=1e-3)
