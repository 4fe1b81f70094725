"""The demo room, and the examples."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from nookwright.survey.load import load_room
from nookwright.survey.models import Hazard, Keep, Lot, Room, Shape, SpaceKind
from nookwright.survey.rooms import demo_path, demo_text

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def room() -> Room:
    """The demo room."""
    with demo_path() as path:
        return load_room(path)


def test_the_demo_is_a_room_of_every_kind_in_use(room: Room) -> None:
    """Two shallow drawers, a deep one with a pipe, a wide one, a shelf bay, a spot under a shelf; more than 40 lots."""
    kinds = [space.kind for space in room.space]
    assert kinds.count(SpaceKind.DRAWER) == 4
    assert {SpaceKind.SHELF, SpaceKind.UNDER_SHELF} < set(kinds)
    assert any(box.service for space in room.space for box in space.blocked)
    assert len(room.lot) >= 44
    assert len({(printer.bed_width, printer.bed_depth) for printer in room.printer}) == 2
    assert len({material.colour for material in room.material}) == 3
    assert {lot.group for lot in room.lot} | {"liner", "text"} == set(room.choices.colours)


def test_the_demo_shows_the_ways_of_measuring(room: Room) -> None:
    """Readings at floor and rim, several samples, published sizes, neighbours, a measured blade out of reach."""
    assert any(space.width.rim for space in room.space)
    assert sum(lot.standard is not None for lot in room.lot) >= 12
    assert sum(lot.keep is Keep.CRADLE for lot in room.lot) >= 6
    assert sum(len(sides[0]) > 1 for lot in room.lot if lot.standard is None and (sides := readings(lot))) >= 20
    assert {lot.shape for lot in room.lot} == set(Shape)
    assert any(lot.near for lot in room.lot)
    (knife,) = [lot for lot in room.lot if lot.hazard is Hazard.BLADE]
    assert knife.out_of_reach
    assert knife.blade is not None
    assert any(space.children for space in room.space)


def readings(lot: Lot) -> list[tuple[float, ...]]:
    """All readings of a lot, in the order of their names."""
    sides = (lot.width, lot.depth, lot.diameter, lot.height, lot.thickness)
    return [side.all for side in sides if side is not None]


def test_widths_of_the_demo_are_no_whole_number_of_the_first_pitch(room: Room) -> None:
    """So that there are fillers to make."""
    for space in room.space:
        assert space.width.smallest % 18 > 1


def test_every_thing_of_the_demo_fits_a_space(room: Room) -> None:
    """Its smallest side is lower, and its largest side shorter, than some drawer or shelf."""
    spaces = [space for space in room.space if space.kind in {SpaceKind.DRAWER, SpaceKind.SHELF}]
    for lot in room.lot:
        sides = sorted(max(side) for side in readings(lot)) or [0.0]  # bulk has none
        assert any(
            sides[0] < space.height.smallest - 10 and sides[-1] < max(space.width.smallest, space.depth.smallest) - 10
            for space in spaces
        ), lot.id


def test_the_things_of_the_demo_are_no_load_for_its_spaces(room: Room) -> None:
    """All things together weigh at most half of what the spaces may carry, and no thing is denser than steel."""
    total_g = sum(lot.count * (lot.mass_g or math.nan) for lot in room.lot)
    assert total_g < 500 * sum(space.load_kg for space in room.space)
    for lot in room.lot:
        assert lot.mass_g is not None
        sides = [max(side) for side in readings(lot)]
        box = sides[0] ** 2 * sides[1] if lot.shape is Shape.ROUND else math.prod(sides)
        assert 0.02 < lot.mass_g / (lot.volume_ml or box / 1000) < 7.85, lot.id


def test_the_demo_shows_the_ways_of_keeping(room: Room) -> None:
    """Bulk, a blade that gets a rest, a dispenser, an own box, a shared tray."""
    assert [lot.id for lot in room.lot if lot.shape is Shape.LOOSE] == ["tube-rings"]
    assert [lot.id for lot in room.lot if lot.keep is Keep.DISPENSER] == ["napkins"]
    assert [(lot.id, lot.box) for lot in room.lot if lot.box] == [("tea-money", "money-tin")]
    assert [(lot.id, lot.shares) for lot in room.lot if lot.shares] == [("chain-links", "cable-reels")]


def test_the_demo_says_that_it_is_invented() -> None:
    """At the top of the file."""
    assert "All of it is invented" in demo_text()[:400]


def test_the_example_in_inches_loads() -> None:
    """A room in another unit, with texts and numbers."""
    example = load_room(EXAMPLES / "sewing-corner.toml")
    assert example.space[0].width.smallest == pytest.approx(18.4375 * 25.4)
    assert example.space[1].width.smallest == pytest.approx(762)
    assert example.space[0].mat == 2.0
    assert example.printer[0].bed_width == 220
