"""A small plan of what lies under the trays: the panels and fillers of the liner with their letters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents import callouts, labels, lettering, style
from nookwright.documents.callouts import Callout, Side
from nookwright.documents.items import LINER
from nookwright.documents.places import Area
from nookwright.documents.sheet import View, standard_scale
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.documents.items import Item
    from nookwright.exchange.svg import Box, Canvas

HIGHEST = Fact(46.0, unit="mm", kind=Kind.CHOICE, source="Of the small plan with its heading; the list needs the rest.")
ROUND = Fact(7.0, unit="mm", kind=Kind.CHOICE, source="Around the small plan, for rings outside it.")
HEAD = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="The line above the small plan.")


def scale_of(inside: tuple[float, float], width: float) -> float:
    """The scale of the small plan.

    Args:
        inside: width and depth of the space, mm.
        width: of the column in which it stands, mm of paper.
    """
    free = width - 2 * ROUND, HIGHEST - HEAD - 2 * ROUND
    least = max(inside[0] / free[0], inside[1] / free[1])
    return standard_scale(least) or least


def height_of(inside: tuple[float, float], width: float) -> float:
    """The height that the small plan needs, mm of paper."""
    return inside[1] / scale_of(inside, width) + HEAD + 2 * ROUND


def draw(canvas: Canvas, box: Box, inside: tuple[float, float], items: Sequence[Item]) -> None:
    """Draw the small plan.

    Args:
        canvas: where.
        box: the room for it.
        inside: width and depth of the space, mm.
        items: the whole list; the liner's are drawn.
    """
    scale = scale_of(inside, box.width)
    view = View(box.x + (box.width - inside[0] / scale) / 2, box.bottom - ROUND, scale)
    heading = f"Liner, under the trays, 1 : {scale:g}"
    font = style.font(float(style.SMALL), bold=True, colour=style.FAINT)
    canvas.text((box.x, box.y + style.SMALL * lettering.ASCENT_EM), heading, font)
    outline = view.box(Area(0, 0, *inside))
    canvas.rect(outline, pen=style.EDGE)
    outside: list[Callout] = []
    inner: list[tuple[Box, str]] = []
    spots = [spot for item in items if item.group == LINER for spot in item.spots]
    for spot in sorted(spots, key=lambda spot: -spot.area.width * spot.area.depth):
        part = view.box(spot.area)
        canvas.rect(part, pen=style.GREY, fill=style.SHADE)
        if min(part.width, part.height) >= style.RING:
            inner.append((part, spot.mark))
        elif spot.mark:
            outside.append(Callout(spot.mark, part.middle, style.INK))
    callouts.draw(canvas, callouts.place(outside, outline, ROUND / 2, tuple(Side)))
    for part, mark in inner:
        labels.draw_ring(canvas, part.middle, mark)
