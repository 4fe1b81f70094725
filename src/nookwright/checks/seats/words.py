"""What the checks of seats share in words: stops, places, and how many."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.in_words import OURS
from nookwright.ground.findings import Against, Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Sequence


def stop(code: str, subject: str, text: str, remedy: str = OURS, against: Against | None = None) -> Finding:
    """A finding that stops."""
    return Finding(code, Severity.STOP, subject, text, remedy, against)


def at(place: Sequence[float]) -> str:
    """A place of a part in plan, in words.

    >>> at((12.34, 5.0))
    '12.3 mm from its left and 5.0 mm from its front'
    """
    return f"{place[0]:.1f} mm from its left and {place[1]:.1f} mm from its front"


def are(count: int, one: str) -> str:
    """So many of the like ones of a part, as the subject of a sentence.

    >>> are(1, "cone"), are(3, "cone")
    ('1 of its cones is', '3 of its cones are')
    """
    return f"{count} of its {one}s {'is' if count == 1 else 'are'}"
