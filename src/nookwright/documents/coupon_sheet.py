"""The sheet of a coupon: where each thing to measure is, what to measure, and how.

One page of A4. Pegs are numbered as the ids number them; everything else has its id beside it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.documents import style
from nookwright.documents.sheet import View
from nookwright.exchange.svg import Anchor, Pen, drawing, to_text
from nookwright.ground.sources import Fact, Kind
from nookwright.parts.trials.coupon import letters, seen_from_above
from nookwright.shapes.regions import Circle, Stroke
from nookwright.sizing.printers.coupon import PEGS, Face, arm_of, features

if TYPE_CHECKING:
    from nookwright.exchange.svg import Canvas, Point
    from nookwright.sizing.printers.coupon import Feature
    from nookwright.survey.origins import CouponForm

TOP = Fact(30.0, unit="mm", kind=Kind.CHOICE, source="Title and how to measure stand above the drawing.")
ROW = Fact(3.6, unit="mm", kind=Kind.CHOICE, source="Height of a row of the list.")
COLUMNS = Fact(2, unit="1", kind=Kind.CHOICE, source="Of the list: the longest of its texts fits half the sheet.")
OUTSET = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="From a peg's middle to its number, on paper.")
LEADER = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="From a feature's edge to its id, on paper.")
LONG_SCALE = Fact(1.4, unit="1", kind=Kind.CHOICE, source="The long coupon is drawn smaller, to fit the page.")
DRAWN = Fact(85.0, unit="mm", kind=Kind.CHOICE, source="Half of the short coupon, numbers and words, on paper.")
PLASTIC = "#d9cfb8"

HOW = (
    "Let it cool on the bed, take it off without bending it, and take off strings and blobs. Shut the caliper, set it",
    "to zero. Close the jaws lightly, from above, square to what is measured; read to 0.01 mm. Three of each are",
    "best, each taken afresh; what you leave out counts as unknown. Long readings go over the outsides of both pegs.",
)


def coupon_sheet(form: CouponForm, *, title: str) -> str:
    """The sheet as SVG.

    Args:
        form: how long the coupon's cross is.
        title: printer and material, for people.
    """
    _, width, height = style.SHEETS[0]
    canvas = drawing(
        width,
        height,
        title=f"Coupon: {title}",
        description="Plan of the coupon with the id of each thing to measure, and the list of them.",
        family=style.FAMILY,
    )
    canvas.text((style.MARGIN, style.MARGIN + 5), f"Coupon, {form}: {title}", style.font(style.TITLE, bold=True))
    for number, line in enumerate(HOW):
        canvas.text((style.MARGIN, style.MARGIN + 11 + 4 * number), line, style.font(style.NORMAL))
    middle = View(width / 2, TOP + DRAWN, 1.0 if arm_of(form) < DRAWN else LONG_SCALE)
    _plan(canvas.group("plan"), form, middle)
    _ids(canvas.group("ids"), form, middle)
    _list(canvas.group("list"), form, TOP + 2 * DRAWN + 5, width)
    return to_text(canvas)


def _plan(canvas: Canvas, form: CouponForm, view: View) -> None:
    """The coupon from above; regions that overlap are one colour, so no lines run inside it."""
    solid, hollow = seen_from_above(form)
    for placed, fill in ((solid, PLASTIC), (hollow, style.PAPER)):
        for region, (x, y) in placed:
            if isinstance(region, Circle):
                canvas.circle(view.point(x, y), region.radius / view.scale, fill=fill)
            elif isinstance(region, Stroke):
                pen = Pen(fill, region.width / view.scale)
                canvas.line(view.point(region.x0, region.y0), view.point(region.x1, region.y1), pen)
            else:
                x0, y0, x1, y1 = region.bounds
                corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
                canvas.polygon((view.point(x + u, y + v) for u, v in corners), fill=fill)
    for text, at in letters(form):
        u, v = view.point(*at)
        canvas.text((u, v + 1.6), text, style.font(style.TITLE, bold=True), anchor=Anchor.MIDDLE)


def _ids(canvas: Canvas, form: CouponForm, view: View) -> None:
    """Numbers of the pegs, names of the ends, and the id of everything else."""
    found = {one.id: one for one in features(form)}
    away = OUTSET * view.scale
    for name, inward in (("long-x", (1, 0)), ("long-y", (0, 1))):
        for number in range(1, int(PEGS) + 1):
            low, high = found[f"{name}-{number}"].at
            for (x, y), sign in ((low, 1), (high, -1)):
                u, v = view.point(x - sign * inward[0] * away, y - sign * inward[1] * away)
                canvas.text((u, v + 0.8), str(number), style.font(style.SMALL, bold=True), anchor=Anchor.MIDDLE)
    out = arm_of(form) + 2 * away
    for word, end, upwards in (
        ("left", (-out, 0.0), True), ("right", (out + 1, 0.0), True), ("front", (0.0, -out - 1), False),
        ("back", (0.0, out - 1), False),
    ):  # fmt: skip
        canvas.text(view.point(*end), word, style.font(style.NORMAL), anchor=Anchor.MIDDLE, upwards=upwards)
    _diagonals(canvas, found, view)
    for ids, at, anchor in _labels(form):
        first = found[ids[0]]
        _leader(canvas, view, first, at)
        u, v = view.point(*at)
        for row, name in enumerate(ids):
            canvas.text((u, v + row * 3.2), name, style.font(style.SMALL), anchor=anchor)


def _diagonals(canvas: Canvas, found: dict[str, Feature], view: View) -> None:
    """Lines over the pegs of neighbouring ends, and their ids beside them."""
    for one, other in (("front", "right"), ("back", "left"), ("front", "left"), ("back", "right")):
        for suffix in ("", "-next"):
            feature = found[f"{one}-{other}{suffix}"]
            canvas.line(view.point(*feature.at[0]), view.point(*feature.at[1]), style.CENTRE)
        (x0, y0), (x1, y1) = found[f"{one}-{other}"].at
        right, inside = x0 + x1 > 0, one == "back"  # block and wall stand outside the struts of the back
        aside = -14.0 if inside else 5.0
        u, v = view.point((x0 + x1) / 2 + (aside if right else -aside), (y0 + y1) / 2 - (13 if inside else 3))
        anchor = Anchor.MIDDLE if inside else Anchor.START if right else Anchor.END
        canvas.text((u, v), f"{one}-{other}", style.font(style.SMALL), anchor=anchor)
        canvas.text((u, v + 3.2), f"{one}-{other}-next", style.font(style.SMALL), anchor=anchor)


def _labels(form: CouponForm) -> tuple[tuple[tuple[str, ...], Point, Anchor], ...]:
    """Ids that belong to one feature, where they are written, from the middle of the cross, and how they are set."""
    found = {one.id: one.at[0] for one in features(form)}
    block, wall = found["block-x"], found["wall"]
    return (
        (("block-x", "block-y"), (block[0] - 3, block[1] + 1), Anchor.START),
        (("foot-x", "foot-y"), (block[0] + 12, block[1] - 1), Anchor.START),
        (("wall",), (wall[0] + 4, wall[1] + 6), Anchor.START),
        (("slot-x", "slot-y"), (found["slot-x"][0], found["slot-x"][1] - 11), Anchor.MIDDLE),
        (("slot-narrow", "slot-wide"), (found["slot-wide"][0] - 8, found["slot-wide"][1] + 1), Anchor.END),
        (("hole-large",), (found["hole-large"][0], found["hole-large"][1] - 0.5), Anchor.MIDDLE),
        (("hole-middle",), (-24, found["hole-middle"][1] - 1), Anchor.END),
        (("hole-small",), (found["hole-small"][0] + 5, found["hole-small"][1] - 1), Anchor.START),
        (("hole-front",), (found["hole-front"][0] + 5, found["hole-front"][1] - 1), Anchor.START),
        (("rib-back",), (found["rib-back"][0] - 12, found["rib-back"][1] - 7), Anchor.END),
        (("rib-middle",), (found["rib-middle"][0] - 12, found["rib-middle"][1] + 7), Anchor.END),
        (("rib-front",), (found["rib-front"][0] + 7, found["rib-front"][1] - 15), Anchor.START),
        (("rib-left",), (found["rib-left"][0] - 9, found["rib-left"][1] + 10), Anchor.END),
        (("rib-centre",), (found["rib-centre"][0] + 2, found["rib-centre"][1] - 22), Anchor.START),
        (("rib-right",), (found["rib-right"][0] - 2, found["rib-right"][1] - 12), Anchor.END),
    )


def _leader(canvas: Canvas, view: View, feature: Feature, at: Point) -> None:
    """A line from an id to its feature, where the id stands apart from it."""
    x, y = feature.at[0]
    if feature.face not in {Face.HOLE, Face.FOOT} and math.hypot(x - at[0], y - at[1]) > LEADER:
        canvas.line(view.point(x, y), view.point(*at), style.GREY)


def _list(canvas: Canvas, form: CouponForm, top: float, width: float) -> None:
    """What to measure, feature by feature, with the size as drawn."""
    every = features(form)
    rows = math.ceil(len(every) / COLUMNS)
    column = (width - 2 * style.MARGIN) / COLUMNS
    for number, one in enumerate(every):
        x, y = style.MARGIN + column * (number // rows), top + ROW * (number % rows)
        canvas.text((x, y), one.id, style.font(style.SMALL, bold=True))
        canvas.text((x + 25, y), one.what, style.font(style.SMALL))
        canvas.text((x + column - 4, y), f"{one.nominal:.2f}", style.font(style.SMALL), anchor=Anchor.END)
