"""Reading a side of a space again."""

from __future__ import annotations

from typing import Any

import pytest

from nookwright.sizing.next_readings.sides import SIDES, usable_later
from nookwright.sizing.usable import usable_of
from nookwright.survey.models import Space


def drawer(**keys: Any) -> Space:  # noqa: ANN401 - any key of a space
    """A drawer of 400 x 300 x 90, each side read once."""
    usual = {"id": "a", "kind": "drawer", "width": 400, "depth": 300, "height": 90, "floor_height": 0, "load_kg": 5}
    return Space.model_validate(usual | keys)


@pytest.mark.parametrize("side", SIDES)
def test_more_readings_give_more_room_on_average(side: str) -> None:
    """The margin of a single reading is the widest; only the side that is read changes."""
    now = usable_of(drawer())
    later = usable_later(drawer(), side, 3)
    assert sum(getattr(one, side) for one in later) / len(later) > getattr(now, side)
    for other in set(SIDES) - {side}:
        # what is usual of the corners depends on the depth, so the width moves by some thousandths with it
        assert [getattr(one, other) for one in later] == pytest.approx([getattr(now, other)] * len(later), abs=0.02)


def test_the_gain_falls_with_what_was_read() -> None:
    """From one reading to four it is more than from six to nine."""

    def gained(*readings: float) -> float:
        space = drawer(width=list(readings))
        later = usable_later(space, "width", 3)
        return sum(one.width for one in later) / len(later) - usable_of(space).width

    assert gained(400) > gained(400, 400.2, 399.9, 400, 400.1, 400) + 0.3


def test_readings_at_other_heights_stay() -> None:
    """Only the floor is read again."""
    space = drawer(width={"floor": 400, "rim": 390})
    for one in usable_later(space, "width", 1):
        assert len(one.levels) >= 2
