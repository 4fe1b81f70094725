"""``nookwright measure`` and what a kit says of readings, as a person meets them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from nookwright.build import sketch
from nookwright.cli import Exit, main
from nookwright.documents.page import page_html
from nookwright.exchange.assemble import READINGS_SHOWN

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed

ROOM = """\
format = 1
[room]
name = "Jars"
[module]
pitch = 18
[[space]]
id = "drawer"
kind = "drawer"
width = [400, 400.2, 399.8, 400, 400.1, 400]
depth = [300, 300.1, 300.2, 300, 299.9, 300]
height = 120
floor_height = 800
load_kg = 10
[[printer]]
id = "p"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["pla"]
[[material]]
id = "pla"
colour = "#ffffff"
density_g_cm3 = 1.24
[[lot]]
id = "jars"
name = "Jars of [red] & <salt>"
count = 4
shape = "round"
height = [90, 90, 90, 90]
mass_g = 150
keep = "cradle"
made = "moulded glass"
"""
ONE, ALL = "diameter = 55\n", "diameter = [55, 55.2, 54.9, 55.3]\n"


def run(*arguments: str) -> int:
    """Run the command line and hand back its exit code."""
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert isinstance(left.value.code, int)
    return left.value.code


def written(folder: Path, text: str) -> str:
    """A room file of this text."""
    file = folder / "room.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_it_says_what_to_measure_with_what_and_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A table; names are shown as they were typed."""
    assert run("measure", written(tmp_path, ROOM + ONE)) == Exit.DONE
    said = capsys.readouterr().out
    assert "[red]" in said
    for word in ("diameter", "caliper", "tighter"):
        assert word in said


def test_it_stops_asking_when_all_is_measured(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In so many words."""
    assert run("measure", written(tmp_path, ROOM + ALL)) == Exit.DONE
    assert "No more readings needed" in capsys.readouterr().out


def test_the_json_is_json_and_nothing_else(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Machines read standard output."""
    assert run("measure", written(tmp_path, ROOM + ONE), "--json") == Exit.DONE
    first = json.loads(capsys.readouterr().out)["next_readings"][0]
    assert (first["subject"], first["dimension"], first["instrument"]) == ("jars", "diameter", "caliper")
    assert first["time_s"] == 60 + 30 * first["readings"]


def test_a_room_with_faults_is_refused_with_all_of_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As by ``check``."""
    assert run("measure", written(tmp_path, ROOM + "diameter = -55\nrough = 3\n")) == Exit.ROOM
    assert capsys.readouterr().err.count("allowed:") == 2


def test_a_room_that_is_not_there_is_said_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No traceback."""
    assert run("measure", str(tmp_path / "nowhere.toml")) == Exit.ROOM
    assert "nowhere.toml" in capsys.readouterr().err


def test_a_kit_lists_the_same_readings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In kit.json and on its page, where names stand as text, not as markup."""
    file = written(tmp_path, ROOM + ONE)
    assert run("measure", file, "--json") == Exit.DONE
    listed = json.loads(capsys.readouterr().out)["next_readings"]
    assert run("build", file, "--out", str(tmp_path / "kit")) == Exit.DONE
    kit = json.loads((tmp_path / "kit" / "kit.json").read_text(encoding="utf-8"))
    assert [one["why"] for one in kit["next_readings"]] == [one["why"] for one in listed]
    assert kit["more_readings"] == 0
    page = (tmp_path / "kit" / "index.html").read_text(encoding="utf-8")
    assert "Measure next" in page
    assert listed[0]["why"] in page
    assert "<salt>" not in page


def test_the_page_shows_the_best_and_counts_the_rest(tiny: Designed) -> None:
    """Ten at most; a page without any says so."""
    kit = sketch(tiny, "0" * 64)
    assert "No more readings needed" in page_html(kit)
    assert "more that gain less" in page_html(kit.model_copy(update={"next_readings": _some(3), "more_readings": 4}))
    assert int(READINGS_SHOWN) == 10


def _some(count: int) -> tuple[object, ...]:
    """So many readings that say nothing."""
    from nookwright.exchange.kit import KitReading

    keys = {"subject": "a", "name": "a", "dimension": "width", "readings": 1, "instrument": "tape", "rough": False}
    zero = dict.fromkeys(("tighter", "saved_mm2", "saved_g", "surer", "surer_instead", "lines", "time_s"), 0.0)
    return tuple(KitReading.model_validate(keys | zero | {"why": "for no reason"}) for _ in range(count))
