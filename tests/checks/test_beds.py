from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.beds import check_beds
from nookwright.checks.files import read_meshes
from nookwright.checks.shared import Overlaps
from nookwright.checks.verdicts import Verdicts

if TYPE_CHECKING:
    from nookwright.exchange.kit import Matrix

    from .conftest import Trial


def codes(trial: Trial) -> list[tuple[str, str]]:
    """Codes and subjects of what the beds of a trial have to say."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    findings = check_beds(trial.kit, trial.room, shapes, Overlaps(Verdicts(None)))
    return sorted({(finding.code, finding.subject) for finding in findings})


def at(x: float, y: float, z: float = 0) -> Matrix:
    return (1, 0, 0, x), (0, 1, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


MIRRORED: Matrix = ((-1, 0, 0, 46), (0, 1, 0, 10), (0, 0, 1, 0), (0, 0, 0, 1))
STRETCHED: Matrix = ((1.01, 0, 0, 10), (0, 1, 0, 10), (0, 0, 1, 0), (0, 0, 0, 1))
UPSIDE_DOWN: Matrix = ((-1, 0, 0, 46), (0, 1, 0, 10), (0, 0, -1, 24), (0, 0, 0, 1))


def test_sound_beds_have_no_findings(trial: Trial) -> None:
    """Four halves on one bed, two trays on the other, one of them turned."""
    assert codes(trial) == []


@pytest.mark.parametrize(
    ("matrix", "expected"),
    [
        (at(5, 5), []),
        (at(4.9, 10), ["item-off-bed"]),
        (at(5, 59.6), []),
        (at(5, 59.7), ["item-off-bed"]),
        (at(10, 10, 66), ["item-floats"]),
        (at(10, 10, 67), ["item-off-bed"]),
        (at(10, 10, -0.1), ["item-off-bed"]),
        (at(50, 10), ["items-collide", "items-near"]),
        (UPSIDE_DOWN, []),
        (MIRRORED, ["item-mirrored"]),
        (STRETCHED, ["item-mirrored"]),
    ],
)
def test_a_copy_that_is_moved_is_caught(trial: Trial, matrix: Matrix, expected: list[str]) -> None:
    """The first tray of bed 2: into the margin, off the bed, above it, below it, into the other; turned is no fault."""
    (bed,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == "bed-2")
    items = (bed.items[0].model_copy(update={"bed_from_piece": matrix}), bed.items[1])
    assert codes(trial.having("bedfuls", "bed-2", items=items)) == [(code, "bed-2") for code in expected]


def test_copies_are_counted(trial: Trial) -> None:
    """A copy that is on no bed, and a piece that is made less often than its part is placed."""
    (bed,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == "bed-2")
    assert codes(trial.having("bedfuls", "bed-2", items=bed.items[:1])) == [("piece-count", "tray")]
    fewer = trial.having("bedfuls", "bed-2", items=bed.items[:1]).having("pieces", "tray", count=1)
    assert codes(fewer) == [("piece-count", "tray")]
    more = trial.having("pieces", "tray", count=3)
    assert codes(more) == [("piece-count", "tray")]


def test_a_part_in_two_colours_is_counted_in_both(trial: Trial) -> None:
    """One tray of each of two materials is as many as two placements need; two beds each hold one."""
    (bed,) = (bedful for bedful in trial.kit.bedfuls if bedful.id == "bed-2")
    (tray,) = (piece for piece in trial.kit.pieces if piece.id == "tray")
    other = tray.model_copy(update={"id": "tray-b", "count": 1})
    rest = tuple(piece for piece in trial.kit.pieces if piece.id != "tray")
    items = (bed.items[0], bed.items[1].model_copy(update={"piece": "tray-b"}))
    both = trial.having("bedfuls", "bed-2", items=items).with_kit(
        pieces=(*rest, tray.model_copy(update={"count": 1}), other)
    )
    assert [code for code, _ in codes(both) if code == "piece-count"] == []


def test_a_material_that_is_not_loaded_is_found(trial: Trial) -> None:
    """The printer of the room has other materials than the bedful needs."""
    (printer,) = trial.room.printer
    other = trial.with_room(printer=(printer.model_copy(update={"materials": ("blue",)}),))
    assert codes(other) == [("material-not-loaded", "bed-1"), ("material-not-loaded", "bed-2")]


def test_a_piece_on_a_bed_of_another_material_is_found(trial: Trial) -> None:
    """A tray meant for another material than that of its bed."""
    assert codes(trial.having("pieces", "tray", material="blue")) == [("piece-material", "bed-2")]
