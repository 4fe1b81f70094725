"""Values that look like a slip."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.findings import Finding, Severity
from nookwright.survey.load import load_room
from nookwright.survey.rooms import demo_path
from nookwright.survey.suspects import suspects

if TYPE_CHECKING:
    from pathlib import Path

ROOM = """format = 1
[room]
name = "A"
units = "{unit}"
[[space]]
id = "s"
kind = "drawer"
width = {width}
depth = {depth}
height = {height}
floor_height = 0
load_kg = 20
[[printer]]
id = "p"
bed_width = "220 mm"
bed_depth = "220 mm"
bed_height = "200 mm"
materials = ["m"]
[[material]]
id = "m"
colour = "#808080"
density_g_cm3 = 1.24
[[lot]]
id = "jars"
shape = "round"
diameter = {diameter}
height = {tall}
mass_g = {mass}
count = 6
"""
USUAL = {"unit": "mm", "width": 400, "depth": 380, "height": 90, "diameter": 50, "tall": 60, "mass": 120}


def found(folder: Path, **figures: object) -> tuple[Finding, ...]:
    """What is suspected of a room with these figures."""
    path = folder / "room.toml"
    path.write_text(ROOM.format(**(USUAL | figures)), encoding="utf-8")
    return suspects(path, load_room(path))


def test_the_demo_raises_no_suspicion() -> None:
    """Forty lots of all kinds, and no false alarm."""
    with demo_path() as path:
        assert suspects(path, load_room(path)) == ()


@pytest.mark.parametrize(
    ("figures", "line", "words"),
    [
        ({"diameter": "[50.2, 502, 50.4]"}, 26, ("502", "10 times the others", "without its point")),
        ({"diameter": "[\n50.2,\n5.04,\n50.4]"}, 28, ("5.04", "1/10 of the others", "a digit missing")),
        ({"diameter": "[50.2, 50.4, 1.98]"}, 26, ("1.98", "inches?")),
        ({"diameter": "[50.2, 50.4, 130]"}, 26, ("130", "another thing?")),
        ({"diameter": "[50.2, 503]"}, 26, ("503", "the other reading", "without its point")),
        ({"width": "{ floor = [400, 401], rim = 40.2 }"}, 8, ("40.2", "digit missing")),
        ({"width": 15, "depth": 14, "height": 3.5}, 8, ("15 x 14 x 3.5", "inches")),
        ({"diameter": 502, "mass": 12000}, 26, ("502", "longest side of any space, 400 mm")),
        ({"diameter": 2, "tall": 2.4}, 26, ("1.59e+04 g/cm3", "more than lead", "inches typed as mm?")),
        ({"mass": 0.12}, 26, ("less than packing foam", "kilograms typed as grams")),
        ({"diameter": '[50, "51 cm"]'}, 26, ('"51 cm" (510 mm)',)),
    ],
)
def test_a_slip_is_named_with_its_line_and_what_it_may_be(
    tmp_path: Path, figures: dict[str, object], line: int, words: tuple[str, ...]
) -> None:
    """The value as typed, the line that it stands in, and what was perhaps meant."""
    said = [one for one in found(tmp_path, **figures) if all(word in one.text for word in words)]
    assert said, found(tmp_path, **figures)
    assert said[0].severity is Severity.WARN
    assert said[0].text.startswith(f"Line {line}, ")


def test_things_that_only_differ_are_not_suspected(tmp_path: Path) -> None:
    """Samples within a factor of two are samples."""
    assert found(tmp_path, diameter="[40, 55, 62]") == ()


def test_inches_are_no_slip_in_a_file_of_inches(tmp_path: Path) -> None:
    """A drawer of 15 x 14 x 3.5 is one where the file says inches."""
    assert not [one for one in found(tmp_path, unit="in", width=15, depth=14, height=3.5) if one.subject == "s"]
