"""Dimension lines: an overall one and chains, outside the space, millimetres above the line.

After ISO 129-1: narrow lines, filled arrow heads, the figure above the line and readable from the bottom or
the right of the sheet. Promise: no figure is wider than its own dimension, so figures of a chain never
touch; what is too short for its figure is left out of the chain (the list has every size).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents import lettering, style, words
from nookwright.exchange.svg import Anchor
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.documents.sheet import View
    from nookwright.exchange.svg import Canvas, Point

CHAIN_AT = Fact(7.0, unit="mm", kind=Kind.CHOICE, source="Of the chain's line from the space, clear of its wall.")
OVERALL_AT = Fact(12.5, unit="mm", kind=Kind.CHOICE, source="Of the overall line from the space, clear of the chain.")
BEYOND_LINE = Fact(1.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Extension lines go on past the dimension line.")
ABOVE_LINE = Fact(0.8, unit="mm", kind=Kind.COMMON_PRACTICE, source="Air between a figure and its line.")
LEAST_GAP = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Narrower gaps between parts are play, not a dimension.")

Segment = tuple[float, float]


def chain(segments: Sequence[Segment], *, end: float) -> tuple[Segment, ...]:
    """The dimensions of a chain: the parts' own, and the gaps that are wide enough to matter.

    >>> chain([(0.3, 107.7), (108.3, 143.7)], end=160)
    ((0.3, 107.7), (108.3, 143.7), (143.7, 160))

    Args:
        segments: from and to of each part, mm, not overlapping.
        end: of the space, mm.
    """
    found: list[Segment] = []
    at = 0.0
    for start, stop in sorted(segments):
        if start - at >= LEAST_GAP:
            found.append((at, start))
        found.append((start, stop))
        at = stop
    if end - at >= LEAST_GAP and found:
        found.append((at, end))
    return tuple(found)


def draw_across(canvas: Canvas, view: View, segments: Sequence[Segment], distance: float) -> None:
    """Draw dimensions below the space.

    Args:
        canvas: where.
        view: of the space.
        segments: from and to along x, mm.
        distance: of the line from the space, mm of paper.
    """
    y = view.bottom + distance
    for start, stop in segments:
        ends = (view.point(start, 0)[0], y), (view.point(stop, 0)[0], y)
        _dimension(canvas, ends, words.mm(stop - start), distance, upwards=False)


def draw_upwards(canvas: Canvas, view: View, segments: Sequence[Segment], distance: float) -> None:
    """Draw dimensions left of the space.

    Args:
        canvas: where.
        view: of the space.
        segments: from and to along y, mm.
        distance: of the line from the space, mm of paper.
    """
    x = view.left - distance
    for start, stop in segments:
        ends = (x, view.point(0, start)[1]), (x, view.point(0, stop)[1])
        _dimension(canvas, ends, words.mm(stop - start), distance, upwards=True)


def _dimension(canvas: Canvas, ends: tuple[Point, Point], text: str, distance: float, *, upwards: bool) -> None:
    start, stop = ends
    size = float(style.TINY)
    paper = abs(stop[0] - start[0]) + abs(stop[1] - start[1])
    if lettering.width(text, size) > paper:
        return
    canvas.line(start, stop, style.THIN)
    for end, sign in ((start, 1), (stop, -1)):
        _extension(canvas, end, distance - style.WALL - BEYOND_LINE, upwards=upwards)
        _arrow(canvas, end, sign, min(float(style.ARROW), paper / 2), upwards=upwards)
    middle = (start[0] + stop[0]) / 2, (start[1] + stop[1]) / 2
    at = (middle[0] - ABOVE_LINE, middle[1]) if upwards else (middle[0], middle[1] - ABOVE_LINE)
    canvas.text(at, text, style.font(size), anchor=Anchor.MIDDLE, upwards=upwards)


def _extension(canvas: Canvas, end: Point, length: float, *, upwards: bool) -> None:
    """From just past the dimension line to just outside the wall."""
    x, y = end
    if upwards:
        canvas.line((x - BEYOND_LINE, y), (x + length, y), style.THIN)
    else:
        canvas.line((x, y + BEYOND_LINE), (x, y - length), style.THIN)


def _arrow(canvas: Canvas, tip: Point, sign: int, length: float, *, upwards: bool) -> None:
    half = length / 6  # a head of 1 to 3, near the 15 degrees of the standard
    x, y = tip
    if upwards:  # from the front at the bottom to the back at the top
        points = (tip, (x - half, y - sign * length), (x + half, y - sign * length))
    else:
        points = (tip, (x + sign * length, y - half), (x + sign * length, y + half))
    canvas.polygon(points, fill=style.INK)
