"""Whether the inside that a kit reckons with is less than what was read."""

from __future__ import annotations

from typing import Any

import pytest

from nookwright.checks.usable import check_usable
from nookwright.exchange.kit import KitSpace, UsableAt
from nookwright.survey.models import Space

SPACE = KitSpace.model_validate(
    {
        "id": "left",
        "name": "Left",
        "kind": "drawer",
        "usable": [{"z": 0, "width": 100, "depth": 80}, {"z": 50, "width": 110, "depth": 80}],
        "height": 50,
        "corner_radius": 0,
        "blocked": [],
        "cell_origin": (0, 0),
        "cols": 5,
        "rows": 4,
        "blocked_cells": [],
        **dict.fromkeys(("mass_g", "time_s", "budget_g", "load_g", "load_limit_g"), 0),
    }
)

READ = {"id": "left", "kind": "drawer", "depth": 81, "floor_height": 0, "load_kg": 1}
AS_READ = {"width": {"floor": [101, 102], "at": {"25": 105.5}, "rim": 111}, "height": 52}


def found(**changes: Any) -> list[str]:  # noqa: ANN401 - any key of a space
    """Texts about a drawer of a kit that widens from 100 to 110 over 50 mm, 80 deep, against what was read."""
    findings = check_usable((SPACE,), (Space.model_validate(READ | AS_READ | changes),))
    assert {(one.code, one.severity.value) for one in findings} <= {("space-too-large", "stop")}
    return [one.text for one in findings]


def test_a_space_that_is_smaller_than_its_readings_has_nothing_to_say() -> None:
    """At the floor, half way up and at the rim; under a rail too."""
    assert found() == []
    assert found(passes_under=[{"what": "a rail", "height": 50.5}]) == []


def test_heights_are_read_from_the_floor_and_reckoned_from_the_mat() -> None:
    """25 mm above the floor is 15 above a mat of 10, where the drawer is 103 wide."""
    above = {"floor": 101, "at": {"25": 103.5}, "rim": 111}
    assert found(width=above, height=62, mat=10) == []
    assert len(found(width=above | {"at": {"25": 102.5}}, height=62, mat=10)) == 1


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"width": {"floor": 99.5, "rim": 111}}, "its width is reckoned as 100.00 mm, but 99.50 mm was read there"),
        ({"width": {"floor": 101, "at": {"25": 104.5}}}, "At a height of 25 mm its width is reckoned as 105.00 mm"),
        ({"width": {"floor": 101, "at": {"25": 105.5}, "rim": 109}}, "At a height of 52 mm its width is reckoned"),
        ({"depth": [82, 79]}, "At a height of 0 mm its depth is reckoned as 80.00 mm, but 79.00 mm was read there"),
        ({"height": 49}, "Its clear height is reckoned as 50.00 mm, but only 49.00 mm are clear"),
        ({"mat": 3}, "but only 49.00 mm are clear"),
        ({"passes_under": [{"what": "a rail", "height": 48}]}, "but only 48.00 mm are clear"),
    ],
)
def test_an_outline_that_is_wider_than_a_reading_stops_the_kit(changes: dict[str, Any], words: str) -> None:
    """With the height, what was reckoned with and what was read."""
    texts = found(**changes)
    assert len(texts) == 1
    assert words in texts[0]


def test_outlines_above_the_stated_clear_height_count_too() -> None:
    """The last outline is the clear height."""
    tall = SPACE.model_copy(update={"usable": (*SPACE.usable, UsableAt(z=60, width=110, depth=80))})
    assert len(check_usable((tall,), (Space.model_validate(READ | AS_READ),))) == 1
