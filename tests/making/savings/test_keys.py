from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest

from nookwright.making.savings.keys import Key, Table, applied, for_spaces
from nookwright.making.savings.model import Leaves, Saving
from nookwright.survey.models import FloorStyle, LinerLevel, Rest
from nookwright.survey.tray_wishes import StripWish

if TYPE_CHECKING:
    from nookwright.build import Designed


@pytest.mark.parametrize(
    ("key", "tables"),
    [
        (Key(Table.CHOICES, "liner", LinerLevel.SPARSE), {"choices": {"liner": "sparse"}}),
        (Key(Table.MODULE, "rise", 3.0), {"module": {"rise": 3}}),
        (Key(Table.CHOICES, "odds_and_ends", value=False), {"choices": {"odds_and_ends": False}}),
        (Key(Table.SPACE, "rest", Rest.OPEN, "upper"), {"space": [{"id": "upper", "rest": "open"}]}),
        (Key(Table.LOT, "floor", FloorStyle.SHELL, "tins"), {"lot": [{"id": "tins", "floor": "shell"}]}),
        (Key(Table.LOT_TRAY, "strip", StripWish.NONE, "a"), {"lot": [{"id": "a", "tray": {"strip": "none"}}]}),
        (Key(Table.CHOICES_TRAY, "strip", StripWish.NONE), {"choices": {"tray": {"strip": "none"}}}),
    ],
)
def test_a_key_reads_as_it_is_meant(key: Key, tables: dict[str, object]) -> None:
    """Its lines are TOML, and say the table, the id and the value."""
    assert tomllib.loads(key.toml) == tables


def test_a_table_stands_once_with_all_of_its_keys() -> None:
    """Two keys of one table and one of another: a file with the same table twice could not be read."""
    keys = (
        Key(Table.CHOICES, "liner", LinerLevel.SPARSE),
        Key(Table.MODULE, "rise", 3.0),
        Key(Table.CHOICES, "rest", Rest.OPEN),
    )
    saving = Saving(Leaves.LINER, "less liner", 10.0, 600.0, "something", 1.0, keys)
    assert tomllib.loads(saving.toml) == {"choices": {"liner": "sparse", "rest": "open"}, "module": {"rise": 3}}


def test_a_key_changes_only_its_own_table(bench: Designed) -> None:
    """One space, one lot, one table inside a lot; all else is as it was."""
    room = bench.room
    spaced = applied(room, [Key(Table.SPACE, "rest", Rest.OPEN, "upper")])
    assert [space.rest for space in spaced.space] == [Rest.OPEN, Rest.GROW]
    assert spaced.lot == room.lot
    stripped = applied(room, [Key(Table.LOT_TRAY, "strip", StripWish.NONE, "clips")])
    (clips,) = (lot for lot in stripped.lot if lot.id == "clips")
    assert (clips.tray.strip, clips.tray.columns) == (StripWish.NONE, 2)
    assert [lot for lot in stripped.lot if lot.id != "clips"] == [lot for lot in room.lot if lot.id != "clips"]


def test_the_room_is_asked_once_where_all_spaces_follow_it(bench: Designed) -> None:
    """Both follow [choices] for their liner: one key. One says its own rest: its key goes besides."""
    spaces = bench.room.space
    assert for_spaces(spaces, ["upper", "lower"], "liner", LinerLevel.SPARSE) == (
        Key(Table.CHOICES, "liner", LinerLevel.SPARSE),
    )
    assert for_spaces(spaces, ["upper", "lower"], "rest", Rest.OPEN) == (
        Key(Table.CHOICES, "rest", Rest.OPEN),
        Key(Table.SPACE, "rest", Rest.OPEN, "lower"),
    )


def test_a_space_that_must_not_change_is_not_reached_through_the_room(bench: Designed) -> None:
    """Where one of those that follow stays as it is, each of the others says it for itself."""
    assert for_spaces(bench.room.space, ["lower"], "liner", LinerLevel.SPARSE) == (
        Key(Table.SPACE, "liner", LinerLevel.SPARSE, "lower"),
    )
    assert for_spaces(bench.room.space, [], "liner", LinerLevel.SPARSE) == ()
