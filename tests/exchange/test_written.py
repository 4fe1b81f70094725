from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.cutting.model import uncut
from nookwright.exchange.stl import read_stl
from nookwright.exchange.threemf import read_3mf
from nookwright.exchange.written import Written, file_names, outer_name, unwritten, write_meshes
from nookwright.ground.digest import digest
from nookwright.ground.progress import Silent
from nookwright.making.jobs import Making, make
from nookwright.parts.trays.name_strip import Lettering, NameStrip, name_strip
from nookwright.survey.models import Choices

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.solids.mesh import Mesh, MeshKernel


@pytest.fixture(scope="module")
def meshes(tiny: Designed, kernel: MeshKernel) -> dict[str, Mesh]:
    """All meshes by the digest of their recipe."""
    recipes = [r for cut in tiny.cut.values() for r in (cut.part.recipe, *(piece.recipe for piece in cut.pieces))]
    return {recipe.digest: kernel.mesh(recipe) for recipe in recipes}


@pytest.fixture(scope="module")
def making(tiny: Designed, meshes: dict[str, Mesh]) -> Making:
    """What the tiny room has to print."""
    return make(tiny.room, tiny.copies, tiny.cut, lambda piece: meshes[piece.recipe.digest].volume_mm3)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where it is written to."""
    return tmp_path_factory.mktemp("written")


@pytest.fixture(scope="module")
def written(folder: Path, tiny: Designed, making: Making, meshes: dict[str, Mesh]) -> Written:
    """All files, written."""
    return write_meshes(folder, tiny.room, making, meshes, Silent())


def test_every_file_is_there_with_its_hash(folder: Path, making: Making, written: Written) -> None:
    """No file more, none less; the hash of an STL is that of its bytes."""
    files = {name: sha for name, sha, _ in written.part.values()} | dict(written.piece.values())
    for name, sha in files.items():
        assert digest((folder / name).read_bytes()) == sha
    on_disk = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    assert on_disk == set(files) | {name for one in written.bedful for name in (one[0], one[2])}
    assert set(written.part) == {part.id for part in making.parts}
    assert set(written.piece) == {piece.id for piece in making.pieces}
    assert len(written.bedful) == len(making.loads)


def test_no_folder_is_left_empty(folder: Path, written: Written) -> None:
    """An empty one would not be in the manifest, and the next build would take it for somebody else's."""
    assert written.bedful
    assert all(any(path.iterdir()) for path in folder.iterdir())


def test_a_part_that_is_printed_whole_has_one_file(making: Making, written: Written) -> None:
    """The piece's is the part's; a part that is cut has a file of the whole besides."""
    for made in making.parts:
        pieces = [written.piece[piece.id][0] for piece in making.pieces if piece.part == made.id]
        name = written.part[made.id][0]
        assert (name in pieces) is (len(made.cut.pieces) == 1)
        assert name.startswith("pieces/" if name in pieces else "parts/")


def test_a_name_says_what_how_large_how_many_and_which_material(written: Written, making: Making) -> None:
    """In that order, the size in mm, without a blank."""
    for piece in making.pieces:
        name = written.piece[piece.id][0]
        found = re.fullmatch(r"pieces/([a-z]+)_([0-9.x]+)(-[a-z]+)?_(\d+)x_([a-z-]+)\.stl", name)
        assert found, name
        assert found[2] == outer_name(piece.piece.size)
        assert int(found[4]) == piece.count
        assert found[5] == piece.material


def test_file_names_are_unique(making: Making) -> None:
    """Pieces of the same outer size are told apart by a letter."""
    kinds = {part.id: part.part.kind.value for part in making.parts}
    names = file_names(making.pieces, kinds)
    assert len(set(names.values())) == len(making.pieces)
    assert {"panel_90x72x3.6_1x_white", "panel_90x72x3.6-b_1x_white"} <= set(names.values())


def test_a_bed_file_holds_each_piece_once_and_its_copies_by_transform(
    folder: Path, written: Written, making: Making, meshes: dict[str, Mesh]
) -> None:
    """Bodies are distinct pieces, items are copies; the mesh is that of the recipe."""
    pieces = {piece.id: piece for piece in making.pieces}
    for (name, *_), load in zip(written.bedful, making.loads, strict=True):
        content = read_3mf(folder / name)
        assert sorted(body.part_number for body in content.bodies) == sorted({item.piece for item in load.items})
        assert len(content.items) == len(load.items)
        for body in content.bodies:
            mesh = meshes[pieces[body.part_number].piece.recipe.digest]
            assert body.vertices.shape == mesh.vertices.shape
            assert body.vertices == pytest.approx(mesh.vertices, abs=1e-4)
        assert re.fullmatch(rf"bedfuls/\d+_{load.printer}_{len(load.items)}-pieces_{load.material}\.3mf", name)


def test_an_stl_holds_the_mesh(folder: Path, written: Written, making: Making, meshes: dict[str, Mesh]) -> None:
    """To the precision of 32 bits."""
    for piece in making.pieces:
        vertices, triangles = read_stl(folder / written.piece[piece.id][0])
        mesh = meshes[piece.piece.recipe.digest]
        assert len(triangles) == len(mesh.triangles)
        assert vertices.max(axis=0) == pytest.approx(mesh.vertices.max(axis=0), abs=1e-4)


def test_what_is_not_written_yet_has_names_and_the_hash_of_nothing(making: Making) -> None:
    """For a first plan, before any file."""
    planned = unwritten(making)
    assert set(planned.part) == {part.id for part in making.parts}
    assert set(planned.piece) == {piece.id for piece in making.pieces}
    assert {sha for _, sha, *_ in planned.bedful} == {digest("")}
    assert all(volume > 0 for _, _, volume in planned.part.values())


@pytest.mark.parametrize("lettering", Lettering)
@pytest.mark.parametrize("text", ["red", "white", "gold"])
def test_lettering_is_in_its_own_colour_where_the_printer_has_it(
    tmp_path: Path, tiny: Designed, kernel: MeshKernel, lettering: Lettering, text: str
) -> None:
    """A white strip with red letters has two materials, its letters all of the second; else it has one."""
    painted = text == "red"
    strip = name_strip(tiny.plan.module, NameStrip(60.0, 12.0, "M4", lettering))
    copy = replace(tiny.copies[0], part=strip, spec=None, material="white")
    cut = {strip.recipe.digest: uncut(strip)}
    mesh = kernel.mesh(strip.recipe)
    gold = tiny.room.material[0].model_copy(update={"id": "gold", "name": "", "colour": "#c0a020"})
    room = tiny.room.model_copy(
        update={"choices": Choices(colours={"text": text}), "material": (*tiny.room.material, gold)}
    )
    making = make(room, [copy], cut, lambda _: mesh.volume_mm3)
    ((name, *_),) = write_meshes(tmp_path, room, making, {strip.recipe.digest: mesh}, Silent()).bedful
    content = read_3mf(tmp_path / name)
    assert [one.name for one in content.materials] == (["white", "red"] if painted else ["white"])
    (body,) = content.bodies
    assert body.material == 0
    assert bool(body.paint) is painted
    if painted:
        faces = {n for paint in body.paint for n in range(paint.first, paint.first + paint.count)}
        middles = body.vertices[body.triangles].mean(axis=1)
        above = {int(n) for n in np.flatnonzero(middles[:, 2] > (1.0 if lettering is Lettering.RAISED else 0.999))}
        letters = above if lettering is Lettering.RAISED else {n for n in above if n in faces}
        assert letters
        assert letters <= faces
        assert len(faces) < len(body.triangles)


def test_file_names_have_no_blank(making: Making) -> None:
    """Kinds of two words too."""
    kinds = dict.fromkeys((made.id for made in making.parts), "name strip")
    assert all(name.startswith("name-strip_") for name in file_names(making.pieces, kinds).values())
