"""The parts list as drawn."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.documents import items, lettering, parts_list, style
from nookwright.documents.items import Item
from nookwright.exchange import svg
from nookwright.exchange.svg import Box


def item(label: str, name: str = "tray 35x35 h48", group: str = items.TRAYS) -> Item:
    """A row."""
    return Item(group=group, mark="1", label=label, name=name, count=1, mass_g=1.0, colour="#ffffff", spots=())


@given(st.text(max_size=200), st.text(max_size=80))
def test_no_line_is_wider_than_its_column(label: str, name: str) -> None:
    """However long a label or a name, its lines fit and are three at most."""
    (row,) = parts_list.rows_of([item(label, name)])
    for lines, limit in ((row.label, 36.0), (row.name, 25.0)):
        assert len(lines) <= 3
        assert all(lettering.width(line, style.SMALL) <= limit for line in lines)
    assert row.height >= parts_list.ROW


def test_the_first_of_a_group_has_the_heading() -> None:
    """Each group is headed once."""
    rows = parts_list.rows_of([item("a"), item("b"), item("c", group=items.LINER)])
    assert [row.heading for row in rows] == [items.TRAYS, "", items.LINER]


def test_rows_that_do_not_fit_are_refused() -> None:
    """Rows are never dropped in silence."""
    canvas = svg.drawing(100, 100, title="", description="", family="serif")
    with pytest.raises(ValueError, match="2 rows do not fit the 1 columns"):
        parts_list.draw(canvas, parts_list.rows_of([item("a"), item("b")]), [Box(0, 0, 86, 16)])
