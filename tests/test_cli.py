"""The command line, as a person types it: what it prints, what it leaves on disk, its exit codes."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from nookwright.cli import Exit, main

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

ANSWERS = """
name = "Sewing corner"
drawer = "300 x 240 x 60"
bed = "220 x 220 x 200"
material = "PLA"
things = ["reels of thread, 22 round x 40, 6", "tailor's chalk, 50 x 40 x 6, 4"]
"""


def run(*arguments: str) -> int:
    """Run the command line and hand back its exit code."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert isinstance(left.value.code, int)
    return left.value.code


@pytest.fixture(scope="module")
def sewing(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A room written by ``new`` from a file of answers."""
    folder = tmp_path_factory.mktemp("new")
    (folder / "answers.toml").write_text(ANSWERS, encoding="utf-8")
    assert run("new", str(folder / "sewing"), "--answers", str(folder / "answers.toml")) == Exit.DONE
    return folder / "sewing"


@pytest.fixture(scope="module")
def kit(sewing: Path) -> Path:
    """Its kit."""
    assert run("build", str(sewing / "room.toml"), "--out", str(sewing / "kit")) == Exit.DONE
    return sewing / "kit"


def snapshot(folder: Path) -> dict[str, bytes]:
    """Every file of a folder by its name."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def test_new_writes_a_room_without_faults_and_a_first_plan(sewing: Path) -> None:
    """The room file that ``new`` writes passes ``check``, and a plan lies beside it."""
    assert run("check", str(sewing / "room.toml")) == Exit.DONE
    assert "Sewing corner" in (sewing / "plan-drawer.svg").read_text(encoding="utf-8")


def test_new_does_not_write_over_a_room(sewing: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What a person has measured is never lost."""
    before = snapshot(sewing)
    (sewing.parent / "other.toml").write_text(ANSWERS, encoding="utf-8")
    assert run("new", str(sewing), "--answers", str(sewing.parent / "other.toml")) == Exit.FOLDER
    assert "already" in capsys.readouterr().err
    assert snapshot(sewing) == before


def test_new_asks_again_until_an_answer_can_be_read(tmp_path: Path) -> None:
    """Typed by a person at the prompt, with a slip in between."""
    typed = "Bench\n362 x 420\n362 x 420 x 62\n220 x 220 x 200\nPLA\nAA cells, R6\nAA cells, R6, 12\n\n"
    done = subprocess.run(
        [sys.executable, "-m", "nookwright", "new", str(tmp_path / "bench")],
        input=typed,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == Exit.DONE, done.stderr
    assert done.stderr.count("allowed:") == 2
    assert 'standard = "R6"' in (tmp_path / "bench" / "room.toml").read_text(encoding="utf-8")


def test_build_says_totals_and_where_the_kit_lies(sewing: Path, kit: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The summary names what the kit holds; building again over one's own kit is allowed."""
    assert run("build", str(sewing / "room.toml"), "--out", str(kit)) == Exit.DONE
    said = capsys.readouterr()
    for words in ("lots placed", "2 of 2", "bedfuls", "grams per dm2", "index.html"):
        assert words in said.out
    assert "budget" in said.err


def test_the_json_summary_is_json_and_nothing_else(sewing: Path, kit: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Machines read standard output, people standard error."""
    assert run("build", str(sewing / "room.toml"), "--out", str(kit), "--json") == Exit.DONE
    said = json.loads(capsys.readouterr().out)
    kit_json = json.loads((kit / "kit.json").read_text(encoding="utf-8"))
    assert said["totals"] == kit_json["totals"]
    assert said["totals"]["lots_placed"] == 2


def test_the_same_room_gives_the_same_bytes(sewing: Path, kit: Path, tmp_path: Path) -> None:
    """File by file, in another folder and another process with another hash seed."""
    subprocess.run(
        [sys.executable, "-m", "nookwright", "build", str(sewing / "room.toml"), "--out", str(tmp_path / "again")],
        check=True,
        capture_output=True,
        env={"PYTHONHASHSEED": "7", "HOME": str(tmp_path), "PATH": "/usr/bin:/bin"},
    )
    assert snapshot(tmp_path / "again") == snapshot(kit)


def test_faults_of_the_room_are_all_said_and_no_kit_is_touched(
    sewing: Path, kit: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two mistakes, two messages with file and line, and the kit stays as it was."""
    before = snapshot(kit)
    text = (sewing / "room.toml").read_text(encoding="utf-8")
    bad = tmp_path / "room.toml"
    bad.write_text(text.replace("width = 300", "wdth = 300").replace("count = 6", "count = 0"), encoding="utf-8")
    assert run("build", str(bad), "--out", str(kit)) == Exit.ROOM
    said = capsys.readouterr().err
    assert said.count("allowed:") == 3  # the unknown key, the missing one, the count
    assert f"{bad}:" in said
    assert snapshot(kit) == before


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_room_that_is_not_there_is_said_in_words(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No traceback, and the folder is not made."""
    more = ("--out", str(tmp_path / "kit")) if command == "build" else ()
    assert run(command, str(tmp_path / "nowhere.toml"), *more) == Exit.ROOM
    assert "nowhere.toml" in capsys.readouterr().err
    assert not (tmp_path / "kit").exists()


def test_check_as_json_lists_the_faults(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """For editors and scripts."""
    (tmp_path / "room.toml").write_text("format = 2\n", encoding="utf-8")
    assert run("check", str(tmp_path / "room.toml"), "--json") == Exit.ROOM
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert {"file", "line", "key", "found", "allowed", "remedy"} <= faults[0].keys()


def test_a_folder_with_strange_files_is_refused(
    sewing: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A holiday photo is worth more than a kit."""
    (tmp_path / "photo.jpg").write_bytes(b"dear")
    assert run("build", str(sewing / "room.toml"), "--out", str(tmp_path)) == Exit.FOLDER
    assert "photo.jpg" in capsys.readouterr().err
    assert snapshot(tmp_path) == {"photo.jpg": b"dear"}


@pytest.mark.parametrize("typed", [("frobnicate",), ("build", "room.toml"), ("demo", "--colour")])
def test_a_command_typed_wrongly_is_a_usage_error(typed: Sequence[str]) -> None:
    """With the shell's usual code."""
    assert run(*typed) == Exit.USAGE


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    """The four verbs."""
    assert run("--help") == Exit.DONE
    said = capsys.readouterr().out
    assert all(f"\n  {verb} " in said for verb in ("build", "check", "demo", "new"))


def test_step_files_without_their_extra_are_refused(
    sewing: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With the words how to get it, and nothing written."""
    for name in [name for name in sys.modules if name == "OCP" or name.startswith("OCP.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "OCP", None)
    assert run("build", str(sewing / "room.toml"), "--out", str(tmp_path / "kit"), "--step") == Exit.USAGE
    assert 'pip install "nookwright[step]"' in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
