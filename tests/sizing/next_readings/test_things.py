"""Which readings of one dimension are asked for."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.sizing.fits.chain import CLEARANCE, Pockets, size_pocket
from nookwright.sizing.next_readings.futures import futures
from nookwright.sizing.next_readings.gain import rate
from nookwright.sizing.next_readings.things import InPockets, Loose, Outcome, gain_of, next_of
from nookwright.sizing.printers.errors import unmeasured
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled
from nookwright.sizing.statistics.uncertainty import rough_error
from nookwright.survey.origins import FitClass

CALIPER = 0.03
POCKETS = InPockets(unmeasured(), Pockets(12, round_hole=True), FitClass.EASY, 0.95)
TRAY = Loose("width", 0.95)


def jars(*readings: float, count: int = 12, spread: float = 0.45, error: float = CALIPER) -> Judged:
    """Jars of glass, measured with a caliper."""
    return Judged(Sampled(readings, error, count), Expected(spread))


def exact(size: float) -> Outcome:
    """A part that is as large as it must be: nothing else changes."""
    return Outcome(size, 0, 0.0)


def stepped(at: float) -> object:
    """A tray that takes ten cells more, and 20 g, above a size; things up to 5 mm larger go into it then."""
    return lambda size: Outcome(at, 20, 40.0) if size <= at else Outcome(size + 5, 30, 60.0)


@given(readings=st.lists(st.floats(50, 53), min_size=1, max_size=6), extra=st.integers(0, 3))
@settings(max_examples=40)
def test_nothing_is_asked_where_all_were_measured(readings: list[float], extra: int) -> None:
    """As many readings as things, or more: whatever they say."""
    judged = jars(*readings, count=max(1, len(readings) - extra))
    assert next_of(judged, POCKETS, exact, reading_error=CALIPER) is None


def test_one_jar_of_twelve_is_not_enough() -> None:
    """Glass differs by a millimetre and more; more readings give a tighter pocket."""
    asked = next_of(jars(60.0), POCKETS, exact, reading_error=CALIPER)
    assert asked is not None
    assert asked.readings > 1
    assert 0.3 <= asked.gain.pocket < 1.5
    assert asked.gain.at_same_size > 0.97  # as wide as now, they would be surer than the 0.95 that were asked for


def test_turned_pins_are_never_asked_for() -> None:
    """Their spread is some hundredths: no pocket would change by 0.3."""
    assert next_of(jars(8.0, spread=0.03), POCKETS, exact, reading_error=CALIPER) is None


def test_what_was_asked_for_gains_less_once_it_was_taken() -> None:
    """The pocket is tighter then, by about what was promised, and less is left to be gained."""
    before = jars(60.0)
    asked = next_of(before, POCKETS, exact, reading_error=CALIPER)
    assert asked is not None
    after = jars(60.0, *(60.0 + 0.3 * (-1) ** n for n in range(asked.readings)))
    again = next_of(after, POCKETS, exact, reading_error=CALIPER)
    assert again is None or rate(again.gain, again.readings) < rate(asked.gain, asked.readings)
    assert POCKETS.size(after) < POCKETS.size(before)


@given(readings=st.lists(st.floats(59, 61), min_size=1, max_size=3), more=st.integers(1, 3))
@settings(max_examples=12)
def test_a_pocket_as_wide_as_before_is_surer(readings: list[float], more: int) -> None:
    """What readings gain in mm can be spent on safety instead; the confidence asked for is the least that comes out."""
    judged = jars(*readings)
    later = futures(judged, more, reading_error=CALIPER)
    gain = gain_of(judged, later, POCKETS, exact)
    same = [POCKETS.fits(one, POCKETS.size(one) + max(0.0, gain.pocket)) for one in later]
    assert sum(same) / len(same) >= 0.95 - 1e-3


def test_a_pocket_is_sized_by_the_whole_chain() -> None:
    """The same as the pocket that is drawn: things, printer, clearance."""
    size = size_pocket(jars(60.0), unmeasured(), pockets=POCKETS.pockets, fit=FitClass.EASY, confidence=0.95)
    assert POCKETS.size(jars(60.0)) == pytest.approx(size.pocket)
    assert POCKETS.fits(jars(60.0), size.pocket) == pytest.approx(0.95, abs=2e-3)
    assert size.clearance == CLEARANCE[FitClass.EASY]


def test_a_tray_with_room_to_spare_is_not_asked_for() -> None:
    """However wide the spread: no footprint would change, and all go in."""
    assert next_of(jars(60.0), TRAY, lambda _: Outcome(80.0, 20, 40.0), reading_error=CALIPER) is None


def test_a_tray_just_below_a_step_is_asked_for() -> None:
    """One reading may save ten cells; the gain is the share of futures in which it does."""
    limit = TRAY.size(jars(60.0))
    asked = next_of(jars(60.0), TRAY, stepped(limit - 0.2), reading_error=CALIPER)  # type: ignore[arg-type]
    assert asked is not None
    assert 2 < asked.gain.cells < 10
    assert asked.gain.mass_g == pytest.approx(2 * asked.gain.cells)
    assert asked.gain.pocket == 0


def test_a_tray_that_just_takes_them_is_made_surer() -> None:
    """A reading that shows in time that they are larger makes the tray grow, so the first print fits likelier."""
    limit = TRAY.size(jars(60.0))
    asked = next_of(jars(60.0), TRAY, stepped(limit + 0.01), reading_error=CALIPER)  # type: ignore[arg-type]
    assert asked is not None
    assert asked.gain.fit > 0.005
    assert asked.gain.cells < 0


def test_a_rough_size_gains_most() -> None:
    """Even of a single thing, which counts as measured otherwise."""
    rough = jars(60.0, count=1, error=rough_error())
    asked = next_of(rough, POCKETS, exact, reading_error=CALIPER, rough=True)
    assert asked is not None
    assert asked.readings == 1
    assert asked.gain.pocket > 1.5


def test_sheets_are_judged_by_their_pile() -> None:
    """Of a thickness the mean counts: the chance to go in at the limit is the confidence."""
    sheets = Loose("thickness", 0.95)
    judged = jars(0.5, 0.52, count=40, spread=0.02)
    assert sheets.fits(judged, sheets.size(judged)) == pytest.approx(0.95, abs=1e-3)
    assert sheets.size(judged) < Loose("width", 0.95).size(judged)
