"""A sheet of outlines at 1:1 to print on paper and cut along: SVG, one below the other, with their sizes.

Arcs are drawn as chords within a hundredth of a millimetre, the last decimal that the drawings have.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.exchange.svg import Font, Pen, drawing, to_text
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.shapes.arcs import Side
    from nookwright.shapes.regions import Path

Point = tuple[float, float]

MARGIN = Fact(10.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Printers of paper leave up to 6 mm at the edges.")
CHORD_ERROR = Fact(0.01, unit="mm", kind=Kind.CHOICE, source="The last decimal of our drawings.")
LETTERING = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Of the sizes beside an outline: read at arm's length.")
_INK = "#202020"
_LINE = 0.2  # mm of paper


def cut_sheet(outlines: Iterable[Path], *, title: str) -> str:
    """The text of the sheet.

    Args:
        outlines: one or more, mm.
        title: its name.

    Raises:
        ValueError: there are none.
    """
    paths = tuple(outlines)
    if not paths:
        raise ValueError("A sheet holds one outline or more, found none.")
    boxes = [path.bounds for path in paths]
    width = max(x1 - x0 for x0, _, x1, _ in boxes) + 2 * MARGIN
    height = sum(y1 - y0 + LETTERING + MARGIN for _, y0, _, y1 in boxes) + MARGIN
    sheet = drawing(width, height, title=title, description="Outlines to cut, scale 1:1.", family="sans-serif")
    top = float(MARGIN)
    for path, (x0, y0, x1, y1) in zip(paths, boxes, strict=True):
        bottom = top + y1 - y0
        points = [(x - x0 + MARGIN, bottom - (y - y0)) for x, y in flattened(path)]
        sheet.polygon(points, pen=Pen(_INK, _LINE))
        sheet.text((float(MARGIN), bottom + LETTERING), f"{x1 - x0:.1f} x {y1 - y0:.1f} mm, 1:1", Font(LETTERING, _INK))
        top = bottom + LETTERING + MARGIN
    return to_text(sheet)


def flattened(path: Path) -> tuple[Point, ...]:
    """The corners of an outline, its arcs as chords within ``CHORD_ERROR``."""
    return tuple(point for side in path.sides for point in _points(side))


def _points(side: Side) -> list[Point]:
    """The start of a side, and points along it where it is an arc."""
    if not side.bulge:
        return [side.start]
    step = 2 * math.acos(max(-1.0, 1 - CHORD_ERROR / side.radius))
    count = math.ceil(abs(side.swept_rad) / step)
    return [side.start, *(side.at(side.start_rad + side.swept_rad * n / count) for n in range(1, count))]
