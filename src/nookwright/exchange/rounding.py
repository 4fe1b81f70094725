"""Numbers as they stand in kit.json."""

from __future__ import annotations

_DIGITS = 6  # of every number in the file: a millionth of a mm, g or s


def rounded(value: float) -> float:
    """A number as it stands in the file; no minus zero."""
    return round(value, _DIGITS) + 0.0
