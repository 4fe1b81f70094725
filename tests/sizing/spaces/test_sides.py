"""The least that a side of a space measures, from readings at a few places of it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.spaces.sides import PLACE_SPREAD, least_of, walls_of
from nookwright.sizing.statistics.uncertainty import reading_components
from nookwright.survey.origins import Instrument

READINGS = st.lists(st.floats(100, 900), min_size=1, max_size=8)
PLACES = 6


def margins(count: int, *, spread: float, instrument: Instrument, trials: int = 1500) -> tuple[float, float]:
    """Share of simulated walls whose narrowest place is no less than what is left, and the mean of what is lost.

    Args:
        count: places that are read, of six.
        spread: true standard deviation from place to place, mm.
        instrument: what they are read with; its error is one for all readings of a wall.
        trials: walls.
    """
    chance = np.random.default_rng(count)
    parts = {one.what: one.standard for one in reading_components(instrument, 400)}
    safe, lost = 0, 0.0
    for _ in range(trials):
        places = 400 + spread * chance.standard_normal(PLACES)
        own = np.sqrt(3) * parts["instrument"] * chance.uniform(-1, 1)
        noise = parts["hand"] * chance.standard_normal(count)
        readings = tuple(np.round(places[:count] + own + noise))  # to whole mm
        left = least_of(readings, walls_of((readings,), instrument), instrument).value
        safe += left <= places.min()
        lost += (places.min() - left) / trials
    return safe / trials, lost


@pytest.mark.parametrize("count", [1, 2, 3, 4, 6])
@pytest.mark.parametrize("instrument", [Instrument.TAPE, Instrument.LASER])
def test_what_is_left_goes_in_19_times_of_20(count: int, instrument: Instrument) -> None:
    """In 1500 simulated walls, to 1.5 points: 95 % one-sided, places that were not read included."""
    share, _ = margins(count, spread=float(PLACE_SPREAD), instrument=instrument)
    assert share >= 0.935


@pytest.mark.parametrize("spread", [0.0, 0.25, 1.0])
def test_other_walls_are_safe_too_once_three_places_were_read(spread: float) -> None:
    """Half the usual spread and none at all; twice of it needs six readings, three see too little: 86 in 100."""
    assert margins(6, spread=spread, instrument=Instrument.RULE)[0] >= 0.935
    assert margins(3, spread=spread, instrument=Instrument.RULE)[0] >= (0.84 if spread > PLACE_SPREAD else 0.935)


def test_more_places_lose_less() -> None:
    """One reading by tape loses about 2 mm of the narrowest place, three less, six less again."""
    lost = [margins(count, spread=float(PLACE_SPREAD), instrument=Instrument.TAPE)[1] for count in (1, 3, 6)]
    assert lost[0] > lost[1] > 0
    assert lost[0] < 2.2


@given(readings=READINGS, instrument=st.sampled_from(Instrument))
def test_the_smallest_reading_is_never_reached(readings: list[float], instrument: Instrument) -> None:
    """Whatever was read, something is kept free, and nothing is left below 0."""
    least = least_of(readings, walls_of((readings,), instrument), instrument)
    assert least.smallest == min(readings)
    assert least.margin > 0
    assert 0 <= least.value <= min(readings)


@given(count=st.integers(1, 7), instrument=st.sampled_from(Instrument))
def test_readings_that_agree_make_the_margin_smaller(count: int, instrument: Instrument) -> None:
    """One more of the same never makes it larger."""
    one, more = (
        least_of((300.0,) * n, walls_of(((300.0,) * n,), instrument), instrument).margin for n in (count, count + 1)
    )
    assert more <= one + 1e-12


def test_readings_that_differ_make_the_margin_larger() -> None:
    """Three readings of which the outer ones are 4 mm apart, against three that agree."""
    calm, wild = (
        least_of(readings, walls_of((readings,), Instrument.TAPE), Instrument.TAPE).margin
        for readings in ((300.0, 300.0, 300.0), (300.0, 302.0, 304.0))
    )
    assert wild > calm + 0.2


def test_what_one_height_says_of_the_wall_holds_at_the_others() -> None:
    """One reading at the rim beside three at the floor has the margin of three."""
    walls = walls_of(((300.0, 300.2, 300.1), (300.1,)), Instrument.TAPE)
    alone = walls_of(((300.1,),), Instrument.TAPE)
    assert walls.count == 3
    both, one = (least_of((300.1,), which, Instrument.TAPE).margin for which in (walls, alone))
    assert both < one


@pytest.mark.parametrize(("readings", "wide"), [((300.0, 301.0), False), ((300.0, 303.5), True), ((300.0,), False)])
def test_wide_scatter_is_told_from_usual(readings: tuple[float, ...], wide: bool) -> None:  # noqa: FBT001 - a table
    """A millimetre between two readings by tape is usual; three and a half are not; one reading has no scatter."""
    assert walls_of((readings,), Instrument.TAPE).wide is wide


def test_places_left_are_those_of_six_normal_ones() -> None:
    """Mean of the smallest of so many read less the smallest of six, against a simulation."""
    chance = np.random.default_rng(1)
    places = chance.standard_normal((200_000, PLACES))
    for count in range(1, PLACES + 1):
        behind = places[:, :count].min(axis=1) - places.min(axis=1)
        readings = (300.0,) * count
        least = least_of(readings, walls_of((readings,), Instrument.TAPE), Instrument.TAPE)
        spread = walls_of((readings,), Instrument.TAPE).spread
        assert least.hidden / spread == pytest.approx(behind.mean(), abs=0.01)
        part = next(one for one in least.uncertainty.components if one.what == "places not read")
        assert part.standard / spread == pytest.approx(behind.std(), abs=0.01)
