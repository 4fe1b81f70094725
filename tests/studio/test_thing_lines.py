"""Several things at once: lines as people type them and rows of a spreadsheet, all of it or nothing."""

from __future__ import annotations

import pytest

from nookwright.studio.thing_lines import new_id, things_of

SIDES = "width", "depth", "height"


def test_lines_become_lots_with_masses_that_are_assumed() -> None:
    """Measured or published; a name that is taken gets a number."""
    found = things_of("Dice, 16 x 16 x 16, 5\n\nGlue; 22 round x 9.5 cm; 6\nCells, LR6, 8\n", ["dice"])
    assert found.lots == (
        {"id": "dice-2", "name": "Dice", "shape": "box", **dict.fromkeys(SIDES, 16), "mass_g": 4.1, "count": 5},
        {"id": "glue", "name": "Glue", "shape": "round", "diameter": 22, "height": 95, "mass_g": 36.11, "count": 6},
        {"id": "cells", "name": "Cells", "standard": "R6", "count": 8},
    )  # fmt: skip
    assert found.assumed == 2


def test_rows_with_the_names_of_the_columns_are_taken_as_they_are() -> None:
    """With tabs or semicolons between the cells; nothing is assumed of them."""
    for between in "\t;":
        rows = "name,diameter,count\nCups,6 cm,2\nCups,64,3\n".replace(",", between)
        assert things_of(rows, ()).lots == (
            {"id": "cups", "name": "Cups", "diameter": "6 cm", "count": 2},
            {"id": "cups-2", "name": "Cups", "diameter": 64, "count": 3},
        )
        assert things_of(rows, ()).assumed == 0


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (" \n", "at least one line"),
        ("Dice, 16 x 16 x 16, 5\nHex keys 5", "The line Hex keys 5 cannot be read"),
        ("name\tcolour\nCups\tblue", "Found: name, colour"),
    ],
)
def test_what_cannot_be_read_is_named(typed: str, words: str) -> None:
    """The line, and what is allowed."""
    with pytest.raises(ValueError, match=words):
        things_of(typed, ())


def test_ids_are_short_and_nobody_elses() -> None:
    """Also of names without a letter, and of names as long as a line."""
    assert new_id("Ö - größe", set()) == "o-groe"
    assert new_id("!!!", set()) == "thing-1"
    assert new_id("Thing", {"thing-1"}) == "thing-2"
    assert len(new_id("long " * 40, set())) <= 40
