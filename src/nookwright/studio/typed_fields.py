"""What people type into a field, and what stands for it in the room file.

Several readings stand one behind the other with a semicolon between them, since a comma may be a decimal sign:
``421.4; 421,1; 16 5/8 in``. Readings at the floor and at the rim each have their word: ``floor 421.4; 421.1, rim 422``
is not said so, but on two lines: ``421.4; 421.1`` and ``rim: 422``.

Promise: what a field shows, typed back in, is the same value; numbers stay numbers as they were typed, everything else
becomes a text that the survey reads, or says why it cannot. What it does not know: which values are allowed.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.studio.toml_values import Value

_INTEGER: Final = re.compile(r"[+-]?(0|[1-9][0-9]{0,15})")
_DECIMAL: Final = re.compile(r"[+-]?[0-9]{1,15}[.,][0-9]{1,9}")
_NAMED: Final = re.compile(r"([a-z_]+)\s*:\s*(.*)", re.DOTALL)


def shown(value: object) -> str:
    r"""A value of a room file as a field shows it.

    >>> shown({"floor": [421.4, 421.1], "rim": 422}), shown(["36.2 cm"]), shown(None)
    ('421.4; 421.1\nrim: 422', '36.2 cm', '')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        lines = [shown(item) if name == "floor" else f"{name}: {shown(item)}" for name, item in value.items()]
        return "\n".join(lines)
    if isinstance(value, list):
        return "; ".join(shown(item) for item in value)
    return str(value)


def number_or_text(typed: str) -> Value:
    """One value as it was typed: a number where it is one, with a point or a comma; else its text.

    >>> number_or_text("362"), number_or_text("46,2"), number_or_text("14 1/4 in")
    (362, 46.2, '14 1/4 in')
    """
    typed = typed.strip()
    if _INTEGER.fullmatch(typed):
        return int(typed)
    return float(typed.replace(",", ".")) if _DECIMAL.fullmatch(typed) else typed


def as_length(length: float, unit: str) -> Value:
    """A length as it is written into a room file: with its unit where plain numbers there are no millimetres.

    >>> as_length(22.0, "mm"), as_length(36.25, "mm"), as_length(22.0, "in")
    (22, 36.25, '22 mm')

    Args:
        length: mm.
        unit: of plain numbers in this room.
    """
    return plain_number(length) if unit == "mm" else f"{plain_number(length)} mm"


def plain_number(value: float) -> float | int:
    """A number as a person would type it.

    >>> plain_number(22.0), plain_number(3.14159)
    (22, 3.142)
    """
    return int(value) if value == int(value) else round(value, 3)


def readings(typed: str) -> Value | None:
    r"""One reading, several, or several at several heights; nothing where nothing was typed.

    >>> readings("421.4; 421.1\nrim: 422")
    {'floor': [421.4, 421.1], 'rim': 422}
    """
    named: dict[str, Value] = {}
    floor: list[Value] = []
    for line in typed.splitlines():
        match = _NAMED.fullmatch(line.strip())
        if match and match[1] != "floor":
            found = _listed(match[2])
            if found:
                named[match[1]] = found[0] if len(found) == 1 else found
        else:
            floor += _listed(match[2] if match else line)
    if not floor and not named:
        return None
    one: Value = floor[0] if len(floor) == 1 else list(floor)
    return {"floor": one, **named} if named else one


def words(typed: str) -> Value | None:
    """Words with semicolons or commas between them, as a list; nothing where there are none."""
    found: list[Value] = [part.strip() for part in re.split(r"[;,\n]", typed) if part.strip()]
    return found or None


def plain(typed: str) -> Value | None:
    """A text, a number, or nothing."""
    return number_or_text(typed) if typed.strip() else None


def understood(typed: str, unit: str) -> str:
    """What lengths in a field are read as, in words; empty where there is nothing to add.

    Args:
        typed: in the field.
        unit: of plain numbers in this room.

    >>> understood("36.2 cm; 14 1/4 in", "mm"), understood("362", "mm")
    ('read as 362 and 361.95 mm', '')
    """
    parts = [part.strip() for part in re.split(r"[;\n]", re.sub(r"[a-z_]+\s*:", "", typed)) if part.strip()]
    lengths: list[float] = []
    for part in parts:
        try:
            lengths.append(read_length(number_or_text(part), unit))
        except LengthError:
            return ""
    if not lengths or (unit == "mm" and all(isinstance(number_or_text(part), int | float) for part in parts)):
        return ""
    return f"read as {_and([f'{round(length, 3):g}' for length in lengths])} mm"


def _and(found: Sequence[str]) -> str:
    """Words in a row."""
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}"


def _listed(typed: str) -> list[Value]:
    """Values with semicolons between them."""
    return [number_or_text(part) for part in typed.split(";") if part.strip()]
