from __future__ import annotations

import pytest

from nookwright.making.costs import cost_of
from nookwright.making.drying import Drying, dryings
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Slot, Way
from nookwright.survey.making_wishes import Costs
from nookwright.survey.models import Material

GREY = Material(id="grey", colour="#888888", density_g_cm3=1.24, price_per_kg=20)
HOURS = (Hours("one", (), (), power_w=100),)
BEDFULS = {name: Bedful(name, "grey", (Way("one", 36_000, 1, 50_000),), 250.0, 300.0) for name in ("b1", "b2")}
SLOTS = (
    Slot(0, 15, 615, 850, "one", "b1", changes=True, night=False),
    Slot(900, 915, 1515, 1750, "one", "b2", changes=False, night=False),
)


def test_the_sum_is_that_of_the_back_of_an_envelope() -> None:
    """500 g at 20 a kilogram, 20 h at 100 W and 0.30, 20 h at 0.25; a tenth of all that fails once."""
    cost = cost_of(SLOTS, BEDFULS, (GREY,), HOURS, Costs(electricity_kwh=0.3, machine_h=0.25), spoilage=0.1)
    assert cost.filament == (("grey", 10.0),)
    assert cost.energy_kwh == pytest.approx(2.0)
    assert cost.electricity == pytest.approx(0.6)
    assert cost.machine == pytest.approx(5.0)
    assert cost.spoiled == pytest.approx(1.56)
    assert cost.total == cost.making == pytest.approx(17.16)


def test_work_and_margin_count_only_for_an_offer() -> None:
    """30 min of changing beds and 60 more at 40 an hour; a fifth on top of everything."""
    said = {"labour_h": 40.0, "labour_min": 60.0, "margin_percent": 20.0}
    plain = cost_of(SLOTS, BEDFULS, (GREY,), HOURS, Costs(**said), spoilage=0.0)
    offer = cost_of(SLOTS, BEDFULS, (GREY,), HOURS, Costs(offer=True, **said), spoilage=0.0)
    assert (plain.labour, plain.margin, plain.total) == (0.0, 0.0, 10.0)
    assert (offer.labour, offer.margin, offer.total) == (60.0, 14.0, 84.0)


def test_filament_goes_into_the_dryer_as_late_as_someone_is_there() -> None:
    """Four hours before the bedful at 900 nobody is there, so it goes in at the end of the stretch before."""
    there = ((0, 60), (480, 520), (880, 960))
    assert dryings(SLOTS[1:], BEDFULS, {"grey": 240}, there) == (Drying("grey", 519, 759, "b2"),)
    assert dryings(SLOTS, BEDFULS, {"blue": 240}, there) == ()
