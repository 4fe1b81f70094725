"""The plan of a space: a workshop drawing seen from above, its front edge at the bottom of the sheet.

Promise: everything placed in the space is drawn where it lies, to scale, and stands in the parts list under
its mark; no lettering lies on other lettering; the same kit gives the same bytes. The wall's thickness is
not to scale.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.documents import (
    callouts,
    dimensions,
    hatching,
    items,
    labels,
    liner_key,
    parts_list,
    places,
    sheet,
    style,
    title_block,
)
from nookwright.documents.callouts import Callout, Side
from nookwright.documents.places import Area
from nookwright.exchange import svg
from nookwright.exchange.svg import Anchor, Box, Pen
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.documents.items import Item
    from nookwright.documents.places import Laid
    from nookwright.documents.sheet import Sheet, View
    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.exchange.svg import Canvas, Point

PART_RADIUS = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="Corners of trays as drawn; the seat's outer radius.")
ROW_APART = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Parts whose edges differ by less stand in one row.")
RIM_DIFFERS = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="A rim that differs by less from the floor is not drawn.")
HATCH = Fact(1.3, unit="mm", kind=Kind.CHOICE, source="Between lines of a hatching, on paper.")
THINGS_APART = Fact(0.9, unit="mm", kind=Kind.CHOICE, source="Lines on paper closer than this become a blot.")
RING_OUT = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Of rings' middles from the space: wall, half a ring, air.")


def plan_svg(kit: Kit, space_id: str) -> str:
    """The plan of one space.

    Args:
        kit: the whole kit.
        space_id: which space.

    Returns:
        The text of an SVG file, in millimetres of paper.

    Raises:
        KeyError: the kit has no such space.
    """
    space = places.space_of(kit, space_id)
    laid = places.laid_in(kit, space_id)
    listed = items.items_of(laid, space.blocked, {one.id: one.name for one in kit.materials})
    rows = parts_list.rows_of(listed)
    page = _sheet(space, laid, rows)
    canvas = svg.drawing(
        page.width,
        page.height,
        title=f"Plan of {space.name}",
        description=f"{space.name} from above, front edge below; {len(listed)} rows in its parts list.",
        family=style.FAMILY,
    )
    canvas.rect(Box(0, 0, page.width, page.height), fill=style.PAPER, name="paper")
    canvas.rect(Box(0, 0, page.width, page.height).inset(style.MARGIN / 2), pen=style.EDGE)
    _space(canvas.group("space"), space, page.view)
    _parts(canvas, laid, listed, space, page.view)
    _dimensions(canvas.group("dimensions"), space, laid, page.view)
    parts_list.draw(canvas.group("list"), rows, page.columns)
    if page.key.height:
        liner_key.draw(canvas.group("liner-key"), page.key, _inside(space), listed)
    title_block.draw(canvas.group("title"), kit, space, page)
    return svg.to_text(canvas)


def _inside(space: KitSpace) -> tuple[float, float]:
    return max(at.width for at in space.usable), max(at.depth for at in space.usable)


def _sheet(space: KitSpace, laid: Sequence[Laid], rows: Sequence[parts_list.Row]) -> Sheet:
    inside = _inside(space)
    key = liner_key.height_of(inside, sheet.LIST_WIDTH) if any(one.is_liner for one in laid) else 0.0
    sides = [min(one.area.width, one.area.depth) for one in laid if _has_mark(one)]
    smallest = min(sides, default=max(inside))
    return sheet.chosen(sheet.Need(inside, tuple(row.height for row in rows), key, smallest))


def _space(canvas: Canvas, space: KitSpace, view: View) -> None:
    """The wall, hatched; the usable outline at the floor, and the tightest one where it differs."""
    inner = view.box(Area(0, 0, *_inside(space)))
    outer = inner.inset(-style.WALL)
    for side in _frame(outer, inner):
        canvas.lines(hatching.lines(side, HATCH / 2), style.THIN)
    canvas.rect(outer, pen=style.EDGE)
    radius = space.corner_radius / view.scale
    canvas.rect(inner, pen=style.WIDE, fill=style.PAPER, radius=radius, name="inside")
    left, front = max(at.x for at in space.usable), max(at.y for at in space.usable)
    right, back = min(at.x + at.width for at in space.usable), min(at.y + at.depth for at in space.usable)
    least = Area(left, front, right, back)
    inside = _inside(space)
    if max(inside[0] - least.width, inside[1] - least.depth) > RIM_DIFFERS:
        canvas.rect(view.box(least), pen=style.CENTRE, radius=radius, name="tightest")


def _frame(outer: Box, inner: Box) -> tuple[Box, Box, Box, Box]:
    return (
        Box(outer.x, outer.y, outer.width, inner.y - outer.y),
        Box(outer.x, inner.bottom, outer.width, outer.bottom - inner.bottom),
        Box(outer.x, inner.y, inner.x - outer.x, inner.height),
        Box(inner.right, inner.y, outer.right - inner.right, inner.height),
    )


def _parts(canvas: Canvas, laid: Sequence[Laid], listed: Sequence[Item], space: KitSpace, view: View) -> None:
    """Liner, blocked boxes, trays; then all their lettering, so that no line is drawn across it."""
    under, over = canvas.group("liner"), canvas.group("parts")
    for one in laid:
        if one.is_liner:
            _liner(under, one, view)
        elif not one.hidden:
            _tray(over, one, view)
    for one in laid:
        if one.across and not one.hidden:
            _things(over, one, view)
    free = [item for item in listed if item.group == items.FREE]
    kept_free = [places.clipped(item.spots[0].area, *_inside(space)) for item in free]
    for area in kept_free:
        _blocked(canvas.group("free"), view.box(area))
    marked = [(_item_of(one, listed), one) for one in laid if _has_mark(one)]
    lettered = [(item, one.area, style.tint(one.colour), style.INK) for item, one in marked if not one.hidden]
    lettered += [(item, area, style.PAPER, style.RED) for item, area in zip(free, kept_free, strict=True)]
    below = [Callout(item.mark, _aside(view.box(one.area)), style.INK) for item, one in marked if one.hidden]
    _lettering(canvas.group("labels"), lettered, below, space, view)
    if not laid:
        at, font = view.box(Area(0, 0, *_inside(space))).middle, style.font(float(style.NORMAL), colour=style.FAINT)
        canvas.text(at, "Nothing is placed here", font, anchor=Anchor.MIDDLE)


def _aside(box: Box) -> Point:
    """A point of a part that no lettering in its middle reaches, a quarter in from the back and the right."""
    return (box.x + 3 * box.right) / 4, (3 * box.y + box.bottom) / 4


def _item_of(one: Laid, listed: Sequence[Item]) -> Item:
    """The row of the list that a part stands in."""
    trays = (item for item in listed if item.group == items.TRAYS and item.mark)
    return next(item for item in trays if item.name == one.part.name and any(s.area == one.area for s in item.spots))


def _has_mark(one: Laid) -> bool:
    """Whether a part is a tray or cradle: neither of the liner, nor loose in a tray."""
    return not one.is_liner and one.part.kind not in items.IN_TRAYS


def _liner(canvas: Canvas, one: Laid, view: View) -> None:
    for area in one.joints or (one.area,):
        box = view.box(area)
        if one.part.kind == "filler":
            canvas.lines(hatching.lines(box, HATCH, rising=False), style.GREY)
        canvas.rect(box, pen=style.JOINT if one.part.kind == "panel" else style.GREY)


def _tray(canvas: Canvas, one: Laid, view: View) -> None:
    box = view.box(one.area)
    radius = PART_RADIUS / view.scale
    canvas.rect(box, pen=style.EDGE, fill=style.tint(one.colour), radius=radius, name="part")
    for joint in one.joints:
        canvas.rect(view.box(joint), pen=style.JOINT)
    if not one.across:
        _things(canvas, one, view)


def _things(canvas: Canvas, one: Laid, view: View) -> None:
    for spot, is_round in _told_apart(one, view):
        if is_round:
            canvas.circle(spot.middle, spot.width / 2, pen=style.THING)
        else:
            canvas.rect(spot, pen=style.THING)


def _told_apart(one: Laid, view: View) -> list[tuple[Box, bool]]:
    """The things on paper, without those that would lie on others or so close that they became a blot."""
    spots: dict[tuple[int, ...], tuple[Box, bool]] = {}
    for thing in one.things:
        box = view.box(thing.area)
        key = tuple(round(side / THINGS_APART) for side in (box.x, box.y, box.width, box.height))
        spots.setdefault(key, (box, thing.round))
    return list(spots.values())


def _blocked(canvas: Canvas, box: Box) -> None:
    canvas.rect(box, fill=style.PAPER)
    pen = Pen(style.RED, style.THIN.width)
    canvas.lines(hatching.lines(box, HATCH * 2), pen)
    canvas.rect(box, pen=style.WARNING, name="blocked")


def _lettering(
    canvas: Canvas,
    lettered: Sequence[tuple[Item, Area, str, str]],
    below: Sequence[Callout],
    space: KitSpace,
    view: View,
) -> None:
    """What is written on parts, and rings outside for those that are too small for one or stand below another."""
    outside = list(below)
    for item, area, ground, colour in lettered:
        box = view.box(area)
        name = "" if item.group == items.FREE or item.slender else item.name
        label = labels.label_in(box, item.label, name)
        labels.draw(canvas, label, item.mark, ground=ground, colour=colour)
        if label.ring is None:
            outside.append(Callout(item.mark, box.middle, colour))
    around = view.box(Area(0, 0, *_inside(space)))
    callouts.draw(canvas, callouts.place(outside, around, RING_OUT, (Side.TOP, Side.RIGHT)))


def _dimensions(canvas: Canvas, space: KitSpace, laid: Sequence[Laid], view: View) -> None:
    width, depth = _inside(space)
    trays = [one.area for one in laid if _has_mark(one) and not one.hidden]
    front = min((area.y0 for area in trays), default=0.0) + ROW_APART
    left = min((area.x0 for area in trays), default=0.0) + ROW_APART
    across = dimensions.chain([(area.x0, area.x1) for area in trays if area.y0 <= front], end=width)
    upwards = dimensions.chain([(area.y0, area.y1) for area in trays if area.x0 <= left], end=depth)
    dimensions.draw_across(canvas, view, across, dimensions.CHAIN_AT)
    dimensions.draw_upwards(canvas, view, upwards, dimensions.CHAIN_AT)
    dimensions.draw_across(canvas, view, [(0, width)], dimensions.OVERALL_AT)
    dimensions.draw_upwards(canvas, view, [(0, depth)], dimensions.OVERALL_AT)
    at = view.point(width / 2, 0)
    font = style.font(float(style.SMALL), bold=True, colour=style.FAINT)
    canvas.text((at[0], at[1] + sheet.BELOW - 1), "Front", font, anchor=Anchor.MIDDLE)
