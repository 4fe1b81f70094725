"""Whole rests in cells: what the layout reckons with is what the parts are."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from nookwright.module.choice import module_of
from nookwright.module.rest_plastic import rest_plastic
from nookwright.module.rests import LEAST_GUARD, LENGTH_PLAY, SUPPORT_ROWS, rest_cells
from nookwright.module.seat import outer_size
from nookwright.parts.rests.rest_placed import handle_of, lying_in, rest_part, rest_parts, set_of
from nookwright.parts.rests.rest_set import RestPlan
from nookwright.sizing.ways import LongThings

PITCHES = st.sampled_from((15.0, 17.0, 18.0, 22.0, 24.0))
BLADES = st.builds(
    LongThings,
    count=st.integers(1, 4),
    length=st.floats(60, 340),
    across=st.floats(0.5, 4),
    high=st.floats(12, 60),
    bladed=st.just(value=True),
    drop=st.floats(0, 12),
    handle_length=st.just(0.0) | st.floats(60, 150),
    handle_thick=st.floats(8, 34),
    handle_high=st.floats(15, 72),
)
SHAFTS = st.builds(
    lambda count, length, across: LongThings(count, length, across, across, bladed=False),
    count=st.integers(1, 5),
    length=st.floats(90, 420),
    across=st.floats(3, 45),
)
KNIFE = LongThings(1, 205.0, 2.1, 33.0, bladed=True, handle_length=133.0, handle_thick=21.6, handle_high=42.5)


@settings(deadline=None)
@given(things=BLADES | SHAFTS, pitch=PITCHES)
def test_cells_and_heights_are_those_of_the_parts(things: LongThings, pitch: float) -> None:
    """Width, first cells of the supports and the height of their blocks follow from the same things."""
    module = module_of(pitch, 6.0, 0.2, "")
    cells = rest_cells(module, things)
    assume(cells is not None)
    assert cells is not None
    plan = RestPlan(module, set_of(things))
    assert (plan.cols, plan.cells, plan.height) == (cells.cols, (0, cells.last), cells.block)
    parts = [rest_part(module, one) for one in rest_parts(module, things)]
    assert max(part.size[2] for part in parts) == pytest.approx(cells.height)


@settings(deadline=None)
@given(things=BLADES | SHAFTS, pitch=PITCHES)
def test_parts_and_things_lie_within_the_cells_and_apart(things: LongThings, pitch: float) -> None:
    """Every part has cells of its own, none of one cell only; handles and ends stay inside, with their play."""
    module = module_of(pitch, 6.0, 0.2, "")
    cells = rest_cells(module, things)
    assume(cells is not None)
    assert cells is not None
    taken: set[tuple[int, int]] = set()
    for one in rest_parts(module, things):
        mine = {(one.col + i, one.row + j) for i in range(one.cols) for j in range(one.rows)}
        assert not mine & taken
        assert one.rows >= min(SUPPORT_ROWS, LEAST_GUARD)
        taken |= mine
    assert all(0 <= col < cells.cols and 0 <= row < cells.rows for col, row in taken)
    begin = cells.lead * pitch
    handle = handle_of(things)
    for _, y, z in lying_in(module, things, things.count):
        front, back = begin + y - things.length / 2 - things.handle_length, begin + y + things.length / 2
        assert front >= (LENGTH_PLAY - 1.0 if things.handle_length or not things.bladed else -0.01)
        assert back <= cells.rows * pitch
        assert z + things.high <= cells.tall + 1e-3
        assert handle is None or z + handle.offset[2] + handle.size[2] <= cells.tall + 1e-3


@settings(deadline=None)
@given(things=BLADES, pitch=PITCHES)
def test_a_blade_ends_inside_its_last_support(things: LongThings, pitch: float) -> None:
    """From the heel, flush with the first, to the tip; supports and guards stand one behind the other without a gap."""
    module = module_of(pitch, 6.0, 0.2, "")
    cells = rest_cells(module, things)
    assume(cells is not None)
    assert cells is not None
    assert things.length + 2.9 <= outer_size(cells.last + int(SUPPORT_ROWS), pitch)
    middle = [one for one in rest_parts(module, things) if one.col <= 1 < one.col + one.cols]
    rows = sorted(row for one in middle for row in range(one.row, one.row + one.rows))
    assert rows == list(range(cells.lead, cells.lead + cells.last + int(SUPPORT_ROWS)))


def test_a_bread_knife_by_hand() -> None:
    """At 18: one column between two free ones; 135 of handle on 8 cells, a blade of 205 on 12; 5.6 to the edge."""
    cells = rest_cells(module_of(18.0, 6.0, 0.2, ""), KNIFE)
    assert cells is not None
    assert (cells.cols, cells.rows, cells.lead, cells.last) == (3, 20, 8, 10)
    assert cells.height == 41.6
    assert cells.tall == pytest.approx(48.1)


@pytest.mark.parametrize(
    "things",
    [
        LongThings(1, 50.0, 12.0, 12.0, bladed=False),
        LongThings(1, 20.0, 2.0, 15.0, bladed=True),
        replace(KNIFE, count=2, handle_thick=40.0),
    ],
)
def test_short_things_and_thick_handles_have_no_rest(things: LongThings) -> None:
    """Two supports have no cells of their own, or two handles meet."""
    assert rest_cells(module_of(18.0, 6.0, 0.2, ""), things) is None


@settings(deadline=None, max_examples=40)
@given(things=BLADES | SHAFTS, pitch=PITCHES)
def test_plastic_is_that_of_the_parts_to_a_tenth(things: LongThings, pitch: float) -> None:
    """The closed form of the whole against those of its parts."""
    module = module_of(pitch, 6.0, 0.2, "")
    assume(rest_cells(module, things) is not None)
    parts = [rest_part(module, one) for one in rest_parts(module, things)]
    assert rest_plastic(module, things).mass_g(1.24) == pytest.approx(
        sum(part.plastic.mass_g(1.24) for part in parts), rel=0.1
    )
