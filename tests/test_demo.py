"""The demo room, built once and read back by libraries that are not ours: what the project promises of it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import jsonschema
import lib3mf
import pytest
import trimesh

from nookwright.build import build
from nookwright.exchange.kit_file import read_kit
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.survey.load import load_room
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit

DOCS = Path(__file__).resolve().parent.parent / "docs"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's kit folder."""
    out = tmp_path_factory.mktemp("demo") / "kit"
    with demo_path() as room:
        build(room, out, progress=Silent())
    return out


@pytest.fixture(scope="module")
def kit(folder: Path) -> Kit:
    """Its kit.json, read back."""
    return read_kit(folder / "kit.json")


def test_the_demo_has_six_spaces_forty_lots_two_beds_and_three_colours() -> None:
    """As the project describes it."""
    with demo_path() as path:
        room = load_room(path)
    assert len(room.space) >= 6
    assert len(room.lot) >= 40
    assert len({(printer.bed_width, printer.bed_depth) for printer in room.printer}) == 2
    assert len({material.colour for material in room.material}) == 3


def test_every_lot_is_placed_and_nothing_stops(kit: Kit) -> None:
    """All things of all lots are in trays, cradles, on a shoe or in a rest; no finding says do not print."""
    placed = {lot.id: sum(place.count for place in lot.places) for lot in kit.lots}
    assert placed == {lot.id: lot.count for lot in kit.lots}
    kinds = {part.id: part.kind for part in kit.parts}
    assert {kinds[place.part] for lot in kit.lots for place in lot.places} == {"tray", "cradle", "shoe", "rest"}
    assert [finding for finding in kit.findings if finding.severity is Severity.STOP] == []


def test_lots_lie_in_drawers_and_on_the_shelf_and_the_spot_below_it_is_empty(kit: Kit) -> None:
    """A spot under a shelf has no floor; it is loaded, left empty, and a note says so."""
    used = {placement.space for placement in kit.placements}
    spots = {space.id for space in kit.spaces if space.kind == "under-shelf"}
    assert used == {space.id for space in kit.spaces} - spots
    noted = {f.subject for f in kit.findings if f.code == "space-empty" and f.severity is Severity.NOTE}
    assert noted == spots != set()


def test_the_knife_lies_in_a_rest_and_nothing_warns_of_it(kit: Kit) -> None:
    """Two supports and a guard, its edge covered; what is left to say are the dowels to cut."""
    (place,) = next(lot.places for lot in kit.lots if lot.id == "bread-knife")
    assert (place.stance, len(place.held_by)) == ("in a rest", 2)
    said = [finding for finding in kit.findings if finding.subject == "bread-knife"]
    assert [(finding.code, finding.severity) for finding in said] == [("dowels-to-cut", Severity.NOTE)]


def test_the_demo_keeps_things_in_every_way(kit: Kit) -> None:
    """Upright, lying, heaped, in a box of its own, in a rest, in a dispenser; two lots share a tray."""
    found = {place.stance: lot.id for lot in kit.lots for place in lot.places}
    assert found.keys() >= {"upright", "lying", "heaped", "in a box", "in a rest", "in a dispenser"}
    places = {lot.id: place.placement for lot in kit.lots for place in lot.places}
    assert places["chain-links"] == places["cable-reels"]
    assert places["chains"] != places["cable-reels"]
    assert sum(part.kind == "lid" for part in kit.parts) == 1


def test_the_layout_reports_its_bound(kit: Kit) -> None:
    """Cost by parts, a proven bound not above it, the gap between the two, and what repeats it."""
    layout = kit.layout
    assert layout.total == pytest.approx(sum(part.value for part in layout.cost))
    assert 0 < layout.bound <= layout.total
    assert layout.gap == pytest.approx((layout.total - layout.bound) / layout.bound, abs=1e-4)
    assert layout.proven
    assert not layout.by_clock
    assert layout.iterations > 0


def test_the_waste_pipe_stays_free(kit: Kit) -> None:
    """No placed part's box enters the blocked box of the deep drawer."""
    space = next(space for space in kit.spaces if space.blocked)
    sizes = {part.id: part.size for part in kit.parts if part.kind in {"tray", "cradle", "shoe", "rest", "lid"}}
    (box,) = space.blocked
    for placement in kit.placements:
        if placement.space == space.id and placement.part in sizes:
            (x0, x1), (y0, y1) = _extent(placement.space_from_part, sizes[placement.part])
            assert x1 <= box.low[0] or x0 >= box.high[0] or y1 <= box.low[1] or y0 >= box.high[1]


def _extent(matrix: Any, size: Any) -> tuple[tuple[float, float], tuple[float, float]]:  # noqa: ANN401 - plain tuples
    """From where to where a turned box reaches along x and y."""
    found = []
    for row in matrix[:2]:
        ends = [row[0] * a + row[1] * b + row[3] for a in (0, size[0]) for b in (0, size[1])]
        found.append((min(ends), max(ends)))
    return found[0], found[1]


def test_a_part_too_long_for_the_beds_is_cut(kit: Kit) -> None:
    """The spokes' tray and every liner are printed in pieces."""
    pieces = {part.id: {piece.id for piece in kit.pieces if piece.part == part.id} for part in kit.parts}
    beds = [max(printer.bed[0], printer.bed[1]) - 2 * printer.margin for printer in kit.printers]
    long = [part for part in kit.parts if max(part.size[:2]) > max(beds)]
    assert {part.kind for part in long} >= {"tray", "panel"}
    assert all(len(pieces[part.id]) > 1 for part in long)


def stls(folder: Path) -> Iterator[Path]:
    """All STL files of the kit."""
    yield from sorted(folder.glob("*/*.stl"))


def test_every_stl_is_a_closed_solid_for_another_reader(folder: Path) -> None:
    """Trimesh (an outside reader): watertight, consistently wound, of positive volume, in one body."""
    for path in stls(folder):
        mesh = trimesh.load_mesh(path)
        assert mesh.is_watertight, path
        assert mesh.is_winding_consistent, path
        assert mesh.volume > 0, path
        assert mesh.body_count == 1, path


def test_every_3mf_is_read_strictly_without_a_warning(folder: Path, kit: Kit) -> None:
    """lib3mf (the reference library) in strict mode: no warning, every object manifold and oriented, millimetres."""
    wrapper = lib3mf.get_wrapper()
    for bedful in kit.bedfuls:
        model = wrapper.CreateModel()
        reader = model.QueryReader("3mf")
        reader.SetStrictModeActive(True)  # noqa: FBT003 - their signature
        reader.ReadFromFile(str(folder / bedful.file))
        assert reader.GetWarningCount() == 0, bedful.file
        assert model.GetUnit() == lib3mf.ModelUnit.MilliMeter
        items = model.GetBuildItems()
        padded = {pads.piece for pads in bedful.pads}
        assert items.Count() == len(bedful.items) + sum(item.piece in padded for item in bedful.items)
        objects = model.GetMeshObjects()
        while objects.MoveNext():
            assert objects.GetCurrentMeshObject().IsManifoldAndOriented(), bedful.file


def test_every_3mf_holds_the_volume_of_its_pieces_for_another_reader(folder: Path, kit: Kit) -> None:
    """Trimesh reads the bedful back: the volume of the scene is that of the pieces that kit.json names.

    Pads at corners come on top: their mass over their plastic's density, 1.24 g/cm3 of the demo's PLA.
    """
    volumes = {piece.id: piece.volume_mm3 for piece in kit.pieces}
    for bedful in kit.bedfuls:
        scene = trimesh.load_scene(folder / bedful.file)
        expected = sum(volumes[item.piece] for item in bedful.items)
        pads_g = {pads.piece: pads.mass_g for pads in bedful.pads}
        more = sum(pads_g.get(item.piece, 0.0) for item in bedful.items) / 1.24 * 1000
        assert scene.to_mesh().volume - more == pytest.approx(expected, rel=1e-5, abs=0.15 * more), bedful.file


def test_the_kit_fits_its_published_schema(folder: Path) -> None:
    """Jsonschema (an outside validator) against docs/kit.schema.json."""
    schema = json.loads((DOCS / "kit.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads((folder / "kit.json").read_text(encoding="utf-8")), schema)


def test_the_pictures_of_the_docs_are_the_plans_of_the_demo(folder: Path) -> None:
    """The README shows what the tool draws today; renew with scripts/renew_docs.py."""
    for plan in sorted((folder / "plans").glob("*.svg")):
        assert (DOCS / "pictures" / f"plan-{plan.name}").read_bytes() == plan.read_bytes(), plan.name
