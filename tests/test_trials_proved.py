"""What is tried first is proved like the rest: faults put into its files are found."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.build import build
from nookwright.checks.prove import prove
from nookwright.exchange.kit_file import read_kit
from nookwright.exchange.stl import parse_stl, stl_bytes
from nookwright.ground.digest import digest
from nookwright.ground.progress import Silent
from nookwright.survey.load import load_room

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit
    from nookwright.exchange.trial_models import TrialPiece
    from nookwright.layout.place import Effort


@pytest.fixture(scope="module")
def as_built(tiny_file: Path, quick: Effort, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A kit that nobody spoils."""
    folder = tmp_path_factory.mktemp("trials") / "kit"
    build(tiny_file, folder, progress=Silent(), effort=quick)
    return folder


@pytest.fixture
def folder(as_built: Path, tmp_path: Path) -> Path:
    """A copy of it that may be spoilt."""
    return shutil.copytree(as_built, tmp_path / "kit")


@pytest.fixture
def kit(folder: Path) -> Kit:
    """The same as data."""
    return read_kit(folder / "kit.json")


def _codes(folder: Path, kit: Kit, tiny_file: Path) -> set[str]:
    """Codes of what a new proof finds that the build did not."""
    known = {(one.code, one.subject) for one in kit.findings}
    found = prove(folder, kit, room=load_room(tiny_file))
    return {one.code for one in found if (one.code, one.subject) not in known}


def _first(kit: Kit, word: str) -> TrialPiece:
    return next(piece for trial in kit.first.trials for piece in trial.pieces if word in piece.file)


def _with_piece(kit: Kit, changed: TrialPiece) -> Kit:
    """The kit with another record of one file."""

    def pieces(of: tuple[TrialPiece, ...]) -> tuple[TrialPiece, ...]:
        return tuple(changed if one.file == changed.file else one for one in of)

    trials = tuple(one.model_copy(update={"pieces": pieces(one.pieces)}) for one in kit.first.trials)
    return kit.model_copy(update={"first": kit.first.model_copy(update={"trials": trials})})


def test_a_kit_as_built_is_sound(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """There is a pilot, and nothing is found."""
    assert any(trial.kind == "pilot" for trial in kit.first.trials)
    assert _codes(folder, kit, tiny_file) == set()


def test_a_file_that_was_changed_is_named(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """One byte of a pilot's panel."""
    path = folder / _first(kit, "panel").file
    data = bytearray(path.read_bytes())
    data[-20] ^= 1
    path.write_bytes(bytes(data))
    assert "file-changed" in _codes(folder, kit, tiny_file)


def test_a_pilot_inside_out_is_named(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """Every triangle turned over, and kit.json says so."""
    piece = _first(kit, "panel")
    vertices, triangles = parse_stl((folder / piece.file).read_bytes(), piece.file)
    data = stl_bytes(vertices, np.ascontiguousarray(triangles[:, ::-1]))
    (folder / piece.file).write_bytes(data)
    spoilt = _with_piece(kit, piece.model_copy(update={"sha256": digest(data)}))
    assert "mesh-inside-out" in _codes(folder, spoilt, tiny_file)


def test_a_pilot_that_hangs_in_the_air_is_named(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """A panel upside down stands on its cones."""
    piece = _first(kit, "panel")
    vertices, triangles = parse_stl((folder / piece.file).read_bytes(), piece.file)
    turned = vertices * (1, -1, -1) + (0, piece.size[1], piece.size[2])
    data = stl_bytes(turned, triangles)
    (folder / piece.file).write_bytes(data)
    spoilt = _with_piece(kit, piece.model_copy(update={"sha256": digest(data)}))
    assert "overhang" in _codes(folder, spoilt, tiny_file)


def test_a_size_that_is_not_the_mesh_s_is_named(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """A pilot one tenth longer in kit.json than in its file."""
    piece = _first(kit, "panel")
    longer = (piece.size[0] + 0.1, piece.size[1], piece.size[2])
    assert "size-wrong" in _codes(folder, _with_piece(kit, piece.model_copy(update={"size": longer})), tiny_file)


def test_a_bedful_of_other_meshes_is_named(folder: Path, kit: Kit, tiny_file: Path) -> None:
    """A bedful of trials replaced by one of the kit."""
    (folder / kit.first.bedfuls[0].file).write_bytes((folder / kit.bedfuls[0].file).read_bytes())
    assert "bed-file-differs" in _codes(folder, kit, tiny_file)
