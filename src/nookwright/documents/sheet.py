"""Which sheet a plan needs, at which scale, and where on it everything goes.

Promise: the smallest sheet of the A series on which the drawing, its list and its title block have room
without touching, at the largest usual scale. What it does not know: what is drawn inside the space.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from nookwright.documents import style
from nookwright.exchange.svg import Box
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.documents.places import Area
    from nookwright.exchange.svg import Point

LIST_WIDTH = Fact(86.0, unit="mm", kind=Kind.CHOICE, source="Mark, label of about 22 letters, name, count and grams.")
LIST_HEAD = Fact(4.4, unit="mm", kind=Kind.CHOICE, source="The line of names above the list.")
TITLE_HEIGHT = Fact(37.0, unit="mm", kind=Kind.CHOICE, source="Four rows of the title block.")
AIR = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="Between drawing, list and title block.")
LEFT = Fact(
    16.5,
    unit="mm",
    kind=Kind.CHOICE,
    source="Wall, a chain of dimensions and the overall one, left of a space.",
)
BELOW = Fact(20.0, unit="mm", kind=Kind.CHOICE, source="The same below it, and the word for the front.")
BEYOND = Fact(9.0, unit="mm", kind=Kind.CHOICE, source="Wall and rings of marks, right of a space and behind it.")
LEAST_PART = Fact(
    5.0, unit="mm", kind=Kind.CHOICE, source="On paper; a ring and its air, else a larger sheet is taken."
)

HANDY = "A3"  # for small parts no larger sheet is taken: their rings stand outside, and no home prints larger ones


@dataclass(frozen=True)
class View:
    """From the millimetres of a space to those of the paper; y to the back becomes y up the sheet."""

    left: float
    bottom: float
    scale: float

    def point(self, x: float, y: float) -> Point:
        """A point of the space on paper."""
        return self.left + x / self.scale, self.bottom - y / self.scale

    def box(self, area: Area) -> Box:
        """A rectangle of the space on paper."""
        x, y = self.point(area.x0, area.y1)
        return Box(x, y, area.width / self.scale, area.depth / self.scale)


@dataclass(frozen=True)
class Sheet:
    """A sheet with its boxes, mm of paper.

    Attributes:
        name: such as A4.
        width, height: of the sheet as it lies.
        view: where the space is on it, and the scale.
        columns: where the list runs, in order.
        key: for the small plan of the liner; of no height where there is none.
        title: for the title block.
    """

    name: str
    width: float
    height: float
    view: View
    columns: tuple[Box, ...]
    key: Box
    title: Box


@dataclass(frozen=True)
class Need:
    """What a drawing needs of its sheet.

    Attributes:
        inside: width and depth of the space, mm.
        rows: heights of the rows of the list, mm of paper.
        key: height of the small plan of the liner, mm of paper; 0 where there is none.
        smallest: smallest side of a part that needs a mark, mm.
    """

    inside: tuple[float, float]
    rows: tuple[float, ...]
    key: float
    smallest: float


def chosen(need: Need) -> Sheet:
    """The sheet for a space.

    Raises:
        ValueError: not even the largest sheet has room for the list.
    """
    best: Sheet | None = None
    for name, short, long in style.SHEETS:
        for sheet in _arrangements(name, short, long, need):
            if best is None or sheet.view.scale < best.view.scale:
                best = sheet
        if best and (need.smallest / best.view.scale >= LEAST_PART or name == HANDY):
            break
    if best is None:
        raise ValueError(f"{len(need.rows)} rows of a parts list fit no sheet up to {style.SHEETS[-1][0]}.")
    return best


def flow(rows: Sequence[float], columns: Sequence[Box]) -> tuple[tuple[int, ...], ...] | None:
    """Which rows stand in which column, or nothing where they do not all fit.

    >>> flow([5, 5, 5], [Box(0, 0, 10, 14.4), Box(10, 0, 10, 14.4)])
    ((0, 1), (2,))
    """
    filled: list[tuple[int, ...]] = []
    at = 0
    for column in columns:
        taken, room = [], column.height - LIST_HEAD
        while at < len(rows) and rows[at] <= room:
            room -= rows[at]
            taken.append(at)
            at += 1
        filled.append(tuple(taken))
    return tuple(filled) if at == len(rows) else None


def standard_scale(least: float) -> float | None:
    """The largest usual scale whose denominator is not less; nothing where none is small enough.

    >>> standard_scale(4.2), standard_scale(1.0), standard_scale(1000)
    (5.0, 1.0, None)
    """
    return next((scale for scale in style.SCALES if scale >= least), None)


def _arrangements(name: str, short: float, long: float, need: Need) -> list[Sheet]:
    """All ways to lay out one size of sheet: lying or upright, the list beside the drawing or beneath it."""
    found: list[Sheet | None] = []
    for (width, height), columns in product(((long, short), (short, long)), (1, 2, 3, 4)):
        frame = Box(0, 0, width, height).inset(style.MARGIN)
        found += [_beside(name, frame, columns, need), _beneath(name, frame, columns, need)]
    return [sheet for sheet in found if sheet is not None]


def _beside(name: str, frame: Box, count: int, need: Need) -> Sheet | None:
    band = count * (LIST_WIDTH + AIR)
    room = Box(frame.x, frame.y, frame.width - band, frame.height)
    strip = Box(room.right + AIR, frame.y, band - AIR, frame.height)
    return _sheet(name, frame, room, strip, need)


def _beneath(name: str, frame: Box, count: int, need: Need) -> Sheet | None:
    width = count * (LIST_WIDTH + AIR) - AIR
    if width > frame.width:
        return None
    foot = TITLE_HEIGHT + AIR + (need.key + AIR if need.key else 0)
    height = (sum(need.rows) + foot) / count + LIST_HEAD + max(need.rows, default=0.0)
    height = max(height, foot + (LIST_HEAD if count == 1 else 0))
    room = Box(frame.x, frame.y, frame.width, frame.height - height - AIR)
    return _sheet(name, frame, room, Box(frame.right - width, frame.bottom - height, width, height), need)


def _sheet(name: str, frame: Box, room: Box, strip: Box, need: Need) -> Sheet | None:
    wide, high = room.width - LEFT - BEYOND, room.height - BELOW - BEYOND
    if min(wide, high) <= 0:
        return None
    scale = standard_scale(max(need.inside[0] / wide, need.inside[1] / high))
    columns, key, title = _strip(strip, need.key)
    if scale is None or flow(need.rows, columns) is None:
        return None
    spare = wide - need.inside[0] / scale, high - need.inside[1] / scale
    view = View(room.x + LEFT + spare[0] / 2, room.bottom - BELOW - spare[1] / 2, scale)
    outer = frame.inset(-style.MARGIN)
    return Sheet(name, outer.width, outer.height, view, columns, key, title)


def _strip(strip: Box, key: float) -> tuple[tuple[Box, ...], Box, Box]:
    count = max(1, math.floor((strip.width + AIR) / (LIST_WIDTH + AIR)))
    columns = [Box(strip.x + n * (LIST_WIDTH + AIR), strip.y, float(LIST_WIDTH), strip.height) for n in range(count)]
    last = columns[-1]
    title = Box(last.x, last.bottom - TITLE_HEIGHT, last.width, float(TITLE_HEIGHT))
    key_box = Box(last.x, title.y - key - AIR, last.width, key)
    end = key_box.y if key else title.y
    columns[-1] = Box(last.x, last.y, last.width, end - AIR - last.y)
    return tuple(columns), key_box, title
