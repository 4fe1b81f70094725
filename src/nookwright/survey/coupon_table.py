"""The table of a coupon's readings as a person filled it in: CSV, its first column the ids, its last the readings.

Spreadsheets save it with commas or with semicolons, with decimal points or commas, with or without a byte order mark;
all of that is read. Lengths are in mm unless a cell says otherwise. Empty cells and rows are features that nobody read.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.ground.errors import Fault, LengthError
from nookwright.ground.lengths import ALLOWED_LENGTHS, read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.readings import LONGEST, SHORTEST
from nookwright.survey.typed import show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.survey.locate import Path as KeyPath
    from nookwright.survey.typed import Typed

ID_COLUMN, READING_COLUMN = "id", "reading"  # how the heads of these columns begin
LARGEST_FILE = Fact(1e6, unit="bytes", kind=Kind.CHOICE, source="A hundred times the table of a coupon.")


@dataclass(frozen=True)
class Row:
    """The readings of one feature: the line that they stand in, counted from 1, and lengths in mm."""

    line: int
    readings: tuple[float, ...]


def table_path(room_file: str, name: str) -> Path:
    """Where a table lies: beside the room file unless its path is a whole one."""
    return Path(room_file).parent / name


def read_table(path: Path, typed: Typed, key: KeyPath) -> tuple[dict[str, Row], tuple[Fault, ...]]:
    """The rows of a table by their ids, and all that is wrong with it.

    Args:
        path: of the table.
        typed: the room file, which names it.
        key: where it names it.
    """
    text, reason = _text(path)
    if reason:
        fault = typed.fault(
            key,
            found=f"{show(typed.at(key))}: {reason}",
            allowed="a CSV file in UTF-8 beside the room file",
            remedy="Check the path; `nookwright coupon` writes an empty table to fill in.",
        )
        return {}, (fault,)
    return _rows(str(path), text)


def _text(path: Path) -> tuple[str, str]:
    """The text of a file and nothing, or nothing and why it cannot be read."""
    try:
        if not path.is_file():
            return "", "no such file"
        if path.stat().st_size > LARGEST_FILE:
            return "", "a file far too large"
        return path.read_bytes().decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        return "", "bytes that are no UTF-8"
    except (OSError, ValueError) as error:
        return "", getattr(error, "strerror", None) or str(error)


def _rows(file: str, text: str) -> tuple[dict[str, Row], tuple[Fault, ...]]:
    """The rows of a text."""
    lines = list(_lines(text))
    head = [cell.strip().lower() for cell in lines[0][1]] if lines else []
    columns = [at for at, name in enumerate(head) if name.startswith(READING_COLUMN)]
    if not columns or ID_COLUMN not in head:
        return {}, (
            Fault(
                file,
                1,
                "the head of the table",
                show(", ".join(head)),
                f"columns {ID_COLUMN} and {READING_COLUMN} 1, {READING_COLUMN} 2, ...",
                "Keep the first line as `nookwright coupon` wrote it.",
            ),
        )
    found: dict[str, Row] = {}
    faults: list[Fault] = []
    for line, cells in lines[1:]:
        name = _cell(cells, head.index(ID_COLUMN))
        readings = []
        for column in columns:
            value = _length(file, line, f"{name or 'row'}, {head[column]}, column {column + 1}", _cell(cells, column))
            if isinstance(value, Fault):
                faults.append(value)
            elif value is not None:
                readings.append(value)
        if name in found:
            faults.append(Fault(file, line, name, "the same id again", "each id once", "Put its readings in one row."))
        if readings and name not in found:
            found[name] = Row(line, tuple(readings))
    return found, tuple(faults)


def _lines(text: str) -> Iterator[tuple[int, Sequence[str]]]:
    """Lines that hold something, each with its number."""
    first = text.partition("\n")[0]
    sign = ";" if first.count(";") > first.count(",") else "\t" if first.count("\t") > first.count(",") else ","
    reader = csv.reader(io.StringIO(text.replace("\0", " "), newline=""), delimiter=sign)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, cells
    except csv.Error:  # a cell beyond the library's limit: what was read so far stands
        return


def _cell(cells: Sequence[str], column: int) -> str:
    return cells[column].strip() if column < len(cells) else ""


def _length(file: str, line: int, key: str, cell: str) -> float | Fault | None:
    """The length in a cell, why it is none, or ``None`` for an empty one."""
    if not cell:
        return None
    allowed = f"a length in mm of {SHORTEST:g} to {LONGEST:g}, such as 147.93"
    try:
        length = read_length(cell)
    except LengthError as error:
        reason = str(error).partition("; allowed: ")[0]
        return Fault(file, line, key, show(cell), f"{allowed}; or {ALLOWED_LENGTHS}", f"Correct this cell: {reason}.")
    if not SHORTEST <= length <= LONGEST:
        return Fault(file, line, key, show(cell), allowed, "Correct this cell, or leave it empty.")
    return length
