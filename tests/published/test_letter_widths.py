"""Letter widths against the metrics that Adobe published for Helvetica.

Source: Adobe Core 14 font metrics, Helvetica.afm (WX of the characters of ASCII, in thousandths of the em); written
from memory and found equal to the advances in the ``hmtx`` table of Liberation Sans 2.1, which is made to the same.
"""

from __future__ import annotations

import pytest

from nookwright.documents import lettering

HELVETICA = {
    " ": 278, "!": 278, '"': 355, "#": 556, "$": 556, "%": 889, "&": 667, "(": 333, ")": 333, "*": 389, "+": 584,
    ",": 278, "-": 333, ".": 278, "/": 278, "0": 556, "1": 556, "5": 556, "9": 556, ":": 278, "=": 584, "?": 556,
    "@": 1015, "A": 667, "C": 722, "G": 778, "I": 278, "J": 500, "L": 556, "M": 833, "O": 778, "W": 944, "Z": 611,
    "_": 556, "a": 556, "c": 500, "f": 278, "i": 222, "j": 222, "k": 500, "l": 222, "m": 833, "r": 333, "t": 278,
    "w": 722, "z": 500, "{": 334, "|": 260, "~": 584,
}  # fmt: skip


@pytest.mark.parametrize("letter", HELVETICA)
def test_no_letter_is_taken_narrower_than_published(letter: str) -> None:
    """Our width of a letter is never less than the published one, and at most twice it."""
    ours = lettering.width(letter, 1000)
    assert HELVETICA[letter] <= ours <= 2 * HELVETICA[letter]
