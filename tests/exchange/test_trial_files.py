"""Trials as files, and what kit.json says of them."""

from __future__ import annotations

import hashlib
import tomllib
from typing import TYPE_CHECKING

import pytest

from nookwright.exchange.trial_files import trials_to_write, write_trials
from nookwright.exchange.trial_models import KitTrials
from nookwright.ground.progress import Silent
from nookwright.making.jobs import make
from nookwright.making.trials import Trials
from nookwright.survey.trials import Found

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.solids.mesh import MeshKernel


@pytest.fixture(scope="module")
def written(tiny: Designed, kernel: MeshKernel, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, KitTrials]:
    """A folder with the trials of the tiny room, and what is said of them."""
    folder = tmp_path_factory.mktemp("kit")
    cuts = tiny.trials.cut.values()
    recipes = [*(cut.part.recipe for cut in cuts), *(piece.recipe for cut in cuts for piece in cut.pieces)]
    meshes = {recipe.digest: kernel.mesh(recipe) for recipe in recipes}
    made = make(tiny.room, tiny.trials.copies, tiny.trials.cut, lambda piece: meshes[piece.recipe.digest].volume_mm3)
    said = write_trials(folder, tiny.room, tiny.plan, tiny.trials, making=made, meshes=meshes, progress=Silent())
    return folder, said


def test_every_piece_and_bedful_is_in_its_file(written: tuple[Path, KitTrials]) -> None:
    """With the hash that kit.json gives, below trials/."""
    folder, first = written
    pieces = [piece for trial in first.trials for piece in trial.pieces]
    assert pieces
    for piece in pieces:
        assert piece.file.startswith("trials/")
        assert hashlib.sha256((folder / piece.file).read_bytes()).hexdigest() == piece.sha256
    assert first.bedfuls
    assert all((folder / bedful.file).is_file() for bedful in first.bedfuls)


def test_bedfuls_hold_all_trials(written: tuple[Path, KitTrials]) -> None:
    """The masses agree."""
    _, first = written
    assert sum(bedful.mass_g for bedful in first.bedfuls) == pytest.approx(sum(trial.mass_g for trial in first.trials))


def test_a_sketch_says_the_same_of_lengths_and_sizes(tiny: Designed, written: tuple[Path, KitTrials]) -> None:
    """Before there are files; the grams are within a tenth."""
    before = trials_to_write(tiny.room, tiny.plan, tiny.trials)
    for one, other in zip(before.trials, written[1].trials, strict=True):
        assert (one.id, one.kind, one.lengths, one.sizes, one.enter) == (
            other.id, other.kind, other.lengths, other.sizes, other.enter,
        )  # fmt: skip
        assert one.mass_g == pytest.approx(other.mass_g, rel=0.1)


def test_what_to_enter_is_accepted_by_the_room_file(written: tuple[Path, KitTrials]) -> None:
    """The example of every trial is a table of the room file, with the trial's own figures."""
    for trial in written[1].trials:
        (table,) = tomllib.loads(trial.enter)["found"]
        found = Found.model_validate(table)
        assert trial.subject in {found.space, found.gauge, ""}
        if trial.lengths:
            assert found.pilot == trial.lengths[0].length


@pytest.mark.parametrize("units", ["cm", "in"])
def test_what_to_enter_is_as_long_in_a_room_of_other_units(tiny: Designed, units: str) -> None:
    """Plain numbers of such a room are no millimetres, so lengths say that they are; nothing else changes."""
    named = tiny.room.room.model_copy(update={"units": units})
    other = trials_to_write(tiny.room.model_copy(update={"room": named}), tiny.plan, tiny.trials)
    usual = trials_to_write(tiny.room, tiny.plan, tiny.trials)
    read = [
        [Found.model_validate(tomllib.loads(trial.enter)["found"][0]) for trial in first.trials]
        for first in (usual, other)
    ]
    assert read[0] == read[1]
    assert all(" mm" in trial.enter for trial in other.trials if trial.lengths)
    assert not any(" mm" in trial.enter.split("#")[0] for trial in usual.trials if trial.lengths)


def test_nothing_to_try_writes_nothing(tiny: Designed, tmp_path: Path) -> None:
    """No folder, no entry."""
    made = make(tiny.room, (), {}, lambda _: 0.0)
    nothing = write_trials(tmp_path, tiny.room, tiny.plan, Trials(), making=made, meshes={}, progress=Silent())
    assert nothing == KitTrials()
    assert not list(tmp_path.iterdir())
