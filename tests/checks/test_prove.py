from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import numpy as np
import pytest

from nookwright.checks.files import read_meshes
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from .conftest import Trial

T = TypeVar("T")


def test_a_sound_kit_is_proved(trial: Trial, tmp_path: Path) -> None:
    """Nothing but notes, with and without a cache, the first time and the second."""
    said = trial.proved()
    assert [finding for finding in said if finding.severity is not Severity.NOTE] == []
    assert trial.proved(cache=tmp_path / "cache") == said
    assert any((tmp_path / "cache").iterdir())
    assert trial.proved(cache=tmp_path / "cache") == said


def test_the_cache_is_believed_for_the_same_content_only(trial: Trial, tmp_path: Path) -> None:
    """After a sound proof a fault is still found, although the cache is full."""
    trial.proved(cache=tmp_path / "cache")
    sunk = ((1, 0, 0, 0.3), (0, 1, 0, 0.3), (0, 0, 1, 0.5), (0, 0, 0, 1))
    broken = trial.having("placements", "tray-1", space_from_part=sunk)
    assert [finding.code for finding in broken.proved(cache=tmp_path / "cache")][:1] == ["parts-collide"]


def test_findings_are_sorted_and_each_once(trial: Trial) -> None:
    """The same kit gives the same findings in the same order."""
    broken = trial.having("parts", "tray", volume_mm3=1.0).having("pieces", "tray", count=3)
    findings = broken.proved()
    assert list(findings) == sorted(set(findings))
    wrong = {finding.code for finding in findings if finding.severity is not Severity.NOTE}
    assert wrong == {"volume-wrong", "piece-count", "pieces-differ"}


def test_a_broken_reference_is_reported_alone(trial: Trial) -> None:
    """What cannot be looked up is not looked into any further."""
    assert trial.having("placements", "tray-1", part="lost").codes() == ["reference-dangling"]


def test_an_unsound_mesh_is_reported_and_passed_over(trial: Trial) -> None:
    """A tray that is inside out is one finding about its file; what stands on it is still looked at."""
    shape = read_meshes(trial.folder, trial.kit).shapes["tray.stl"]
    turned = trial.with_mesh("tray.stl", shape.vertices, shape.triangles[:, ::-1])
    codes = turned.codes()
    assert "mesh-inside-out" in codes
    assert "parts-collide" not in codes


def test_a_mesh_that_crosses_itself_is_reported(trial: Trial) -> None:
    """A corner of the tray's rim pulled through the wall opposite."""
    shape = read_meshes(trial.folder, trial.kit).shapes["tray.stl"]
    vertices = shape.vertices.copy()
    rim = np.flatnonzero((np.abs(vertices - [1.2, 1.2, 24.0]) < 1e-4).all(axis=1))
    vertices[rim] = [35.0, 20.0, 23.0]
    assert "mesh-crosses-itself" in trial.with_mesh("tray.stl", vertices, shape.triangles).codes()


@pytest.mark.parametrize("file", ["tray.stl", "half.stl", ""])
def test_a_missing_file_is_reported(trial: Trial, file: str) -> None:
    """Any file that the kit names and that is not there; at last one of a bedful."""
    (trial.folder / (file or trial.kit.bedfuls[0].file)).unlink()
    assert "file-unreadable" in trial.codes()


def test_progress_is_told(trial: Trial) -> None:
    """Whoever listens hears what is looked at, and how many."""
    heard: list[str] = []

    class Listening(Silent):
        def track(self, items: Iterable[T], total: int, what: str) -> Iterator[T]:
            heard.append(f"{what}: {total}")
            yield from items

    trial.proved(progress=Listening())
    assert heard == [
        "looking at meshes: 3",
        "looking for collisions: 6",
        "trying seats: 1",
        "looking at how pieces print: 2",
        "reading bedfuls back: 2",
    ]
