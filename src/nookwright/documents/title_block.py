"""The title block of a drawing: room, space, its inside and load, scale with a bar, tool."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.documents import lettering, style, words
from nookwright.exchange.svg import Anchor, Box

if TYPE_CHECKING:
    from nookwright.documents.sheet import Sheet
    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.exchange.svg import Canvas

_ROWS = (8.0, 11.0, 8.0, 10.0)
_PAD = 1.4
_ROUNDING = 0.999  # so that a text shrunk to fit still fits after rounding
_SHARES = (0.0, 0.27, 0.5, 0.68, 1.0)


def draw(canvas: Canvas, kit: Kit, space: KitSpace, sheet: Sheet) -> None:
    """Draw the title block of a plan.

    Args:
        canvas: where.
        kit: the whole kit.
        space: the space of the drawing.
        sheet: where the block stands.
    """
    box = sheet.title
    canvas.rect(box, pen=style.EDGE, fill=style.PAPER)
    room, name, inside, foot = _bands(box)
    _field(canvas, room, "Room", kit.room, float(style.LARGE))
    _field(canvas, name, "Plan from above", space.name, float(style.TITLE), bold=True)
    facts = (
        ("Inside, mm", _inside(space)),
        ("Clear height", words.mm(space.height)),
        ("Prints", words.grams(space.mass_g)),
        ("Load and its limit", f"{words.grams(space.load_g)} / {words.grams(space.load_limit_g)}"),
    )
    for share, (caption, value) in zip(_shares(inside), facts, strict=True):
        _field(canvas, share, caption, value, float(style.NORMAL))
    quarter = Box(foot.x, foot.y, foot.width / 4, foot.height)
    _field(canvas, quarter, f"Scale on {sheet.name}", f"1 : {sheet.view.scale:g}", float(style.NORMAL))
    _field(canvas, _next(quarter, 1), kit.tool, kit.version, float(style.NORMAL))
    _bar(canvas, Box(foot.x + foot.width / 2, foot.y, foot.width / 2, foot.height), sheet.view.scale)


def _inside(space: KitSpace) -> str:
    floor = space.usable[0]
    return f"{words.mm(floor.width)} × {words.mm(floor.depth)}"


def _bands(box: Box) -> tuple[Box, Box, Box, Box]:
    tops = [box.y + sum(_ROWS[:n]) for n in range(len(_ROWS))]
    bands = [Box(box.x, top, box.width, height) for top, height in zip(tops, _ROWS, strict=True)]
    return bands[0], bands[1], bands[2], bands[3]


def _shares(box: Box) -> tuple[Box, ...]:
    return tuple(
        Box(box.x + start * box.width, box.y, (stop - start) * box.width, box.height)
        for start, stop in pairwise(_SHARES)
    )


def _next(box: Box, steps: int) -> Box:
    return Box(box.x + steps * box.width, box.y, box.width, box.height)


def _field(canvas: Canvas, box: Box, caption: str, value: str, size: float, *, bold: bool = False) -> None:
    canvas.rect(box, pen=style.GREY)
    small = float(style.TINY)
    limit = box.width - 2 * _PAD
    font = style.font(small, colour=style.FAINT)
    canvas.text((box.x + _PAD, box.y + _PAD / 2 + small * lettering.ASCENT_EM), _fit(caption, limit, small), font)
    width = lettering.width(value, size, bold=bold)
    if width > limit:
        size = max(small, size * limit / width * _ROUNDING)
    text = lettering.fitted(value, limit, size, bold=bold)
    canvas.text((box.x + _PAD, box.bottom - _PAD), text, style.font(size, bold=bold))


def _fit(text: str, limit: float, size: float) -> str:
    return lettering.fitted(text, limit, size)


def _bar(canvas: Canvas, box: Box, scale: float) -> None:
    """A bar of a round length, to be measured on the print."""
    room = box.width - 6 * _PAD
    length = next(length for length in (500, 200, 100, 50, 20, 10, 5, 1) if length / scale <= room)
    x, y = box.x + 2 * _PAD, box.bottom - 2 * _PAD
    half, high = length / scale / 2, _PAD / 2
    canvas.rect(Box(x, y, half, high), pen=style.THIN, fill=style.INK)
    canvas.rect(Box(x + half, y, half, high), pen=style.THIN, fill=style.PAPER)
    small = float(style.TINY)
    font = style.font(small)
    canvas.text((x, y - _PAD / 2), "0", font, anchor=Anchor.MIDDLE)
    canvas.text((x + 2 * half, y - _PAD / 2), f"{length} mm", font, anchor=Anchor.MIDDLE)
