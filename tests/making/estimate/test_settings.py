from __future__ import annotations

import math
from dataclasses import replace

import pytest
from tests.making.estimate.solids import printer, settings

from nookwright.making.estimate.settings import settings_of
from nookwright.module.estimates import INFILL_SHARE, SKIN_LAYERS_ABOVE, SKIN_LAYERS_BELOW
from nookwright.module.lines import wall_of
from nookwright.survey.printer_profile import PrinterProfile


def test_the_line_width_makes_whole_walls() -> None:
    """Solved from the room's wall; what the profile says goes before; neither is narrower than the layer is high."""
    assert wall_of(3, settings().line_width, 0.2) == pytest.approx(1.2, abs=1e-4)
    assert settings(line_width=0.5).line_width == 0.5
    assert settings_of(printer(), 0.1).line_width == pytest.approx(0.42)
    assert settings(line_width=0.1).line_width == 0.2


def test_the_cross_section_of_a_line() -> None:
    """A rectangle with round ends: the worked figure of 0.45 x 0.2 is 0.081416 mm2."""
    assert settings(line_width=0.45).bead_mm2 == pytest.approx(0.081416, abs=1e-6)
    assert settings(line_width=0.45).bead_mm2 == pytest.approx((0.45 - 0.2) * 0.2 + math.pi * 0.2**2 / 4)


def test_the_hot_end_limits_every_speed() -> None:
    """What melts in a second, by the cross-section of a line."""
    slow = settings(most_flow_mm3_s=2.0)
    assert slow.speeds.infill_mm_s == slow.speeds.outer_mm_s == pytest.approx(2.0 / slow.bead_mm2)
    assert slow.speeds.first_mm_s == pytest.approx(min(25.0, 2.0 / slow.bead_mm2))


def test_the_first_layer_is_never_quicker_than_its_own_speed() -> None:
    """Nor quicker than the speed of what is laid."""
    first = settings(gap_mm_s=10).speeds.in_first_layer()
    assert first.outer_mm_s == first.infill_mm_s == 25.0
    assert first.gap_mm_s == 10


def test_the_key_changes_with_every_figure_but_the_material() -> None:
    """So that nothing is remembered that is no longer true."""
    plain = settings()
    assert replace(plain, material="red").key == plain.key
    for key, value in {
        "walls": 3,
        "infill": "grid",
        "seam": "nearest",
        "brim": 3,
        "corner_mm_s": 5,
        "hop": 0.4,
    }.items():
        assert settings(**{key: value}).key != plain.key, key


def test_closed_forms_and_profiles_begin_from_the_same_figures() -> None:
    """Infill and skins of the forecast are the defaults of the profile."""
    profile = PrinterProfile()
    assert profile.infill_percent == pytest.approx(100 * INFILL_SHARE)
    assert profile.skin_below == int(SKIN_LAYERS_BELOW)
    assert profile.skin_above == int(SKIN_LAYERS_ABOVE)


def test_defaults_are_in_millimetres_in_a_file_of_inches() -> None:
    """A filament of 1.75 stays one, and what is typed is turned."""
    profile = PrinterProfile.model_validate({"retract": 0.1}, context={"unit": "in"})
    assert (profile.filament, profile.hop) == (1.75, 0.2)
    assert profile.retract == pytest.approx(2.54)
