from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.build import sketch
from nookwright.cutting.model import uncut
from nookwright.documents.bill import bill_csv
from nookwright.exchange.assemble import space_matrix, turned_matrix
from nookwright.exchange.kit_file import kit_text, read_kit, write_kit
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError
from nookwright.ground.findings import Finding, Severity
from nookwright.parts.model import Kind as KitKind
from nookwright.parts.model import Part
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Prism

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.exchange.kit import Kit, Matrix

DOCS = Path(__file__).parents[2] / "docs"
SIZE = st.floats(0.1, 300)


@pytest.fixture(scope="module")
def kit(tiny: Designed) -> Kit:
    """The kit of the tiny room in closed forms."""
    return sketch(tiny, digest("room"))


def test_totals_add_up(kit: Kit) -> None:
    """Grams, hours, prices and counts are those of what they are the sums of."""
    totals = kit.totals
    grams = sum(piece.mass_g * piece.count for piece in kit.pieces)
    assert totals.mass_g == pytest.approx(grams)
    assert totals.mass_g == pytest.approx(sum(material.mass_g for material in kit.materials))
    assert totals.mass_g == pytest.approx(sum(bedful.mass_g for bedful in kit.bedfuls))
    assert totals.mass_g == pytest.approx(sum(space.mass_g for space in kit.spaces))
    assert totals.price == pytest.approx(sum(material.price for material in kit.materials))
    assert totals.time_s == pytest.approx(sum(bedful.time_s for bedful in kit.bedfuls))
    assert totals.pieces == sum(piece.count for piece in kit.pieces) == sum(len(b.items) for b in kit.bedfuls)
    assert totals.parts == len(kit.parts)
    assert totals.bedfuls == len(kit.bedfuls)
    assert (totals.lots, totals.lots_placed) == (3, 3)
    floor = kit.spaces[0].usable[0]
    assert totals.area_dm2 == pytest.approx(floor.width * floor.depth / 1e4)
    assert totals.g_per_dm2 == pytest.approx(grams / totals.area_dm2)


def test_a_part_weighs_what_its_pieces_do(kit: Kit) -> None:
    """In one material, each piece once."""
    for part in kit.parts:
        mine = [piece for piece in kit.pieces if piece.part == part.id]
        mine = [piece for piece in mine if piece.material == mine[0].material]
        assert part.mass_g == pytest.approx(sum(piece.mass_g for piece in mine))
        assert part.time_s == pytest.approx(sum(piece.time_s for piece in mine))


def test_a_space_carries_its_prints_and_things(kit: Kit) -> None:
    """Prints by the placements in it, things by their lots; the limit in grams."""
    (space,) = kit.spaces
    assert space.load_g == pytest.approx(space.mass_g + 3 * 4 + 10 * 5 + 40 * 0.4)
    assert space.load_limit_g == 6000
    weights = {part.id: part.mass_g for part in kit.parts}
    assert space.mass_g == pytest.approx(sum(weights[placement.part] for placement in kit.placements))


def test_matrices_are_proper(kit: Kit) -> None:
    """Rotations about z by quarter turns without mirroring; the last row is 0 0 0 1."""
    matrices = [placement.space_from_part for placement in kit.placements]
    matrices += [piece.part_from_piece for piece in kit.pieces]
    matrices += [item.bed_from_piece for bedful in kit.bedfuls for item in bedful.items]
    for matrix in matrices:
        array = np.array(matrix)
        assert array[3].tolist() == [0, 0, 0, 1]
        assert np.linalg.det(array[:3, :3]) == 1
        assert set(np.abs(array[:3, :3]).ravel()) == {0.0, 1.0}
        assert array[2].tolist()[:3] == [0, 0, 1]


def test_placed_parts_lie_in_the_usable_space(kit: Kit) -> None:
    """Their boxes, moved by their matrices, at every placement."""
    (space,) = kit.spaces
    sizes = {part.id: part.size for part in kit.parts}
    for placement in kit.placements:
        low, high = moved_box(placement.space_from_part, sizes[placement.part])
        assert (low >= 0).all()
        assert high[0] <= space.usable[0].width
        assert high[1] <= space.usable[0].depth
        assert high[2] <= space.height


def moved_box(matrix: Matrix, size: tuple[float, float, float]) -> tuple[np.ndarray, np.ndarray]:
    """The box of a body whose own box begins at the origin, after a matrix."""
    corners = np.array([[x, y, z, 1] for x in (0, size[0]) for y in (0, size[1]) for z in (0, size[2])])
    points = corners @ np.array(matrix).T
    return points.min(axis=0)[:3], points.max(axis=0)[:3]


def test_pieces_lie_in_their_part(kit: Kit) -> None:
    """A piece's box, moved into the part, is inside the part's box; together the boxes reach all its sides."""
    sizes = {part.id: np.array(part.size) for part in kit.parts}
    reach: dict[str, np.ndarray] = {}
    for piece in kit.pieces:
        low, high = moved_box(piece.part_from_piece, piece.size)
        assert (low >= -1e-6).all()
        assert (high <= sizes[piece.part] + 1e-6).all()
        reach[piece.part] = np.maximum(reach.get(piece.part, high), high)
    for part, size in sizes.items():
        assert reach[part] == pytest.approx(size, abs=1e-6)


def test_pieces_lie_on_their_beds(kit: Kit) -> None:
    """Their boxes, moved, are inside the margins."""
    printers = {printer.id: printer for printer in kit.printers}
    sizes = {piece.id: piece.size for piece in kit.pieces}
    for bedful in kit.bedfuls:
        printer = printers[bedful.printer]
        for item in bedful.items:
            low, high = moved_box(item.bed_from_piece, sizes[item.piece])
            assert low[:2].min() >= printer.margin - 1e-6
            assert low[2] == 0
            assert (high[:2] <= np.array(printer.bed[:2]) - printer.margin + 1e-6).all()
            assert high[2] <= printer.bed[2]


def test_every_id_that_is_named_exists(kit: Kit) -> None:
    """References end somewhere, and ids are there once."""
    ids = {
        name: [entry.id for entry in getattr(kit, name)]
        for name in ("spaces", "lots", "parts", "placements", "pieces", "printers", "materials", "bedfuls")
    }
    assert all(len(set(names)) == len(names) for names in ids.values())
    assert {placement.part for placement in kit.placements} == set(ids["parts"])
    assert {placement.space for placement in kit.placements} <= set(ids["spaces"])
    assert {piece.part for piece in kit.pieces} == set(ids["parts"])
    assert {piece.material for piece in kit.pieces} <= set(ids["materials"])
    assert {bedful.printer for bedful in kit.bedfuls} <= set(ids["printers"])
    assert {item.piece for bedful in kit.bedfuls for item in bedful.items} == set(ids["pieces"])
    places = [place for lot in kit.lots for place in lot.places]
    assert {place.placement for place in places} <= set(ids["placements"])
    part_of = {placement.id: placement.part for placement in kit.placements}
    assert all(part_of[place.placement] == place.part for place in places)
    assert all(len(place.at) == place.count for place in places)


def test_findings_are_sorted_and_said_once(tiny: Designed) -> None:
    """What must stop a print comes first."""
    note, stop = (Finding("a", severity, "x", "text", "remedy") for severity in (Severity.NOTE, Severity.STOP))
    kit = sketch(replace(tiny, findings=(note, stop, note)), digest("room"))
    assert [found.severity for found in kit.findings] == [Severity.STOP, Severity.NOTE]


def test_the_kit_obeys_the_published_schema(kit: Kit) -> None:
    """kit.json against the schema in the docs, by a validator that is not ours."""
    schema = json.loads((DOCS / "kit.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads(kit_text(kit)), schema, cls=jsonschema.Draft202012Validator)


def test_a_kit_is_read_back_as_it_was_written(kit: Kit, tmp_path: Path) -> None:
    """And its text repeats, byte by byte."""
    write_kit(tmp_path / "kit.json", kit)
    again = read_kit(tmp_path / "kit.json")
    assert again == kit
    assert kit_text(again) == kit_text(kit)
    assert b"\r" not in (tmp_path / "kit.json").read_bytes()


@pytest.mark.parametrize("content", [b"", b"{}", b"\xff\xfe", b'{"format": 2}'])
def test_what_is_no_kit_is_refused(tmp_path: Path, content: bytes) -> None:
    """With the name of the file in the message."""
    path = tmp_path / "kit.json"
    path.write_bytes(content)
    with pytest.raises(FileFormatError, match=r"kit\.json"):
        read_kit(path)


@given(x=SIZE, y=SIZE, turns=st.integers(-4, 7), width=SIZE, depth=SIZE)
def test_a_turned_body_has_its_corner_at_the_point(x: float, y: float, turns: int, width: float, depth: float) -> None:
    """Its box begins there, whatever the turn, and has its sides exchanged by odd ones."""
    low, high = moved_box(turned_matrix(x, y, 2.0, turns, (width, depth, 5.0)), (width, depth, 5.0))
    assert low == pytest.approx([x, y, 2.0], abs=2e-6)
    sides = (depth, width) if turns % 2 else (width, depth)
    assert high - low == pytest.approx([*sides, 5.0], abs=2e-6)


@pytest.mark.parametrize("turns", range(4))
@pytest.mark.parametrize("size", [(60.0, 12.0, 1.4), (20.0, 40.0, 3.0)])
def test_what_stands_upright_is_set_on_its_front_edge(
    tiny: Designed, turns: int, size: tuple[float, float, float]
) -> None:
    """Its box starts where it is said, its face looks to the front before it is turned, and its width stays level."""
    x, y, z = 12.5, 40.25, 3.0
    part = Part(KitKind.NAME_STRIP, "strip", (), Prism(Rect(size[0], size[1]), size[2]), tiny.copies[0].part.plastic)
    copy = replace(tiny.copies[0], part=part, spec=None, x=x, y=y, z=z, quarter_turns=turns, upright=True)
    matrix = np.array(space_matrix(copy))
    corners = np.array([[a, b, c, 1] for a in (0, size[0]) for b in (0, size[1]) for c in (0, size[2])], dtype=float)
    moved = (corners @ matrix.T)[:, :3]
    width, depth = (size[2], size[0]) if turns % 2 else (size[0], size[2])
    np.testing.assert_allclose(moved.min(axis=0), [x, y, z], atol=1e-5)
    np.testing.assert_allclose(moved.max(axis=0), [x + width, y + depth, z + size[1]], atol=1e-5)
    assert np.linalg.det(matrix[:3, :3]) == pytest.approx(1.0)
    face = matrix[:3, :3] @ [0.0, 0.0, 1.0]
    np.testing.assert_allclose(face, [(0, -1, 0), (1, 0, 0), (0, 1, 0), (-1, 0, 0)][turns], atol=1e-9)


def test_what_goes_into_a_tray_stands_on_it(tiny: Designed) -> None:
    """A loose part names the tray around it, not the panels below, and the bill says which tray it belongs to."""
    trays = [copy for copy in tiny.copies if copy.part.kind is KitKind.TRAY]
    part = Part(KitKind.DIVIDER, "divider", (), Prism(Rect(8.0, 6.0), 1.2), tiny.copies[0].part.plastic)
    loose = [
        replace(
            one,
            part=part,
            spec=None,
            label=f"divider, {one.label}",
            x=one.x + 3,
            y=one.y + 3,
            upright=True,
            lined=False,
        )
        for one in trays
    ]
    cut = {**tiny.cut, part.recipe.digest: uncut(part)}
    kit = sketch(replace(tiny, copies=(*tiny.copies, *loose), cut=cut), digest("room"))
    names = {placement.id: placement for placement in kit.placements}
    found = [placement for placement in kit.placements if placement.label.startswith("divider, ")]
    assert len(found) == len(trays)
    for placement in found:
        (carrier,) = placement.stands_on
        assert f"divider, {names[carrier].label}" == placement.label
    row = next(line for line in bill_csv(kit).splitlines() if line.startswith("divider"))
    assert all(f"divider, {one.label}" in row for one in trays)
