"""Parts in section: where they are cut, which dimensions are drawn, and where in the room file each is typed."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.exchange.kit_file import read_kit
from nookwright.studio.section import others, section_of, size_rows
from nookwright.studio.section_dimensions import dimensions_of
from nookwright.studio.section_facts import pockets_of

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.studio.section import Section


@pytest.fixture(scope="module")
def kit(planned: dict[str, Any]) -> Kit:
    """Of the tiny room."""
    return read_kit(Path(planned["kit"]))


@pytest.fixture(scope="module")
def sections(kit: Kit) -> list[Section]:
    """Of every part of it."""
    keys = [one.id for one in kit.lots if one.places] + [key for key, _ in others(kit)]
    return [found for key in keys if (found := section_of(kit, key)) is not None]


def test_every_part_of_a_kit_has_a_section(kit: Kit, sections: list[Section]) -> None:
    """What holds things by its lot, all else by itself."""
    used = {one.part for one in kit.placements}
    assert {one.shape for one in sections} == {part.recipe for part in kit.parts if part.id in used}
    assert section_of(kit, "part:nothing") is None
    assert section_of(kit, "nothing") is None


def test_a_section_cuts_the_part(sections: list[Section]) -> None:
    """Each along one axis, inside the part."""
    for one in sections:
        for axis, view in enumerate(one.views):
            assert view.axis == axis
            assert view.wide == one.size[axis]
            assert 0 < view.at < one.size[1 - axis]


def test_every_part_has_its_three_outer_sizes_and_no_dimension_twice(sections: list[Section]) -> None:
    """Whatever its kind."""
    for one in sections:
        keys = [dim.key for dim in one.dimensions]
        assert len(set(keys)) == len(keys)
        outer = {dim.key: dim.value for dim in one.dimensions if dim.key in {"width", "depth", "height"}}
        assert tuple(outer[key] for key in ("width", "depth", "height")) == one.size


def test_what_is_drawn_is_as_long_as_it_says(kit: Kit, sections: list[Section]) -> None:
    """From its first point to its second; a thing is drawn at its limit, which is a little more than was measured."""
    limits: dict[tuple[str | int, ...], float] = {
        ("lot", lot.id, size.dimension): size.limit for lot in kit.lots for size in lot.sizes
    }
    for one in sections:
        for dim in one.dimensions:
            if dim.view >= 0:
                drawn = max(abs(end - start) for start, end in zip(dim.start, dim.end, strict=True))
                limit = limits.get(dim.path, dim.value)
                assert drawn == pytest.approx(limit, abs=0.76 if dim.path in limits else 0.011)


def test_what_is_typed_has_a_place_in_the_room_file(sections: list[Section], tiny_file: Path) -> None:
    """The table is there; outer sizes have none, they are those of a place."""
    room = tomllib.loads(tiny_file.read_text(encoding="utf-8"))
    ids = {(name, one["id"]) for name in ("lot", "box") for one in room.get(name, [])}
    for one in sections:
        for dim in one.dimensions:
            if dim.path:
                assert tuple(dim.path[:2]) in ids
            elif dim.typed:
                assert (dim.sets or dim.key) in {"width", "depth", "height"}
    assert any(dim.typed and dim.path for one in sections for dim in one.dimensions)


def test_a_dimension_is_typed_or_says_why_not(sections: list[Section]) -> None:
    """One of both, and never both; the reason is a sentence."""
    for one in sections:
        for dim in one.dimensions:
            assert dim.typed == (not dim.why)
            assert dim.typed or dim.why.endswith(".")
    assert {dim.typed for one in sections for dim in one.dimensions} == {True, False}


@pytest.mark.parametrize("key", ["deep", "inside.width", "inside.depth"])
def test_an_inner_size_sets_the_outer_one(sections: list[Section], key: str) -> None:
    """By as much more as stands beside it: a wall on either side, or the floor of a pocket."""
    found = [(dim, one) for one in sections for dim in one.dimensions if dim.key == key and dim.typed]
    assert found
    for dim, one in found:
        outer = next(other.value for other in one.dimensions if other.key == dim.sets)
        assert dim.value + dim.more == pytest.approx(outer, abs=0.011)


def test_how_sizes_are_known_stands_beside_them(kit: Kit) -> None:
    """A limit is never below what was measured."""
    for lot in kit.lots:
        rows = size_rows(kit, lot.id)
        assert len(rows) == len(lot.sizes)
        for row in rows:
            assert float(row[2]) >= max(float(one) for one in row[1].split("; ")) - 0.005


def _part(kit: Kit, kind: str, **parameters: Any) -> KitPart:  # noqa: ANN401 - as kit.json has them
    part = kit.parts[0]
    return part.model_copy(update={"kind": kind, "size": (100.0, 60.0, 40.0), "parameters": parameters})


def test_pockets_are_counted_row_by_row(kit: Kit) -> None:
    """Where every other row is moved and has one less, it is counted so."""
    rows = {"pockets_x": (10.0, 30.0, 50.0), "pockets_y": (10.0, 30.0)}
    assert pockets_of(_part(kit, "cradle", **rows)) == 6
    assert pockets_of(_part(kit, "cradle", **rows, moved=10.0, moved_short=True)) == 5
    assert pockets_of(_part(kit, "tray")) == 0


@pytest.mark.parametrize(
    ("kind", "parameters", "wanted"),
    [
        ("tray", {"wall": 1.2, "columns_at": (50.0,)}, {"columns_at.0": 50.0, "inside.depth": 57.6}),
        ("tray", {"wall": 1.2, "inlay": 2.0, "grip": "notch", "grip_sides": "front back", "notch": (22.0, 12.0)},
         {"inlay": 2.0, "notch": 12.0}),
        ("tray", {"low_side": "front", "low_share": 0.5, "strip_height": 12.0}, {"low": 20.0, "strip": 12.0}),
        ("cradle", {"pocket": 15.0, "pockets_x": (10.0, 27.0), "pockets_y": (10.0,)},
         {"pocket": 15.0, "apart.x": 17.0}),
        ("shoe", {"thing_width": 80.0, "thing_depth": 50.0}, {"box.width": 80.0, "box.depth": 50.0}),
        ("rest", {"slots": "blade 2.1 x 31", "slots_at": (32.7,), "dowels_at": (10.0, 54.0)},
         {"slot.0": 32.7, "dowels": 44.0, "slot.width": 2.1, "slot.depth": 31.0}),
        ("panel", {"cols": 4, "pitch": 22.0, "thickness": 0.6}, {"pitch": 22.0, "thickness": 0.6}),
        ("filler", {"thickness": 0.6, "width": 9.0}, {"thickness": 0.6, "covers": 9.0}),
        ("lid", {}, {"height": 40.0}),
        ("key", {"thickness": 0.6}, {"thickness": 0.6}),
        ("name strip", {"thickness": 1.0}, {"thickness": 1.0}),
    ],
)  # fmt: skip
def test_each_kind_of_part_has_its_own_dimensions(
    kit: Kit, kind: str, parameters: dict[str, Any], wanted: dict[str, float]
) -> None:
    """Besides the outer ones; none has a key twice."""
    dimensions = list(dimensions_of(_part(kit, kind, **parameters), None, ((), ())))
    found = {one.key: one.value for one in dimensions}
    assert len(found) == len(dimensions)
    for key, value in wanted.items():
        assert found[key] == pytest.approx(value)


def test_slots_and_dividers_are_counted_from_one(kit: Kit) -> None:
    """As people count them; what is behind the name is where each is."""
    rest = _part(kit, "rest", slots="blade 2.1 x 31", slots_at=(20.0, 32.7), dowels_at=(10.0, 54.0))
    named = {one.key: one.name for one in dimensions_of(rest, None, ((), ()))}
    assert (named["slot.0"], named["slot.1"]) == ("middle of slot 1", "middle of slot 2")
    tray = _part(kit, "tray", wall=1.2, rows_at=(20.0,), columns_at=(30.0,))
    assert {one.name for one in dimensions_of(tray, None, ((), ())) if "_at." in one.key} == {"middle of divider 1"}


def test_only_fillers_cover_a_width(kit: Kit) -> None:
    """A key has a width too, and covers nothing; a filler without one says nothing of it."""
    for kind, width, covers in (("filler", 9.0, True), ("filler", 0.0, False), ("key", 9.0, False)):
        found = dimensions_of(_part(kit, kind, thickness=0.6, width=width), None, ((), ()))
        assert ("covers" in {one.key for one in found}) is covers


def test_a_cell_of_a_panel_is_drawn_in_the_middle_of_a_cell_and_the_next(kit: Kit) -> None:
    """From cone to cone along the width; the thickness stands beside it, from the bottom up."""
    panel = _part(kit, "panel", cols=4, pitch=22.0, thickness=0.6)
    found = {one.key: one for one in dimensions_of(panel, None, ((), ()))}
    first = (100.0 - 4 * 22.0) / 2
    assert (found["pitch"].view, found["pitch"].start[0], found["pitch"].end[0]) == (0, first + 11, first + 33)
    assert (found["thickness"].view, found["thickness"].start, found["thickness"].end) == (
        0,
        (100.0, 0.0),
        (100.0, 0.6),
    )


def test_the_low_front_is_typed_as_a_share_of_the_height(kit: Kit) -> None:
    """As the room file has it."""
    lot = next(one for one in kit.lots if one.places)
    tray = _part(kit, "tray", low_side="front", low_share=0.5, wall=1.2)
    low = next(one for one in dimensions_of(tray, lot, ((), ())) if one.key == "low")
    assert (low.value, low.share_of, low.path) == (20.0, 40.0, ("lot", lot.id, "tray", "low_share"))
