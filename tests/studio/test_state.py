"""The room on the desk, and what follows from it; jobs are played by hand."""

from __future__ import annotations

import asyncio
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.ground.progress import Silent
from nookwright.studio import work
from nookwright.studio.jobs import Job, State
from nookwright.studio.plans import PLANS_KEPT
from nookwright.studio.room_text import with_value
from nookwright.studio.state import Studio, Topic

if TYPE_CHECKING:
    from collections.abc import Callable

    import pytest


def spot(studio: Studio, name: str) -> tuple[str, int, int]:
    """Where a part lies."""
    assert studio.arrangement is not None
    one = studio.arrangement.item(name)
    return one.space, one.col, one.row


def free(studio: Studio, name: str) -> tuple[int, int]:
    """Another place where a part could lie."""
    now = studio.arrangement
    assert now is not None
    one, sheet = now.item(name), now.sheets.spaces[0]
    for row in range(sheet.rows):
        for col in range(sheet.cols):
            try:
                if (col, row) != (one.col, one.row):
                    now.moved(name, sheet.id, col, row)
                    return col, row
            except ValueError:
                continue
    raise AssertionError("the drawer is full")


def test_what_is_moved_stands_in_the_text_and_can_be_taken_back(studio: Studio) -> None:
    """All parts of the space get a place, so that a build leaves them there; undo shows the old ones at once."""
    before, text = spot(studio, "dice"), studio.desk.text
    col, row = free(studio, "dice")
    assert studio.arrange("dice moved", lambda one: one.moved("dice", "drawer", col, row))
    assert spot(studio, "dice") == ("drawer", col, row)
    assert {one["lot"] for one in tomllib.loads(studio.desk.text)["place"]} == {"corks", "dice", "notes"}
    assert studio.faults == ()
    assert studio.outdated
    studio.undo()
    assert (spot(studio, "dice"), studio.desk.text) == (before, text)
    assert not studio.outdated
    studio.redo()
    assert spot(studio, "dice") == ("drawer", col, row)


def test_what_is_seen_is_what_is_built(studio: Studio, tmp_path: Path) -> None:
    """The plan of the text that was written has every part where it was put."""
    col, row = free(studio, "dice")
    studio.arrange("dice moved", lambda one: one.moved("dice", "drawer", col, row))
    studio.desk.fold()
    seen = studio.arrangement
    result = work.plan(room=studio.file, out=tmp_path / "again", progress=Silent())
    studio._job_changed(Job("plan", State.DONE, result=result))
    now = studio.arrangement
    assert seen is not None
    assert now is not None
    assert now is not seen
    kept = {(one.id, one.col, one.row, one.cols, one.rows, one.height) for one in seen.items if one.lot}
    assert {(one.id, one.col, one.row, one.cols, one.rows, one.height) for one in now.items if one.lot} == kept
    assert not studio.outdated


def test_what_is_refused_is_said_and_changes_nothing(studio: Studio) -> None:
    """The text, the journal and the arrangement stay."""
    text = studio.desk.text
    assert not studio.arrange("out", lambda one: one.moved("dice", "drawer", 99, 0))
    assert "out of" in studio.said
    assert (studio.desk.text, studio.desk.done) == (text, ())


def test_a_better_layout_is_offered_and_taken(studio: Studio, tmp_path: Path) -> None:
    """With what stays where it is; taking it takes the places of the rest out of the file, undo brings them back."""
    col, row = free(studio, "dice")
    studio.arrange("dice moved", lambda one: one.moved("dice", "drawer", col, row))
    studio.arrange("corks stay", lambda one: one.stays("corks", stays=True))
    studio.desk.fold()
    moved, stays = studio.desk.text, spot(studio, "corks")
    result = work.improve(room=studio.file, out=tmp_path / "improved", progress=Silent())
    studio._job_changed(Job("improve", State.DONE, result=result))
    assert studio.offered is not None
    assert studio.desk.text == moved
    studio.take()
    assert [one["lot"] for one in tomllib.loads(studio.desk.text)["place"]] == ["corks"]
    assert spot(studio, "corks") == stays
    assert studio.offered is None
    studio.undo()
    assert studio.desk.text == moved


def test_an_offer_for_another_text_is_not_taken(studio: Studio, tmp_path: Path) -> None:
    """Somebody changed the room while it was looked for."""
    studio.desk.fold()
    result = work.improve(room=studio.file, out=tmp_path / "improved", progress=Silent())
    studio._job_changed(Job("improve", State.DONE, result=result))
    studio.edit("load", with_value(studio.desk.text, ("space", "drawer", "load_kg"), 7))
    text = studio.desk.text
    studio.take()
    assert studio.desk.text == text
    assert "changed meanwhile" in studio.said


def test_faults_stand_where_the_room_was(studio: Studio) -> None:
    """With a key that a form can show; the last plan stays to be seen."""
    studio.edit("count", with_value(studio.desk.text, ("lot", "dice", "count"), -1))
    assert studio.room is None
    assert [fault.key for fault in studio.faults] == ["lot.dice.count"]
    assert studio.arrangement is not None
    assert not studio.outdated
    studio.undo()
    assert studio.room is not None


def test_who_listens_is_told_what_changed(studio: Studio) -> None:
    """Room, words, plan; not after leaving."""
    told: list[Topic] = []
    leave: Callable[[], None] = studio.on_change(told.append)
    studio.edit("load", with_value(studio.desk.text, ("space", "drawer", "load_kg"), 7))
    studio.undo()
    leave()
    studio.redo()
    assert told == [Topic.ROOM, Topic.WORDS, Topic.ROOM]


def test_an_edit_outside_is_said(studio: Studio) -> None:
    """And what clashes with it is said to be gone, with the way to have it back."""
    studio.edit("load", with_value(studio.desk.text, ("space", "drawer", "load_kg"), 7))
    text = studio.file.read_text(encoding="utf-8")
    studio.file.write_text(text.replace("load_kg = 6", "load_kg = 8"), encoding="utf-8")
    asyncio.run(studio.tick())
    assert "load_kg = 8" in studio.desk.text
    assert "edited outside" in studio.said
    assert "undo brings it back" in studio.said


def test_a_room_file_that_cannot_be_written_loses_nothing(studio: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    """It is said, and what was done is in the journal."""
    studio.edit("load", with_value(studio.desk.text, ("space", "drawer", "load_kg"), 7))
    studio._touched_s = 0.0

    def full(_self: Path, _target: Path) -> None:
        raise OSError("no room left")

    with monkeypatch.context() as broken:
        broken.setattr(Path, "replace", full)
        asyncio.run(studio.tick())
    assert "kept in its journal" in studio.said
    assert Studio(studio.file, studio.scratch).desk.text == studio.desk.text


def test_what_only_planning_finds_is_said_until_the_text_is_another_one(studio: Studio) -> None:
    """A place between cells, say: it is among the faults of the text that was planned, and gone with the next one."""
    heard: list[Topic] = []
    studio.on_change(heard.append)
    asyncio.run(_asked(studio, with_value(studio.desk.text, ("lot", "dice", "count"), 9)))
    fault = {"file": "room.toml", "line": 7, "key": "place[1].x", "found": "3 mm", "allowed": "0 mm", "remedy": "Go."}
    studio._job_changed(Job("plan", State.FAULTY, faults=[fault]))
    assert Topic.ROOM in heard
    assert studio.faults == ()
    assert [one.key for one in studio.all_faults] == ["place[1].x"]
    assert studio.outdated
    studio.undo()
    assert (studio.unplanned, studio.all_faults) == (None, ())


def test_work_that_ends_by_itself_is_said(studio: Studio) -> None:
    """Nobody waits for a plan that does not come."""
    asyncio.run(_asked(studio, with_value(studio.desk.text, ("lot", "dice", "count"), 9)))
    studio._job_changed(Job("plan", State.FAILED, error="The work ended with code -9: it said nothing"))
    assert studio.unplanned is not None
    assert studio.unplanned.error == "The work ended with code -9: it said nothing"
    assert studio.all_faults == ()


def test_a_plan_that_was_made_is_taken_again(studio: Studio, tmp_path: Path) -> None:
    """Undo and redo come back to plans at once, nothing is planned twice; only the last six are kept."""
    first, text = studio.planned, studio.desk.text
    studio.edit("changed", with_value(text, ("lot", "dice", "count"), 9))
    studio.desk.fold()
    result = work.plan(room=studio.file, out=tmp_path / "nine", progress=Silent())
    studio._job_changed(Job("plan", State.DONE, result=result))
    second = studio.planned
    assert second is not first
    heard: list[Topic] = []
    studio.on_change(heard.append)
    studio.undo()
    assert (studio.planned, studio.outdated, Topic.PLAN in heard) == (first, False, True)
    studio.redo()
    assert (studio.planned, studio.outdated) == (second, False)
    assert second is not None
    for count in range(int(PLANS_KEPT)):
        studio._plans.keep(replace(second, sha256=f"of another text, {count}"))
    studio.undo()
    assert (studio.planned, studio.outdated) == (second, True)


def test_what_is_planned_of_a_text_that_was_taken_back_is_stopped(studio: Studio) -> None:
    """It is asked for again when the text comes again; what it gives after all is kept and not shown."""
    nine = with_value(studio.desk.text, ("lot", "dice", "count"), 9)

    async def there_and_back() -> list[str]:
        states = []
        studio.edit("changed", nine)
        gestures: list[Callable[[], None]] = [studio.settle, studio.undo, studio.redo]
        for gesture in gestures:
            gesture()
            studio._touched_s = 0.0
            await studio.tick()
            states.append(str(studio.running["plan"].state))
        await studio.jobs.close()
        return states

    assert asyncio.run(there_and_back()) == ["running", "stopped", "running"]


async def _asked(studio: Studio, text: str) -> None:
    """Change the text, and have a plan asked of it that is not made."""
    studio.edit("changed", text)
    studio._touched_s = 0.0
    try:
        await studio.tick()
    finally:
        await studio.jobs.close()


def test_the_room_keeps_its_name_while_something_is_wrong(studio: Studio) -> None:
    """That of the text as far as it can be read; of the file where it cannot, or says none."""
    good, name = studio.desk.text, studio.name
    assert name == "A drawer of odds and ends"
    studio.edit("wrong", with_value(good, ("lot", "dice", "count"), "many"))
    assert (studio.room, studio.name) == (None, name)
    studio.edit("unreadable", f"{good}\n[[lot")
    assert studio.name == "room.toml"
    studio.edit("no name", "room = 3\n")
    assert studio.name == "room.toml"


def test_what_is_merely_missing_is_not_called_wrong(studio: Studio) -> None:
    """A key that is still to be filled in, against one that cannot be used."""
    good = studio.desk.text
    assert not studio.begun_only
    studio.edit("missing", with_value(good, ("lot", "dice", "count"), None))
    assert studio.begun_only
    studio.edit("wrong", with_value(good, ("lot", "dice", "count"), "many"))
    assert not studio.begun_only
