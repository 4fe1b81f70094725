"""A move is drawn before it is written down: nothing may come between unseen."""

from __future__ import annotations

import asyncio
import tomllib
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.progress import Silent
from nookwright.studio import solid_files, work
from nookwright.studio.jobs import Job, State
from nookwright.studio.room_text import with_value
from nookwright.studio.state import Studio, Topic

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.studio.arrangement import Arrangement


def stay(now: Arrangement) -> Arrangement:
    """The first part that holds something stays."""
    return now.stays(next(one.id for one in now.items if one.lot), stays=True)


def in_a_loop(do: Callable[[], None]) -> None:
    """Do something as pages do it: in a loop that runs."""

    async def done() -> None:
        do()

    asyncio.run(done())


def test_a_move_is_drawn_then_written_and_both_are_one_revision(studio: Studio) -> None:
    """Pages hear of it while the text is the old one; the number that gestures are about does not change again."""
    heard: list[tuple[Topic, bool, int]] = []
    studio.on_change(lambda topic: heard.append((topic, studio.settled, studio.revision)))
    text, rev = studio.desk.text, studio.revision

    def move() -> None:
        studio.arrange("Stays", stay)
        assert studio.desk.text == text
        assert studio.outdated

    in_a_loop(move)
    assert heard == [(Topic.WORDS, False, rev + 1), (Topic.PLAN, False, rev + 1)]
    studio.settle()
    assert heard[2:] == [(Topic.ROOM, True, rev + 1)]
    assert len(tomllib.loads(studio.desk.text)["place"]) > 0


def test_an_edit_made_of_the_text_before_it_keeps_the_move(studio: Studio) -> None:
    """Both are in the text, each to be taken back by itself."""

    def both() -> None:
        text = studio.desk.text
        studio.arrange("Stays", stay)
        studio.edit("named", with_value(text, ("room", "name"), "Another"))

    in_a_loop(both)
    found = tomllib.loads(studio.desk.text)
    assert (found["room"]["name"], len(found["place"]) > 0) == ("Another", True)
    assert studio.desk.done == ("Stays", "named")


@pytest.mark.parametrize("after", ["undo", "tick", "take"])
def test_whatever_goes_on_from_the_text_writes_it_down_first(studio: Studio, after: str) -> None:
    """Nothing is lost by being quick."""

    async def quick() -> None:
        studio.arrange("Stays", stay)
        done = getattr(studio, after)()
        if done is not None:
            await done
        await studio.jobs.close()

    asyncio.run(quick())
    assert studio.settled
    assert [*studio.desk.done, *studio.desk.undone] == ["Stays"]


def test_a_move_that_cannot_be_written_is_said_and_not_shown(studio: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk, say: what is shown is what is kept."""

    def full(*_: object) -> None:
        raise OSError("no space left")

    before = studio.arrangement
    monkeypatch.setattr(studio.desk, "do", full)
    studio.arrange("Stays", stay)
    assert studio.arrangement == before
    assert "cannot be written down (no space left)" in studio.said
    assert studio.settled


def test_solids_made_beforehand_are_there_without_a_job(studio: Studio) -> None:
    """A space that was prepared with its plan is shown at once."""
    assert studio.planned is not None
    space = studio.planned.sheets.spaces[0].id
    solid_files.prepare_solids(studio.planned.folder)
    asyncio.run(studio.make_solid(space=space))
    assert studio.solids == {space: studio.planned.folder / f"{space}.glb"}
    assert set(studio.running) == {"plan"}


def test_solids_of_an_older_plan_are_not_shown(studio: Studio, tmp_path: Path) -> None:
    """They came too late."""

    async def late() -> None:
        studio._job_changed(Job("solid", State.DONE, result={"glb": str(tmp_path / "x.glb"), "name": "x"}))

    asyncio.run(late())
    assert studio.solids == {}


def test_spaces_asked_for_by_several_pages_follow_one_another(studio: Studio, monkeypatch: pytest.MonkeyPatch) -> None:
    """None takes the place of another."""
    begun: list[str] = []

    async def start(_: str, **asked: object) -> Job:
        begun.append(str(asked["space"]))
        return Job("solid")

    async def two() -> None:
        await studio.make_solid(space="one")
        await studio.make_solid(space="two")
        assert begun == ["one"]
        studio._job_changed(Job("solid", State.FAILED))
        await asyncio.sleep(0)
        await asyncio.sleep(0)

    monkeypatch.setattr(studio.jobs, "start", start)
    asyncio.run(two())
    assert begun == ["one", "two"]


def test_meshes_to_look_at_are_coarse(tiny_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Far fewer triangles than of what is printed."""
    work.plan(room=tiny_file, out=tmp_path, progress=Silent())
    space = read_kit(tmp_path / "kit.json").placements[0].space
    coarse = solid_files.make_solid(out=tmp_path, space=space, progress=Silent(), processes=1)["triangles"]
    monkeypatch.setattr(solid_files, "LOOK", 0.01)
    fine = solid_files.make_solid(out=tmp_path, space=space, progress=Silent(), processes=1)["triangles"]
    assert coarse < 0.7 * fine
