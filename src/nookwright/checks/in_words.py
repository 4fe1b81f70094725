"""Figures and names of findings as a maker reads them: no digit more than helps, and none fewer than makes the point.

A small figure keeps its first digit, so that nothing that is too much reads as nothing. What the room file calls "a
pipe" is "the pipe" in the middle of a sentence. A part is called by its label, with its id in kit.json.
"""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.exchange.kit import Placement

OURS = "Do not print it. This is a fault of the tool: please report it with the room file."
_PAIR = 2  # names that need no semicolon
_MOST_DIGITS = 6  # behind the point, of what must differ
_ARTICLE = re.compile(r"^(a|an|the)\s+", re.IGNORECASE)


def length(mm: float) -> str:
    """A length in words: in hundredths, a smaller one with its first digit.

    >>> length(12.3456), length(0.027), length(0.00021), length(0.0)
    ('12.35 mm', '0.03 mm', '0.0002 mm', '0.00 mm')
    """
    return f"{_small(mm, 2)} mm"


def volume(mm3: float) -> str:
    """A volume in words: whole mm3, a small one with its first digits.

    >>> volume(656.3111), volume(2.1146), volume(0.00234)
    ('656 mm3', '2.1 mm3', '0.002 mm3')
    """
    return f"{_small(mm3, 0 if abs(mm3) >= 10 else 1)} mm3"  # noqa: PLR2004 - two digits are enough


def _small(value: float, places: int) -> str:
    """A figure with some places behind the point, or as many as show its first digit."""
    least = 0.5 * 10.0**-places
    if 0 < abs(value) < least:
        places = -math.floor(math.log10(abs(value)))
    return f"{value:.{places}f}"


def unlike(found: float, limit: float, places: int = 2) -> tuple[str, str]:
    """Two figures with as many places behind the point as tell them apart.

    Args:
        found: one.
        limit: the other.
        places: at least.

    >>> unlike(217.874, 217.87), unlike(11.984, 12.0, 1), unlike(3.0, 4.0, 1)
    (('217.874', '217.870'), ('11.98', '12.00'), ('3.0', '4.0'))
    """
    while places < _MOST_DIGITS and found != limit and f"{found:.{places}f}" == f"{limit:.{places}f}":
        places += 1
    return f"{found:.{places}f}", f"{limit:.{places}f}"


def outer(size: Sequence[float]) -> str:
    """Sides of a box.

    >>> outer((89.40020000000001, 71.4, 18.0))
    '89.4 x 71.4 x 18 mm'
    """
    return " x ".join(f"{round(side, 2):g}" for side in size) + " mm"


def outers_unlike(found: Sequence[float], limit: Sequence[float]) -> tuple[str, str]:
    """Sides of two boxes, with as many places as tell them apart.

    >>> outers_unlike((16.0, 16.0), (15.9998, 16.0)), outers_unlike((16.0, 8.0), (12.0, 8.0))
    (('16 x 16 mm', '15.9998 x 16 mm'), ('16 x 8 mm', '12 x 8 mm'))
    """
    for places in range(2, _MOST_DIGITS + 1):
        said = [" x ".join(f"{round(side, places):.10g}" for side in sides) + " mm" for sides in (found, limit)]
        if said[0] != said[1]:
            break
    return said[0], said[1]


def the(thing: str, *, first: bool = False) -> str:
    """What the room file calls by an article of its own, or by none.

    Args:
        thing: as in the room file.
        first: whether a sentence begins with it.

    >>> the("a pipe"), the("the lock"), the("waste pipe", first=True)
    ('the pipe', 'the lock', 'The waste pipe')
    """
    return f"{'The' if first else 'the'} {_ARTICLE.sub('', thing)}"


def names(those: Sequence[str], most: int = 3) -> str:
    """Names of some things, which may have commas in them; the first ones, and how many more.

    >>> names(["Forks"]), names(["Forks", "Jars, large"]), names(["a", "b", "c", "d", "e"])
    ('Forks', 'Forks and Jars, large', 'a; b; c; and 2 more')
    """
    if len(those) <= most:
        return " and ".join(those) if len(those) <= _PAIR else f"{'; '.join(those[:-1])}; and {those[-1]}"
    return f"{'; '.join(those[:most])}; and {len(those) - most} more"


def called(placement: Placement) -> str:
    """A placed part: its label, and its id where that says more."""
    return placement.label if placement.label == placement.id else f"{placement.label} ({placement.id})"


def some(count: int, one: str, more: str = "") -> str:
    """So many of something.

    >>> some(1, "pair"), some(3, "pair"), some(2, "box", "boxes")
    ('1 pair', '3 pairs', '2 boxes')
    """
    return f"{count} {one if count == 1 else more or one + 's'}"
