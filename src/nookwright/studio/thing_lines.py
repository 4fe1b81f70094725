"""Several things at once: rows that were copied out of a spreadsheet, or lines as a person types them.

Promise: either all of it becomes lots with ids that nothing else has, or one sentence says which line cannot be read
and how it should be. A mass that nobody weighed is assumed from the size.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from nookwright.studio.typed_fields import pasted
from nookwright.survey.answers import AnswerError, Thing, parse_thing_line
from nookwright.survey.new import assumed_mass_g, short_name
from nookwright.survey.standards import DIMENSIONS

if TYPE_CHECKING:
    from collections.abc import Iterable

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


def things_of(typed: str, known: Iterable[str]) -> Typed:
    """The lots of a paste or of lines.

    Args:
        typed: rows of a spreadsheet with the names of the columns first, or lines of name, size, how many.
        known: ids that are taken.

    Raises:
        ValueError: a line cannot be read; the message says which, and how it should be.
    """
    lines = [line for line in typed.splitlines() if line.strip()]
    if not lines:
        raise ValueError("Type at least one line.")
    rows = pasted(typed) if _is_head(lines[0]) else [_row(line) for line in lines]
    taken, lots = set(known), []
    for row in rows:
        row_id = new_id(row["name"], taken)
        taken.add(row_id)
        lots.append({"id": row_id, **row})
    assumed = 0 if _is_head(lines[0]) else sum("mass_g" in row for row in rows)
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


def _is_head(line: str) -> bool:
    """Whether a line names columns: it has tabs, or begins or goes on with ``name`` as a cell."""
    return "\t" in line or "name" in {cell.strip().lower() for cell in line.split(";")}


def _row(line: str) -> dict[str, Any]:
    """The keys of one line."""
    try:
        thing = parse_thing_line(line)
    except AnswerError as error:
        fault = error.faults[0]
        raise ValueError(
            f"The line {line.strip()[:60]} cannot be read. Allowed: {fault.allowed}. {fault.remedy}"
        ) from error
    return {"name": thing.name, **_size(thing), "count": thing.count}


def _size(thing: Thing) -> dict[str, Any]:
    """The size of a thing, published or measured; then its mass is assumed."""
    if thing.standard:
        return {"standard": thing.standard}
    sides = {key: _plain(side) for key, side in zip(DIMENSIONS[thing.shape], thing.sides, strict=True)}
    return {"shape": str(thing.shape), **sides, "mass_g": _plain(assumed_mass_g(thing))}


def _plain(value: float) -> float | int:
    """A number as a person would type it."""
    return int(value) if value == int(value) else round(value, 3)
