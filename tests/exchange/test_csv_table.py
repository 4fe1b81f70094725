"""CSV as written."""

from __future__ import annotations

import csv
import io

from hypothesis import given
from hypothesis import strategies as st

from nookwright.exchange.csv_table import safe, table


@given(st.lists(st.tuples(st.text(st.characters(exclude_categories=["Cs"])), st.integers()), max_size=8))
def test_reads_back(rows: list[tuple[str, int]]) -> None:
    """Any text comes back as it was, but for the apostrophe before what would be a formula."""
    read = list(csv.reader(io.StringIO(table(("a", "b"), rows), newline="")))
    assert read == [["a", "b"], *([str(safe(text)), str(number)] for text, number in rows)]


def test_lines_end_as_the_rfc_says() -> None:
    """RFC 4180, 2.1: lines end with CR LF, the last one too."""
    assert table(("a",), [("x",), (1.5,)]) == "a\r\nx\r\n1.5\r\n"
