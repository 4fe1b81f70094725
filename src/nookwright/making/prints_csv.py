"""What was printed, as a person keeps it in ``prints.csv`` beside the room file; it is read here and never written.

Columns, in any order: ``when`` and ``bedful`` must be there; ``outcome`` (done or failed; done where it is empty),
``printer``, ``material``, ``time`` (minutes, or hours and minutes as 3:25), ``mass_g``, ``note`` and ``id`` may be.
Spreadsheets save it with commas, semicolons or tabs, with decimal points or commas, with or without a byte order mark;
all of that is read. Days are written 2026-03-05 or 05.03.2026; with strokes it could be May, so that is refused.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from nookwright.ground.errors import Fault, TimeError
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import ALLOWED_DURATION, read_duration_s, read_number
from nookwright.making.records import Outcome, PrintRecord
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from nookwright.survey.models import Room

FILE: Final = "prints.csv"
MUST: Final = ("when", "bedful")
MAY: Final = ("outcome", "printer", "material", "time", "mass_g", "note", "id")
LARGEST_FILE = Fact(4e6, unit="bytes", kind=Kind.CHOICE, source="Twenty prints a day for ten years, with notes.")
_GERMAN: Final = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")


@dataclass(frozen=True)
class _Line:
    """One line of the table: its number and its cells by the name of their column."""

    file: str
    number: int
    cells: dict[str, str]

    def fault(self, key: str, allowed: str, remedy: str) -> Fault:
        """What is wrong with a cell."""
        found = show(self.cells[key]) if self.cells.get(key) else "nothing"
        return Fault(self.file, self.number, key, found, allowed, remedy)


def read_prints(room_file: Path, room: Room) -> tuple[tuple[PrintRecord, ...], tuple[Fault, ...]]:
    """The prints noted beside a room file, in order of lines, and all that is wrong with the table.

    Args:
        room_file: the room file; no table beside it means that nothing was printed yet.
        room: as surveyed, for its printers and materials.
    """
    path = room_file.parent / FILE
    if not path.exists():
        return (), ()
    text, reason = _text(path)
    if reason:
        return (), (Fault(str(path), 0, "the file", reason, "a CSV file in UTF-8", "Save it again as CSV in UTF-8."),)
    return read_table(str(path), text, room)


def read_table(file: str, text: str, room: Room) -> tuple[tuple[PrintRecord, ...], tuple[Fault, ...]]:
    """The prints of a text.

    Args:
        file: what the faults call it.
        text: of the table.
        room: as surveyed.
    """
    rows = list(_rows(text))
    head = [cell.strip().lower() for cell in rows[0][1]] if rows else []
    faults = list(_head(file, head))
    if faults:
        return (), tuple(faults)
    records: dict[str, PrintRecord] = {}
    for number, cells in rows[1:]:
        named = dict(zip(head, (cell.strip() for cell in cells), strict=False))
        line = _Line(file, number, named)
        record, wrong = _record(line, room)
        if record is not None and record.id in records:
            wrong = [line.fault("id", "an id that no other line has", "Number it anew, or leave it empty.")]
        if record is not None and not wrong:
            records[record.id] = record
        faults += wrong
    return tuple(records.values()), tuple(faults)


def _text(path: Path) -> tuple[str, str]:
    """The text of the file and nothing, or nothing and why it cannot be read."""
    try:
        if path.stat().st_size > LARGEST_FILE:
            return "", "a file far too large"
        return path.read_bytes().decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        return "", "bytes that are no UTF-8"
    except OSError as error:
        return "", error.strerror or str(error)


def _rows(text: str) -> Iterator[tuple[int, Sequence[str]]]:
    """Lines that hold something, each with its number."""
    first = text.partition("\n")[0]
    sign = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text.replace("\0", " "), newline=""), delimiter=sign)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, cells
    except csv.Error:  # a cell beyond the library's limit: what was read so far stands
        return


def _head(file: str, head: Sequence[str]) -> Iterator[Fault]:
    """What is wrong with the names of the columns."""
    known = (*MUST, *MAY)
    for name in MUST:
        if name not in head:
            allowed = f"the columns {listed(known)}; {listed(MUST)} must be there"
            yield Fault(file, 1, "the head of the table", show(", ".join(head)), allowed, f"Add a column {name}.")
    for at, name in enumerate(head):
        if name and (name not in known or name in head[:at]):
            close = nearest(name, known) if name not in known else ""
            remedy = f"Write {close} instead." if close else "Delete the column, or take its name out."
            yield Fault(file, 1, "the head of the table", show(name), f"the columns {listed(known)}, each once", remedy)


def _record(line: _Line, room: Room) -> tuple[PrintRecord | None, list[Fault]]:
    """The print of one line, or what is wrong with it."""
    faults: list[Fault] = []

    def read(key: str, reader: Callable[[str], float], allowed: str) -> float | None:
        cell = line.cells.get(key, "")
        try:
            return reader(cell) if cell else None
        except TimeError as error:
            faults.append(line.fault(key, allowed, f"Correct it: {str(error).partition('; ')[0]}."))
            return None

    time_s = read("time", read_duration_s, ALLOWED_DURATION)
    mass_g = read("mass_g", read_number, "grams such as 84.5")
    when = _day(line.cells.get("when", ""))
    if when is None:
        faults.append(line.fault("when", "a day such as 2026-03-05 or 05.03.2026", "Write the day on which it ended."))
    if not line.cells.get("bedful"):
        faults.append(line.fault("bedful", "the id of a bedful", "Write the id as the kit has it."))
    outcome = line.cells.get("outcome", "").lower() or Outcome.DONE
    if outcome not in list(Outcome):
        faults.append(line.fault("outcome", " or ".join(Outcome), "Write one of them; empty means done."))
    for key, known in (("printer", [one.id for one in room.printer]), ("material", [one.id for one in room.material])):
        name = line.cells.get(key, "")
        if name and name not in known:
            close = nearest(name, known)
            remedy = f"Write {close} instead." if close else "Write one of them, or leave it empty."
            faults.append(line.fault(key, f"the id of a {key}: {listed(known)}", remedy))
    if faults or when is None:
        return None, faults
    record = PrintRecord(
        id=line.cells.get("id") or f"line-{line.number}",
        when=when.isoformat(),
        printer=line.cells.get("printer", ""),
        material=line.cells.get("material", ""),
        bedful=line.cells["bedful"],
        outcome=Outcome(outcome),
        time_s=time_s,
        mass_g=mass_g,
        note=line.cells.get("note", ""),
    )
    return record, []


def _day(cell: str) -> date | None:
    """The day in a cell; ``None`` where it is none for certain."""
    german = _GERMAN.fullmatch(cell)
    try:
        return date(int(german[3]), int(german[2]), int(german[1])) if german else date.fromisoformat(cell)
    except ValueError:
        return None
