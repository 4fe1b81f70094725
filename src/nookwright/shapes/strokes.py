"""Our own lettering: every letter as a few strokes of a round pen, lines and arcs of a quarter or half a circle.

A letter is drawn on a field one unit high, from the middle of the pen on the baseline to its middle at the top of the
capitals; small letters are 0.7 high and go down to -0.3. Letters with a mark above or below are put together from the
two, as Unicode takes them apart. There is no font file.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from itertools import pairwise

from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.alphabet import LETTERS, MARKS, SMALL, Chain
from nookwright.shapes.node import refuse

GAP = Fact(0.16, unit="1", kind=Kind.CHOICE, source="Of the height between letters, and no less than a stroke.")
SMALL_HEIGHT = Fact(0.7, unit="1", kind=Kind.CHOICE, source="Of the capitals: small letters that can be printed.")
Line = tuple[tuple[float, float], tuple[float, float], float]


@dataclass(frozen=True)
class Letter:
    """A letter on its field: its width, and its strokes as chains of corners (x, y, bulge)."""

    width: float
    chains: tuple[Chain, ...]


def letter(character: str) -> Letter:
    """The strokes of one character.

    Raises:
        RecipeError: it has none.

    >>> letter("Ä").width == letter("A").width
    True
    """
    base, *marks = tuple(unicodedata.normalize("NFD", character))
    if base not in LETTERS or any(mark not in MARKS for mark in marks):
        name = unicodedata.name(character, f"U+{ord(character):04X}").lower()
        refuse("Glyphs", "every character can be drawn", found=f"{character!r} ({name})", allowed=allowed_characters())
    width, chains = LETTERS[base]
    # A mark is drawn about the middle, above a capital; above a small letter it comes down.
    drop = 1 - SMALL_HEIGHT if base in SMALL else 0.0
    base_chains = LETTERS["ı"][1] if base == "i" and marks and marks[0] not in BELOW else chains
    found = list(base_chains)
    for mark in marks:
        down = 0.0 if mark in BELOW else drop
        found += [tuple((x + width / 2, y - down, b) for x, y, b in chain) for chain in MARKS[mark]]
    return Letter(width, tuple(found))


BELOW = frozenset({"\N{COMBINING CEDILLA}", "\N{COMBINING OGONEK}"})


def allowed_characters() -> str:
    """All characters that can be drawn, marks aside, in order."""
    return "".join(sorted(LETTERS)).strip() + ", space, letters with the common marks"


def drawn(text: str, height: float, stroke: float) -> tuple[Line, ...]:
    """The lines that the middle of the pen follows, each as start, end and bulge.

    Args:
        text: one line of characters.
        height: of capitals, from edge to edge, mm.
        stroke: width of the pen, mm.

    Raises:
        RecipeError: a character that cannot be drawn, by its name.
    """
    scale, half, at = height - stroke, stroke / 2, 0.0
    lines: list[Line] = []
    for character in _composed(text):
        each = letter(character)
        for chain in each.chains:
            places = [(at + half + x * scale, half + y * scale, bulge) for x, y, bulge in chain]
            if len(places) == 1:
                places *= 2
            lines += [((x, y), (u, v), bulge) for (x, y, bulge), (u, v, _) in pairwise(places)]
        at += each.width * scale + stroke + _gap(height, stroke)
    return tuple(lines)


def drawn_width(text: str, height: float, stroke: float) -> float:
    """Length of a line of text from its origin to the right edge of its last character, mm.

    Args:
        text: one line of characters.
        height: of capitals, mm.
        stroke: width of the pen, mm.

    Raises:
        RecipeError: a character that cannot be drawn, by its name.
    """
    letters = [letter(character) for character in _composed(text)]
    fields = sum(each.width for each in letters) * (height - stroke) + stroke * len(letters)
    return fields + _gap(height, stroke) * max(0, len(letters) - 1)


def _gap(height: float, stroke: float) -> float:
    return max(stroke, GAP * height)


def _composed(text: str) -> str:
    return unicodedata.normalize("NFC", text)
