"""The schedule as a drawing: a band a day, a lane a printer, hours from left to right, nights shaded.

A bar is a bedful, in the colour of its filament: framed from the change of the bed to its likely end, hatched on to its
latest. The line above a lane shows when someone is there. What is ready at the end of a day stands beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.documents import lettering
from nookwright.documents.schedule_words import clock, day, in_days
from nookwright.documents.style import (
    EDGE,
    FAINT,
    FAMILY,
    MARGIN,
    NORMAL,
    PAPER,
    RULE,
    SHADE,
    SMALL,
    TINY,
    TITLE,
    font,
    mixed,
    safe_colour,
    tint,
)
from nookwright.exchange.svg import Anchor, Box, Pen, drawing, to_text
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import DAY_MIN, HOUR_MIN
from nookwright.making.schedule.spans import both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.exchange.calendar_file import Names
    from nookwright.exchange.svg import Canvas
    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful, Schedule, Slot

HOUR_WIDE = Fact(9.5, unit="mm", kind=Kind.CHOICE, source="Half an hour is as wide as a bedful's number.")
LANE = Fact(6.4, unit="mm", kind=Kind.CHOICE, source="Two lines of the least lettering.")
LANE_GAP = Fact(1.6, unit="mm", kind=Kind.CHOICE, source="Room for the line that shows when someone is there.")
BAND_GAP = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Days stand apart more than printers do.")
DAY_WIDE = Fact(24.0, unit="mm", kind=Kind.CHOICE, source="A weekday and a date in the small lettering.")
PRINTER_WIDE = Fact(34.0, unit="mm", kind=Kind.CHOICE, source="A printer's name in the least lettering.")
READY_WIDE = Fact(58.0, unit="mm", kind=Kind.CHOICE, source="A space's name and a time in the small lettering.")
READY_TIME = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="A time of the day in the small lettering.")
READY_LINE = Fact(3.4, unit="mm", kind=Kind.CHOICE, source="Leading of the small lettering.")
TICK_H = Fact(3, unit="h", kind=Kind.CHOICE, source="Eight hours to read off on a day.")

NIGHT = mixed("#43508c", PAPER, 0.2)  # bluer than the wash of any grey filament
_THERE = Pen("#2d7a4f", 0.7)


@dataclass(frozen=True)
class Look:
    """What the drawing needs besides the schedule: names, colours and hours.

    Attributes:
        names: for people.
        colours: of the materials, as #rrggbb, by id.
        hours: of the printers, in the order of their lanes.
    """

    names: Names
    colours: Mapping[str, str]
    hours: Sequence[Hours]


@dataclass(frozen=True)
class _Page:
    """Where days, lanes and hours lie on the sheet."""

    days: range
    lanes: int
    head: float

    @property
    def left(self) -> float:
        return MARGIN + DAY_WIDE + PRINTER_WIDE

    @property
    def right(self) -> float:
        return self.left + HOUR_WIDE * DAY_MIN / HOUR_MIN

    @property
    def band(self) -> float:
        return self.lanes * (LANE + LANE_GAP)

    @property
    def width(self) -> float:
        return self.right + READY_WIDE + MARGIN

    def top(self, number: int) -> float:
        """The top of a day's band."""
        return self.head + (number - self.days.start) * (self.band + BAND_GAP)

    def x(self, minute: float) -> float:
        """Where a minute of a day lies."""
        return self.left + HOUR_WIDE * minute / HOUR_MIN

    def lane(self, number: int, lane: int) -> Box:
        """The lane of a printer on a day, from midnight to midnight."""
        y = self.top(number) + lane * (LANE + LANE_GAP) + LANE_GAP
        return Box(self.left, y, self.right - self.left, float(LANE))


def schedule_svg(schedule: Schedule, bedfuls: Mapping[str, Bedful], look: Look) -> str:
    """The drawing of a schedule.

    Args:
        schedule: of the bedfuls.
        bedfuls: by id.
        look: names, colours and hours.
    """
    first = schedule.begin // int(DAY_MIN)
    days = range(first, max(first, (schedule.end - 1) // int(DAY_MIN)) + 1)
    page = _Page(days, len(look.hours), MARGIN + 24.0)
    height = page.top(days.stop) + 8.0 + MARGIN
    title = f"Schedule: {look.names.room}"
    canvas = drawing(page.width, height, title=title, description=summary(schedule), family=FAMILY)
    canvas.rect(Box(0, 0, page.width, height), fill=PAPER)
    _head(canvas, page, schedule, title)
    for number in days:
        _band(canvas.group("day"), page, schedule, look, number)
    bars = canvas.group("bars")
    for slot in schedule.slots:
        _bar(bars, page, slot, bedfuls[slot.bedful], look)
    _key(canvas.group("key"), height - MARGIN, look, {bedfuls[slot.bedful].material for slot in schedule.slots})
    return to_text(canvas)


def summary(schedule: Schedule) -> str:
    """What a schedule comes to, in a sentence or two.

    Args:
        schedule: any.
    """
    count = len(schedule.slots)
    if not count:
        return "Nothing is left to print."
    end = f"{day(schedule, schedule.end)} at {clock(schedule.end)}"
    proof = (
        "no schedule under these hours ends earlier"
        if schedule.proven
        else f"none can end more than {in_days(schedule.end - schedule.bound)} earlier ({schedule.gap:.1%})"
    )
    left = f" {len(schedule.unplaced)} more have no place in these hours." if schedule.unplaced else ""
    return f"{count} bedfuls in {in_days(schedule.minutes)}, the last ends {end} at the latest; {proof}.{left}"


def _head(canvas: Canvas, page: _Page, schedule: Schedule, title: str) -> None:
    """The title, what it comes to, and the hours."""
    canvas.text((float(MARGIN), MARGIN + 5), title, font(TITLE, bold=True))
    canvas.text((float(MARGIN), MARGIN + 11), summary(schedule), font(NORMAL))
    if schedule.ready:
        canvas.text((page.right + READY_TIME + 1.5, page.head - 1.5), "ready", font(SMALL, colour=FAINT))
    for hour in range(0, int(DAY_MIN / HOUR_MIN) + 1, int(TICK_H)):
        at = page.x(hour * HOUR_MIN)
        canvas.text((at, page.head - 1.5), f"{hour}:00", font(SMALL, colour=FAINT), anchor=Anchor.MIDDLE)


def _band(canvas: Canvas, page: _Page, schedule: Schedule, look: Look, number: int) -> None:
    """One day: its name, the lanes with nights and hours of presence, what is ready."""
    midnight = number * int(DAY_MIN)
    window = ((midnight, midnight + int(DAY_MIN)),)
    weekday, _, date = day(schedule, midnight).partition(" ")
    middle = page.top(number) + page.band / 2
    canvas.text((float(MARGIN), middle), weekday.rstrip(","), font(NORMAL, bold=True))
    canvas.text((float(MARGIN), middle + 3.6), date, font(SMALL, colour=FAINT))
    for lane, hours in enumerate(look.hours):
        box = page.lane(number, lane)
        canvas.rect(box, fill="#ffffff", pen=RULE)
        for first, end in both(hours.nights, window):
            at = page.x(first - midnight)
            canvas.rect(Box(at, box.y, page.x(end - midnight) - at, box.height), fill=NIGHT)
        for hour in range(int(TICK_H), int(DAY_MIN / HOUR_MIN), int(TICK_H)):
            canvas.line((page.x(hour * HOUR_MIN), box.y), (page.x(hour * HOUR_MIN), box.bottom), RULE)
        for first, end in both(hours.there, window):
            canvas.line((page.x(first - midnight), box.y - 0.6), (page.x(end - midnight), box.y - 0.6), _THERE)
        label = lettering.fitted(hours.name or hours.printer, PRINTER_WIDE - 2, TINY)
        canvas.text((page.left - 2, box.middle[1] + 0.8), label, font(TINY, colour=FAINT), anchor=Anchor.END)
    ready = [(space, at) for space, at in schedule.ready if midnight < at <= midnight + DAY_MIN]
    for line, (space, at) in enumerate(ready):
        y = page.top(number) + LANE_GAP + 2.6 + READY_LINE * line
        canvas.text((page.right + READY_TIME, y), clock(at), font(SMALL), anchor=Anchor.END)
        text = lettering.fitted(look.names.space(space), READY_WIDE - READY_TIME - 1.5, SMALL, bold=True)
        canvas.text((page.right + READY_TIME + 1.5, y), text, font(SMALL, bold=True))


def _bar(canvas: Canvas, page: _Page, slot: Slot, bedful: Bedful, look: Look) -> None:
    """One bedful, over as many days as it runs."""
    lane = next(number for number, hours in enumerate(look.hours) if hours.printer == slot.printer)
    colour = safe_colour(look.colours.get(bedful.material, FAINT))
    parts = (
        (slot.work, slot.begin, SHADE),
        (slot.begin, slot.likely, tint(colour)),
        (slot.likely, slot.end, mixed(colour, PAPER, 0.1)),
    )
    for number in range(slot.work // int(DAY_MIN), (slot.end - 1) // int(DAY_MIN) + 1):
        midnight = number * int(DAY_MIN)
        window = ((midnight, midnight + int(DAY_MIN)),)
        box = page.lane(number, lane).inset(0.3)
        for first, end, fill in parts:
            for begin, stop in both(((first, end),), window) if first < end else ():
                at = page.x(begin - midnight)
                canvas.rect(Box(at, box.y, page.x(stop - midnight) - at, box.height), fill=fill)
        ((begin, stop),) = both(((slot.work, slot.end),), window)
        whole = Box(page.x(begin - midnight), box.y, page.x(stop - midnight) - page.x(begin - midnight), box.height)
        canvas.rect(whole, pen=Pen(colour, EDGE.width), name="bedful")
        if slot.changes and begin == slot.work:
            canvas.rect(Box(whole.x, whole.y, 0.9, whole.height), fill=colour)
        _label(canvas, whole, slot, bedful)


def _label(canvas: Canvas, box: Box, slot: Slot, bedful: Bedful) -> None:
    """The bedful's id, and its likely end where there is room for it."""
    name = lettering.fitted(bedful.id, box.width - 1.6, TINY, bold=True)
    if name:
        canvas.text((box.x + 1.2, box.y + 2.5), name, font(TINY, bold=True))
    until = f"to {clock(slot.likely)}"
    if lettering.width(until, TINY) <= box.width - 1.6:
        canvas.text((box.x + 1.2, box.y + 5.1), until, font(TINY))


def _key(canvas: Canvas, y: float, look: Look, used: set[str]) -> None:
    """What the colours and shades mean."""
    entries = [
        (safe_colour(colour), look.names.material(name)) for name, colour in look.colours.items() if name in used
    ]
    x = float(MARGIN)
    for colour, text in entries:
        canvas.rect(Box(x, y - 3, 6, 3.4), fill=tint(colour), pen=Pen(colour, EDGE.width))
        canvas.text((x + 7.5, y), text, font(SMALL))
        x += 7.5 + lettering.width(text, SMALL) + 6
    for fill, text in ((SHADE, "someone changes the bed"), (NIGHT, "night, nobody there")):
        canvas.rect(Box(x, y - 3, 6, 3.4), fill=fill, pen=RULE)
        canvas.text((x + 7.5, y), text, font(SMALL))
        x += 7.5 + lettering.width(text, SMALL) + 6
    canvas.line((x, y - 1.2), (x + 6, y - 1.2), _THERE)
    canvas.text((x + 7.5, y), "someone is there", font(SMALL))
    x += 7.5 + lettering.width("someone is there", SMALL) + 6
    canvas.text((x, y), "pale end of a bar: from its likely end to its latest", font(SMALL, colour=FAINT))
