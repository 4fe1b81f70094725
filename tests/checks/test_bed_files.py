from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.bed_files import check_bed_file
from nookwright.checks.files import read_meshes

if TYPE_CHECKING:
    from .conftest import Trial


def texts(trial: Trial, name: str = "bed-2") -> list[str]:
    """What the file of a bedful has to say."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    (bedful,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == name)
    findings = check_bed_file(trial.folder, bedful, trial.kit, shapes, room=trial.room)
    assert {finding.subject for finding in findings} <= {name}
    return [finding.text for finding in findings]


def test_sound_files_have_no_findings(trial: Trial) -> None:
    """Both bedfuls are in their files what they are in kit.json."""
    assert texts(trial, "bed-1") == []
    assert texts(trial, "bed-2") == []


def test_a_file_that_cannot_be_read_is_found(trial: Trial) -> None:
    """Missing, or no 3MF at all."""
    (trial.folder / "bed-2.3mf").write_bytes(b"none")
    assert "is no sound ZIP archive" in texts(trial)[0]
    (trial.folder / "bed-2.3mf").unlink()
    assert "cannot be read" in texts(trial)[0]


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"model_sha256": "0" * 64}, "Its model is not what it was when kit.json was written."),
        ({"colour": "#123456"}, "tray has the colour #808080; kit.json says #123456."),
        ({"items": ()}, "2 copies of tray; kit.json says 0."),
    ],
)
def test_a_bedful_that_is_not_its_file_is_found(trial: Trial, change: dict[str, Any], text: str) -> None:
    """The kit says one thing, the file another."""
    assert text in texts(trial.having("bedfuls", "bed-2", **change))


def test_a_copy_that_lies_elsewhere_is_found(trial: Trial) -> None:
    """Moved by a tenth of a millimetre in kit.json but not in the file."""
    (bed,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == "bed-2")
    moved = ((1, 0, 0, 10.1), (0, 1, 0, 10), (0, 0, 1, 0), (0, 0, 0, 1))
    items = (bed.items[0].model_copy(update={"bed_from_piece": moved}), bed.items[1])
    assert texts(trial.having("bedfuls", "bed-2", items=items)) == ["A copy of tray lies elsewhere than kit.json says."]


def test_copies_in_another_order_are_the_same(trial: Trial) -> None:
    """Which copy comes first does not matter."""
    (bed,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == "bed-2")
    assert texts(trial.having("bedfuls", "bed-2", items=bed.items[::-1])) == []


def test_another_mesh_in_the_file_is_found(trial: Trial) -> None:
    """The STL of the tray is renewed a tenth of a millimetre wider, the bed's file is not."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    before = (trial.folder / "bed-2.3mf").read_bytes()
    wider = trial.with_mesh("tray.stl", shapes["tray.stl"].vertices * 1.003, shapes["tray.stl"].triangles)
    assert texts(wider) == []
    (trial.folder / "bed-2.3mf").write_bytes(before)
    assert "The mesh of tray is not that of tray.stl." in texts(wider)
