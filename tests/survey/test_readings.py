"""Readings as types of the room's models."""

from __future__ import annotations

import pytest
from jsonschema import Draft202012Validator
from pydantic import ValidationError

from nookwright.survey.models import Blocked, Printer, Space
from nookwright.survey.readings import Readings


@pytest.mark.parametrize(
    ("typed", "floor", "rim"),
    [
        (362, (362.0,), ()),
        ("36.2 cm", (362.0,), ()),
        ([362, "36.1 cm"], (362.0, 361.0), ()),
        ({"floor": 362}, (362.0,), ()),
        ({"floor": [362, 361], "rim": "14 1/4 in"}, (362.0, 361.0), (361.95,)),
    ],
)
def test_readings_are_typed_in_five_ways(typed: object, floor: tuple[float, ...], rim: tuple[float, ...]) -> None:
    """One length, several, or a table with floor and rim; the schema takes what the model takes."""
    readings = Readings.model_validate(typed)
    assert (readings.floor, readings.rim) == (floor, rim)
    assert readings.all == floor + rim
    assert (readings.smallest, readings.largest) == (min(floor + rim), max(floor + rim))
    Draft202012Validator(Readings.model_json_schema()).validate(typed)


@pytest.mark.parametrize("typed", [0, -1, [], [0], {"rim": 3}, {"floor": 3, "top": 4}, True, [True], None, 1e9, 1e-9])
def test_readings_that_are_no_lengths_are_refused(typed: object) -> None:
    """Nought, negative, nothing at all, other keys, other types, and slips of the unit."""
    with pytest.raises(ValidationError):
        Readings.model_validate(typed)


def test_the_context_names_the_unit_of_plain_numbers() -> None:
    """A number is in the file's unit; without a context it is in mm."""
    assert Readings.model_validate([2, "2 mm"], context={"unit": "in"}).floor == (50.8, 2.0)
    assert Readings.model_validate([2]).floor == (2.0,)


def test_defaults_stay_in_mm_whatever_the_unit() -> None:
    """A file in inches does not turn a nozzle of 0.4 mm into one of 10 mm."""
    inches = {"unit": "in"}
    printer = Printer.model_validate(
        {"id": "a", "bed_width": 10, "bed_depth": 10, "bed_height": 10, "materials": ["m"]}, context=inches
    )
    assert (printer.margin, printer.nozzle, printer.layer, printer.bed_width) == (5.0, 0.4, 0.2, 254.0)
    box = Blocked.model_validate({"reason": "pipe", "width": 1, "depth": 1}, context=inches)
    assert (box.x, box.y, box.z, box.width, box.height) == (0.0, 0.0, 0.0, 25.4, None)


def test_models_survive_a_round_trip() -> None:
    """What a model writes, it reads again, as data and as JSON, with the same millimetres."""
    space = Space.model_validate(
        {"id": "a", "kind": "drawer", "width": [3, 4], "depth": 4, "height": 5, "floor_height": 0, "load_kg": 1},
        context={"unit": "cm"},
    )
    assert Space.model_validate(space.model_dump()) == space
    assert Space.model_validate_json(space.model_dump_json()) == space
