"""Rows that were copied out of a spreadsheet, the first of them the names of the columns.

Columns may be called as the keys of a lot or as people call them, with a unit: ``Quantity``, ``Width (cm)``,
``Weight in kg``; in any order. Cells have tabs between them, else semicolons, else commas; quoted cells are read as
spreadsheets write them. Promise: every row becomes a table, or one sentence says what cannot be read. What it does not
know: which values are allowed.
"""

from __future__ import annotations

import csv
import io
import re
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.studio.typed_fields import number_or_text
from nookwright.survey.models import Lot

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.studio.toml_values import Value

G_PER_KG = Fact(1000.0, unit="g/kg", kind=Kind.STANDARD, source="SI prefixes, BIPM brochure, 9th edition, table 7.")
_CALLED: Final = {
    "item": "name", "thing": "name", "things": "name", "quantity": "count", "qty": "count", "how_many": "count",
    "number": "count", "amount": "count", "pieces": "count", "pcs": "count", "length": "width", "diam": "diameter",
    "mass": "mass_g", "weight": "mass_g", "mass_of_one": "mass_g", "published_size": "standard",
}  # fmt: skip
_UNITS: Final = {
    "mm": "mm",
    "cm": "cm",
    "m": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "ft": "ft",
    "g": "",
    "kg": "kg",
}
_WITH_UNIT: Final = re.compile(r"(.+?)[\s_]*(?:\(|\[|,|\bin\s|\s)\s*(mm|cm|m|inches|inch|in|ft|kg|g)\s*[)\]]?")
_KNOWN: Final = "name, count, shape, width, depth, height, diameter, thickness, mass_g, standard, use, group"


class Column(NamedTuple):
    """One column.

    Attributes:
        key: of the lot; empty for a column that is left out.
        unit: of its numbers; empty where it has none of its own.
    """

    key: str
    unit: str


def is_head(line: str) -> bool:
    """Whether a line holds the names of columns: one of its cells says that names stand below it.

    >>> is_head("Item; Qty"), is_head("Pens, 14 round x 140, 8")
    (True, False)

    Args:
        line: the first one.
    """
    cells = line.split(_between(line))
    return len(cells) > 1 and any(_column(cell).key == "name" for cell in cells)


def pasted(typed: str) -> list[dict[str, Any]]:
    """The rows below the names of the columns; empty cells are left out.

    Args:
        typed: what was pasted.

    Raises:
        ValueError: no row but the names, or a name that no lot has; the message says which.
    """
    rows = [row for row in _rows(typed) if any(cell.strip() for cell in row)]
    if len(rows) <= 1:
        raise ValueError("Paste a row with the names of the columns, and below it a row for each kind of thing.")
    columns = [_column(cell) for cell in rows[0]]
    strange = [one.key for one in columns if one.key and one.key not in Lot.model_fields]
    if strange or "name" not in {one.key for one in columns}:
        found = ", ".join(one.key for one in columns)
        raise ValueError(f"Columns may be called {_KNOWN}; one must be name. Found: {found}.")
    return [_row(columns, row) for row in rows[1:]]


def _rows(typed: str) -> Iterator[list[str]]:
    """The cells of all rows.

    Raises:
        ValueError: a quoted cell does not end.
    """
    first = next((line for line in typed.splitlines() if line.strip()), "")
    try:
        yield from csv.reader(io.StringIO(typed.strip("\n"), newline=""), delimiter=_between(first))
    except csv.Error as error:
        raise ValueError(f"The rows cannot be read: {error}. Copy them anew.") from error


def _between(line: str) -> str:
    """What stands between the cells of a line."""
    return next((sign for sign in ("\t", ";") if sign in line), ",")


def _column(cell: str) -> Column:
    """A column by what stands over it."""
    words = " ".join(cell.strip().strip('"').lower().split())
    key = words.replace(" ", "_")
    if key in Lot.model_fields:
        return Column(key, "")
    found = _WITH_UNIT.fullmatch(words)
    unit = _UNITS[found[2]] if found else ""
    plain = (found[1] if found else words).strip().replace(" ", "_")
    return Column(_CALLED.get(plain, plain), unit)


def _row(columns: list[Column], cells: list[str]) -> dict[str, Any]:
    """The keys of a row.

    Raises:
        ValueError: it has no name.
    """
    pairs = [(one, cell.strip()) for one, cell in zip(columns, cells, strict=False) if one.key and cell.strip()]
    row: dict[str, Any] = {one.key: _value(one, cell) for one, cell in pairs}
    row["name"] = next((cell for one, cell in pairs if one.key == "name"), "")
    if not row["name"]:
        raise ValueError(f"A row has no name: {' '.join(cells).strip()[:60]}")
    return row


def _value(column: Column, cell: str) -> Value:
    """What a cell says; a bare number takes the unit of its column."""
    value = number_or_text(cell)
    if isinstance(value, str) or not column.unit:
        return value
    if column.key == "mass_g":
        return round(float(value) * G_PER_KG, 3) if column.unit == "kg" and isinstance(value, int | float) else value
    return f"{cell} {column.unit}"
