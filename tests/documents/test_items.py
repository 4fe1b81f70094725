"""The rows of the parts list."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.documents import items, places

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.documents.items import Item
    from nookwright.exchange.kit import Kit


def rows(kit: Kit, space_id: str) -> tuple[Item, ...]:
    """The list of a space."""
    names = {one.id: one.name for one in kit.materials}
    return items.items_of(places.laid_in(kit, space_id), places.space_of(kit, space_id).blocked, names)


def test_counts_and_grams_add_up(kit: Kit) -> None:
    """The rows of a space hold all its placements and all its grams, by part and again by colour."""
    for space in kit.spaces:
        listed = rows(kit, space.id)
        parts = [item for item in listed if item.group in {items.TRAYS, items.LINER}]
        assert sum(item.count for item in parts) == sum(one.space == space.id for one in kit.placements)
        assert sum(item.mass_g for item in parts) == pytest.approx(space.mass_g)
        assert sum(item.mass_g for item in listed if item.group == items.COLOURS) == pytest.approx(space.mass_g)


def test_marks_are_unique(dense: Kit) -> None:
    """No mark stands for two rows; the colours have none."""
    marks = [item.mark for item in rows(dense, "wide") if item.group != items.COLOURS]
    assert len(marks) == len(set(marks))
    assert all(marks)


def test_alike_trays_share_a_row_only_with_the_same_label(make_kit: Callable[..., Kit]) -> None:
    """Two trays of pens are one row of two; the same tray with nibs is a row of its own."""
    kit = make_kit(400, 200, [(0, 0, 4, 4, "pens"), (4, 0, 4, 4, "pens"), (8, 0, 4, 4, "nibs")])
    trays = [item for item in rows(kit, "some") if item.group == items.TRAYS]
    assert [(item.mark, item.label, item.count) for item in trays] == [("1", "pens", 2), ("2", "nibs", 1)]


def test_alike_liner_parts_share_a_row_whatever_they_are_called(kit: Kit) -> None:
    """Panels that are the same print have one letter, because any of them goes in any of their places."""
    liner = [item for item in rows(kit, "tea-drawer") if item.group == items.LINER]
    assert [(item.mark, item.count) for item in liner] == [("A", 4), ("B", 2), ("C", 1)]
    assert liner[0].label == "panel 1; panel 2; panel 4 and 1 more"


def test_what_stands_in_a_tray_has_a_row_and_no_mark(make_kit: Callable[..., Kit]) -> None:
    """A divider is counted and weighed under its tray's heading; the trays' numbers go on without it."""
    kit = make_kit(400, 200, [(0, 0, 4, 4, "pens"), (4, 0, 4, 4, "divider, pens"), (8, 0, 5, 4, "nibs")])
    divider = next(one.part for one in kit.placements if one.label == "divider, pens")
    parts = tuple(
        one.model_copy(update={"id": "d", "kind": "divider"}) if one.id == divider else one for one in kit.parts
    )
    first = next(one for one in kit.parts if one.id == divider)
    placements = tuple(
        one.model_copy(update={"part": "d"}) if one.label == "divider, pens" else one for one in kit.placements
    )
    kit = kit.model_copy(update={"parts": (*parts, first), "placements": placements})
    trays = [item for item in rows(kit, "some") if item.group == items.TRAYS]
    assert [(item.mark, item.label, item.count) for item in trays] == [
        ("1", "pens", 1),
        ("2", "nibs", 1),
        ("", "divider, pens", 1),
    ]


def test_letters_go_on_after_z() -> None:
    """Seven hundred and two liner parts have letters before three are needed."""
    found = [items.letters(number) for number in range(703)]
    assert len(set(found)) == 703
    assert (found[26], found[51], found[52], found[701], found[702]) == ("AA", "AZ", "BA", "ZZ", "AAA")


def test_what_stays_free_says_from_where_to_where(kit: Kit) -> None:
    """A blocked box is listed with its reason, its size and its heights."""
    (free,) = [item for item in rows(kit, "bench-left") if item.group == items.FREE]
    assert (free.mark, free.label, free.name) == ("X1", "waste pipe", "92.4x98, from 0 to 74 high")
