"""A folder is replaced whole or not at all, whatever happens and whenever."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import FolderError
from nookwright.ground.whole import put_right, replacing

if TYPE_CHECKING:
    from pathlib import Path

KILLED = 9
# Dies just before it changes anything below the base folder for the n-th time: opens to write, renames, makes, removes.
CHILD = f"""
import os, sys
from pathlib import Path
from nookwright.ground.whole import put_right, replacing
base, target, left, job = Path(sys.argv[1]), Path(sys.argv[1]) / "kit", int(sys.argv[2]), sys.argv[3]
watched = {{"os.rename", "os.mkdir", "os.remove", "os.rmdir"}}

def watch(event, arguments):
    global left
    changes = event in watched or (event == "open" and arguments[2] & (os.O_WRONLY | os.O_RDWR))
    if changes and str(arguments[0]).startswith(str(base)):
        left -= 1
        if left < 0:
            os._exit({KILLED})

sys.addaudithook(watch)
if job == "replace":
    with replacing(target) as folder:
        (folder / "parts").mkdir()
        (folder / "kit.json").write_text("new")
        (folder / "parts" / "tray.stl").write_text("new tray")
else:
    put_right(target)
"""


def fill(target: Path, text: str) -> None:
    """Make or replace a folder whose files tell its version."""
    with replacing(target) as folder:
        (folder / "parts").mkdir()
        (folder / "kit.json").write_text(text)
        (folder / "parts" / "tray.stl").write_text(f"{text} tray")


def names(folder: Path) -> list[str]:
    """What is in a folder."""
    return sorted(path.name for path in folder.iterdir())


def version(target: Path) -> str:
    """The version of a folder that is whole; "none" where there is no folder, "broken" otherwise."""
    if not target.exists():
        return "none"
    files = {path.relative_to(target).as_posix() for path in target.rglob("*") if path.is_file()}
    if files != {".nookwright", "kit.json", "parts/tray.stl"}:
        return "broken"
    text = (target / "kit.json").read_text()
    return text if (target / "parts" / "tray.stl").read_text() == f"{text} tray" else "broken"


def run_and_kill(base: Path, step: int, job: str = "replace") -> bool:
    """Run the child, killed before a step; whether it was killed at all."""
    done = subprocess.run([sys.executable, "-c", CHILD, str(base), str(step), job], check=False, capture_output=True)
    assert done.returncode in {0, KILLED}, done.stderr.decode()
    return done.returncode == KILLED


def test_a_new_folder_stands_where_it_was_asked_for(tmp_path: Path) -> None:
    """Missing folders above are made, nothing is left beside, and put_right has nothing to do."""
    fill(tmp_path / "a" / "b" / "kit", "new")
    put_right(tmp_path / "a" / "b" / "kit")
    assert version(tmp_path / "a" / "b" / "kit") == "new"
    assert names(tmp_path / "a" / "b") == ["kit"]


def test_the_old_one_is_replaced_and_gone(tmp_path: Path) -> None:
    """Files that only the old one had are not in the new one; nothing is left beside it."""
    with replacing(tmp_path / "kit") as folder:
        (folder / "stale").mkdir()
        (folder / "stale" / "part.stl").write_text("stale")
    fill(tmp_path / "kit", "new")
    assert version(tmp_path / "kit") == "new"
    assert names(tmp_path) == ["kit"]


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    """A folder that somebody made for the kit is as good as none."""
    (tmp_path / "kit").mkdir()
    fill(tmp_path / "kit", "new")
    assert version(tmp_path / "kit") == "new"


def test_a_file_that_was_removed_by_hand_is_no_obstacle(tmp_path: Path) -> None:
    """Who removes a file of the kit will not miss it."""
    fill(tmp_path / "kit", "old")
    (tmp_path / "kit" / "parts" / "tray.stl").unlink()
    (tmp_path / "kit" / "parts").rmdir()
    fill(tmp_path / "kit", "new")
    assert version(tmp_path / "kit") == "new"


def test_when_the_work_fails_the_old_one_stays(tmp_path: Path) -> None:
    """An error in the block comes through, the old folder is untouched, nothing is left beside it."""
    fill(tmp_path / "kit", "old")
    with pytest.raises(FileNotFoundError), replacing(tmp_path / "kit") as folder:
        (folder / "parts" / "tray.stl").write_text("its folder is not there")
    assert version(tmp_path / "kit") == "old"
    assert names(tmp_path) == ["kit"]


@pytest.mark.parametrize("before", ["none", "old"])
def test_killed_at_any_moment_it_leaves_the_old_one_or_the_new_one(tmp_path: Path, before: str) -> None:
    """For every step at which the run may die: never a broken folder, and the next run puts all right."""
    seen = set()
    step = 0
    while True:
        base = tmp_path / str(step)
        base.mkdir()
        if before == "old":
            fill(base / "kit", "old")
        killed = run_and_kill(base, step)
        assert version(base / "kit") in {before, "new", "none"}
        put_right(base / "kit")
        seen.add(version(base / "kit"))
        assert [name for name in names(base) if name != "kit"] in ([], [".kit.nookwright-lock"])
        fill(base / "kit", "next")
        assert version(base / "kit") == "next"
        assert names(base) == ["kit"]
        if not killed:
            break
        step += 1
    assert seen == {before, "new"}
    assert step > 10


@pytest.mark.parametrize("outcome", ["new", "old"])
def test_killed_while_it_puts_right_it_can_be_put_right(tmp_path: Path, outcome: str) -> None:
    """A second kill, at any step of putting right what a first one left half swapped or half written, does no harm."""
    killed, step = True, 0
    while killed:
        base = tmp_path / str(step)
        base.mkdir()
        half_done(base) if outcome == "new" else half_written(base)
        killed = run_and_kill(base, step, "put right")
        put_right(base / "kit")
        assert version(base / "kit") == outcome
        assert [name for name in names(base) if name != "kit"] in ([], [".kit.nookwright-lock"])
        step += 1
    assert step > 5


def half_written(base: Path) -> None:
    """The state in the middle of the work: the old one in place, the new one with some of its files."""
    fill(base / "kit", "old")
    new = base / ".kit.nookwright-new"
    (new / "parts").mkdir(parents=True)
    for name in (".nookwright", "kit.json", "parts/tray.stl"):
        (new / name).write_text("")


def half_done(base: Path) -> None:
    """The state between the two renames: the old one is set aside, the new one not yet in place."""
    fill(base / "kit", "old")
    (base / "kit").rename(base / ".kit.nookwright-old")
    fill(base / "fresh", "new")
    (base / "fresh").rename(base / ".kit.nookwright-ready")


def test_between_the_two_renames_the_new_one_wins(tmp_path: Path) -> None:
    """The new one is complete, so it is put in place and the old one goes."""
    half_done(tmp_path)
    put_right(tmp_path / "kit")
    assert version(tmp_path / "kit") == "new"
    assert names(tmp_path) == ["kit"]


def test_the_old_one_set_aside_alone_comes_back(tmp_path: Path) -> None:
    """Without a new one to put in its place, the old one is put back."""
    fill(tmp_path / "kit", "old")
    (tmp_path / "kit").rename(tmp_path / ".kit.nookwright-old")
    put_right(tmp_path / "kit")
    assert version(tmp_path / "kit") == "old"


def test_a_folder_made_by_somebody_else_in_between_is_not_lost(tmp_path: Path) -> None:
    """Old, new and a third one in their place: nobody can tell what is wanted, so nothing is removed."""
    half_done(tmp_path)
    (tmp_path / "kit").mkdir()
    with pytest.raises(FolderError, match="Rename it"):
        put_right(tmp_path / "kit")
    assert len(names(tmp_path)) == 3


def strange_file(kit: Path) -> None:
    (kit / "notes.txt").write_text("mine")


def strange_file_below(kit: Path) -> None:
    (kit / "parts" / "notes.txt").write_text("mine")


def changed_file(kit: Path) -> None:
    (kit / "kit.json").write_text("mine")


def strange_folder(kit: Path) -> None:
    (kit / "mine").mkdir()


def link_for_file(kit: Path) -> None:
    (kit / "kit.json").rename(kit.parent / "elsewhere")
    (kit / "kit.json").symlink_to(kit.parent / "elsewhere")


def link_for_folder(kit: Path) -> None:
    (kit / "parts").rename(kit.parent / "elsewhere")
    (kit / "parts").symlink_to(kit.parent / "elsewhere")


def no_manifest(kit: Path) -> None:
    (kit / ".nookwright").unlink()


def broken_manifest(kit: Path) -> None:
    (kit / ".nookwright").write_text('{"format": ')


def other_manifest(kit: Path) -> None:
    (kit / ".nookwright").write_text('["kit.json"]')


@pytest.mark.parametrize(
    ("spoil", "named"),
    [
        (strange_file, "notes.txt"),
        (strange_file_below, "parts/notes.txt"),
        (changed_file, "kit.json"),
        (strange_folder, "mine"),
        (link_for_file, "kit.json"),
        (link_for_folder, "parts"),
        (no_manifest, "kit.json"),
        (broken_manifest, "kit.json"),
        (other_manifest, "kit.json"),
    ],
)
def test_what_this_tool_did_not_write_is_refused_and_kept(tmp_path: Path, spoil: object, named: str) -> None:
    """Anything strange is named with what to do, before any work is done, and nothing is touched."""
    assert callable(spoil)
    fill(tmp_path / "kit", "old")
    spoil(tmp_path / "kit")
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(FolderError, match=rf"holds '{named}'.*Move it away, or choose another folder"):
        fill(tmp_path / "kit", "new")
    assert sorted(tmp_path.rglob("*")) == before


def test_what_is_put_in_while_the_new_one_is_made_is_kept(tmp_path: Path) -> None:
    """The question is asked again right before the swap."""
    fill(tmp_path / "kit", "old")
    with pytest.raises(FolderError, match=r"notes\.txt"), replacing(tmp_path / "kit"):
        strange_file(tmp_path / "kit")
    assert (tmp_path / "kit" / "notes.txt").read_text() == "mine"
    assert (tmp_path / "kit" / "kit.json").read_text() == "old"
    assert names(tmp_path) == ["kit"]


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    """A file of that name is kept."""
    (tmp_path / "kit").write_text("mine")
    with pytest.raises(FolderError, match="is a file"):
        fill(tmp_path / "kit", "new")
    assert (tmp_path / "kit").read_text() == "mine"


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    """A link of that name is kept, and so is what it leads to."""
    fill(tmp_path / "real", "old")
    (tmp_path / "kit").symlink_to(tmp_path / "real")
    with pytest.raises(FolderError, match="is a link"):
        fill(tmp_path / "kit", "new")
    assert version(tmp_path / "real") == "old"


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    """A file where a folder above should be: the message says where."""
    (tmp_path / "file").write_text("mine")
    with pytest.raises(FolderError, match="cannot write there"):
        fill(tmp_path / "file" / "kit", "new")


def test_a_folder_without_rights_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder above that may not be written: the message says where. Played, since root may write everywhere."""

    def refused(path: Path, *_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr(type(tmp_path), "mkdir", refused)
    with pytest.raises(FolderError, match="cannot write there"):
        fill(tmp_path / "kit", "new")


@pytest.mark.parametrize("name", [".DS_Store", "Thumbs.db", "plans/desktop.ini"])
def test_what_a_file_manager_leaves_behind_is_no_stranger(tmp_path: Path, name: str) -> None:
    """A person who has looked into the folder can build again; the droppings go with the old kit."""
    with replacing(tmp_path / "kit") as folder:
        (folder / "plans").mkdir()
        (folder / "plans" / "a.svg").write_text("old")
    (tmp_path / "kit" / name).write_bytes(b"icons")
    fill(tmp_path / "kit", "new")
    assert version(tmp_path / "kit") == "new"
    assert not (tmp_path / "kit" / name).exists()


def test_the_folder_one_stands_in_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It would be pulled away from under the person's feet."""
    monkeypatch.chdir(tmp_path)
    for name in (".", "..", str(tmp_path)):
        with pytest.raises(FolderError, match="the folder you are in"):
            fill(tmp_path / name if name == "." else type(tmp_path)(name), "new")


def test_a_relative_name_means_the_folder_below(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A name without a folder before it is made where one stands."""
    monkeypatch.chdir(tmp_path)
    fill(type(tmp_path)("kit"), "new")
    assert version(tmp_path / "kit") == "new"


def test_two_runs_at_once_do_not_mix(tmp_path: Path) -> None:
    """The second is told that the first is at work; the first is not disturbed."""
    with replacing(tmp_path / "kit") as folder:
        (folder / "parts").mkdir()
        (folder / "kit.json").write_text("new")
        (folder / "parts" / "tray.stl").write_text("new tray")
        with pytest.raises(FolderError, match="another run is at work"):
            fill(tmp_path / "kit", "second")
    assert version(tmp_path / "kit") == "new"


def test_a_stranger_in_the_place_of_the_journal_is_kept(tmp_path: Path) -> None:
    """A folder that happens to have a name of the journal but not our mark is not removed."""
    (tmp_path / ".kit.nookwright-new").mkdir()
    (tmp_path / ".kit.nookwright-new" / "notes.txt").write_text("mine")
    with pytest.raises(FolderError, match="is not its own"):
        fill(tmp_path / "kit", "new")
    assert (tmp_path / ".kit.nookwright-new" / "notes.txt").read_text() == "mine"


def test_only_plain_files_go_into_a_folder(tmp_path: Path) -> None:
    """A link written by the tool itself would leave the folder open to change from outside."""
    with pytest.raises(FolderError, match="no plain file"), replacing(tmp_path / "kit") as folder:
        (folder / "link").symlink_to(tmp_path)
    assert names(tmp_path) == []


def test_when_a_rename_fails_the_old_one_is_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The last rename is refused by the system, as where a program holds a file open: the old folder is back."""
    fill(tmp_path / "kit", "old")
    rename = type(tmp_path).rename

    def refuse(self: Path, to: Path) -> Path:
        if self.name.endswith("-ready"):
            raise OSError(13, "held open")
        return rename(self, to)

    monkeypatch.setattr(type(tmp_path), "rename", refuse)
    with pytest.raises(FolderError, match="held open"):
        fill(tmp_path / "kit", "new")
    assert version(tmp_path / "kit") == "old"
    assert names(tmp_path) == ["kit"]
