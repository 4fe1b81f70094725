"""A space drawn roughly, against the plan that it is drawn from and the solids that take its place."""

from __future__ import annotations

import json
import struct
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.ground.progress import Silent
from nookwright.studio.rough import lot_at, placements_of, rough_of, rough_part
from nookwright.studio.solid_files import make_solid

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.studio.arrangement import Arrangement
    from nookwright.studio.planned import Planned
    from nookwright.studio.state import Studio

SPACE = "drawer"


@pytest.fixture
def plan(studio: Studio) -> Planned:
    """The tiny room, planned."""
    assert studio.planned is not None
    return studio.planned


@pytest.fixture
def now(studio: Studio) -> Arrangement:
    """What stands where."""
    assert studio.arrangement is not None
    return studio.arrangement


def nodes(file: Path) -> list[str]:
    """Names of what has a mesh in a GLB, read by hand."""
    content = file.read_bytes()
    (length,) = struct.unpack("<I", content[12:16])
    return sorted(one["name"] for one in json.loads(content[20 : 20 + length])["nodes"] if "mesh" in one)


def by_name(rows: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """Rows by their names."""
    return {row["name"]: row for row in rows}


def free_cell(now: Arrangement, name: str) -> tuple[int, int]:
    """Another place of its space where a part may stand."""
    one, sheet = now.item(name), now.sheets.sheet(SPACE)
    for row in range(sheet.rows):
        for col in range(sheet.cols):
            try:
                if now.moved(name, SPACE, col, row) is not now and (col, row) != (one.col, one.row):
                    return col, row
            except ValueError:
                continue
    raise AssertionError("the drawer is full")


def test_every_part_is_drawn_with_its_outer_size_where_it_will_stand(plan: Planned, now: Arrangement) -> None:
    """Liner and fillers too, the liner without its cones; trays are open, what lies flat is not."""
    rows = by_name(rough_of(plan, now, SPACE))
    parts = {one.id: one for one in plan.kit.parts}
    here = [one for one in plan.kit.placements if one.space == SPACE]
    assert list(rows) == [one.id for one in here]
    for one in here:
        row, part = rows[one.id], parts[one.part]
        assert row["size"][:2] == pytest.approx(part.size[:2], abs=0.01)
        assert row["size"][2] == pytest.approx(part.parameters["thickness"] if part.kind == "panel" else part.size[2])
        assert row["place"] == pytest.approx([x for line in one.space_from_part[:3] for x in line], abs=0.001)
        assert row["shape"] == part.recipe
        assert (row["wall"] > 0) == (part.kind in {"tray", "cradle", "shoe"})


def test_solids_have_the_names_of_what_is_drawn_roughly(plan: Planned, now: Arrangement) -> None:
    """One for each, so that none stays rough and none stands twice; parts arrive in files that have all together."""
    files: list[Path] = []
    made = make_solid(out=plan.folder, space=SPACE, progress=Silent(), processes=1, arrived=files.append)
    names = sorted(row["name"] for row in rough_of(plan, now, SPACE))
    assert nodes(plan.folder / f"{SPACE}.glb") == names
    assert made["glb"] == str(plan.folder / f"{SPACE}.glb")
    assert sorted(name for file in files for name in nodes(file)) == names


def test_what_holds_things_arrives_before_the_liner(
    plan: Planned, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is what is seen; with nothing remembered from before."""
    monkeypatch.setattr("nookwright.terminal.cache_folder", lambda: tmp_path)
    files: list[Path] = []
    make_solid(out=plan.folder, space=SPACE, progress=Silent(), processes=1, arrived=files.append)
    assert len(files) > 1
    holding = {place.placement for lot in plan.kit.lots for place in lot.places}
    panels = {one.id for one in plan.kit.placements if one.label == "liner panel"}
    order = [set(nodes(file)) for file in files]
    last_held = max(number for number, names in enumerate(order) if names & holding)
    assert all(number > last_held for number, names in enumerate(order) if names & panels)


def test_a_part_that_was_moved_is_where_the_hand_put_it(plan: Planned, now: Arrangement) -> None:
    """With its solid, which only stands elsewhere; all else stays."""
    before = by_name(rough_of(plan, now, SPACE))
    col, row = free_cell(now, "dice")
    old = now.item("dice")
    after = by_name(rough_of(plan, now.moved("dice", SPACE, col, row), SPACE))
    (name,) = placements_of(plan, "dice")
    pitch = plan.sheets.pitch
    then, new = before.pop(name), after.pop(name)
    shift = [new["place"][n] - then["place"][n] for n in (3, 7, 11)]
    assert shift == pytest.approx([(col - old.col) * pitch, (row - old.row) * pitch, 0], abs=0.11)
    assert (new["shape"], new["size"]) == (then["shape"], then["size"])
    assert after == before


def test_a_part_of_another_size_is_drawn_anew_and_no_old_solid_takes_its_place(plan: Planned, now: Arrangement) -> None:
    """Its outer size is that of its cells."""
    one = now.item("dice")
    col, row = next(
        (col, row)
        for row in range(now.sheets.sheet(SPACE).rows)
        for col in range(now.sheets.sheet(SPACE).cols)
        if _fits(now, col, row, one.cols + 1, one.rows)
    )
    larger = now.moved("dice", SPACE, col, row).resized("dice", one.cols + 1, one.rows)
    (name,) = placements_of(plan, "dice")
    found = by_name(rough_of(plan, larger, SPACE))[name]
    assert found["shape"] == ""
    pitch, gap = plan.sheets.pitch, plan.sheets.gap
    assert found["size"][:2] == pytest.approx([(one.cols + 1) * pitch - gap, one.rows * pitch - gap], abs=0.01)


def _fits(now: Arrangement, col: int, row: int, cols: int, rows: int) -> bool:
    """Whether the dice could stand there, that large."""
    try:
        now.moved("dice", SPACE, col, row).resized("dice", cols, rows)
    except ValueError:
        return False
    return True


def test_what_is_clicked_leads_to_its_lot(plan: Planned) -> None:
    """And back to where it is; a name that is forged, or of the liner, leads nowhere."""
    for lot in plan.kit.lots:
        for name in placements_of(plan, lot.id):
            assert lot_at(plan, name) == lot.id
    panel = next(one.id for one in plan.kit.placements if one.label == "liner panel")
    assert (lot_at(plan, panel), lot_at(plan, "no such"), placements_of(plan, "no such")) == ("", "", [])


def test_a_part_by_itself_is_drawn_where_its_solid_will_be(plan: Planned, now: Arrangement) -> None:
    """The row that it has in its space, under the name of the part; of a shape that the kit has not, none."""
    rows = {row["shape"]: row for row in reversed(rough_of(plan, now, SPACE))}
    for part in plan.kit.parts:
        (row,) = rough_part(plan.kit, part.recipe)
        if part.recipe in rows:
            assert {**row, "name": ""} == {**rows[part.recipe], "name": ""}
    assert rough_part(plan.kit, "no such") == []
