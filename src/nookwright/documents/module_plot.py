"""The choice of the module as a picture: floor that each pitch loses against the plastic that it takes.

One dot a pitch. Down and to the left is better; along a thin line floor and plastic weigh the same, so the dot on the
lowest line is best as far as these two decide. Kinds of part, hours and trouble, which the table has, do not show.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import count, takewhile
from typing import TYPE_CHECKING

from nookwright.documents import style
from nookwright.documents.lettering import width
from nookwright.exchange.svg import Anchor, Box, Pen, drawing, to_text
from nookwright.ground.sources import Fact, Kind
from nookwright.module.choice import Dimension
from nookwright.module.choice.prices import FLOOR_G_DM2

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.exchange.svg import Canvas, Point
    from nookwright.module.choice import ModuleChoice, ModuleRow

WIDTH = Fact(160.0, unit="mm", kind=Kind.CHOICE, source="Half a page of A4 across, with its margins.")
HEIGHT = Fact(104.0, unit="mm", kind=Kind.CHOICE, source="Wider than high, as most screens are.")
LEFT_OF_PLOT = Fact(16.0, unit="mm", kind=Kind.CHOICE, source="Figures of the floor, and its name, upwards.")
ABOVE_PLOT = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="One line of heading.")
BELOW_PLOT = Fact(14.0, unit="mm", kind=Kind.CHOICE, source="Figures of the plastic, and its name.")
RIGHT_OF_PLOT = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Air.")
DOT = Fact(1.1, unit="mm", kind=Kind.CHOICE, source="Radius of a dot: told apart from a full stop at arm's length.")
AROUND = Fact(2.2, unit="mm", kind=Kind.CHOICE, source="Radius of the ring round the choice.")
AIR_SHARE = Fact(0.12, unit="1", kind=Kind.CHOICE, source="Of the range of the dots, left free on every side of them.")
MOST_MARKS = Fact(6, unit="1", kind=Kind.CHOICE, source="More figures at an axis are read as a ruler.")
LEVEL = Pen("#d8d0bd", 0.18)


@dataclass(frozen=True)
class _Axis:
    """One direction of the plot: what it shows from where to where, and where that lies on the paper, mm."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value lies."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    @property
    def marks(self) -> tuple[float, ...]:
        """Round figures inside, no more than can be read."""
        rough = (self.high - self.low) / MOST_MARKS
        power = 10 ** math.floor(math.log10(rough))
        step = next(one * power for one in (1, 2, 5, 10) if one * power >= rough)
        first = math.ceil(self.low / step)
        return tuple(takewhile(lambda value: value <= self.high, (n * step for n in count(first))))


def module_plot(choice: ModuleChoice) -> str:
    """The picture, as the text of an SVG file.

    Args:
        choice: of a module.
    """
    rows, chosen = choice.pitches, choice.module.pitch
    title = f"Pitches that were tried; {chosen:g} was chosen"
    text = "; ".join(f"{row.pitch:g}: {row.mass_g:.0f} g, {row.lost_dm2:.1f} dm2" for row in rows)
    canvas = drawing(WIDTH, HEIGHT, title=title, description=text, family=style.FAMILY)
    canvas.rect(Box(0, 0, WIDTH, HEIGHT), fill=style.PAPER)
    across = _axis([row.mass_g for row in rows], LEFT_OF_PLOT, WIDTH - RIGHT_OF_PLOT)
    upwards = _axis([row.lost_dm2 for row in rows], HEIGHT - BELOW_PLOT, ABOVE_PLOT)
    _levels(canvas.group("levels"), across, upwards)
    _axes(canvas.group("axes"), across, upwards)
    canvas.text((LEFT_OF_PLOT, 6.5), title, style.font(style.NORMAL, bold=True))
    kept = {one.kept.pitch for one in choice.changes if one.dimension is Dimension.PITCH}
    _dots(canvas.group("pitches"), rows, (across, upwards), chosen=chosen, kept=kept)
    return to_text(canvas)


def _axis(values: Sequence[float], start: float, end: float) -> _Axis:
    """An axis with room for all values, and for one value alone."""
    low, high = min(values), max(values)
    air = AIR_SHARE * ((high - low) or max(1.0, abs(high)))
    return _Axis(low - air, high + air, start, end)


def _levels(canvas: Canvas, across: _Axis, upwards: _Axis) -> None:
    """Lines along which floor and plastic weigh the same, one for each figure at the foot."""
    fall = (across.high - across.low) / FLOOR_G_DM2
    step = across.marks[1] - across.marks[0] if len(across.marks) > 1 else across.high - across.low
    rise = (upwards.high - upwards.low) * FLOOR_G_DM2
    first = across.marks[0] if across.marks else across.low
    number = math.ceil((across.high - first + rise) / step)
    ends = []
    for weight in (first + step * n for n in range(number + 1)):
        foot = upwards.low + (weight - across.low) / FLOOR_G_DM2  # on the left; it falls to the right
        ends.append(_clipped(across, upwards, foot, fall))
    canvas.lines((end for end in ends if end), LEVEL)


def _clipped(across: _Axis, upwards: _Axis, left: float, fall: float) -> tuple[Point, Point] | None:
    """A falling line inside the plot, by its height at the left and its fall over the width."""
    enter = max(0.0, (left - upwards.high) / fall)
    leave = min(1.0, (left - upwards.low) / fall)
    if enter >= leave:
        return None
    long = across.end - across.start
    one, two = ((across.start + share * long, upwards.at(left - share * fall)) for share in (enter, leave))
    return one, two


def _axes(canvas: Canvas, across: _Axis, upwards: _Axis) -> None:
    """The two axes with their figures."""
    foot, left = upwards.start, across.start
    canvas.line((left, foot), (across.end, foot), style.EDGE)
    canvas.line((left, foot), (left, upwards.end), style.EDGE)
    figures = style.font(style.SMALL, colour=style.FAINT)
    for value in across.marks:
        canvas.line((across.at(value), foot), (across.at(value), foot + 1.2), style.THIN)
        canvas.text((across.at(value), foot + 4.2), f"{value:g}", figures, anchor=Anchor.MIDDLE)
    for value in upwards.marks:
        canvas.line((left, upwards.at(value)), (left - 1.2, upwards.at(value)), style.THIN)
        canvas.text((left - 2, upwards.at(value) + 0.8), f"{value:g}", figures, anchor=Anchor.END)
    note = f"along a thin line {FLOOR_G_DM2:g} g weigh as much as 1 dm2"
    canvas.text(
        ((left + across.end) / 2, foot + 9.6),
        "plastic of liner and trays, g",
        style.font(style.NORMAL),
        anchor=Anchor.MIDDLE,
    )
    canvas.text((across.end, upwards.end - 3.5), note, figures, anchor=Anchor.END)
    middle = (foot + upwards.end) / 2
    canvas.text((5.0, middle), "floor lost, dm2", style.font(style.NORMAL), anchor=Anchor.MIDDLE, upwards=True)


def _dots(
    canvas: Canvas, rows: Sequence[ModuleRow], axes: tuple[_Axis, _Axis], *, chosen: float, kept: set[float]
) -> None:
    """One dot a pitch with its name, the choice in a ring, each name where it covers nothing."""
    across, upwards = axes
    sheet = Box(0, 0, WIDTH, HEIGHT)
    places = {row.pitch: (across.at(row.mass_g), upwards.at(row.lost_dm2)) for row in rows}
    taken = [Box(x - AROUND, y - AROUND, 2 * AROUND, 2 * AROUND) for x, y in places.values()]
    for row in sorted(rows, key=lambda one: (one.pitch != chosen, one.pitch)):
        at, mine = places[row.pitch], row.pitch == chosen
        if mine:
            canvas.circle(at, AROUND, pen=Pen(style.RED, 0.35))
        canvas.circle(at, DOT, fill=style.RED if mine else style.INK)
        name = f"{row.pitch:g}" + (", printed" if row.pitch in kept else "") + (", chosen" if mine else "")
        room = width(name, style.NORMAL, bold=mine), float(style.NORMAL)
        free = (one for one in _beside(at, *room) if not any(one.meets(other) for other in taken))
        box = next((one for one in free if sheet.holds(one)), None)
        if box:
            taken.append(box)
            font = style.font(style.NORMAL, bold=mine, colour=style.RED if mine else style.INK)
            canvas.text((box.x, box.bottom - 0.6), name, font)


def _beside(at: Point, wide: float, high: float) -> Iterator[Box]:
    """Where a name may stand beside a dot, the best place first."""
    x, y = at
    for away in (AROUND + 0.4, AROUND + 2.4, AROUND + 4.4):
        for right, down in ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1)):
            left = x + (away if right > 0 else -away - wide if right < 0 else -wide / 2)
            top = y + (away if down > 0 else -away - high if down < 0 else -high / 2)
            yield Box(left, top, wide, high)
