"""Loading a room file: everything that is wrong with it at once, or a room in millimetres and grams.

Promise: any file of any content ends in a room or in faults that name file, line, key, what was found, what is allowed
and what to do; never in an error of a library below. A file that is no TOML has one fault, with its line.
"""

from __future__ import annotations

import json
import re
import tomllib
from typing import TYPE_CHECKING, Any, Final

from pydantic import ValidationError

from nookwright.ground.digest import digest
from nookwright.ground.errors import Fault, RoomError
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.consistency import inconsistencies, outside
from nookwright.survey.coupon_table import read_table, table_path
from nookwright.survey.faults import faults_of
from nookwright.survey.locate import locate
from nookwright.survey.models import Coupon, Lot, Room, Space
from nookwright.survey.own_sizes import size_of
from nookwright.survey.readings import Published, Readings
from nookwright.survey.space_rules import space_contradictions
from nookwright.survey.typed import Typed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

_UNITS: Final = ("mm", "cm", "in")
_TOML_LINE: Final = re.compile(r"\(at line (\d+), column \d+\)")
_OF_JSON: Final = (str, bool, int, float)
_NO_JSON: Final = [[["a date, a time, a number beyond all measure"]]]  # no key takes lists in lists in lists
_LARGEST_INTEGER: Final = Fact(2**53, unit="1", kind=Kind.CHOICE, source="Beyond it a float has no units digit.")
_DEEPEST: Final = Fact(8, unit="1", kind=Kind.CALCULATED, source="No key of a room file lies deeper than 6.")


def load_room(path: Path) -> Room:
    """Load a room file.

    Args:
        path: the file.

    Returns:
        The room; lots of a published size have its shape, dimensions and mass.

    Raises:
        RoomError: with every fault of the file.
    """
    room, faults = check_room(path)
    if room is None:
        raise RoomError(faults)
    return room


def check_room(path: Path) -> tuple[Room | None, tuple[Fault, ...]]:
    """Load a room file, or say all that is wrong with it, in order of lines.

    Args:
        path: the file.

    Returns:
        The room and no faults, or no room and the faults.
    """
    typed, faults = read_toml(path)
    return (None, faults) if typed is None else check_typed(typed)


def check_text(file: str, text: str) -> tuple[Room | None, tuple[Fault, ...]]:
    """The same for a text that is in no file yet, or in another state than its file.

    Args:
        file: what the file is or will be called; tables beside it are read from there.
        text: of the room file.
    """
    typed, faults = typed_of(file, text)
    return (None, faults) if typed is None else check_typed(typed)


def room_sha256(path: Path) -> str:
    """The sha256 of a room file's bytes, in hexadecimal."""
    return digest(path.read_bytes())


def read_toml(path: Path) -> tuple[Typed | None, tuple[Fault, ...]]:
    """Read a TOML file as it was typed, or say in one fault why that cannot be done."""
    name = str(path)
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        return None, (_unreadable(name, line, "bytes that are no UTF-8", "Save the file as UTF-8."),)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return None, (_unreadable(name, 0, reason, "Check the path and that you may read it."),)
    return typed_of(name, text)


def typed_of(file: str, text: str) -> tuple[Typed | None, tuple[Fault, ...]]:
    """A TOML text as it was typed, or in one fault why it is none.

    Args:
        file: what the file is called.
        text: its text.
    """
    try:
        data = tomllib.loads(text)
        return Typed(file, data, locate(text)), ()
    except (ValueError, RecursionError) as error:
        return None, (_syntax(file, text, error),)


def _unreadable(file: str, line: int, found: str, remedy: str) -> Fault:
    """The fault of a file that is no text."""
    return Fault(file, line, "the file", found, "a TOML file in UTF-8", remedy)


def _syntax(file: str, text: str, error: Exception) -> Fault:
    """The fault of a text that is no TOML."""
    match = _TOML_LINE.search(str(error))
    line = int(match[1]) if match else text.count("\n") + 1
    reason = "values within values without end" if isinstance(error, RecursionError) else str(error)
    remedy = "Correct this line; all else is checked once the file can be read."
    return Fault(file, line, "the syntax", _TOML_LINE.sub("", reason).strip(), "TOML 1.0", remedy)


def as_json(value: object, depth: int = 0) -> str:
    """A value of TOML as a text of JSON, whose strict types are those of the models.

    Args:
        value: of the file.
        depth: how deep in the file it stands.
    """
    return json.dumps(_json(value, depth))


def made_whole(typed: Typed, unit: str) -> Room:
    """The room of a file, all of it made at once.

    Args:
        typed: the file.
        unit: of plain numbers.

    Raises:
        ValidationError: with all that a model refuses.
    """
    return Room.model_validate_json(as_json(typed.data), strict=True, context={"unit": unit})


def check_typed(typed: Typed, made: Callable[[Typed, str], Room] = made_whole) -> tuple[Room | None, tuple[Fault, ...]]:
    """Make a room of a TOML file, or say all that is wrong with it.

    Args:
        typed: the file.
        made: makes the room; who knows most of it already may have a quicker way to the same.
    """
    unit = _unit(typed)
    faults = list(inconsistencies(typed))
    room = None
    try:
        room = made(typed, unit)
    except ValidationError as error:
        faults += faults_of(error, typed)
    faults += _outside(typed, unit)
    coupons, unread = _with_tables(room.coupon if room else (), typed)
    faults += unread
    if faults or room is None:
        return None, tuple(sorted(set(faults), key=lambda fault: (fault.line, fault)))
    return room.model_copy(update={"lot": tuple(_filled(lot, room) for lot in room.lot), "coupon": coupons}), ()


def _unit(typed: Typed) -> str:
    """The unit of plain numbers; mm where the file says nothing that we know."""
    unit = typed.at(("room", "units"))
    return unit if isinstance(unit, str) and unit in _UNITS else "mm"


def _json(value: object, depth: int = 0) -> object:
    """A value of TOML as one of JSON, whose strict types are those of the models."""
    if depth > _DEEPEST:
        return _NO_JSON
    if isinstance(value, dict):
        return {key: _json(item, depth + 1) for key, item in value.items()}
    if isinstance(value, list):
        return [_json(item, depth + 1) for item in value]
    if not isinstance(value, _OF_JSON) or (isinstance(value, int) and abs(value) > _LARGEST_INTEGER):
        return _NO_JSON
    return value


def _with_tables(coupons: tuple[Coupon, ...], typed: Typed) -> tuple[tuple[Coupon, ...], list[Fault]]:
    """Coupons with the readings of their tables, and what is wrong with these."""
    found: list[Coupon] = []
    faults: list[Fault] = []
    for number, coupon in enumerate(coupons):
        readings = dict(coupon.readings)
        if coupon.csv is not None:
            rows, unread = read_table(table_path(typed.file, coupon.csv), typed, ("coupon", number, "csv"))
            readings |= {name: Readings(floor=row.readings) for name, row in rows.items()}
            faults += unread
        found.append(coupon.model_copy(update={"readings": readings}))
    return tuple(found), faults


def _outside(typed: Typed, unit: str) -> Iterator[Fault]:
    """What only a whole space tells, of those spaces that are sound key by key."""
    for path, table in typed.tables("space"):
        try:
            space = Space.model_validate_json(as_json(table), strict=True, context={"unit": unit})
        except ValidationError:
            continue
        yield from outside(typed, path, space)
        yield from space_contradictions(typed, path, space)


def _filled(lot: Lot, room: Room) -> Lot:
    """A lot with the shape, the dimensions and the mass of its published size."""
    size = size_of(lot.standard, room.standard) if lot.standard else None
    if size is None:
        return lot
    published: dict[str, Any] = {name: Published(floor=(limits.largest,)) for name, limits in size.dimensions.items()}
    mass_g = size.mass_g if lot.mass_g is None else lot.mass_g
    return lot.model_copy(update={**published, "shape": size.shape, "mass_g": mass_g})
