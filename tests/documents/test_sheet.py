"""Sheets, scales and the flow of the list."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import sheet, style
from nookwright.documents.places import Area
from nookwright.documents.sheet import Need, View
from nookwright.exchange.svg import Box

NEEDS = st.builds(
    Need,
    inside=st.tuples(st.floats(40, 3000), st.floats(40, 1200)),
    rows=st.lists(st.floats(4.6, 16), max_size=90).map(tuple),
    key=st.one_of(st.just(0.0), st.floats(20, 46)),
    smallest=st.floats(17, 300),
)


@given(NEEDS)
def test_nothing_on_a_sheet_overlaps(need: Need) -> None:
    """Drawing with its dimensions, list, small plan and title block are apart and inside the margins."""
    found = sheet.chosen(need)
    room = found.view.box(Area(0, 0, *need.inside))
    drawing = Box(
        room.x - sheet.LEFT,
        room.y - sheet.BEYOND,
        room.width + sheet.LEFT + sheet.BEYOND,
        room.height + sheet.BEYOND + sheet.BELOW,
    )
    boxes = [drawing, *found.columns, found.title]
    boxes += [found.key] if need.key else []
    frame = Box(0, 0, found.width, found.height).inset(style.MARGIN - 1e-6)
    for box in boxes:
        assert frame.holds(box) or box.height <= 0
    for one, other in itertools.combinations(boxes, 2):
        assert not one.inset(1e-6).meets(other.inset(1e-6))


@given(NEEDS)
def test_every_row_has_its_place_once(need: Need) -> None:
    """The columns hold all rows in their order, none above another's end."""
    found = sheet.chosen(need)
    filled = sheet.flow(need.rows, found.columns)
    assert filled is not None
    assert list(itertools.chain(*filled)) == list(range(len(need.rows)))
    for column, rows in zip(found.columns, filled, strict=True):
        assert not rows or sum(need.rows[row] for row in rows) <= column.height - sheet.LIST_HEAD + 1e-6


def test_small_parts_get_a_larger_sheet() -> None:
    """A drawer whose smallest tray would be under 5 mm on A4 is drawn on A3, and on none that is larger."""
    rows = (4.6,) * 10
    assert sheet.chosen(Need((1100, 460), rows, 40, 71)).name == "A4"
    assert sheet.chosen(Need((1100, 460), rows, 40, 35)).name == "A3"
    assert sheet.chosen(Need((1100, 460), rows, 40, 2)).name == "A3"  # a sliver gets its ring outside


def test_a_list_that_fits_nothing_is_refused() -> None:
    """The message says how many rows there were and up to which sheet it was tried."""
    with pytest.raises(ValueError, match=r"5000 rows .* A1"):
        sheet.chosen(Need((400, 300), (5.0,) * 5000, 0, 100))


def test_back_is_up() -> None:
    """A point further back is higher on the sheet, one to the right is to the right, at the scale."""
    view = View(10, 100, 5)
    assert view.point(50, 25) == (20, 95)
    assert view.box(Area(0, 0, 50, 25)) == Box(10, 95, 10, 5)
