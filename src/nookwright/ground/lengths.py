"""Lengths as people type them, read for certain or refused.

Vocabulary: a *length* is a number with a unit, such as ``362``, ``"36.2 cm"``, ``"14 1/4 in"`` or ``"5 ft 2 1/2 in"``.
A decimal sign is a point or a comma; a fraction stands alone or behind a whole number.

Promise: what is returned is what was meant, exactly converted; whatever could be meant in two ways is refused.

The number is read here and the unit's factor comes from pint. pint does not read the number, because it multiplies
what stands side by side and drops commas: ``"14 1/4 in"`` becomes 3.5 in and ``"46,2 cm"`` becomes 462 cm, both without
a warning.
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction
from functools import cache
from typing import Final

from nookwright.ground.errors import LengthError
from nookwright.ground.sources import Fact, Kind

ALLOWED_LENGTHS: Final = """362, "36.2 cm", "36,2 cm", "14 1/4 in", "5 ft 2 in"; units mm, cm, m, in, ft"""

_UNITS: Final = {
    "mm": "millimeter",
    "millimetre": "millimeter",
    "millimetres": "millimeter",
    "millimeter": "millimeter",
    "millimeters": "millimeter",
    "cm": "centimeter",
    "centimetre": "centimeter",
    "centimetres": "centimeter",
    "centimeter": "centimeter",
    "centimeters": "centimeter",
    "m": "meter",
    "metre": "meter",
    "metres": "meter",
    "meter": "meter",
    "meters": "meter",
    "in": "inch",
    "inch": "inch",
    "inches": "inch",
    '"': "inch",
    "ft": "foot",
    "foot": "foot",
    "feet": "foot",
    "'": "foot",
}
_INCHES_A_FOOT: Final = Fact(
    12, unit="1", kind=Kind.STANDARD, source="International yard and pound agreement of 1959: a foot is 12 inches."
)
_LONGEST_TEXT: Final = Fact(
    60,
    unit="1",
    kind=Kind.CHOICE,
    source="No length is typed with more characters; keeps the reading of any text quick.",
)
_SIGNS: Final = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "−": "-", "⁄": "/", "\u00a0": " ", "\u202f": " "}
)
_DIGITS: Final = r"[0-9]{1,9}"
_NUMBER: Final = re.compile(
    rf"(?P<whole>{_DIGITS})(?:-|\s+)(?P<top>{_DIGITS})\s*/\s*(?P<bottom>{_DIGITS})"
    rf"|(?P<only_top>{_DIGITS})\s*/\s*(?P<only_bottom>{_DIGITS})"
    rf"|(?P<decimal>{_DIGITS}(?:[.,][0-9]{{1,9}})?|[.,][0-9]{{1,9}})"
)
_LENGTH: Final = re.compile(r"(?P<sign>[+-]?)\s*(?P<number>[0-9.,/\s-]*[0-9])\s*(?P<unit>[^0-9.,/\s-]*)")
_FEET_AND_INCHES: Final = re.compile(
    rf"(?P<feet>{_DIGITS})\s*(?:ft|foot|feet|')\s*-?\s*(?P<inches>[0-9.,/\s-]*[0-9])\s*(?:in|inch|inches|\")"
)
_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def read_length(typed: object, default_unit: str = "mm") -> float:
    """Read a length as a person typed it.

    >>> read_length(362), read_length("36,2 cm"), read_length("14 1/4 in"), read_length(2, "in")
    (362.0, 362.0, 361.95, 50.8)

    Args:
        typed: a number in the default unit, or a text; a unit in the text goes before the default.
        default_unit: unit of a number without one: mm, cm, m, in or ft.

    Returns:
        The length in mm; it may be negative.

    Raises:
        LengthError: if it is no number and no text, or if it cannot be read for certain.
    """
    if isinstance(typed, str):
        return float(_text(typed, default_unit))
    if isinstance(typed, bool) or not isinstance(typed, int | float):
        raise _refusal(f"a length is a number or a text, not {_kind(typed)}")
    if isinstance(typed, float) and not math.isfinite(typed):
        raise _refusal(f"{typed} is no length")
    return _finite(Fraction(typed) * _factor(default_unit))


def _text(typed: str, default_unit: str) -> Fraction:
    """The value in mm of a typed text."""
    text = _tidy(typed) if len(typed) <= _LONGEST_TEXT else ""
    feet = _FEET_AND_INCHES.fullmatch(text)
    if feet:
        return _feet_and_inches(feet["feet"], feet["inches"], typed)
    match = _LENGTH.fullmatch(text)
    if not match:
        raise _refusal(f"{_quoted(typed)} is not one number with one unit; write it so")
    unit = match["unit"] or default_unit
    if unit not in _UNITS:
        raise _refusal(f"{_quoted(typed)} has the unit {unit!r}, which we do not know; write mm, cm, m, in or ft")
    value = _number(match["number"], typed) * _factor(unit)
    return -value if match["sign"] == "-" else value


def _feet_and_inches(feet: str, inches: str, typed: str) -> Fraction:
    """The value in mm of feet and inches side by side."""
    part = _number(inches, typed)
    if part >= _INCHES_A_FOOT:
        raise _refusal(f"{_quoted(typed)} has 12 inches or more beside its feet; write it in inches alone")
    return int(feet) * _factor("ft") + part * _factor("in")


def _number(text: str, typed: str) -> Fraction:
    """The value of an unsigned number: whole, decimal, fraction, or whole and fraction."""
    if _THOUSANDS.fullmatch(text):
        plain, point = text.replace(",", ""), text.replace(",", ".")
        raise _refusal(f"{_quoted(typed)} may mean {plain} or {point}; write the one that you mean")
    match = _NUMBER.fullmatch(text)
    if not match:
        raise _refusal(f"{_quoted(typed)} holds no single number; leave out signs that part thousands")
    if match["decimal"]:
        return Fraction("0" + match["decimal"].replace(",", "."))
    top, bottom = match["top"] or match["only_top"], match["bottom"] or match["only_bottom"]
    if int(bottom) == 0 or (match["whole"] and int(top) >= int(bottom)):
        raise _refusal(f"{_quoted(typed)} holds the fraction {top}/{bottom}, which cannot stand there")
    return int(match["whole"] or 0) + Fraction(int(top), int(bottom))


def _tidy(typed: str) -> str:
    """Lower case, one kind of quotation mark, and fractions such as the sign for a half written out."""
    spelled = "".join(f" {unicodedata.normalize('NFKC', sign)}" if _is_fraction(sign) else sign for sign in typed)
    return spelled.translate(_SIGNS).strip().lower()


def _is_fraction(sign: str) -> bool:
    """Whether a character is a fraction in one sign, such as the one for three quarters."""
    return unicodedata.decomposition(sign).startswith("<fraction>")


@cache
def _factor(unit: str) -> Fraction:
    """How many millimetres one of a unit is, exactly."""
    name = _UNITS.get(unit)
    if name is None:
        raise _refusal(f"{unit!r} is no unit of length that we know; name mm, cm, m, in or ft")
    if name == "millimeter":
        return Fraction(1)
    return Fraction(_registry().Quantity(Fraction(1), name).to("millimeter").magnitude)


@cache
def _registry():  # type: ignore[no-untyped-def]  # noqa: ANN202 - the type would import pint
    """The units of pint, exact; made at the first length that needs them, since it takes a second."""
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Fraction, cache_folder=None)


def _finite(value: Fraction) -> float:
    """The value as a float, or a refusal where it is beyond all floats."""
    try:
        return float(value)
    except OverflowError:
        raise _refusal("the number is beyond all measure") from None


def _kind(typed: object) -> str:
    """What a person would call this value of a TOML file."""
    if isinstance(typed, bool):
        return "true or false"
    return {dict: "a table", list: "a list", tuple: "a list", type(None): "nothing"}.get(type(typed), "a date or time")


def _quoted(typed: str) -> str:
    """The text as typed, cut where it is long."""
    most = 40
    return repr(typed if len(typed) <= most else typed[:most] + "...")


def _refusal(reason: str) -> LengthError:
    """The error that says why, and what is allowed."""
    return LengthError(f"{reason}; allowed: {ALLOWED_LENGTHS}")
