"""Plastic against the place it is in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from tests.checks.conftest import box, moved, turned
from tests.checks.strength.conftest import vessel

from nookwright.checks.strength.place import MOUNTS, ROOM_C, WARM_C, check_place, material_in, warmest_c
from nookwright.exchange.kit import KitOrder
from nookwright.ground.findings import Severity
from nookwright.parts.racks.rack import Mount
from nookwright.survey.models import Material, Order, Space, SpaceKind
from nookwright.survey.plastic_sheet import PlasticKind

if TYPE_CHECKING:
    from tests.checks.strength.conftest import Bench

    from nookwright.exchange.kit import Matrix


def warm(bench: Bench, **space: Any) -> list[tuple[str, Severity]]:  # noqa: ANN401 - keys of a space
    """What is found about a tray in a space."""
    ready = bench.part("tray", "tray", vessel(60, 50, 30)).stands("tray").in_space(**space)
    return [(one.code, one.severity) for one in check_place(ready.carried)]


@pytest.mark.parametrize(
    ("space", "found"),
    [
        ({}, []),
        ({"warm": True}, [("material-softens", Severity.STOP)]),
        ({"warm": True, "warmest_c": 40.0}, []),
        ({"warm": True, "warmest_c": 40.1}, [("material-softens", Severity.WARN)]),
        ({"warmest_c": 45.0}, [("material-softens", Severity.WARN)]),
        ({"warmest_c": 45.1}, [("material-softens", Severity.STOP)]),
    ],
)
def test_pla_stays_where_it_is_no_warmer_than_45(
    bench: Bench, space: dict[str, Any], found: list[tuple[str, Severity]]
) -> None:
    """A reading goes before the word; within five degrees one is asked for."""
    assert warm(bench, **space) == found


@pytest.mark.parametrize(("kind", "stops"), [("pla", True), ("petg", False), ("abs", False), ("asa", False)])
def test_what_beats_pla_beside_a_heater(bench: Bench, kind: str, stops: bool) -> None:  # noqa: FBT001
    """At 50 degrees, and the remedy names what would do."""
    ready = bench.of(plastic=PlasticKind(kind)).part("tray", "tray", vessel(60, 50, 30)).stands("tray")
    found = check_place(ready.in_space(warm=True).carried)
    assert [one.code for one in found] == ["material-softens"] * stops
    assert all("PETG" in one.remedy and one.against.limit == 45 for one in found if one.against)


@pytest.mark.parametrize(
    ("key", "mount", "kind", "found"),
    [
        ("left", "", "shelf", [("material-softens", "hooks", Severity.STOP)]),
        (None, "on a wall", "wall", [("material-softens", "hooks", Severity.STOP)]),
        (None, "on a wall", "shelf", []),
        (None, "under a shelf", "under-shelf", [("material-softens", "hooks", Severity.STOP)]),
        (None, "inside a door", "door", [("material-softens", "hooks", Severity.STOP)]),
        (None, "", "wall", []),
    ],
)
def test_what_is_made_to_order_is_held_against_the_space_that_it_goes_to(
    bench: Bench, key: str | None, mount: str, kind: str, found: list[tuple[str, str, Severity]]
) -> None:
    """A rack that names no space may hang in any of its kind; other parts only where the room file says so."""
    ready = bench.part("rack", "rack", vessel(60, 50, 30)).in_space(warm=True, kind=SpaceKind(kind))
    order = Order.model_validate({"id": "hooks", "kind": "rack", "space": key, "keys": {}})
    parts = tuple(one.model_copy(update={"parameters": {"mount": mount}}) for one in ready.kit.parts)
    made = (KitOrder(id="hooks", part="rack", count=1),)
    kit = ready.kit.model_copy(update={"parts": parts, "orders": made, "placements": ()})
    room = ready.room.model_copy(update={"part": (order,)})
    said = check_place(type(ready)(kit, room, ready.shapes).carried)
    assert [(one.code, one.subject, one.severity) for one in said] == found


def test_a_mount_is_called_as_racks_call_it() -> None:
    """The words of a rack's own choice, each with a kind of space."""
    assert set(MOUNTS) == {one.value for one in Mount}


def test_a_space_is_as_warm_as_it_was_read(bench: Bench) -> None:
    """Else 50 degrees where it is called warm, and 30 where it is not."""
    space = bench.room.space[0]
    assert warmest_c(space) == 30
    assert warmest_c(space.model_copy(update={"warm": True})) == 50
    assert warmest_c(space.model_copy(update={"warm": True, "warmest_c": 35.0})) == 35
    assert f"{WARM_C:g} if warm, else {ROOM_C:g}" in str(Space.model_fields["warmest_c"].description)


def test_a_part_in_two_colours_is_taken_in_that_of_its_group(bench: Bench) -> None:
    """The same tray is printed in PLA for one drawer and in PETG for a warm one."""
    grey = bench.room.material[0]
    petg = Material(id="petg", colour="#ff0000", density_g_cm3=1.27)
    both = bench.part("tray", "tray", vessel(60, 50, 30)).stands("tray").holds("tray", 20, (12, 12, 12))
    pieces = (*both.kit.pieces, both.kit.pieces[0].model_copy(update={"id": "red", "material": "petg"}))
    lots = tuple(lot.model_copy(update={"group": "hot"}) for lot in bench.room.lot)
    choices = bench.room.choices.model_copy(update={"colours": {"hot": "petg"}})
    room = bench.room.model_copy(update={"material": (grey, petg), "lot": lots, "choices": choices})
    carried = type(both)(both.kit.model_copy(update={"pieces": pieces}), room, both.shapes).carried
    assert material_in(carried, both.kit.placements[0]) == (petg,)
    assert len(carried.plastics("tray")) == 2


def liner(bench: Bench, width: float, **space: Any) -> Bench:  # noqa: ANN401 - keys of a space
    """A panel in the drawer, which is 99 wide and 79 deep where it is sure to be."""
    return bench.part("panel", "panel", box(width, 60, 0.6)).stands("panel", 0.2, 0.2, 0).in_space(**space)


@pytest.mark.parametrize(("width", "found"), [(98.70, 0), (98.76, 1)])
def test_a_liner_has_room_to_grow(bench: Bench, width: float, found: int) -> None:
    """At 45 degrees it grows by 101e-6 x 25 K x 98.7 = 0.249 mm; 0.30 are left beside 98.70, 0.24 beside 98.76."""
    codes = [one.code for one in check_place(liner(bench, width, warmest_c=45.0).carried)]
    assert codes.count("liner-grows") == found


def test_what_to_write_so_that_the_liner_fits(bench: Bench) -> None:
    """0.249 mm of growth and 0.10 left: 0.2 mm less, to the tenth, and it fits."""
    (one,) = [one for one in check_place(liner(bench, 98.9, warmest_c=45.0).carried) if one.code == "liner-grows"]
    assert "Write its width 0.2 mm smaller" in one.remedy
    assert one.against is not None
    assert (one.against.computed, one.against.limit) == pytest.approx((101e-6 * 25 * 98.9, 0.1))


def test_what_grows_out_of_an_open_front_presses_on_nothing(bench: Bench) -> None:
    """A shelf's liner may fill its depth, a drawer's may not."""
    for kind, found in ((SpaceKind.SHELF, 0), (SpaceKind.DRAWER, 1)):
        ready = bench.part("panel", "panel", box(60, 79, 0.6)).stands("panel", 0, 0, 0).in_space(kind=kind)
        assert [one.code for one in check_place(ready.carried)].count("liner-grows") == found


@pytest.mark.parametrize(("deep", "at"), [(80, moved(1, -1.2, 0)), (100, turned(100, 1, 0))])
def test_the_travel_of_a_spring_is_room_to_grow(bench: Bench, deep: float, at: Matrix) -> None:
    """Nubs reach past the front, or past the right wall, by 1 mm: pressed in by 2 they are no matter."""
    filler = bench.part("filler", "filler", box(30, deep, 2.6))
    codes = [
        [one.code for one in check_place(each.carried)]
        for each in (
            filler.stands("filler", space_from_part=at, travel=2.0),
            filler.stands("filler", space_from_part=at),
        )
    ]
    assert ["liner-grows" in found for found in codes] == [False, True]


@pytest.mark.parametrize(
    ("panel", "kind", "found"),
    [
        (True, "pla", [Severity.NOTE]),
        (True, "petg", []),
        (False, "pla", [Severity.STOP]),
        (False, "petg", [Severity.STOP]),
    ],
)
def test_nothing_depends_on_a_spring(bench: Bench, panel: bool, kind: str, found: list[Severity]) -> None:  # noqa: FBT001
    """Beside cones a slack spring rattles; without cones it is all that holds."""
    ready = bench.of(plastic=PlasticKind(kind)).part("filler", "filler", box(60, 10, 2.6))
    ready = ready.stands("filler", 5, 60, 0, travel=1.4)
    if panel:
        ready = ready.part("panel", "panel", box(60, 50, 0.6)).stands("panel", 5, 5, 0)
    assert [one.severity for one in check_place(ready.carried) if one.code == "spring-slack"] == found


def test_a_kit_without_parts_has_nothing_to_say(bench: Bench) -> None:
    """However warm it is."""
    assert check_place(bench.in_space(warm=True).carried) == ()
