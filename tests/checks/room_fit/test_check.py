from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.files import read_meshes
from nookwright.checks.room_fit.check import check_room_fit
from nookwright.checks.shared import Overlaps
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import KitPrinterError, KitPrinterErrors
from nookwright.ground.findings import Finding, Severity
from nookwright.sizing.printers.errors import ERRORS, unmeasured

if TYPE_CHECKING:
    from pathlib import Path

    from tests.checks.conftest import Trial


def of(trial: Trial, cache: Path | None = None) -> tuple[Finding, ...]:
    shapes, verdicts = read_meshes(trial.folder, trial.kit).shapes, Verdicts(cache)
    return check_room_fit(trial.kit, trial.room, shapes, Overlaps(verdicts), verdicts)


def moved(trial: Trial, x: float, y: float, z: float) -> Trial:
    """The trial with its first tray moved by so much."""
    (tray,) = (one for one in trial.kit.placements if one.id == "tray-1")
    rows = tray.space_from_part
    at = tuple((*row[:3], row[3] + by) for row, by in zip(rows[:3], (x, y, z), strict=True))
    return erring(trial).having("placements", "tray-1", space_from_part=(*at, rows[3]))


def erring(trial: Trial) -> Trial:
    """The trial with a printer that errs as one that nobody has measured."""
    known = zip(ERRORS, unmeasured().mean, np.sqrt(np.diag(unmeasured().covariance)), strict=True)
    components = tuple(KitPrinterError(name=name, value=value, uncertainty=float(sd)) for name, value, sd in known)
    errors = KitPrinterErrors(material="grey", basis="defaults", components=components)
    return trial.having("printers", "small", errors=(errors,))


def stops(findings: tuple[Finding, ...]) -> set[str]:
    return {one.code for one in findings if one.severity is Severity.STOP}


def test_a_sound_kit_has_no_stop_and_no_warning(trial: Trial) -> None:
    """Written files of panels, trays and things: room for all, also where the printer errs."""
    assert not [one for one in of(erring(trial)) if one.severity is not Severity.NOTE]


@pytest.mark.parametrize(
    ("by", "code"),
    [
        ((0.45, 0, 0), "gap-too-small"),
        ((0, 0, 36), "hits-on-travel"),
    ],
)
def test_a_tray_that_is_moved_is_found(trial: Trial, by: tuple[float, float, float], code: str) -> None:
    """Up to its neighbour; up to the top."""
    assert code in stops(of(moved(trial, *by)))


def test_verdicts_are_kept_and_believed(trial: Trial, tmp_path: Path) -> None:
    """Asked again with what is known, it says the same."""
    near = moved(trial, 0.45, 0, 0)
    first = of(near, tmp_path)
    assert list(tmp_path.iterdir())
    assert of(near, tmp_path) == first


def test_a_part_whose_mesh_is_not_sound_is_passed_over(trial: Trial) -> None:
    """Without the tray's mesh nothing is said of trays, and nothing breaks."""
    shapes = {file: shape for file, shape in read_meshes(trial.folder, trial.kit).shapes.items() if "tray" not in file}
    verdicts = Verdicts(None)
    found = check_room_fit(trial.kit, trial.room, shapes, Overlaps(verdicts), verdicts)
    assert not any("tray" in one.text for one in found)


def test_proving_a_kit_asks_for_room(trial: Trial) -> None:
    """The whole proof finds the tray that stands too near."""
    assert "gap-too-small" in moved(trial, 0.45, 0, 0).codes()
