from __future__ import annotations

import zipfile
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import lib3mf
import manifold3d
import numpy as np
import pytest
import trimesh

from nookwright.exchange.threemf import (
    BaseMaterial,
    Body,
    Item,
    Paint,
    ThreeMF,
    model_xml,
    parse_3mf,
    read_3mf,
    write_3mf,
)
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Matrix

AWKWARD = 'tray <107> & "143" h48 Ωß 試'
TURNED: Matrix = ((0, -1, 0, 100), (1, 0, 0, 20), (0, 0, 1, 0), (0, 0, 0, 1))
STRAIGHT: Matrix = ((1, 0, 0, 5.5), (0, 1, 0, 6.25), (0, 0, 1, 0), (0, 0, 0, 1))


def body(solid: manifold3d.Manifold, name: str, *, material: int = 0) -> Body:
    """A solid as a body."""
    mesh = solid.to_mesh64()
    return Body(name, f"no {name}", np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts), material)


@pytest.fixture
def bedful() -> ThreeMF:
    """A ball once and a holed block twice, in two colours."""
    block = manifold3d.Manifold.cube([30, 20, 10]) - manifold3d.Manifold.cylinder(20, 4).translate([10, 10, -5])
    ball = manifold3d.Manifold.sphere(10, 48).translate([10, 10, 10])
    return ThreeMF(
        bodies=(body(block, AWKWARD), body(ball, "ball", material=1)),
        items=(Item(0, STRAIGHT, "first"), Item(0, TURNED), Item(1, STRAIGHT, AWKWARD)),
        materials=(BaseMaterial("grey & <dull>", "#808080"), BaseMaterial("orange", "#ff8000")),
        metadata=(("Title", f"bed 1 of {AWKWARD}"), ("Application", "nookwright")),
    )


def strict(path: Path) -> lib3mf.Model:
    """The reference library's model of a file, read in strict mode without a warning."""
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)  # noqa: FBT003 - its only form
    reader.ReadFromFile(str(path))
    assert reader.GetWarningCount() == 0
    return model


def test_the_reference_library_reads_it_strictly(tmp_path: Path, bedful: ThreeMF) -> None:
    """lib3mf in strict mode has no warning, finds every mesh closed and oriented, and reads names and numbers back."""
    write_3mf(tmp_path / "bed.3mf", bedful)
    model = strict(tmp_path / "bed.3mf")
    meshes, found = model.GetMeshObjects(), []
    while meshes.MoveNext():
        mesh = meshes.GetCurrentMeshObject()
        assert mesh.IsManifoldAndOriented()
        found.append((mesh.GetName(), mesh.GetPartNumber(), mesh.GetTriangleCount()))
    assert found == [(part.name, part.part_number, len(part.triangles)) for part in bedful.bodies]
    assert model.GetBuildItems().Count() == 3
    assert model.GetMetaDataGroup().GetMetaData(0).GetValue() == bedful.metadata[0][1]


def test_the_reference_library_puts_items_where_they_belong(tmp_path: Path, bedful: ThreeMF) -> None:
    """lib3mf's outbox of all items is the box of all bodies moved by our matrices."""
    write_3mf(tmp_path / "bed.3mf", bedful)
    box = strict(tmp_path / "bed.3mf").GetOutbox()
    corners = [
        bedful.bodies[item.body].vertices @ np.array(item.bed_from_body)[:3, :3].T + np.array(item.bed_from_body)[:3, 3]
        for item in bedful.items
    ]
    everything = np.vstack(corners)
    np.testing.assert_allclose(list(box.MinCoordinate), everything.min(axis=0), atol=1e-4)
    np.testing.assert_allclose(list(box.MaxCoordinate), everything.max(axis=0), atol=1e-4)


def test_an_outside_reader_finds_the_same_volumes(tmp_path: Path, bedful: ThreeMF) -> None:
    """Read by trimesh, there are three solids whose volumes are those of the bodies, one of them twice."""
    write_3mf(tmp_path / "bed.3mf", bedful)
    scene = trimesh.load_scene(tmp_path / "bed.3mf")
    expected = []
    for item in bedful.items:
        a, b, c = bedful.bodies[item.body].vertices[bedful.bodies[item.body].triangles].transpose(1, 0, 2)
        expected.append(float((a * np.cross(b, c)).sum() / 6))
    found = [mesh.volume for mesh in scene.dump() if isinstance(mesh, trimesh.Trimesh)]
    assert sorted(found) == pytest.approx(sorted(expected), rel=1e-6)


def test_what_is_read_is_what_was_written(tmp_path: Path, bedful: ThreeMF) -> None:
    """Our own reader gives all of it back, coordinates to 5 decimals; the hash is that of the model part."""
    sha = write_3mf(tmp_path / "bed.3mf", bedful)
    again, read_sha = parse_3mf(tmp_path / "bed.3mf")
    assert read_sha == sha
    assert (again.items, again.metadata) == (bedful.items, bedful.metadata)
    assert [(m.name, m.colour.lower()) for m in again.materials] == [(m.name, m.colour) for m in bedful.materials]
    for ours, theirs in zip(bedful.bodies, again.bodies, strict=True):
        assert (ours.name, ours.part_number, ours.material) == (theirs.name, theirs.part_number, theirs.material)
        np.testing.assert_allclose(theirs.vertices, ours.vertices, rtol=0, atol=0.5001e-5)
        np.testing.assert_array_equal(theirs.triangles, ours.triangles)


def test_the_same_bedful_gives_the_same_bytes(tmp_path: Path, bedful: ThreeMF) -> None:
    """Nothing of the moment or the machine gets in: dates are the earliest there are, the order is fixed."""
    for name in ("one.3mf", "two.3mf"):
        write_3mf(tmp_path / name, bedful)
    assert (tmp_path / "one.3mf").read_bytes() == (tmp_path / "two.3mf").read_bytes()
    with zipfile.ZipFile(tmp_path / "one.3mf") as archive:
        names = [member.filename for member in archive.infolist()]
        assert names == ["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]
        assert {member.date_time for member in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert digest(archive.read("3D/3dmodel.model")) == read_sha(tmp_path / "one.3mf")


def read_sha(path: Path) -> str:
    """The hash that our reader gives."""
    return parse_3mf(path)[1]


def test_numbers_are_plain(bedful: ThreeMF) -> None:
    """No exponent and no minus zero: some readers take neither."""
    tiny = np.array([[-1e-9, 1e-7, 123456.000004], [1, 0, 0], [0, 1, 0], [0, 0, -0.5]])
    lump = Body("lump", "1", tiny, np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [0, 3, 2]]))
    xml = model_xml(replace(bedful, bodies=(lump,), items=(Item(0, STRAIGHT),)))
    assert '<vertex x="0" y="0" z="123456"/>' in xml
    assert '<vertex x="0" y="0" z="-0.5"/>' in xml
    assert 'transform="1 0 0 0 1 0 0 0 1 5.5 6.25 0"' in xml


def test_a_matrix_is_written_for_row_vectors(bedful: ThreeMF) -> None:
    """3MF multiplies a row vector from the left (core specification 3.3), so our matrix is transposed."""
    xml = model_xml(replace(bedful, items=(Item(0, TURNED),)))
    assert 'transform="0 1 0 -1 0 0 0 0 1 100 20 0"' in xml


def test_characters_that_xml_cannot_hold_do_no_harm(tmp_path: Path, bedful: ThreeMF) -> None:
    """A control character becomes a question mark, a tab a blank, instead of a file that nobody can read."""
    write_3mf(tmp_path / "bed.3mf", replace(bedful, metadata=(("Title", "a\x00b\x1f\ud800c\td"),)))
    assert read_3mf(tmp_path / "bed.3mf").metadata == (("Title", "a?b??c d"),)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"metadata": (("Weather", "fine"),)}, "metadata 'Weather'"),
        ({"metadata": (("Title", "a"), ("Title", "b"))}, "metadata 'Title'"),
        ({"materials": (BaseMaterial("grey", "grey"),)}, "colour 'grey'"),
        ({"materials": (BaseMaterial("grey", "#808080"),)}, "material 1 of 1"),
        ({"items": (Item(2, STRAIGHT),)}, "body 2 of 2"),
        ({"items": (Item(0, (*TURNED[:2], (0, 0, float("nan"), 0), TURNED[3])),)}, "not finite"),
    ],
)
def test_what_would_be_no_valid_file_is_not_written(bedful: ThreeMF, change: dict[str, object], message: str) -> None:
    """Every rule that a bedful could break is named when it does."""
    with pytest.raises(FileFormatError, match=message):
        model_xml(replace(bedful, **change))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("vertices", "triangles", "message"),
    [
        (np.full((4, 3), np.inf), [[0, 1, 2]], "not finite"),
        (np.zeros((4, 3)), [[0, 1, 4]], "vertices 0 to 4 of 4"),
        (np.zeros((4, 3)), [[0, 1, -1]], "vertices -1 to 1 of 4"),
    ],
)
def test_a_mesh_that_no_reader_takes_is_not_written(
    bedful: ThreeMF, vertices: np.ndarray, triangles: list[list[int]], message: str
) -> None:
    """Coordinates that are not finite, and triangles that name what is not there."""
    lump = Body("lump", "7", vertices, np.array(triangles))
    with pytest.raises(FileFormatError, match=rf"body '7': .*{message}"):
        model_xml(replace(bedful, bodies=(lump, lump)))


@pytest.fixture
def painted(bedful: ThreeMF) -> ThreeMF:
    """The same, the block's triangles 2 to 6 and 9 in the second material, the ball's first 40 in the first."""
    block, ball = bedful.bodies
    return replace(
        bedful,
        bodies=(replace(block, paint=(Paint(2, 5, 1), Paint(9, 1, 1))), replace(ball, paint=(Paint(0, 40, 0),))),
    )


def test_painted_faces_are_read_back(tmp_path: Path, painted: ThreeMF) -> None:
    """Runs of triangles keep their material, all others that of their body, and no triangle is lost."""
    write_3mf(tmp_path / "bed.3mf", painted)
    found = read_3mf(tmp_path / "bed.3mf")
    for body, original in zip(found.bodies, painted.bodies, strict=True):
        assert body.paint == original.paint
        assert body.material == original.material
        np.testing.assert_array_equal(body.triangles, original.triangles)


def test_the_reference_library_sees_each_face_in_its_material(tmp_path: Path, painted: ThreeMF) -> None:
    """lib3mf, strictly and without a warning: the property of every triangle is the material we gave it."""
    write_3mf(tmp_path / "bed.3mf", painted)
    model = strict(tmp_path / "bed.3mf")
    groups = model.GetBaseMaterialGroups()
    assert groups.MoveNext()
    group = groups.GetCurrentBaseMaterialGroup()
    colours = {number: group.GetDisplayColor(number) for number in group.GetAllPropertyIDs()}
    names = {number: group.GetName(number) for number in colours}
    meshes = model.GetMeshObjects()
    for body in painted.bodies:
        assert meshes.MoveNext()
        mesh = meshes.GetCurrentMeshObject()
        assert mesh.IsManifoldAndOriented()
        expected = [body.material] * len(body.triangles)
        for paint in body.paint:
            expected[paint.first : paint.first + paint.count] = [paint.material] * paint.count
        said = [mesh.GetTriangleProperties(number) for number in range(mesh.GetTriangleCount())]
        assert {one.ResourceID for one in said} == {group.GetUniqueResourceID()}
        assert [names[one.PropertyIDs[0]] for one in said] == [painted.materials[number].name for number in expected]
    assert {(one.Red, one.Green, one.Blue) for one in colours.values()} == {(128, 128, 128), (255, 128, 0)}


def test_an_outside_reader_reads_painted_bodies(tmp_path: Path, painted: ThreeMF, bedful: ThreeMF) -> None:
    """Trimesh finds the same closed solids with paint as without."""
    volumes = []
    for name, content in (("plain", bedful), ("painted", painted)):
        write_3mf(tmp_path / f"{name}.3mf", content)
        meshes: list[Any] = trimesh.load_scene(tmp_path / f"{name}.3mf").dump()
        assert all(mesh.is_watertight for mesh in meshes)
        volumes.append(sorted(mesh.volume for mesh in meshes))
    assert volumes[0] == pytest.approx(volumes[1])


@pytest.mark.parametrize(
    "paint",
    [
        (Paint(0, 0, 1),),
        (Paint(-1, 2, 1),),
        (Paint(0, 2, 2),),
        (Paint(0, 2, -1),),
        (Paint(0, 10**6, 1),),
        (Paint(4, 2, 1), Paint(5, 1, 1)),
    ],
)
def test_paint_that_is_nowhere_is_refused(bedful: ThreeMF, paint: tuple[Paint, ...]) -> None:
    """Empty runs, runs beyond the triangles or over each other, materials that are not there."""
    block, ball = bedful.bodies
    with pytest.raises(FileFormatError, match="Paint"):
        model_xml(replace(bedful, bodies=(replace(block, paint=paint), ball)))
