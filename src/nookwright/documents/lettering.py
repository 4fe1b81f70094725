"""Lettering: how wide a text will be, and how it is broken into lines, without asking any font.

Promise: a text is never wider on paper than said here, for the usual sans-serif faces and the letters of
Europe; so what is laid out with these widths does not overlap when it is drawn. The table holds, for each
character of ASCII, the widest advance among DejaVu Sans and Liberation Sans (metrically the usual
grotesque), in hundredths of the em, rounded up; measured from the ``hmtx`` tables of DejaVu 2.37 and
Liberation 2.1. What it does not know: kerning.
"""

from __future__ import annotations

import math
import unicodedata

from nookwright.ground.sources import Fact, Kind

# fmt: off
_REGULAR = (
    32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34,
    84, 84, 84, 56, 102, 69, 69, 73, 78, 67, 62, 78, 76, 30, 50, 67, 56, 87, 75, 79, 67, 79, 73, 67, 62, 74, 69, 99,
    69, 67, 69, 40, 34, 40, 84, 56, 50, 62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53,
    40, 64, 60, 82, 60, 60, 53, 64, 34, 64, 84,
)
_BOLD = (
    35, 46, 53, 84, 70, 101, 88, 31, 46, 46, 53, 84, 38, 42, 38, 37, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 40, 40,
    84, 84, 84, 62, 100, 78, 77, 74, 84, 69, 69, 83, 84, 38, 56, 78, 64, 100, 84, 86, 74, 86, 78, 73, 69, 82, 78, 111,
    78, 73, 73, 46, 37, 46, 84, 56, 50, 68, 72, 60, 72, 68, 44, 72, 72, 35, 35, 67, 35, 105, 72, 69, 72, 72, 50, 60,
    48, 72, 66, 93, 65, 66, 59, 72, 37, 72, 84,
)
# fmt: on
_FIRST = ord(" ")
_ELLIPSIS = "…"

OTHER_EM = Fact(1.0, unit="em", kind=Kind.CHOICE, source="No letter of other scripts is usually wider than the em.")
ASCENT_EM = Fact(
    0.8,
    unit="em",
    kind=Kind.MEASURED,
    source="Capitals reach 0.73, accents 0.93 and rarely; from both faces' outlines.",
)
DESCENT_EM = Fact(0.24, unit="em", kind=Kind.MEASURED, source="Lowest letters reach 0.24 below the line in both faces.")
LEADING_EM = Fact(1.15, unit="em", kind=Kind.COMMON_PRACTICE, source="Distance of base lines in small lettering.")


def width(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a line of text is at most, in the unit of ``size``.

    >>> width("", 10), round(width("ii", 10), 2), width("é", 10) == width("e", 10)
    (0.0, 5.6, True)

    Args:
        text: one line.
        size: the em.
        bold: whether in bold.
    """
    return math.fsum(_advance(letter, bold=bold) for letter in text) * size


def fitted(text: str, limit: float, size: float, *, bold: bool = False) -> str:
    """The text, or as much of its beginning as fits with an ellipsis; empty where nothing fits.

    >>> fitted("cable reels", 100, 3), fitted("cable reels", 10, 3), fitted("cable", 1, 3)
    ('cable reels', 'cabl…', '')
    """
    if width(text, size, bold=bold) <= limit:
        return text
    for end in range(len(text) - 1, 0, -1):
        short = text[:end].rstrip() + _ELLIPSIS
        if width(short, size, bold=bold) <= limit:
            return short
    return ""


def wrapped(text: str, limit: float, size: float, *, bold: bool = False) -> tuple[str, ...] | None:
    """The text in lines broken at blanks, hyphens and slashes, or nothing where a word does not fit.

    >>> wrapped("hex keys and bits", 18, 3)
    ('hex keys', 'and bits')
    >>> wrapped("screwdrivers", 10, 3) is None
    True
    """
    lines: list[str] = []
    for word in _words(text):
        joined = f"{lines[-1]}{word}" if lines else word.lstrip()
        if lines and width(joined, size, bold=bold) <= limit:
            lines[-1] = joined
            continue
        lines.append(word.lstrip())
        if width(lines[-1], size, bold=bold) > limit:
            return None
    return tuple(lines)


def broken(text: str, limit: float, size: float, *, most: int, bold: bool = False) -> tuple[str, ...]:
    """The text in at most so many lines, come what may: long words are cut, the rest is an ellipsis.

    >>> broken("one two three four", 12, 3, most=2)
    ('one', 'two t…')
    """
    lines: list[str] = []
    rest = " ".join(text.split())
    while rest and len(lines) < most:
        if len(lines) == most - 1 or width(rest, size, bold=bold) <= limit:
            line = fitted(rest, limit, size, bold=bold)
            return (*lines, line) if line else tuple(lines)
        head = _head(rest, limit, size, bold=bold)
        lines.append(head.strip())
        rest = rest[len(head) :].lstrip()
    return tuple(lines)


def _head(text: str, limit: float, size: float, *, bold: bool) -> str:
    head = ""
    for word in _words(text):
        if width((head + word).strip(), size, bold=bold) > limit:
            break
        head += word
    if head:
        return head
    for end in range(len(text), 1, -1):
        if width(text[:end], size, bold=bold) <= limit:
            return text[:end]
    return text[:1]


def _words(text: str) -> list[str]:
    """Each word with the blank before it, so that the pieces joined are the text again."""
    pieces: list[str] = []
    for count, word in enumerate(text.split()):
        lead = " " if count else ""
        parts = word.replace("-", "-\0").replace("/", "/\0").split("\0")
        pieces += [lead + parts[0], *parts[1:]]
    return [piece for piece in pieces if piece]


def _advance(letter: str, *, bold: bool) -> float:
    base = unicodedata.normalize("NFD", letter)[0]
    place = ord(base) - _FIRST
    table = _BOLD if bold else _REGULAR
    if 0 <= place < len(table):
        return table[place] / 100
    if base in "×·–°±÷":
        return table[ord("+") - _FIRST] / 100
    return float(OTHER_EM)
