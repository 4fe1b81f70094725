"""The lengths of an order: each once, in mm, with the key that says it."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from nookwright.parts.orders.order_lengths import lengths_of
from nookwright.parts.orders.orders import MAKERS, keys_of
from nookwright.survey.models import Order

POCKETS = [{"x": 20, "y": "2 cm", "pocket": {"shape": "round", "diameter": 12}}]
CRADLE = {"outer_width": 40, "outer_depth": 40, "height": "3 cm", "pockets": POCKETS}
OPTIONS = {"inlay": 2, "low_side": {"side": "front", "share": 0.4}, "dividers": [{"split": "rows", "at": [10, 20.5]}]}
TRAY = {"outer_width": 40, "outer_depth": 40, "height": 30, "options": OPTIONS}


def _found(kind: str, keys: dict[str, Any], unit: str = "mm") -> dict[tuple[str | int, ...], tuple[str, float]]:
    return {one.path: (one.name, one.value) for one in lengths_of(Order(id="one", kind=kind, keys=keys), unit)}


def test_lengths_stand_where_they_are_said() -> None:
    """In lists and tables too, whatever unit they were typed in; each named for people."""
    found = _found("cradle", CRADLE)
    assert found["height",] == ("height", 30.0)
    assert found["pockets", 0, "y"] == ("pocket 1, y", 20.0)
    assert found["pockets", 0, "pocket", "diameter"] == ("pocket 1, diameter", 12.0)
    assert _found("tray", TRAY)["options", "dividers", 0, "at", 1] == ("divider 1, at 2", 20.5)


def test_plain_numbers_have_the_unit_of_the_room() -> None:
    """An inch is 25.4 mm, also where the order says nothing but a number."""
    assert _found("cradle", CRADLE, "in")["outer_width",] == ("outer width", 40 * 25.4)


def test_what_is_no_length_is_not_among_them() -> None:
    """Shares, counts and choices."""
    assert ("options", "low_side", "share") not in _found("tray", TRAY)
    assert _found("riser", {"outer_width": 40, "outer_depth": 40, "rises": 3}).keys() == {
        ("outer_width",),
        ("outer_depth",),
    }


def test_what_was_left_out_is_as_it_is_made() -> None:
    """Where its table is there: the chamfer of a cradle, but nothing of options that nobody asked for."""
    assert _found("cradle", CRADLE)["lead_in",] == ("lead in", 1.0)
    assert _found("tray", TRAY)["options", "notch_depth"] == ("notch depth", 12.0)
    assert {path[0] for path in _found("tray", {**TRAY, "options": {}})} == {
        "outer_width", "outer_depth", "height", "options",
    }  # fmt: skip
    plain = {key: value for key, value in TRAY.items() if key != "options"}
    assert _found("tray", plain).keys() == {("outer_width",), ("outer_depth",), ("height",)}


@pytest.mark.parametrize("kind", MAKERS)
def test_a_kind_without_what_it_needs_is_refused(kind: str) -> None:
    """As the survey refuses it; no length of half an order."""
    needed = [key for key, field in keys_of(kind).model_fields.items() if field.is_required()]
    assert needed
    with pytest.raises(ValidationError):
        lengths_of(Order(id="one", kind=kind, keys={}), "mm")
