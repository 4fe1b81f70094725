"""What a room file may say of plastics and of warmth."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.conftest import TINY_ROOM

from nookwright.survey.load import check_room
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.ground.errors import Fault
    from nookwright.survey.models import Room


def checked(folder: Path, *, space: str = "", material: str = "") -> tuple[Room | None, tuple[Fault, ...]]:
    """A room that says more of its space and of its last material."""
    file = folder / "room.toml"
    text = TINY_ROOM.replace("load_kg = 6\n", f"load_kg = 6\n{space}\n") + material
    file.write_text(text, encoding="utf-8")
    return check_room(file)


def test_a_material_says_what_it_is_and_what_its_sheet_says(tmp_path: Path) -> None:
    """All of it may be left out."""
    more = 'plastic = "petg"\n[material.sheet]\nsoftens_c = 70\nacross_percent = 55\n'
    room, faults = checked(tmp_path, space="warmest_c = 48.5", material=more)
    assert faults == ()
    assert room is not None
    white, red = room.material
    assert (white.plastic, white.sheet.softens_c) == (None, None)
    assert (red.plastic, red.sheet.softens_c, red.sheet.across_percent) == (PlasticKind.PETG, 70, 55)
    assert room.space[0].warmest_c == 48.5


@pytest.mark.parametrize(
    ("space", "material", "key", "allowed"),
    [
        ("", 'plastic = "wood"', "plastic", '"petg"'),
        ("", "[material.sheet]\nacross_percent = 120", "across_percent", "100"),
        ("", "[material.sheet]\nsoftens_c = 60\nmost_c = 61", "most_c", "at most softens_c, 60"),
        ("warmest_c = 400", "", "warmest_c", "250"),
        ("warm = true\nwarmest_c = 29", "", "warmest_c", "at least 30 beside `warm = true`"),
    ],
)
def test_a_fault_names_its_line_and_what_is_allowed(
    tmp_path: Path, space: str, material: str, key: str, allowed: str
) -> None:
    """One fault each, with something to do."""
    room, faults = checked(tmp_path, space=space, material=material)
    assert room is None
    (fault,) = faults
    assert key in fault.key
    assert allowed in fault.allowed
    assert fault.line > 0
    assert fault.remedy


@pytest.mark.parametrize("text", ["warm = true\nwarmest_c = 30", "warm = false\nwarmest_c = 12", "warmest_c = 12"])
def test_warmth_that_is_read_is_believed(tmp_path: Path, text: str) -> None:
    """A cellar may be as cool as it is, so long as it is not called warm."""
    assert checked(tmp_path, space=text)[1] == ()
