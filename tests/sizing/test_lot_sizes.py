"""Sizes of lots and of their pockets."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.fits.chain import CLEARANCE
from nookwright.sizing.lot_sizes import Terms, drawn, fit_of, pocket_of, process_tolerance, sized
from nookwright.sizing.printers.errors import ERRORS, Error, unmeasured
from nookwright.sizing.statistics.processes import tolerance_of
from nookwright.sizing.ways import Limits, PartKind, ways_of
from nookwright.survey.models import FloorStyle, Lot, OwnProcess
from nookwright.survey.origins import FitClass, Process
from nookwright.survey.readings import Published

TERMS = Terms()


def jars(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of six jars, 50 mm wide."""
    usual = {"id": "jars", "count": 6, "shape": "round", "diameter": 50.0, "height": 60.0, "made": "moulded glass"}
    return Lot.model_validate(usual | keys)


def test_a_published_limit_is_the_size() -> None:
    """Nothing is added to what a standard allows, and no confidence is claimed for it."""
    lot = jars(standard="any").model_copy(update={"diameter": Published(floor=(50.5,))})
    side = sized(lot, "diameter", TERMS)
    assert (side.limit, side.confidence, side.tolerance) == (50.5, 1.0, None)
    assert pocket_of(lot, TERMS, pockets=6).limit == pytest.approx(0.0, abs=1e-6)


def test_a_dimension_that_a_standard_leaves_open_is_a_sample() -> None:
    """Beside a published width, a height that was measured gets its allowance."""
    lot = Lot.model_validate(
        {"id": "a", "count": 9, "standard": "any", "shape": "box", "width": 1, "depth": 1, "height": 30}
    )
    lot = lot.model_copy(update={"width": Published(floor=(40.0,)), "depth": Published(floor=(30.0,))})
    assert sized(lot, "width", TERMS).limit == 40.0
    assert sized(lot, "height", TERMS).limit > 30.3


def test_all_measured_needs_no_statistics() -> None:
    """With every thing measured the limit is the largest and the error of reading it, below 0.15 with a caliper."""
    readings = [49.8, 50.0, 50.3, 49.9, 50.1, 50.2]
    some = sized(jars(diameter=readings, count=40), "diameter", TERMS)
    every = sized(jars(diameter=readings, measured="all"), "diameter", TERMS)
    assert 50.3 < every.limit < 50.45 < some.limit
    assert every.tolerance is None
    assert some.tolerance is not None


def test_a_tape_is_trusted_less_than_a_caliper() -> None:
    """The same readings by tape give a larger limit."""
    limits = [
        sized(jars(instrument=one, measured="all", count=1), "diameter", TERMS).limit for one in ("caliper", "tape")
    ]
    assert limits[1] > limits[0] + 0.5


def test_what_is_made_unevenly_needs_more_room() -> None:
    """One sample of glass allows for more than one of turned metal, and hand-made ceramics for most."""
    limits = [
        sized(jars(made=made), "diameter", TERMS).limit for made in ("machined metal", "moulded glass", "ceramics")
    ]
    assert limits[0] < limits[1] - 0.3
    assert limits[1] < limits[2] - 0.3


def test_all_dimensions_together_hold_the_confidence() -> None:
    """The doubts of the dimensions add up to that of the room at most."""
    sides = [sized(jars(), side, Terms(confidence=0.9)) for side in ("diameter", "height")]
    assert sum(1 - side.confidence for side in sides) == pytest.approx(0.1)


def test_an_own_process_goes_before_the_built_in_one() -> None:
    """Its tolerance is a fixed part and a share of the size, and its source is said."""
    own = OwnProcess.model_validate({"id": "wood", "tolerance": 0.2, "percent": 2, "source": "our turner"})
    found = process_tolerance(jars(made="wood"), "diameter", Terms(processes=(own,)))
    assert found.plus_minus == pytest.approx(1.2)
    assert found.source == "our turner"
    assert process_tolerance(jars(made="wood"), "diameter", TERMS) == tolerance_of(Process.WOOD, 50.0)


def test_sheets_differ_by_a_share_of_their_thickness() -> None:
    """The tolerance of a cut side, 1.5 mm, says nothing of a sheet of 0.3."""
    cards = Lot.model_validate(
        {"id": "a", "count": 50, "shape": "flat", "width": 90, "depth": 60, "thickness": 0.3, "made": "paper"}
    )
    assert sized(cards, "thickness", TERMS).limit < 0.4
    assert sized(cards, "width", TERMS).limit > 91


def test_a_purpose_sets_the_fit_and_a_fit_goes_before_it() -> None:
    """Keeping apart lets things fall in; keeping upright is what is meant where nothing is said."""
    assert fit_of(jars()) is FitClass.EASY
    assert fit_of(jars(purpose="keep apart")) is FitClass.FALLS_IN
    assert fit_of(jars(purpose="locate")) is FitClass.CLOSE
    assert fit_of(jars(purpose="keep apart", fit="held")) is FitClass.HELD


@settings(deadline=None, max_examples=40)
@given(
    readings=st.lists(st.floats(20, 90).map(lambda size: round(size, 1)), min_size=1, max_size=5),
    count=st.integers(1, 30),
    made=st.sampled_from(Process),
    fit=st.sampled_from(FitClass),
)
def test_a_pocket_is_the_sum_of_its_parts_and_holds_its_things(
    readings: list[float], count: int, made: Process, fit: FitClass
) -> None:
    """Measured, limit, printer and clearance add up to what is drawn; the pocket is no narrower than its things."""
    lot = jars(diameter=readings, count=count, made=made.value, fit=fit.value)
    pocket = pocket_of(lot, TERMS, pockets=count)
    assert pocket.measured == max(readings)
    assert pocket.clearance == CLEARANCE[fit]
    total = pocket.measured + pocket.limit + pocket.printer + pocket.clearance
    assert drawn(pocket) == pytest.approx(total, abs=0.0051)
    assert pocket.limit + pocket.printer + pocket.clearance >= 0


def test_a_printer_that_prints_large_never_makes_a_pocket_narrower_than_its_things() -> None:
    """With insides 0.5 too large and a fit without clearance, the pocket is drawn as the limit."""
    usual = unmeasured()
    mean = tuple(0.5 if error is Error.INSIDE else value for error, value in zip(ERRORS, usual.mean, strict=True))
    wide = Terms(errors=replace(usual, mean=mean))
    pocket = pocket_of(jars(fit="held"), wide, pockets=6)
    assert pocket.printer == 0.0


def test_layout_and_pocket_agree() -> None:
    """Pockets stand apart by what is drawn, and the thing in the plan is the one that the pocket was sized for."""
    limits = Limits(length=400.0, height=90.0, wall=1.2, floor=FloorStyle.SHELL)
    ways = [way for way in ways_of(jars(grow_percent=0), limits, terms=TERMS) if way.kind is PartKind.CRADLE]
    pocket = pocket_of(jars(), TERMS, pockets=6)
    assert ways
    for way in ways:
        assert way.pocket == drawn(pocket)
        assert way.pitch_x == pytest.approx(way.pocket + 1.2)
        assert way.thing.width == pytest.approx(pocket.measured + pocket.limit, abs=1e-5)


def test_lots_of_known_spread_fit_as_often_as_asked() -> None:
    """300 lots of 12 glass jars, 3 measured each: in 92 of 100 and more all 12 stay within the limit (95 asked for)."""
    random = np.random.default_rng(7)
    spread = tolerance_of(Process.MOULDED_GLASS, 50.0).spread
    lots = 50 + spread * random.standard_normal((300, 12))
    base = pocket_of(jars(diameter=[50.0, 50.1, 49.9], count=12), TERMS, pockets=12)
    assert base.limit > spread
    fits = 0
    for things in lots:
        pocket = pocket_of(jars(diameter=list(np.round(things[:3], 2)), count=12), TERMS, pockets=12)
        fits += things.max() <= pocket.measured + pocket.limit
    assert fits >= 300 * 0.92
