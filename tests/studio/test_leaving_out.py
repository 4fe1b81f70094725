"""Leaving something out: the lines of a saving, written into a room file as a person would."""

from __future__ import annotations

import tomllib

import pytest

from nookwright.studio.leaving_out import without_it

ROOM = """\
# mine
[choices]
liner = "full" # as usual

[[lot]]
id = "dice"
count = 3

[[lot]]
id = "pens"
count = 2
"""


def test_values_and_tables_are_written_where_they_belong() -> None:
    """Comments and all else stay."""
    text = without_it(ROOM, '[choices]\nliner = "sparse"\n[[lot]]\nid = "pens"\ngrow_percent = 0\n')
    found = tomllib.loads(text)
    assert found["choices"] == {"liner": "sparse"}
    assert found["lot"] == [{"id": "dice", "count": 3}, {"id": "pens", "count": 2, "grow_percent": 0}]
    assert "# mine" in text
    assert "# as usual" in text


def test_a_table_that_is_not_there_yet_is_made() -> None:
    """One without a list, such as the choices."""
    assert tomllib.loads(without_it("format = 1\n", "[choices]\nodds_and_ends = false"))["choices"] == {
        "odds_and_ends": False
    }


@pytest.mark.parametrize("toml", ['[[lot]]\nid = "cups"\ngrow_percent = 0', "[[lot]]\ngrow_percent = 0", "[choices"])
def test_what_cannot_be_written_changes_nothing(toml: str) -> None:
    """A lot that is not there, a table without an id, no TOML."""
    with pytest.raises((KeyError, ValueError)):
        without_it(ROOM, toml)
