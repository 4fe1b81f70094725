"""Moving parts by hand: what may stand where."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.studio.arrangement import Arrangement, RefusedError
from nookwright.studio.sheets import Cost, Footprint, Item, Sheet, Sheets, Wanted

if TYPE_CHECKING:
    from collections.abc import Callable


def sheet(name: str, cols: int = 8, rows: int = 6, blocked: tuple[tuple[int, int], ...] = ()) -> Sheet:
    """A space."""
    return Sheet(
        id=name, name=name.title(), kind="drawer", cols=cols, rows=rows, blocked=blocked, origin=(2.0, 3.0),
        size=(cols * 20.0, rows * 20.0, 60.0), height=55.0, load_g=5000.0,
    )  # fmt: skip


def item(lot: str, col: int, row: int, cols: int = 2, rows: int = 1, **more: object) -> Item:
    """A tray of a lot."""
    fields = {"id": lot, "lot": lot, "name": lot.upper(), "kind": "tray", "space": "left", "height": 30.0, "tall": 40.0}
    return Item(**{**fields, "mass_g": 10.0, "col": col, "row": row, "cols": cols, "rows": rows, **more})


def wanted(lot: str, *sizes: tuple[int, int], refused: dict[str, str] | None = None, may_turn: bool = True) -> Wanted:
    """What a lot may be kept in."""
    found = tuple(Footprint(cols=c, rows=r, height=30.0, tall=40.0, may_turn=may_turn) for c, r in sizes)
    return Wanted(lot=lot, name=lot.upper(), sizes=found, refused=refused or {})


def room(*items: Item, lots: tuple[Wanted, ...] = (), spaces: tuple[Sheet, ...] | None = None) -> Arrangement:
    """Two spaces with something in them."""
    lots = lots or tuple(wanted(one.lot, (one.cols, one.rows)) for one in items if one.lot)
    found = spaces or (sheet("left", blocked=((7, 5),)), sheet("right", 4, 4))
    return Arrangement.of(
        Sheets(
            pitch=20.0,
            rise=6.0,
            gap=0.6,
            spaces=found,
            items=items,
            lots=lots,
            left_out=(),
            cost=(Cost(name="a", value=1.0),),
        )
    )


def test_a_part_is_moved_and_its_spaces_are_touched() -> None:
    """Into another space too; nothing else changes."""
    begun = room(item("a", 0, 0), item("b", 4, 4))
    moved = begun.moved("a", "right", 2, 3)
    assert (moved.item("a").space, moved.item("a").col, moved.item("a").row) == ("right", 2, 3)
    assert moved.item("b") == begun.item("b")
    assert moved.touched == {"left", "right"}
    assert begun.moved("a", "left", 0, 0) is begun


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda one: one.moved("a", "left", 7, 0), "out of Left"),
        (lambda one: one.moved("a", "left", -1, 0), "out of Left"),
        (lambda one: one.moved("a", "left", 6, 5), "Left is blocked"),
        (lambda one: one.moved("a", "left", 3, 4), "A overlaps B: letting go here puts it back"),
        (lambda one: one.moved("a", "attic", 0, 0), "no floor"),
        (lambda one: one.moved("a", "right", 0, 0), "may not go to Right: children can reach it"),
        (lambda one: one.resized("a", 1, 1), "at least 39 x 19 mm"),
        (lambda one: one.turned("c"), "at least 59 x 39 mm"),
        (lambda one: one.moved("above", "left", 0, 3), "stands on another tray"),
        (lambda one: one.moved("none", "left", 0, 3), "no part none"),
        (lambda one: one.placed("a", "left", 0, 3), "has a place already"),
        (lambda one: one.placed("late", "left", 7, 0), "out of Left"),
        (lambda one: one.swapped("a", "c"), "overlaps"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act: object, words: str) -> None:
    """With the name of what is in the way, or what would do."""
    begun = room(
        item("a", 0, 0), item("b", 4, 4), item("c", 2, 1, 3, 2), item("above", 4, 4, level=1),
        lots=(wanted("a", (2, 1), refused={"right": "children can reach it"}), wanted("b", (2, 1)),
              wanted("c", (3, 2), may_turn=False), wanted("above", (2, 1)), wanted("late", (2, 2))),
    )  # fmt: skip
    with pytest.raises(RefusedError, match=words):
        act(begun)  # type: ignore[operator]


def test_what_only_fills_gives_way() -> None:
    """A spare tray, a fence: they are filled anew by the next plan."""
    begun = room(item("a", 0, 0), item("", 4, 0, id="left-7", name="spare"))
    moved = begun.moved("a", "left", 3, 0)
    assert [one.id for one in moved.items] == ["a"]


def test_two_parts_change_places() -> None:
    """Corner for corner, across spaces."""
    begun = room(item("a", 0, 0), item("b", 1, 1, space="right"))
    swapped = begun.swapped("a", "b")
    assert [(one.id, one.space, one.col, one.row) for one in swapped.items] == [
        ("b", "left", 0, 0),
        ("a", "right", 1, 1),
    ]


def test_a_lot_without_a_place_gets_its_handiest_part_that_fits() -> None:
    """The second of its sizes, turned, where the first does not fit."""
    begun = room(item("a", 0, 0), lots=(wanted("a", (2, 1)), wanted("late", (5, 5), (1, 3))))
    placed = begun.placed("late", "right", 0, 3)
    assert (placed.item("late").cols, placed.item("late").rows) == (3, 1)


@given(
    st.lists(
        st.tuples(st.sampled_from("abc"), st.sampled_from(["left", "right"]), st.integers(-1, 8), st.integers(-1, 6))
    )
)
def test_no_two_parts_ever_share_a_cell(moves: list[tuple[str, str, int, int]]) -> None:
    """Whatever is tried, one after another."""
    now = room(item("a", 0, 0), item("b", 3, 2, 3, 2), item("c", 0, 4, 1, 2))
    for name, space, col, row in moves:
        try:
            now = now.moved(name, space, col, row)
        except RefusedError:
            continue
        cells = [
            (one.space, one.col + i, one.row + j) for one in now.items for i in range(one.cols) for j in range(one.rows)
        ]
        assert len(cells) == len(set(cells))
        assert len(now.items) == 3


@pytest.mark.parametrize(
    "gesture",
    [
        lambda now, name: now.moved(name, "left", 5, 4),
        lambda now, name: now.turned(name),
        lambda now, name: now.resized(name, 3, 3),
        lambda now, name: now.swapped(name, "a"),
        lambda now, name: now.swapped("a", name),
        lambda now, name: now.stays(name, stays=True),
    ],
)
@pytest.mark.parametrize(("name", "why"), [("spare", "gives way"), ("upper", "stands on another tray")])
def test_what_has_no_place_of_its_own_is_left_alone(
    gesture: Callable[[Arrangement, str], Arrangement], name: str, why: str
) -> None:
    """What fills, or stands on another, is the tool's to place: a gesture with it would not be kept."""
    begun = room(item("a", 0, 0), item("upper", 0, 2, level=1), item("spare", 4, 0).model_copy(update={"lot": ""}))
    with pytest.raises(RefusedError, match=why):
        gesture(begun, name)


@pytest.mark.parametrize(("cols", "rows"), [(0, 1), (1, 0), (-3, 2), (2, -3)])
def test_a_part_is_at_least_a_cell(cols: int, rows: int) -> None:
    """Whatever an event says."""
    with pytest.raises(RefusedError, match="at least one cell"):
        room(item("a", 4, 4)).resized("a", cols, rows)


def test_a_part_swapped_with_itself_is_where_it_was() -> None:
    """Nothing is changed, and nothing is said to be."""
    begun = room(item("a", 0, 0))
    assert begun.swapped("a", "a") is begun


@pytest.mark.parametrize(("most", "height"), [(None, 54.0), (49.0, 48.0), (30.0, 30.0)])
def test_a_part_is_raised_as_far_as_its_things_can_be_taken_out(most: float | None, height: float) -> None:
    """A tray up to what its space has clear; a cradle in whole rises, so that its things still stand out."""
    size = Footprint(cols=2, rows=1, height=30.0, tall=40.0, may_turn=True, most=most)
    begun = room(item("a", 0, 0), lots=(Wanted(lot="a", name="A", sizes=(size,), refused={}),))
    assert begun.raised("a", height).item("a").height == height
    words = "55 mm are clear in Left" if most is None else f"A may be {height:g} mm high: higher, nothing"
    with pytest.raises(RefusedError, match=words):
        begun.raised("a", height + 6)
    with pytest.raises(RefusedError, match="A must be at least 30 mm high"):
        begun.raised("a", 24.0)


def test_only_the_part_that_is_meant_stays() -> None:
    """Others go on to move; and it need not stay any more when that is said of it."""
    begun = room(item("a", 0, 0), item("b", 4, 4))
    kept = begun.stays("a", stays=True)
    assert [one.stays for one in (kept.item("a"), kept.item("b"))] == [True, False]
    both = kept.stays("b", stays=True).stays("a", stays=False)
    assert [one.stays for one in (both.item("a"), both.item("b"))] == [False, True]
