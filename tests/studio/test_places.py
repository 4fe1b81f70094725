"""Places of parts that were moved by hand, as the room file has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.module.seat import outer_size
from nookwright.studio.places import corner_of, places_of

if TYPE_CHECKING:
    from nookwright.studio.arrangement import Arrangement
    from nookwright.studio.state import Studio


@pytest.fixture
def now(studio: Studio) -> Arrangement:
    """What stands where, with a part that was told to stay."""
    assert studio.arrangement is not None
    return studio.arrangement.stays("dice", stays=True)


def test_a_part_stands_in_the_middle_of_its_cells(now: Arrangement) -> None:
    """Its corner is as far from the first cell's as its size is short of its cells, half on each side."""
    pitch = now.sheets.pitch
    for one in now.items:
        for at, cell, cells, origin in zip(
            corner_of(one, now.sheets),
            (one.col, one.row),
            (one.cols, one.rows),
            now.sheets.sheet(one.space).origin,
            strict=True,
        ):
            left, right = at - origin - cell * pitch, origin + (cell + cells) * pitch - at - outer_size(cells, pitch)
            assert left == pytest.approx(right, abs=0.11)
            assert at == round(at, 1)  # a tape shows no more


def test_every_part_of_a_space_that_was_touched_has_a_place(now: Arrangement) -> None:
    """What stays says so by not being free to move; nothing of an untouched arrangement is written."""
    places = dict(places_of(now, "mm"))
    assert set(places) == {"corks", "dice", "notes"}
    assert {lot for lot, keys in places.items() if keys["may_move"] is None} == {"dice"}
    assert dict(places_of(type(now).of(now.sheets), "mm")) == {}


def test_lengths_carry_their_unit_where_plain_numbers_are_not_millimetres(now: Arrangement) -> None:
    """The same lengths in a room that is measured in inches."""
    in_mm, in_inches = dict(places_of(now, "mm")), dict(places_of(now, "in"))
    for lot, keys in in_mm.items():
        for name in ("x", "y", "width", "depth", "height"):
            assert in_inches[lot][name] == f"{keys[name]} mm"
