"""Where the lettering of one part goes: its mark in a ring, its label and its name, as much as fits.

Promise: all of it lies inside the part's box and none of it on another; where nothing but the ring fits,
the ring stands alone; where not even that fits, there is nothing and the caller sets a ring outside with a
leader.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from nookwright.documents import lettering, style
from nookwright.exchange.svg import Anchor, Box, Pen
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.svg import Canvas, Point

PAD = Fact(0.7, unit="mm", kind=Kind.CHOICE, source="Between the edge of a part and its lettering.")


@dataclass(frozen=True)
class Line:
    """A line of lettering: its text, size and weight, and the middle of its base line."""

    text: str
    size: float
    bold: bool
    at: Point
    upwards: bool


@dataclass(frozen=True)
class Label:
    """The lettering of a part; ``ring`` is the middle of its mark's ring, if there is room."""

    ring: Point | None
    lines: tuple[Line, ...]


def ring_box(middle: Point) -> Box:
    """The box of a ring."""
    return Box(middle[0] - style.RING / 2, middle[1] - style.RING / 2, float(style.RING), float(style.RING))


def label_in(box: Box, label: str, name: str) -> Label:
    """The lettering of a part.

    Args:
        box: the part on paper.
        label: what people call it.
        name: its name with its size.
    """
    inner = box.inset(PAD)
    if min(inner.width, inner.height) < style.RING:
        alone = min(box.width, box.height) >= style.RING
        return Label(box.middle if alone else None, ())
    corner = inner.x + style.RING / 2, inner.y + style.RING / 2
    for lines in _tries(inner, label, name):
        placed = _placed(inner, ring_box(corner), lines)
        if placed:
            return Label(corner, placed)
    return Label(box.middle, ())


@dataclass(frozen=True)
class _Try:
    lines: tuple[tuple[str, bool], ...]
    size: float
    upwards: bool

    @property
    def width(self) -> float:
        return max(lettering.width(text, self.size, bold=bold) for text, bold in self.lines)

    @property
    def height(self) -> float:
        return (len(self.lines) - 1) * self.size * lettering.LEADING_EM + self.size * (
            lettering.ASCENT_EM + lettering.DESCENT_EM
        )


def _tries(inner: Box, label: str, name: str) -> Iterator[_Try]:
    """From the most and largest to the least and smallest; across before upwards."""
    sizes = (style.NORMAL, style.SMALL, style.TINY)
    for texts, upwards, size in product(((label, name), (label,)), (False, True), sizes):
        for limit in _limits(inner, upwards=upwards):
            lines: list[tuple[str, bool]] = []
            for text, bold in zip(texts, (True, False), strict=False):
                wrapped = lettering.wrapped(text, limit, size, bold=bold)
                if wrapped is None:
                    break
                lines += [(line, bold) for line in wrapped]
            else:
                if lines:
                    yield _Try(tuple(lines), size, upwards)


def _limits(inner: Box, *, upwards: bool) -> tuple[float, float]:
    along = inner.height if upwards else inner.width
    return along, along - style.RING - PAD


def _placed(inner: Box, ring: Box, attempt: _Try) -> tuple[Line, ...]:
    """The lines in the middle of the part, or in the middle of what the ring leaves, or nothing."""
    wide, high = (attempt.height, attempt.width) if attempt.upwards else (attempt.width, attempt.height)
    below = Box(inner.x, ring.bottom, inner.width, inner.bottom - ring.bottom)
    beside = Box(ring.right + PAD, inner.y, inner.right - ring.right - PAD, inner.height)
    for room in (inner, below, beside):
        middle = room.middle
        block = Box(middle[0] - wide / 2, middle[1] - high / 2, wide, high)
        if room.inset(-1e-9).holds(block) and not block.meets(ring):
            return _lines(attempt, block)
    return ()


def line_box(line: Line) -> Box:
    """The box that a line of lettering takes at most."""
    wide = lettering.width(line.text, line.size, bold=line.bold)
    up, high = line.size * lettering.ASCENT_EM, line.size * (lettering.ASCENT_EM + lettering.DESCENT_EM)
    x, y = line.at
    return Box(x - up, y - wide / 2, high, wide) if line.upwards else Box(x - wide / 2, y - up, wide, high)


def _lines(attempt: _Try, block: Box) -> tuple[Line, ...]:
    x, y = block.middle
    lines = []
    for number, (text, bold) in enumerate(attempt.lines):
        down = attempt.size * (lettering.ASCENT_EM + number * lettering.LEADING_EM)
        at = (block.x + down, y) if attempt.upwards else (x, block.y + down)
        lines.append(Line(text, float(attempt.size), bold, at, attempt.upwards))
    return tuple(lines)


def draw(canvas: Canvas, label: Label, mark: str, *, ground: str, colour: str = style.INK) -> None:
    """Draw the lettering of a part.

    Args:
        canvas: where.
        label: the lettering.
        mark: what stands in the ring.
        ground: colour below the lettering; what is drawn there is broken off around it.
        colour: of the ring and the lettering.
    """
    for line in label.lines:
        canvas.rect(line_box(line), fill=ground)
    for line in label.lines:
        font = style.font(line.size, bold=line.bold, colour=colour)
        canvas.text(line.at, line.text, font, anchor=Anchor.MIDDLE, upwards=line.upwards)
    if label.ring:
        draw_ring(canvas, label.ring, mark, colour=colour)


def draw_ring(canvas: Canvas, middle: Point, mark: str, *, colour: str = style.INK, fill: str = style.PAPER) -> None:
    """Draw a mark in its ring."""
    room = style.RING - PAD
    size = min(float(style.TINY), room / max(lettering.width(mark, 1, bold=True), 0.1))
    canvas.circle(middle, style.RING / 2, pen=Pen(colour, style.THIN.width), fill=fill)
    if not mark:
        return
    at = middle[0], middle[1] + size * (lettering.ASCENT_EM - lettering.DESCENT_EM / 2) / 2
    canvas.text(at, mark, style.font(size, bold=True, colour=colour), anchor=Anchor.MIDDLE)
