"""The bow of a floor, read or worked out; its plates are checked in ``tests/published/test_plates.py``."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.spaces.bow import bow_of, clamped_share, resting_share, sag_under_load
from nookwright.sizing.usable import usable_of
from nookwright.survey.inside import Board, BoardEdges, Bottom
from nookwright.survey.models import Space


def space(**changes: Any) -> Space:  # noqa: ANN401 - any key of a space
    """A drawer of 360 x 420 x 80."""
    content = {"id": "a", "kind": "drawer", "width": 360, "depth": 420, "height": 80, "floor_height": 0, "load_kg": 5}
    return Space.model_validate(content | changes)


@given(ratio=st.floats(1, 6), longer=st.floats(0.05, 3))
def test_longer_plates_hang_more_and_clamped_ones_less(ratio: float, longer: float) -> None:
    """At the same shorter side; clamped less than half of resting; the cut at 3 is no step that matters."""
    assert resting_share(ratio) < resting_share(ratio + longer)
    assert clamped_share(ratio) <= clamped_share(ratio + longer) * 1.01
    assert clamped_share(ratio) < 0.5 * resting_share(ratio)


@given(load=st.floats(0.5, 50), thickness=st.floats(2, 12), board=st.sampled_from(Board))
def test_sag_grows_with_the_load_and_shrinks_with_the_cube_of_the_thickness(
    load: float, thickness: float, board: Board
) -> None:
    """Twice the load sags twice as far, twice the thickness an eighth."""
    one, thick = (Bottom(thickness=each, material=board) for each in (thickness, 2 * thickness))
    sag = sag_under_load(one, 360, 420, load)
    assert sag_under_load(one, 360, 420, 2 * load) == pytest.approx(2 * sag)
    assert sag_under_load(thick, 360, 420, load) == pytest.approx(sag / 8)


def test_a_bow_that_was_read_costs_height_and_one_that_was_worked_out_does_not() -> None:
    """Down or up alike, with 0.3 mm for the straight edge; a sag under load begins below the floor measured."""
    flat = usable_of(space()).height
    assert usable_of(space(bow=2)).height == pytest.approx(flat - 2.3)
    assert usable_of(space(bow=-2)).height == pytest.approx(flat - 2.3)
    assert usable_of(space(bow=0)).height == flat
    assert usable_of(space(bottom={"thickness": 6, "material": "plywood"})).height == flat


def test_a_sag_beyond_thin_plates_says_so() -> None:
    """More than half the thickness; steel with clamped edges stays below it."""
    thin = bow_of(space(bottom={"thickness": 3, "material": "hardboard"}))
    steel = bow_of(space(bottom={"thickness": 1, "material": "steel", "edges": BoardEdges.CLAMPED}))
    assert thin.stiffens
    assert thin.sag > 1.5
    assert not steel.stiffens
    assert 0 < steel.sag < 0.5


def test_a_stiffness_that_is_known_goes_before_that_of_the_material() -> None:
    """Twice the modulus sags half as far, with the material's creep."""
    usual = bow_of(space(bottom={"thickness": 6, "material": "mdf", "stiffness_mpa": 2700})).sag
    assert bow_of(space(bottom={"thickness": 6, "material": "mdf"})).sag == pytest.approx(usual)
    assert bow_of(space(bottom={"thickness": 6, "material": "mdf", "stiffness_mpa": 5400})).sag == pytest.approx(
        usual / 2
    )
