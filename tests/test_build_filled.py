"""The whole way with a bay, a stack and parts that stay: built, and proven from the files that were written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.build import build
from nookwright.documents.items import items_of
from nookwright.documents.places import laid_in
from nookwright.documents.plan import plan_svg
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit, Placement
    from nookwright.layout.place import Effort

LOCK = """
[[space.blocked]]
reason = "the lock"
x = 80
y = 135
width = 30
depth = 15
"""


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Meshes and proofs that the builds share."""
    return tmp_path_factory.mktemp("cache")


def built(tiny_file: Path, folder: Path, quick: Effort, cache: Path, changes: dict[str, str]) -> Kit:
    """The tiny room with some of its text replaced, built."""
    text = tiny_file.read_text(encoding="utf-8")
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new, 1)
    room = folder / "room.toml"
    room.write_text(text, encoding="utf-8")
    return build(room, folder / "kit", progress=Silent(), effort=quick, cache=cache)


def stops(kit: Kit) -> list[str]:
    """What keeps a kit from being printed, in words."""
    return [f"{found.subject}: {found.text}" for found in kit.findings if found.severity is Severity.STOP]


def of_kind(kit: Kit, kind: str) -> list[Placement]:
    """The placements of a kind of part."""
    kinds = {part.id: part.kind for part in kit.parts}
    return [one for one in kit.placements if kinds[one.part] == kind]


def test_a_bay_is_fenced_and_proven(tiny_file: Path, tmp_path: Path, quick: Effort, cache: Path) -> None:
    """Fences in joined pieces, seated on the panels, in no other part's way; named in the plan and in a finding."""
    larger = {"width = 200": "width = 310", "depth = 150": "depth = 270", LOCK: ""}
    kit = built(tiny_file, tmp_path, quick, cache, {**larger, "load_kg = 6": 'load_kg = 6\nrest = "fenced"'})
    assert stops(kit) == []
    fences, panels = of_kind(kit, "fence"), {one.id for one in of_kind(kit, "panel")}
    assert len(fences) > 1
    assert all(set(one.stands_on) <= panels and one.stands_on for one in fences)
    assert "fence" in (tmp_path / "kit" / "plans" / "drawer.svg").read_text(encoding="utf-8")
    assert [found.text for found in kit.findings if "open bay" in found.text]
    assert [one.label for one in kit.placements].count("odds and ends") == 1


DEEP = """format = 1
[room]
name = "A deep drawer that is too small"
[module]
pitch = 18
[choices]
stacks = {stacks}
[[space]]
id = "drawer"
kind = "drawer"
width = 200
depth = 110
height = 120
floor_height = 800
load_kg = 6
[[lot]]
id = "blocks"
shape = "box"
width = 60
depth = 40
height = 30
count = 2
mass_g = 20
use = "rarely"
[[lot]]
id = "dice"
shape = "box"
width = 16
depth = 16
height = 16
count = 30
mass_g = 5
use = "daily"
[[lot]]
id = "notes"
shape = "flat"
width = 76
depth = 51
thickness = 0.5
count = 40
mass_g = 0.4
[[printer]]
id = "small"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["white"]
[[material]]
id = "white"
colour = "#f0f0f0"
density_g_cm3 = 1.24
"""


def deep(folder: Path, quick: Effort, cache: Path, *, stacks: bool) -> Kit:
    """The kit of a deep drawer whose floor is too small for its lots."""
    room = folder / "room.toml"
    room.write_text(DEEP.format(stacks=str(stacks).lower()), encoding="utf-8")
    return build(room, folder / "kit", progress=Silent(), effort=quick, cache=cache)


def test_a_stack_is_made_and_proven(tmp_path: Path, quick: Effort, cache: Path) -> None:
    """A daily lot stands on the deck lid of one that is rarely used; nothing touches what it should not."""
    kit = deep(tmp_path, quick, cache, stacks=True)
    assert stops(kit) == []
    assert kit.totals.lots_placed == 3
    (lid,) = of_kind(kit, "lid")
    by_id = {one.id: one for one in kit.placements}
    (below,) = (by_id[name] for name in lid.stands_on)
    (above,) = (one for one in kit.placements if lid.id in one.stands_on)
    assert (below.label, above.label, lid.label) == ("blocks", "dice, above blocks", "deck lid, blocks")
    heights = [one.space_from_part[2][3] for one in (below, lid, above)]
    assert heights == sorted(heights)
    assert [found.subject for found in kit.findings if found.code == "stacked"] == ["dice"]


def test_the_plan_shows_the_upper_part_and_marks_the_lower_one(tmp_path: Path, quick: Effort, cache: Path) -> None:
    """What is below another part is not drawn over what is above; it has a row in the list and a ring outside."""
    kit = deep(tmp_path, quick, cache, stacks=True)
    laid = laid_in(kit, "drawer")
    hidden = [one for one in laid if one.hidden]
    assert sorted(one.part.kind for one in hidden) == ["lid", "tray"]
    drawing = plan_svg(kit, "drawer")
    assert drawing.count('"part"') == sum(not one.hidden and not one.is_liner for one in laid)
    listed = items_of(laid, (), {})
    (lower,) = (item for item in listed if item.label == "blocks")
    assert lower.mark
    assert f">{lower.mark}<" in drawing


def test_without_stacks_a_lot_stays_out(tmp_path: Path, quick: Effort, cache: Path) -> None:
    """The same drawer with stacks = false."""
    kit = deep(tmp_path, quick, cache, stacks=False)
    assert stops(kit) == []
    assert of_kind(kit, "lid") == []
    assert kit.totals.lots_placed == 2
