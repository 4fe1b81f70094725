from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.files import read_meshes, wrong_figures, wrong_pieces

if TYPE_CHECKING:
    from .conftest import Trial


def test_a_sound_kit_is_read_whole(trial: Trial) -> None:
    """Every file is read, files of the same content share a shape, all figures are true."""
    written = read_meshes(trial.folder, trial.kit)
    assert sorted(written.shapes) == ["half.stl", "panel.stl", "tray.stl"]
    assert written.findings == ()
    assert wrong_figures(trial.kit, written.shapes) == ()
    assert wrong_pieces(trial.kit) == ()


def test_a_file_that_is_missing_is_found(trial: Trial) -> None:
    """The kit names a file that is not there."""
    (trial.folder / "tray.stl").unlink()
    written = read_meshes(trial.folder, trial.kit)
    assert [(finding.code, finding.subject) for finding in written.findings] == [("file-unreadable", "tray.stl")]
    assert "tray.stl" not in written.shapes


def test_a_file_that_was_changed_is_found(trial: Trial) -> None:
    """One bit of an unused field: the mesh is the same, the file is not."""
    path = trial.folder / "tray.stl"
    data = bytearray(path.read_bytes())
    data[84 + 48] ^= 1
    path.write_bytes(bytes(data))
    written = read_meshes(trial.folder, trial.kit)
    assert [(finding.code, finding.subject) for finding in written.findings] == [("file-changed", "tray.stl")]


def test_a_file_outside_of_the_folder_is_not_read(trial: Trial) -> None:
    """A kit.json that leads out of its folder is not followed."""
    (trial.folder / "tray.stl").rename(trial.folder.parent / "tray.stl")
    changed = trial.having("parts", "tray", stl="../tray.stl").having("pieces", "tray", file="../tray.stl")
    (finding,) = read_meshes(changed.folder, changed.kit).findings
    assert "Lies outside" in finding.text


@pytest.mark.parametrize(
    ("what", "name", "change", "code"),
    [
        ("parts", "tray", {"size": (35.4, 35.4, 24.1)}, "size-wrong"),
        ("pieces", "half", {"size": (36.1, 17.9, 2.6)}, "size-wrong"),
        ("parts", "tray", {"volume_mm3": 9000.0}, "volume-wrong"),
        ("pieces", "tray", {"volume_mm3": 9000.0}, "volume-wrong"),
    ],
)
def test_a_figure_that_is_not_the_mesh_is_found(
    trial: Trial, what: str, name: str, change: dict[str, Any], code: str
) -> None:
    """Size and volume in kit.json are those of the file."""
    changed = trial.having(what, name, **change)
    shapes = read_meshes(changed.folder, changed.kit).shapes
    assert [(found.code, found.subject) for found in wrong_figures(changed.kit, shapes)] == [(code, name)]


def test_a_mesh_off_its_origin_is_found(trial: Trial) -> None:
    """A part's own axes begin at the corner of its box, so matrices mean what they say."""
    shape = read_meshes(trial.folder, trial.kit).shapes["tray.stl"]
    moved = trial.with_mesh("tray.stl", shape.vertices + 1, shape.triangles)
    shapes = read_meshes(moved.folder, moved.kit).shapes
    assert {found.code for found in wrong_figures(moved.kit, shapes)} == {"size-wrong"}


def test_a_piece_too_few_is_found(trial: Trial) -> None:
    """Half a panel is no panel; and three halves are none either."""
    short = trial.with_kit(pieces=tuple(piece for piece in trial.kit.pieces if piece.id != "half-back"))
    assert [(found.code, found.subject) for found in wrong_pieces(short.kit)] == [("pieces-differ", "panel")]
    extra = trial.with_kit(pieces=(*trial.kit.pieces, trial.kit.pieces[0].model_copy(update={"id": "third"})))
    assert [(found.code, found.subject) for found in wrong_pieces(extra.kit)] == [("pieces-differ", "panel")]


def test_a_part_in_two_materials_has_its_pieces_twice(trial: Trial) -> None:
    """Each material is weighed by itself, so that twice the pieces are no piece too many."""
    more = [piece.model_copy(update={"id": f"{piece.id}-red", "material": "red"}) for piece in trial.kit.pieces]
    assert wrong_pieces(trial.with_kit(pieces=(*trial.kit.pieces, *more)).kit) == ()


def test_pieces_of_a_panel_may_have_frames_of_their_own(trial: Trial) -> None:
    """A fifth more is what frames along the cuts weigh; of a tray, which is sawn, it would be a fault."""
    heavier = [piece.model_copy(update={"volume_mm3": 1.2 * piece.volume_mm3}) for piece in trial.kit.pieces]
    assert [found.subject for found in wrong_pieces(trial.with_kit(pieces=tuple(heavier)).kit)] == ["tray"]


def test_pieces_of_a_lean_panel_may_be_nearly_all_frame(trial: Trial) -> None:
    """With cones only under the layout pieces of 36 x 18 may hold 7 x 0.6 mm2 all along their edges more; not twice."""
    lean = trial.having("parts", "panel", parameters={"pattern": "only under the layout", "thickness": 0.6})
    more = 2 * (35.8 + 17.8) * 7 * 0.6
    for share, subjects in ((0.99, []), (1.03, ["panel"])):
        pieces = [
            piece.model_copy(update={"volume_mm3": piece.volume_mm3 + share * more}) if piece.part == "panel" else piece
            for piece in lean.kit.pieces
        ]
        assert [found.subject for found in wrong_pieces(lean.with_kit(pieces=tuple(pieces)).kit)] == subjects
