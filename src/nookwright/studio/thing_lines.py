"""Several things at once: rows that were copied out of a spreadsheet, or lines as a person types them.

Promise: either all of it becomes lots with ids that nothing else has, or one sentence says which line cannot be read
and how it should be. A mass that nobody weighed is assumed from the size.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from nookwright.studio.assumed import assumed_of
from nookwright.studio.spreadsheet import is_head, pasted
from nookwright.studio.typed_fields import as_length
from nookwright.survey.answers import AnswerError, parse_thing_line
from nookwright.survey.new import short_name
from nookwright.survey.standards import DIMENSIONS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.survey.answers import Thing

_TAKEN = frozenset({"space", "thing", "printer", "material"})  # a bare number behind them says which one


@dataclass(frozen=True)
class Typed:
    """Things that were read.

    Attributes:
        lots: as they stand in the room file.
        assumed: how many of them have a mass that is assumed.
    """

    lots: tuple[dict[str, Any], ...]
    assumed: int


def things_of(typed: str, known: Iterable[str], unit: str = "mm") -> Typed:
    """The lots of a paste or of lines.

    Args:
        typed: rows of a spreadsheet, the names of the columns first, or lines of name, size, how many.
        known: ids that are taken.
        unit: of plain numbers in this room; in lines, plain numbers are millimetres whatever it is.

    Raises:
        ValueError: a line cannot be read; the message says which, and how it should be.
    """
    lines = [line for line in typed.splitlines() if line.strip()]
    if not lines:
        raise ValueError("Type at least one line.")
    rows = pasted(typed) if is_head(lines[0]) else [_row(line, unit) for line in lines]
    taken, lots, assumed = set(known), [], 0
    for row in rows:
        row_id = new_id(row["name"], taken)
        taken.add(row_id)
        more = assumed_of(row, unit)
        assumed += "mass_g" in more
        lots.append({"id": row_id, **row, **more})
    return Typed(tuple(lots), assumed)


def new_id(name: str, known: set[str]) -> str:
    """A short name that nothing else has.

    >>> new_id("Glue sticks", {"glue-sticks"})
    'glue-sticks-2'

    Args:
        name: for people.
        known: ids that are taken.
    """
    base = short_name(name)
    if base not in known and base not in _TAKEN:
        return base
    first = 1 if base in _TAKEN else 2
    return next(f"{base}-{number}" for number in range(first, len(known) + 3) if f"{base}-{number}" not in known)


def _row(line: str, unit: str) -> dict[str, Any]:
    """The keys of one line."""
    try:
        thing = parse_thing_line(line.strip().replace("\t", ", "))
    except AnswerError as error:
        fault = error.faults[0]
        raise ValueError(
            f"The line {line.strip()[:60]} cannot be read. Allowed: {fault.allowed}. {fault.remedy}"
        ) from error
    return {"name": thing.name, **_size(thing, unit), "count": thing.count}


def _size(thing: Thing, unit: str) -> dict[str, Any]:
    """The size of a thing, published or measured."""
    if thing.standard:
        return {"standard": thing.standard}
    sides = zip(DIMENSIONS[thing.shape], thing.sides, strict=True)
    return {"shape": str(thing.shape), **{key: as_length(side, unit) for key, side in sides}}
