"""The parts list of a drawing: mark, what is in it, the part with its size, how many, grams.

Promise: every row is as high as its lettering needs and nothing in it is wider than its column.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.documents import labels, lettering, style, words
from nookwright.documents.items import FREE
from nookwright.documents.sheet import LIST_HEAD, flow
from nookwright.exchange.svg import Anchor, Box
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.documents.items import Item
    from nookwright.exchange.svg import Canvas

ROW = Fact(4.6, unit="mm", kind=Kind.CHOICE, source="A ring and a line of air.")
HEADING = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Heading of a group, with air above.")
MOST_LINES = Fact(3, unit="lines", kind=Kind.CHOICE, source="A longer name is cut; the page has it whole.")

# Left edges of the columns and their widths, mm; the numbers stand at the right edges of theirs.
_MARK, _LABEL, _NAME, _COUNT, _MASS = (0.0, 5.6), (6.4, 36.0), (43.4, 25.0), (68.6, 5.8), (75.0, 11.0)


@dataclass(frozen=True)
class Row:
    """A row of the list, broken into lines."""

    item: Item
    heading: str
    label: tuple[str, ...]
    name: tuple[str, ...]

    @property
    def height(self) -> float:
        """Its height with its heading, mm of paper."""
        lines = max(len(self.label), len(self.name))
        return ROW + (lines - 1) * _step() + (HEADING if self.heading else 0)


def rows_of(items: Sequence[Item]) -> tuple[Row, ...]:
    """The rows of a list; the first of a group carries its heading."""
    size = float(style.SMALL)
    rows = []
    before = ""
    for item in items:
        label = lettering.broken(item.label, _LABEL[1], size, most=int(MOST_LINES))
        name = lettering.broken(item.name, _NAME[1], size, most=int(MOST_LINES))
        rows.append(Row(item, item.group if item.group != before else "", label, name))
        before = item.group
    return tuple(rows)


def draw(canvas: Canvas, rows: Sequence[Row], columns: Sequence[Box]) -> None:
    """Draw the list.

    Args:
        canvas: where.
        rows: all rows.
        columns: where they run, in order; they must all fit.

    Raises:
        ValueError: the rows do not fit.
    """
    filled = flow([row.height for row in rows], columns)
    if filled is None:
        raise ValueError(f"{len(rows)} rows do not fit the {len(columns)} columns of the parts list.")
    for column, numbers in zip(columns, filled, strict=True):
        if numbers:
            _column(canvas, column, [rows[number] for number in numbers])


def _step() -> float:
    return style.SMALL * lettering.LEADING_EM


def _column(canvas: Canvas, column: Box, rows: list[Row]) -> None:
    y = column.y + LIST_HEAD
    _names(canvas, column, y)
    for row in rows:
        if row.heading:
            at = column.x, y + HEADING - style.SMALL / 2
            canvas.text(at, row.heading, style.font(float(style.SMALL), bold=True, colour=style.FAINT))
            y += HEADING
        height = row.height - (HEADING if row.heading else 0)
        _row(canvas, Box(column.x, y, column.width, height), row)
        y += height


def _names(canvas: Canvas, column: Box, y: float) -> None:
    font = style.font(float(style.TINY), colour=style.FAINT)
    base = y - style.TINY / 2
    canvas.text((column.x + _MARK[0], base), "No.", font)
    canvas.text((column.x + _LABEL[0], base), "What it holds or is", font)
    canvas.text((column.x + _NAME[0], base), "Part, mm", font)
    canvas.text((column.x + sum(_COUNT), base), "Qty", font, anchor=Anchor.END)
    canvas.text((column.x + sum(_MASS), base), "Mass", font, anchor=Anchor.END)
    canvas.line((column.x, y), (column.right, y), style.EDGE)


def _row(canvas: Canvas, box: Box, row: Row) -> None:
    item, font = row.item, style.font(float(style.SMALL))
    first = box.y + ROW / 2 + style.SMALL * (lettering.ASCENT_EM - lettering.DESCENT_EM / 2) / 2
    colour = style.RED if item.group == FREE else style.INK
    fill = style.tint(item.colour) if item.colour else style.PAPER
    labels.draw_ring(canvas, (box.x + style.RING / 2, box.y + ROW / 2), item.mark, colour=colour, fill=fill)
    for (left, _), lines in ((_LABEL, row.label), (_NAME, row.name)):
        for number, line in enumerate(lines):
            canvas.text((box.x + left, first + number * _step()), line, font)
    if item.count:
        canvas.text((box.x + sum(_COUNT), first), str(item.count), font, anchor=Anchor.END)
    if item.mass_g > 0:
        canvas.text((box.x + sum(_MASS), first), words.grams(item.mass_g), font, anchor=Anchor.END)
    canvas.line((box.x, box.bottom), (box.right, box.bottom), style.RULE)
