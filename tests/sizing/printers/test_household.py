"""The printers of a room put together: what each rests on, and what holds for parts that any may print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nookwright.module.measured import about_printers, clearance_growth
from nookwright.module.seat import CLEARANCE_GROWTH
from nookwright.module.seating import COUPON_GROWTH
from nookwright.sizing.printers.coupon import features
from nookwright.sizing.printers.errors import ERRORS, Error, PrinterErrors, inside_sensitivities, unmeasured
from nookwright.sizing.printers.household import Basis, Household, envelope, household_of
from nookwright.survey.load import check_typed
from nookwright.survey.locate import locate
from nookwright.survey.typed import Typed

if TYPE_CHECKING:
    from nookwright.survey.models import Room

BASE: dict[str, Any] = {
    "format": 1,
    "room": {"name": "a room"},
    "space": [
        {"id": "a", "kind": "drawer", "width": 400, "depth": 400, "height": 60, "floor_height": 700, "load_kg": 20}
    ],
    "lot": [{"id": "cells", "count": 4, "standard": "R6"}],
    "material": [{"id": one, "colour": "#808080", "density_g_cm3": 1.24} for one in ("grey", "red")],
}


def room(*printers: tuple[str, ...], coupons: tuple[dict[str, Any], ...] = ()) -> Room:
    """A room with these printers, each an id and its materials."""
    bed = {"bed_width": 220, "bed_depth": 220, "bed_height": 200}
    tables = [{"id": name, "materials": list(materials), **bed} for name, *materials in printers]
    data = {**BASE, "printer": tables, **({"coupon": list(coupons)} if coupons else {})}
    found, faults = check_typed(Typed("room.toml", data, locate("")))
    assert found is not None, faults
    return found


def coupon(
    printer: str, material: str = "grey", *, off: dict[Error, float] | None = None, **more: bool
) -> dict[str, Any]:
    """A coupon read without noise, of a printer with these errors."""
    errors = off or {}
    readings = {
        one.id: [round(one.nominal + sum(errors.get(e, 0.0) * by for e, by in one.sensitivities.items()), 3)] * 3
        for one in features()
    }
    return {"printer": printer, "material": material, "readings": readings, **more}


def bases(household: Household) -> list[Basis]:
    return [one.basis for one in household.known]


def test_without_coupons_all_are_taken_at_the_defaults() -> None:
    """And a room's envelope is the defaults themselves."""
    household = household_of(room(("one", "grey", "red"), ("two", "grey")))
    assert bases(household) == [Basis.DEFAULTS] * 3
    assert household.envelope == unmeasured()
    assert not household.measured
    assert clearance_growth(household) == CLEARANCE_GROWTH


def test_another_material_on_a_measured_printer_starts_from_its_coupon() -> None:
    """A little less sure of what the material decides, as sure of what the frame does."""
    household = household_of(room(("one", "grey", "red"), coupons=(coupon("one", off={Error.INSIDE: -0.3}),)))
    grey, red = household.known
    assert bases(household) == [Basis.COUPON, Basis.OTHER_MATERIAL]
    assert grey.errors.value(Error.INSIDE) == red.errors.value(Error.INSIDE) == pytest.approx(-0.3, abs=0.02)
    assert red.errors.uncertainty(Error.INSIDE) > grey.errors.uncertainty(Error.INSIDE)
    assert red.errors.uncertainty(Error.SKEW_DEG) == grey.errors.uncertainty(Error.SKEW_DEG)
    assert household.measured


def test_one_printer_is_its_own_envelope() -> None:
    """Centred where its coupon says."""
    household = household_of(room(("one", "grey"), coupons=(coupon("one", off={Error.INSIDE: -0.25}),)))
    assert household.envelope == household.known[0].errors


def test_pockets_are_drawn_for_the_printer_that_is_worst() -> None:
    """What the envelope allows for at 95 % is what the worst of its printers asks for, or more, at any diameter."""
    coupons = (coupon("one", off={Error.INSIDE: -0.3}), coupon("two", off={Error.INSIDE: 0.0, Error.SCALE_X: -0.002}))
    household = household_of(room(("one", "grey"), ("two", "grey"), coupons=coupons))
    for size in (4.0, 14.5, 40.0, 90.0):
        lowest = [low(one.errors, size) for one in household.known]
        assert low(household.envelope, size) <= min(lowest) + 0.01


def low(errors: PrinterErrors, size: float) -> float:
    """What one printer in twenty takes off an inside at least."""
    mean, uncertainty = errors.of(inside_sensitivities(size, round_hole=True))
    return mean - 1.645 * uncertainty


def test_the_envelope_of_equals_is_the_same() -> None:
    """Whatever their number and order."""
    one = unmeasured()
    assert envelope([one, one, one]) == one
    two = PrinterErrors((0.001, 0.0, 0.1, 0.1, -0.1, -0.1, 0.2), one.covariance, 0.03, measured=True)
    assert envelope([one, two]) == envelope([two, one])
    assert envelope([one, two]).scatter == 0.03
    assert not envelope([one, two]).measured
    assert np.linalg.eigvalsh(np.array(envelope([one, two]).covariance)).min() >= 0


def test_sockets_get_closer_with_coupons_of_printers_that_agree() -> None:
    """Every printer measured, scale and skew together: the clearance grows half as fast."""
    good = household_of(room(("one", "grey"), ("two", "grey"), coupons=(coupon("one"), coupon("two"))))
    assert clearance_growth(good) == COUPON_GROWTH
    half = household_of(room(("one", "grey"), ("two", "grey"), coupons=(coupon("one"),)))
    assert clearance_growth(half) == CLEARANCE_GROWTH


@pytest.mark.parametrize("off", [{Error.SCALE_X: 0.0012}, {Error.SKEW_DEG: 0.12}], ids=["scale", "skew"])
def test_a_printer_that_leans_or_stretches_keeps_them_wide_until_it_is_put_right(off: dict[Error, float]) -> None:
    """The kit says what to set it to; ``corrected = true`` closes the loop."""
    wrong = household_of(room(("one", "grey"), coupons=(coupon("one", off=off),)))
    assert clearance_growth(wrong) == CLEARANCE_GROWTH
    (finding,) = (one for one in about_printers(wrong) if one.code == "printers-differ")
    assert ("x 99.88 %" if Error.SCALE_X in off else "skew -0.12 degrees") in finding.remedy
    put_right = household_of(room(("one", "grey"), coupons=(coupon("one", off=off, corrected=True),)))
    assert clearance_growth(put_right) == COUPON_GROWTH
    assert put_right.known[0].errors.value(Error.OUTSIDE) == wrong.known[0].errors.value(Error.OUTSIDE)


def test_two_coupons_of_one_pair_are_surer_than_one() -> None:
    """The second goes on from the first."""
    one = household_of(room(("one", "grey"), coupons=(coupon("one"),)))
    two = household_of(room(("one", "grey"), coupons=(coupon("one"), coupon("one"))))
    assert all(two.known[0].errors.uncertainty(error) < one.known[0].errors.uncertainty(error) for error in ERRORS)


def test_the_kit_says_what_its_printers_rest_on() -> None:
    """Each printer once: measured and how it errs, by another material, or not at all."""
    household = household_of(room(("one", "grey", "red"), ("two", "grey", "red"), coupons=(coupon("one"),)))
    said = {(one.code, one.subject): one.text for one in about_printers(household)}
    assert set(said) == {
        ("printer-measured", "one"),
        ("printer-measured-in-another-material", "one"),
        ("printer-not-measured", "two"),
    }
    assert "scale x" in said["printer-measured", "one"]


def test_a_first_layer_that_spreads_too_far_is_a_warning() -> None:
    """Above what lead-ins and insets cover."""
    wide = household_of(room(("one", "grey"), coupons=(coupon("one", off={Error.FIRST_LAYER: 0.35}),)))
    usual = household_of(room(("one", "grey"), coupons=(coupon("one", off={Error.FIRST_LAYER: 0.2}),)))
    assert [one.severity for one in about_printers(wide) if one.code == "first-layer-spreads"] == ["warn"]
    assert [one for one in about_printers(usual) if one.code == "first-layer-spreads"] == []
