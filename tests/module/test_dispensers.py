"""Dispensers in cells: whatever the layout takes can be made, and its lid closes over the stack."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from nookwright.module.choice import module_of
from nookwright.module.dispensers import dispenser_cells, dispenser_plastic
from nookwright.module.seat import outer_size
from nookwright.parts.lids.sliding_lid import sliding_lid, slot_for
from nookwright.parts.lids.sliding_rim import SLOT_COLLAR, SlidingRim, SlidingSpec
from nookwright.parts.lids.sliding_tray import sliding_tray
from nookwright.parts.underside import inner_radius
from nookwright.sizing.ways import SMOOTH_FILLET, PartKind, ThingSize, Way
from nookwright.survey.dispensed import Dispensed
from nookwright.survey.models import FloorStyle, Stance

PITCHES = st.sampled_from((15.0, 17.0, 18.0, 22.0, 24.0))


def stack(short: float, long: float, high: float) -> Way:
    """A way to keep a stack of these sides."""
    thing = ThingSize(short, long, 1.0, "")
    way = Way(PartKind.DISPENSER, Stance.LYING, thing, 1, 1, 1, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, FloorStyle.SMOOTH, 0.0)
    return replace(way, stack_height=high, drawn=Dispensed.SHEETS)


@settings(deadline=None)
@given(
    short=st.floats(5, 280), more=st.floats(0, 240), high=st.floats(0.5, 120), pitch=PITCHES,
    what=st.sampled_from(Dispensed),
)  # fmt: skip
def test_every_dispenser_can_be_made(short: float, more: float, high: float, pitch: float, what: Dispensed) -> None:
    """The part refuses none of them; the stack goes in past the ledges, and ends below the lip of the slot."""
    module = module_of(pitch, 6.0, 0.2, "")
    cells = dispenser_cells(module, stack(short, short + more, high))
    assume(cells is not None)
    assert cells is not None
    rim = SlidingRim(module, SlidingSpec(*cells, smooth=True, slot=slot_for(module, what, cols=cells.cols)))
    assert rim.spec.slot is not None
    assert short + 1 <= rim.width - 2 * rim.opening
    assert short + more + 1 <= rim.depth - 2 * rim.opening
    assert module.seat.dome + high <= rim.sill - rim.spec.slot.lip + 1e-6
    assert rim.spec.slot.across + 2 * SLOT_COLLAR < rim.width - 2 * rim.opening


@settings(deadline=None)
@given(short=st.floats(5, 280), more=st.floats(0, 240), pitch=PITCHES)
@example(short=58.381343, more=28.0, pitch=19.0)  # its cells had 3 mm less beside the ledges than the rolls take
def test_the_lowest_sheet_lies_level(short: float, more: float, pitch: float) -> None:
    """It lies between the rolls of the floor to the walls, and its corners clear those in the corners of the floor.

    The level part of a floor with rolls of 3 is a rectangle with corners of what is left of the corner inside.
    """
    module = module_of(pitch, 6.0, 0.2, "")
    cells = dispenser_cells(module, stack(short, short + more, 10.0))
    assume(cells is not None)
    assert cells is not None
    beside = [module.inner(count) / 2 - side / 2 for count, side in ((cells.cols, short), (cells.rows, short + more))]
    assert min(beside) >= SMOOTH_FILLET
    corner, level = inner_radius(module), inner_radius(module) - SMOOTH_FILLET
    assert math.hypot(*(max(0.0, corner - off) for off in beside)) <= level


def test_only_what_is_longer_than_a_lid_slides_has_none() -> None:
    """A stack of 270 x 270 has one; one of 292 has none, at any width."""
    module = module_of(18.0, 6.0, 0.2, "")
    assert dispenser_cells(module, stack(270, 270, 20)) is not None
    assert dispenser_cells(module, stack(20, 292, 20)) is None


def test_paper_napkins_by_hand() -> None:
    """At 18, 169 square and 35.4 high: 10 cells of 179.3 leave 171.1 between ledges; 4.4, 35.4, 4 and 5.2 over them."""
    module = module_of(18.0, 6.0, 0.2, "")
    cells = dispenser_cells(module, stack(169.0, 169.0, 35.4))
    assert cells == (10, 10, 54.0)
    assert outer_size(10, 18.0) == pytest.approx(179.3, abs=0.1)


@settings(deadline=None, max_examples=40)
@given(cols=st.integers(5, 10), more=st.integers(0, 4), high=st.integers(5, 15))
def test_plastic_is_that_of_tray_and_lid_to_a_tenth(cols: int, more: int, high: int) -> None:
    """The closed form of both against those of the parts."""
    module = module_of(18.0, 6.0, 0.2, "")
    spec = SlidingSpec(cols, cols + more, 6.0 * high, smooth=True, slot=slot_for(module, Dispensed.SHEETS, cols=cols))
    made = sum(part.plastic.mass_g(1.24) for part in (sliding_tray(module, spec), sliding_lid(module, spec)))
    found = dispenser_plastic(module, spec.cols, spec.rows, spec.height).mass_g(1.24)
    assert found == pytest.approx(made, rel=0.1)
