"""The dimensions of a part in section: between which points each is drawn, and where in the room file it is typed.

Every part has its three outer sizes; what else is dimensioned goes by its kind. A dimension that has no place in the
drawing, such as the thickness of a sheet of paper, is listed below it. Promise: a dimension can be typed, or says why
not. What it does not know: how that is drawn, and parts that are made to order; ``section_orders`` adds those.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from nookwright.ground.sources import Fact, Kind
from nookwright.studio import section_reasons as reasons

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nookwright.exchange.kit import KitLot, KitPart, Value

    Rects = Sequence[tuple[float, float, float, float]]

Point = tuple[float, float]

ALIKE = Fact(
    0.75, unit="mm", kind=Kind.CHOICE, source="A thing drawn at its limit is that much larger than a reading, at most."
)
RESIZED: Final = frozenset({"tray", "cradle", "shoe", "nest"})  # kinds whose outer sizes are those of a place
RAISED: Final = frozenset({"tray", "cradle", "shoe"})  # kinds whose height is that of a place too
_OUTER: Final = ("width", "depth", "height")


@dataclass(frozen=True)
class Dimension:
    """One dimension.

    Attributes:
        key: what the page calls it; ``width``, ``depth`` and ``height`` are the part's outer sizes.
        name: for people.
        value: mm.
        path: of the room file, where it is typed; empty for an outer size, which is that of a place.
        typed: whether it may be typed.
        view: 0 in the section along the width, 1 in that along the depth; -1 where it is only listed.
        start, end: the points that it is taken between, along the section and up, mm.
        side: of the drawing on which its line lies: ``below``, ``above``, ``left`` or ``right``.
        entry: what is typed over: all readings, mm, of which the largest is drawn; empty where there is but one.
        sets: the outer size that follows from it, where it has no place of its own in the room file.
        more: what is added to what is typed before it is written, mm.
        share_of: it is written as a share of this, mm; 0 where it is written as a length.
        step: it is written as a whole number of these, mm; 0 where it is written as a length.
        why: why it cannot be typed, and what to do instead; empty where it can.
    """

    key: str
    name: str
    value: float
    path: tuple[str | int, ...] = ()
    typed: bool = False
    view: int = -1
    start: Point = (0.0, 0.0)
    end: Point = (0.0, 0.0)
    side: str = "below"
    entry: str = ""
    sets: str = ""
    more: float = 0.0
    share_of: float = 0.0
    step: float = 0.0
    why: str = ""


def dimensions_of(part: KitPart, lot: KitLot | None, things: Sequence[Rects]) -> Iterator[Dimension]:
    """All dimensions of a part.

    Args:
        part: any.
        lot: that it holds, if any.
        things: that stand in each of the two sections, as (left, low, width, height).
    """
    special = _SPECIAL.get(part.kind)
    if special is not None:
        yield from special(part, lot)
    if lot is not None:
        yield from _floor(part, lot)
        yield from _things(lot, things)
    yield from _outer(part, lot)


def may_be_typed(part: KitPart, lot: KitLot | None) -> bool:
    """Whether the outer sizes of a part are those of a place, and so are typed.

    Args:
        part: any.
        lot: that it holds, if any.
    """
    return lot is not None and part.kind in RESIZED


def _outer(part: KitPart, lot: KitLot | None) -> Iterator[Dimension]:
    """The outer sizes; those of what stands in a place of its own are typed."""
    width, depth, height = part.size
    may = may_be_typed(part, lot)
    ends = (((width, 0.0), 0), ((depth, 0.0), 1), ((0.0, height), 0))
    for name, value, (end, view) in zip(_OUTER, part.size, ends, strict=True):
        typed = may and (name != "height" or part.kind in RAISED)
        side = "left" if name == "height" else "below"
        why = "" if typed else reasons.WHY.get(part.kind, reasons.HEIGHT_OF_THINGS if may else reasons.FOLLOWS)
        yield Dimension(name, f"outer {name}", value, (), typed, view, (0.0, 0.0), end, side, why=why)


def _floor(part: KitPart, lot: KitLot) -> Iterator[Dimension]:
    """The height at which things stand."""
    low = min((at[2] for at in lot.places[0].at), default=0.0)
    if 0 < low < part.size[2]:
        wide = part.size[0]
        yield Dimension("floor", "things stand at", low, view=0, start=(wide, 0.0), end=(wide, low), side="right",
                        why=reasons.STANDING)  # fmt: skip


def _things(lot: KitLot, things: Sequence[Rects]) -> Iterator[Dimension]:
    """What its things measure, drawn at the first of them where they lie that way."""
    taken: set[tuple[int, str]] = set()
    for one in lot.sizes:
        value = max(one.readings, default=one.limit)
        path = ("lot", lot.id, one.dimension)
        name = f"{one.dimension} of one, {'as published' if one.published else 'as measured'}"
        entry = "; ".join(f"{reading:g}" for reading in one.readings) if len(one.readings) > 1 else ""
        made = Dimension(f"lot.{one.dimension}", name, value, path, not one.published, entry=entry,
                         why=reasons.PUBLISHED if one.published else "")  # fmt: skip
        found = next((spot for spot in _spots(one.limit, things) if spot[:2] not in taken), None)
        if found is None:
            yield made
            continue
        view, side, start, end = found
        taken.add((view, side))
        yield replace(made, view=view, side=side, start=start, end=end)


def _spots(length: float, things: Sequence[Rects]) -> Iterator[tuple[int, str, Point, Point]]:
    """Where a dimension of a thing may be drawn: above it in either section, else at its side."""
    for view, rects in enumerate(things):
        if rects:
            left, low, wide, high = max(rects, key=lambda rect: rect[1])
            if abs(wide - length) < ALIKE:
                yield view, "above", (left, low + high), (left + wide, low + high)
    for view, rects in reversed(list(enumerate(things))):
        if rects:
            left, low, wide, high = max(rects, key=lambda rect: rect[0])
            if abs(high - length) < ALIKE:
                yield view, "right", (left + wide, low), (left + wide, low + high)


def _tray(part: KitPart, lot: KitLot | None) -> Iterator[Dimension]:
    """Inside, inlay, dividers, a low front, the notch, the name strip."""
    given, (_, depth, height) = part.parameters, part.size
    own = ("lot", lot.id, "tray") if lot else ()
    for view, word in enumerate(("columns_at", "rows_at")):
        yield from _across(part, lot, view, word)
    if inlay := number(given.get("inlay")):
        low = min((at[2] for at in lot.places[0].at), default=inlay) if lot else inlay
        path = (*own, "inlay") if own else ()
        start, end = (depth, low - inlay), (depth, low)
        why = "" if own else reasons.FOLLOWS
        yield Dimension("inlay", "loose sheet on the floor", inlay, path, bool(own), 1, start, end, "right", why=why)
    low_front = number(given.get("low_share")) * height
    if low_front < height and given.get("low_side") not in {None, "none"}:
        path = (*own, "low_share") if own else ()
        yield Dimension("low", "height of the low front", low_front, path, bool(own), 1, (0.0, 0.0), (0.0, low_front),
                        "left", share_of=height, why="" if own else reasons.FOLLOWS)  # fmt: skip
    yield from _notch(part)
    if strip := number(given.get("strip_height")):
        path = (*own, "strip_height") if own else ()
        yield Dimension("strip", "height of the name strip", strip, path, bool(own), why="" if own else reasons.FOLLOWS)


def _across(part: KitPart, lot: KitLot | None, view: int, word: str) -> Iterator[Dimension]:
    """The dividers of one section, each from the outer edge as in the room file; the inside where there are none."""
    wide, height, wall = part.size[view], part.size[2], number(part.parameters.get("wall"))
    dividers = _numbers(part.parameters.get(word))
    for place, at in enumerate(dividers):
        path = ("lot", lot.id, "tray", word, place) if lot else ()
        name, start, end = f"middle of divider {place + 1}", (0.0, height), (at, height)
        yield Dimension(f"{word}.{place}", name, at, path, lot is not None, view, start, end, "above",
                        why="" if lot else reasons.FOLLOWS)  # fmt: skip
    if wall and not dividers:
        name, may = _OUTER[view], may_be_typed(part, lot)
        start, end = (wall, height / 2), (wide - wall, height / 2)
        yield Dimension(f"inside.{name}", f"inside {name}", wide - 2 * wall, (), may, view, start, end,
                        sets=name, more=2 * wall, why="" if may else reasons.FOLLOWS)  # fmt: skip


def _notch(part: KitPart) -> Iterator[Dimension]:
    """How deep the rim is cut where a hand takes it."""
    notch = _numbers(part.parameters.get("notch"))
    if part.parameters.get("grip") != "notch" or not notch:
        return
    view = 1 if str(part.parameters.get("grip_sides", "")).startswith("front") else 0
    far, height = part.size[view], part.size[2]
    start, end = (far, height - notch[-1]), (far, height)
    yield Dimension(
        "notch", "depth of the grip", notch[-1], view=view, start=start, end=end, side="right", why=reasons.GRIP
    )


def _cradle(part: KitPart, lot: KitLot | None) -> Iterator[Dimension]:
    """A pocket, how far apart pockets are, how deep they are."""
    given, height = part.parameters, part.size[2]
    pocket = number(given.get("pocket"))
    if not pocket:
        return
    for view, key in enumerate(("pockets_x", "pockets_y")):
        at = _numbers(given.get(key))
        if view == 0 and at:
            left = at[0] - pocket / 2
            yield Dimension("pocket", "diameter of a pocket", pocket, view=0, start=(left, height),
                            end=(left + pocket, height), side="below", why=reasons.POCKET)  # fmt: skip
        if len(at) > 1:
            yield Dimension(f"apart.{key[-1]}", "from pocket to pocket", at[1] - at[0], view=view,
                            start=(at[0], height), end=(at[1], height), side="below", why=reasons.APART)  # fmt: skip
    low = min((one[2] for one in lot.places[0].at), default=0.0) if lot else 0.0
    if low:
        may = may_be_typed(part, lot)
        yield Dimension("deep", "depth of a pocket", height - low, (), may, 1, (part.size[1], low),
                        (part.size[1], height), "right", sets="height", more=low,
                        why="" if may else reasons.FOLLOWS)  # fmt: skip


def _shoe(part: KitPart, lot: KitLot | None) -> Iterator[Dimension]:
    """The box that it holds; its sizes are typed where the box stands in the room file."""
    box = lot.places[0].box if lot else ""
    for view, key in enumerate(("width", "depth")):
        value = number(part.parameters.get(f"thing_{key}"))
        if value:
            left = (part.size[view] - value) / 2
            path = ("box", box, key) if box else ()
            yield Dimension(f"box.{key}", f"{key} of the box", value, path, bool(box), view, (left, part.size[2]),
                            (left + value, part.size[2]), "above", why="" if box else reasons.FOLLOWS)  # fmt: skip


def _rest(part: KitPart, _: KitLot | None) -> Iterator[Dimension]:
    """The slots, and the holes of its dowels."""
    given, high = part.parameters, part.size[2]
    slots, holes = _numbers(given.get("slots_at")), _numbers(given.get("dowels_at"))
    for place, at in enumerate(slots):
        name = f"middle of slot {place + 1}"
        yield Dimension(f"slot.{place}", name, at, view=0, start=(0.0, high), end=(at, high), side="above",
                        why=reasons.IN_REST)  # fmt: skip
    if len(holes) > 1:
        name, start, end = "from dowel to dowel", (holes[0], 0.0), (holes[1], 0.0)
        yield Dimension("dowels", name, holes[1] - holes[0], view=0, start=start, end=end, why=reasons.IN_REST)
    sizes = [number(word) for word in str(given.get("slots", "")).split() if number(word)]
    for name, value in zip(("width", "depth"), sizes, strict=False):
        yield Dimension(f"slot.{name}", f"{name} of a slot", value, why=reasons.IN_REST)


def _panel(part: KitPart, _: KitLot | None) -> Iterator[Dimension]:
    """The sheet, and how far apart cones are."""
    given = part.parameters
    pitch, thick = number(given.get("pitch")), number(given.get("thickness"))
    first = (part.size[0] - number(given.get("cols")) * pitch) / 2
    yield Dimension("pitch", "side of a cell", pitch, view=0, start=(first + pitch / 2, part.size[2]),
                    end=(first + 1.5 * pitch, part.size[2]), side="above", why=reasons.MODULE)  # fmt: skip
    yield Dimension("thickness", "thickness of the sheet", thick, view=0, start=(part.size[0], 0.0),
                    end=(part.size[0], thick), side="right", why=reasons.SEAT)  # fmt: skip


def _sheet(part: KitPart, _: KitLot | None) -> Iterator[Dimension]:
    """The thickness of what is thin."""
    thick = number(part.parameters.get("thickness"))
    if thick and abs(thick - part.size[2]) > ALIKE / 10:
        yield Dimension("thickness", "thickness", thick, view=0, start=(part.size[0], 0.0), end=(part.size[0], thick),
                        side="right", why=reasons.WHY.get(part.kind, reasons.FOLLOWS))  # fmt: skip
    width = number(part.parameters.get("width"))
    if part.kind == "filler" and width:
        yield Dimension("covers", "width that it covers, without its tongues", width, why=reasons.WHY["filler"])


_SPECIAL: Final[dict[str, Callable[[KitPart, KitLot | None], Iterator[Dimension]]]] = {
    "tray": _tray, "cradle": _cradle, "shoe": _shoe, "rest": _rest, "panel": _panel, "filler": _sheet, "key": _sheet,
    "name strip": _sheet, "divider": _sheet,
}  # fmt: skip


def number(value: Value | None) -> float:
    """A parameter as a number; 0 where it is none.

    >>> number(2), number("4.5"), number("none"), number(True)
    (2.0, 4.5, 0.0, 0.0)
    """
    if isinstance(value, bool):
        return 0.0
    try:
        return float(value) if isinstance(value, int | float | str) else 0.0
    except ValueError:
        return 0.0


def _numbers(value: Value | None) -> tuple[float, ...]:
    """A parameter as numbers; none where it is none."""
    return tuple(number(one) for one in value if isinstance(one, int | float)) if isinstance(value, tuple) else ()
