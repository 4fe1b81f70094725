"""CSV as RFC 4180 has it: comma, CRLF, quotes doubled; and safe to open in a spreadsheet.

A cell that begins with one of ``= + - @`` (or a tab or line end) would be run as a formula by a
spreadsheet, so text of that kind is led in by an apostrophe. Numbers are written as numbers, negative ones
too.
"""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

Cell = str | int | float

# OWASP, "CSV Injection": the characters that make a cell a formula.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


def safe(cell: Cell) -> Cell:
    """The cell, led in by an apostrophe if it is text that would be run.

    >>> safe("=1+1"), safe("plain"), safe(-3)
    ("'=1+1", 'plain', -3)
    """
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_FORMULA) else cell


def table(head: tuple[str, ...], rows: Iterable[tuple[Cell, ...]]) -> str:
    r"""A table with a line of names above.

    >>> table(("a", "b"), [(1, "x,y")])
    'a,b\r\n1,"x,y"\r\n'
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows(tuple(safe(cell) for cell in row) for row in rows)
    return out.getvalue()
