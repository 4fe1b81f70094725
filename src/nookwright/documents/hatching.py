"""Hatching as plain lines, cut off at the edge by arithmetic: alike everywhere, without ids."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.svg import Box, Point


def lines(box: Box, spacing: float, *, rising: bool = True) -> Iterator[tuple[Point, Point]]:
    """Lines at 45 degrees that fill a box.

    The lines of neighbouring boxes meet, because they are counted from the corner of the sheet.

    Args:
        box: what is to be hatched.
        spacing: between two lines along an edge, mm of paper, above 0.
        rising: to the right, or falling.
    """
    low, high = _span(box, rising=rising)
    number = int(low // spacing)
    while number * spacing < high:
        cut = _cut(box, number * spacing, rising=rising)
        if cut:
            yield cut
        number += 1


def _span(box: Box, *, rising: bool) -> tuple[float, float]:
    """Least and largest x + y (rising on paper, where y runs down) or x - y over the box."""
    if rising:
        return box.x + box.y, box.right + box.bottom
    return box.x - box.bottom, box.right - box.y


def _cut(box: Box, constant: float, *, rising: bool) -> tuple[Point, Point] | None:
    if rising:  # y = constant - x
        left, right = max(box.x, constant - box.bottom), min(box.right, constant - box.y)
        ends = (left, constant - left), (right, constant - right)
    else:  # y = x - constant
        left, right = max(box.x, constant + box.y), min(box.right, constant + box.bottom)
        ends = (left, left - constant), (right, right - constant)
    return ends if right > left else None
