"""Rows of a spreadsheet: named as people name columns, read as spreadsheets write them, or refused in words."""

from __future__ import annotations

import pytest

from nookwright.studio.spreadsheet import is_head, pasted
from nookwright.studio.thing_lines import things_of


def test_rows_are_read_by_the_names_of_their_columns() -> None:
    """With tabs, semicolons or commas; empty cells are left out."""
    rows = pasted("Name\tcount\tDiameter\tmass g\nJars\t4\t64,2\t\nTins\t2\t80\t120\n")
    assert rows == [
        {"name": "Jars", "count": 4, "diameter": 64.2},
        {"name": "Tins", "count": 2, "diameter": 80, "mass_g": 120},
    ]
    assert pasted("name;count\nForks;6") == [{"name": "Forks", "count": 6}]
    assert pasted('name,count\n"Forks, large",6') == [{"name": "Forks, large", "count": 6}]


def test_columns_may_be_called_as_people_call_them() -> None:
    """A unit over a column is that of its plain numbers; one in a cell goes before it."""
    rows = pasted("Item\tQty\tLength (cm)\tDepth in mm\tHeight [in]\tWeight, kg\nPens\t8\t14\t2 cm\t1/2 in\t0,02")
    assert rows == [{"name": "Pens", "count": 8, "width": "14 cm", "depth": "2 cm", "height": "1/2 in", "mass_g": 20.0}]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "a row with the names"),
        ("name\tcount", "a row with the names"),
        ("what\tcount\na\t1", "Found: what, count"),
        ("count\n1", "one must be name"),
        ("name\tcount\n\t1\n", "no name"),
    ],
)
def test_rows_that_cannot_be_read_are_refused_in_words(typed: str, words: str) -> None:
    """Nothing of them is taken."""
    with pytest.raises(ValueError, match=words):
        pasted(typed)


@pytest.mark.parametrize("line", ["Dice, 16 x 16 x 16, 5", "Name tags, 80 x 50 x 1, 20", "Pens\t14 round x 140\t8"])
def test_a_line_of_a_thing_is_no_head(line: str) -> None:
    """Also where the thing is called nearly so, and with tabs."""
    assert not is_head(line)


@pytest.mark.parametrize(("line", "head"), [("name;count", True), ("count\tItem", True), ("name", False), ("", False)])
def test_a_head_has_two_columns_at_least(line: str, head: bool) -> None:  # noqa: FBT001 - what is expected
    """A word by itself is a thing that somebody began to type."""
    assert is_head(line) is head


def test_rows_without_names_of_columns_are_lines() -> None:
    """Three cells with tabs between them are name, size, how many."""
    (lot,) = things_of("Pens\t14 round x 140\t8", ()).lots
    assert (lot["name"], lot["shape"], lot["diameter"], lot["count"]) == ("Pens", "round", 14, 8)


def test_a_shape_and_a_mass_are_assumed_where_all_sides_are_given() -> None:
    """Which spreadsheets seldom have; and said how many masses are."""
    found = things_of("name\tdiameter\theight\tcount\tmass\nCups\t80\t90\t6\t\nJars\t60\t70\t2\t150", ())
    assert [lot["shape"] for lot in found.lots] == ["round", "round"]
    assert [lot["mass_g"] for lot in found.lots] == [452.39, 150]
    assert found.assumed == 1


def test_lines_are_millimetres_in_a_room_of_inches() -> None:
    """Which is said beside the field; the room file carries the unit then."""
    (lot,) = things_of("Dice, 16 x 16 x 16, 5", (), "in").lots
    assert lot["width"] == "16 mm"
