"""The whole way on a tiny room: built, proven, repeated, and read back by readers that are not ours."""

from __future__ import annotations

from typing import TYPE_CHECKING

import lib3mf
import pytest
import trimesh

from nookwright.build import build, sketch
from nookwright.exchange.kit_file import read_kit
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.survey.load import room_sha256

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.exchange.kit import Kit
    from nookwright.layout.place import Effort


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the kit is built."""
    return tmp_path_factory.mktemp("build") / "kit"


@pytest.fixture(scope="module")
def kit(folder: Path, tiny_file: Path, quick: Effort) -> Kit:
    """The kit of the tiny room, built."""
    return build(tiny_file, folder, progress=Silent(), effort=quick)


def content(folder: Path) -> dict[str, bytes]:
    """All files below a folder."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_tiny_room_is_built_without_a_stop(kit: Kit) -> None:
    """Every lot is placed, every file proven."""
    assert [found for found in kit.findings if found.severity is not Severity.NOTE] == []
    assert kit.totals.lots_placed == kit.totals.lots == 3
    assert {part.kind for part in kit.parts} == {"tray", "cradle", "panel", "filler", "key"}


def test_the_kit_on_disk_is_the_kit(kit: Kit, folder: Path, tiny_file: Path) -> None:
    """kit.json says what was built, and from which room file."""
    assert read_kit(folder / "kit.json") == kit
    assert kit.room_sha256 == room_sha256(tiny_file)
    assert {"kit.json", "index.html", "bill.csv"} <= set(content(folder))


def test_every_file_that_the_kit_names_is_there(kit: Kit, folder: Path) -> None:
    """And every mesh in the folder is named by the kit."""
    named = {part.stl for part in kit.parts} | {piece.file for piece in kit.pieces} | {b.file for b in kit.bedfuls}
    named |= {piece.file for trial in kit.first.trials for piece in trial.pieces}
    named |= {bedful.file for bedful in kit.first.bedfuls}
    assert named == {name for name in content(folder) if name.endswith((".stl", ".3mf"))}


def test_built_twice_it_is_the_same_byte_by_byte(
    kit: Kit, folder: Path, tiny_file: Path, tmp_path: Path, quick: Effort
) -> None:
    """Elsewhere, with a cache, in the same process; and the first kit can be replaced by its own like."""
    again = build(tiny_file, tmp_path / "again", progress=Silent(), effort=quick, cache=tmp_path / "cache")
    assert again == kit
    first, second = content(folder), content(tmp_path / "again")
    assert sorted(first) == sorted(second)
    assert [name for name in first if first[name] != second[name]] == []
    build(tiny_file, tmp_path / "again", progress=Silent(), effort=quick, cache=tmp_path / "cache")
    assert content(tmp_path / "again") == second


def test_a_kit_without_cut_parts_can_be_replaced(tiny_file: Path, tmp_path: Path, quick: Effort) -> None:
    """Nothing that the first build leaves is strange to the second."""
    room = tmp_path / "room.toml"
    text = tiny_file.read_text(encoding="utf-8")
    room.write_text(text.replace("bed_width = 120", "bed_width = 300").replace("bed_depth = 130", "bed_depth = 300"))
    kits = [build(room, tmp_path / "kit", progress=Silent(), effort=quick, cache=tmp_path / "cache") for _ in range(2)]
    assert kits[0] == kits[1]
    assert {piece.part for piece in kits[0].pieces} == {part.id for part in kits[0].parts}
    assert len(kits[0].pieces) == len(kits[0].parts)


def test_printers_of_different_layers_share_a_kit(tiny_file: Path, tmp_path: Path, quick: Effort) -> None:
    """0.2 and 0.3 have 0.6 in common; the kit is built and proven at that."""
    room = tmp_path / "room.toml"
    text = tiny_file.read_text(encoding="utf-8")
    head, tail = text.split("[[printer]]")
    printer = tail.split("[[material]]")[0]
    second = printer.replace('"small"', '"coarse"') + "layer = 0.3\n\n"
    room.write_text(f"{head}[[printer]]{second}[[printer]]{tail}", encoding="utf-8")
    kit = build(room, tmp_path / "kit", progress=Silent(), effort=quick)
    assert [found for found in kit.findings if found.severity is Severity.STOP] == []


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
def test_trimesh_finds_every_mesh_sound(kit: Kit, folder: Path) -> None:
    """Watertight, consistent in winding, of the volume and size that kit.json says."""
    for piece in kit.pieces:
        mesh = trimesh.load_mesh(folder / piece.file)
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.body_count == 1
        assert mesh.volume == pytest.approx(piece.volume_mm3, rel=1e-4)
        assert mesh.extents == pytest.approx(piece.size, abs=1e-3)


def test_lib3mf_reads_every_bedful_strictly(kit: Kit, folder: Path) -> None:
    """No warning, all objects manifold and oriented, as many items as the kit says."""
    wrapper = lib3mf.get_wrapper()
    for bedful in kit.bedfuls:
        model = wrapper.CreateModel()
        reader = model.QueryReader("3mf")
        reader.SetStrictModeActive(True)  # noqa: FBT003 - the library's own way
        reader.ReadFromFile(str(folder / bedful.file))
        assert reader.GetWarningCount() == 0
        objects = model.GetMeshObjects()
        count = 0
        while objects.MoveNext():
            count += 1
            assert objects.GetCurrentMeshObject().IsManifoldAndOriented()
        assert count == len({item.piece for item in bedful.items})
        items = model.GetBuildItems()
        assert items.Count() == len(bedful.items)


def test_a_sketch_is_the_kit_without_files(kit: Kit, tiny: Designed) -> None:
    """The same placements and pieces, weighed in closed form to within a tenth."""
    drawn = sketch(tiny, kit.room_sha256)
    assert drawn.placements == kit.placements
    assert [piece.id for piece in drawn.pieces] == [piece.id for piece in kit.pieces]
    assert drawn.totals.mass_g == pytest.approx(kit.totals.mass_g, rel=0.1)
