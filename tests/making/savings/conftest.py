"""Two drawers in which something of every kind could be left out; all of it is invented."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from typing import TYPE_CHECKING

import pytest

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.making.savings.find import savings
from nookwright.survey.load import load_room

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.making.savings.model import Saving

ROOM = """\
format = 1

[room]
name = "Two drawers of a workbench"

[module]
pitch = 18

[choices]
rest = "spare"

[choices.tray]
strip = "plain"

[choices.homes]
small = ["lower"]

[[space]]
id = "upper"
kind = "drawer"
width = 331
depth = 262
height = 90
floor_height = 800
load_kg = 12

[[space]]
id = "lower"
kind = "drawer"
width = 220
depth = 190
height = 90
floor_height = 700
load_kg = 12
rest = "grow"

[[lot]]
id = "corks"
shape = "round"
diameter = 40
height = 60
count = 6
mass_g = 4
stands = ["upright"]

[[lot]]
id = "dice"
group = "small"
shape = "box"
width = 16
depth = 16
height = 16
count = 30
mass_g = 5

[[lot]]
id = "notes"
shape = "flat"
width = 76
depth = 51
thickness = 0.5
count = 60
mass_g = 0.4

[[lot]]
id = "tins"
shape = "box"
width = 62
depth = 41
height = 50
count = 3
mass_g = 60
floor = "smooth"

[[lot]]
id = "clips"
group = "small"
shape = "box"
width = 30
depth = 20
height = 25
count = 8
mass_g = 3

[lot.tray]
columns = 2

[[printer]]
id = "large"
bed_width = 360
bed_depth = 360
bed_height = 200
materials = ["white"]

[[material]]
id = "white"
colour = "#f0f0f0"
density_g_cm3 = 1.27
"""
EFFORT = Effort(moves=300, tries=300, rounds=1)


def designed(file: Path) -> Designed:
    """A room file, planned and designed."""
    return plan_and_design(load_room(file), room_file=file, effort=EFFORT, progress=Silent())


@pytest.fixture(scope="session")
def bench_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The room file of the two drawers."""
    path = tmp_path_factory.mktemp("bench") / "room.toml"
    path.write_text(ROOM, encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def bench(bench_file: Path) -> Designed:
    """The two drawers, planned and designed."""
    return designed(bench_file)


@pytest.fixture(scope="session")
def found(bench: Designed) -> tuple[Saving, ...]:
    """All that could be left out of them."""
    return savings(bench.room, bench.plan, bench.copies)


@pytest.fixture(scope="session")
def plan_again(bench_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Designed]:
    """Types lines into the room file of the two drawers, as a person would, and plans it anew, each lines once."""

    @cache
    def again(lines: str) -> Designed:
        path = tmp_path_factory.mktemp("again") / "room.toml"
        path.write_text(typed_in(bench_file.read_text(encoding="utf-8"), lines), encoding="utf-8")
        return designed(path)

    return again


def typed_in(text: str, lines: str) -> str:
    """A room file with keys typed in, all under the head of their table; what a key was before is taken out."""
    for part in re.split(r"\n\n(?!\[lot\.)", lines):
        rows = [row for row in part.splitlines() if row]
        own = rows[0].startswith("[[")
        first = (3 if rows[2].startswith("[") else 2) if own else 1  # the line after the heads
        for line in rows[first:]:
            text = _in_own_table(text, rows[:first], line) if own else _in_table(text, rows[0], line)
    tomllib.loads(text)
    return text


def _in_own_table(text: str, heads: list[str], line: str) -> str:
    """A key of one space or lot: ``heads`` are its head, its id, and the head of a table inside it if there is one."""
    begin = text.index("\n".join(heads[:2]))
    end = text.find("\n[[", begin + 1)
    end = len(text) if end < 0 else end
    return text[:begin] + _in_table(text[begin:end], heads[2] if len(heads) > 2 else heads[0], line) + text[end:]


def _in_table(text: str, head: str, line: str) -> str:
    """A key under the head of a table, put in where it is missing: before the spaces, or at the end of a lot."""
    if head not in text.splitlines():
        at = text.find("\n[[")
        at = len(text) if at < 0 else at
        return f"{text[:at].rstrip()}\n\n{head}\n{line}\n{text[at:]}"
    start = text.index(head) + len(head)
    stop = text.find("\n[", start)
    stop = len(text) if stop < 0 else stop
    name = line.split(" = ", maxsplit=1)[0]
    kept = [row for row in text[start:stop].splitlines() if row and not row.startswith(f"{name} = ")]
    return text[:start] + "\n" + "\n".join([*kept, line]) + "\n" + text[stop:]
