"""What there is to say of how a space was read."""

from __future__ import annotations

from typing import Any

import pytest

from nookwright.ground.findings import Severity
from nookwright.sizing.spaces.notes import about_reading
from nookwright.sizing.usable import usable_of
from nookwright.survey.models import Space

THRICE = [360.0, 360.4, 360.2]


def said(**changes: Any) -> dict[str, str]:  # noqa: ANN401 - any key of a space
    """Texts by code about a drawer of 360 x 420 x 80, read at three places."""
    content = {"id": "a", "kind": "drawer", "width": THRICE, "depth": [420, 420.3, 420.1], "height": [80, 80, 80.2]}
    space = Space.model_validate(content | {"floor_height": 0, "load_kg": 5} | changes)
    return {one.code: one.text for one in about_reading(space, usable_of(space))}


def test_a_space_read_thrice_has_nothing_to_say() -> None:
    """Three readings a side that agree."""
    assert said() == {}


def test_one_reading_is_told_with_its_margin_in_mm() -> None:
    """2.0 mm of the depth by tape, of which a third would be saved by three readings."""
    text = said(depth=420)["space-read-once"]
    assert "depth 2.0 mm, of which 0.7 would be saved by 3 readings" in text
    assert "width" not in text


@pytest.mark.parametrize(
    ("key", "value"),
    [("width", [360, 365]), ("height", [80, 75.5]), ("depth", {"floor": [420, 420], "at": {"20": [420, 424, 426]}})],
)
def test_readings_that_differ_much_are_named(key: str, value: object) -> None:
    """Smallest and largest, at one height; what differs from floor to rim is a lean and no scatter."""
    text = said(**{key: value})["readings-differ"]
    assert f"The readings of its {key} differ much" in text
    assert "readings-differ" not in said(width={"floor": [360, 360.2], "rim": [350, 350.2]})


def test_walls_that_lean_nobody_knows_which_are_named_with_what_they_cost() -> None:
    """3 mm less at the rim; with a square nothing is left to say."""
    text = said(width={"floor": THRICE, "rim": 357})["wall-leans"]
    assert "3.0 mm" in text
    assert "the left or the right wall" in text
    assert "wall-leans" not in said(width={"floor": THRICE, "rim": 357}, lean={"left": 3})


def test_a_sag_beyond_its_formula_is_a_note() -> None:
    """Hardboard of 3 mm."""
    assert "it will sag less" in said(bottom={"thickness": 3, "material": "hardboard"})["sag-unsure"]
    assert "sag-unsure" not in said(bottom={"thickness": 12, "material": "plywood"})


def test_nothing_here_stops_a_print() -> None:
    """Notes and warnings only."""
    space = Space.model_validate(
        {"id": "a", "kind": "drawer", "width": [300, 320], "depth": 4, "height": 5, "floor_height": 0, "load_kg": 1}
    )
    assert Severity.STOP not in {one.severity for one in about_reading(space, usable_of(space))}
