"""Hours, dates and spools that name what is not there, or that no clock and no calendar has."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import TimeError
from nookwright.ground.times import ALLOWED_STRETCH, read_clock, read_days, read_stretch
from nookwright.survey.making_wishes import DAYS_AWAY, MOMENT, STRETCH, Week
from nookwright.survey.typed import listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_LABOUR = ("labour_h", "labour_min", "margin_percent")


def making_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault in hours, spools and costs."""
    materials = typed.ids("material")
    making = typed.data.get("making")
    if isinstance(making, dict):
        yield from _making(typed, making)
    for path, printer in typed.tables("printer"):
        running = printer.get("running")
        if isinstance(running, dict):
            yield from _week(typed, (*path, "running", "there"))
            yield from _week(typed, (*path, "running", "quiet"))
            yield from _days_away(typed, (*path, "running", "away"))
            mine = [name for name in _texts(printer.get("materials")) if name in materials]
            yield from _known(typed, (*path, "running", "loaded"), mine, "a material of this printer")
    for path, _ in typed.tables("spool"):
        yield from _known(typed, (*path, "material"), materials, "the id of a material")
    yield from _costs(typed)


def _making(typed: Typed, making: dict[str, Any]) -> Iterator[Fault]:
    """The table ``[making]``."""
    start = making.get("start")
    if isinstance(start, str) and re.fullmatch(MOMENT, start):
        yield from _read(typed, ("making", "start"), _moment, start, "a moment such as 2026-03-02 17:30")
    yield from _week(typed, ("making", "there"))
    yield from _stretch(typed, ("making", "night"))
    yield from _days_away(typed, ("making", "away"))


def _days_away(typed: Typed, path: Path) -> Iterator[Fault]:
    """Days that no calendar has."""
    away = typed.at(path)
    for index, days in enumerate(away if isinstance(away, list) else ()):
        if isinstance(days, str) and re.fullmatch(DAYS_AWAY, days):
            allowed = "a day such as 2026-03-07, or two days with `to` between them"
            yield from _read(typed, (*path, index), read_days, days, allowed)


def _moment(text: str) -> None:
    day, _, clock = text.partition(" ")
    read_days(day)
    read_clock(clock or "0:00")


def _week(typed: Typed, path: Path) -> Iterator[Fault]:
    """All stretches of a week."""
    week = typed.at(path)
    for day in Week.model_fields:
        stretches = week.get(day) if isinstance(week, dict) else None
        for index in range(len(stretches) if isinstance(stretches, list) else 0):
            yield from _stretch(typed, (*path, day, index))


def _stretch(typed: Typed, path: Path) -> Iterator[Fault]:
    text = typed.at(path)
    if isinstance(text, str) and re.fullmatch(STRETCH, text):
        yield from _read(typed, path, read_stretch, text, f"two times of a day, such as {ALLOWED_STRETCH}")


def _read(typed: Typed, path: Path, reader: Callable[[str], object], text: str, allowed: str) -> Iterator[Fault]:
    """A text in the right form that means nothing."""
    try:
        reader(text)
    except TimeError as error:
        reason = str(error).partition("; ")[0]
        yield typed.fault(path, allowed=allowed, remedy=f"Correct it: {reason}.")


def _costs(typed: Typed) -> Iterator[Fault]:
    """Labour and margin that would be left out in silence."""
    costs = typed.data.get("costs")
    if not isinstance(costs, dict) or costs.get("offer"):
        return
    for key in _LABOUR:
        if isinstance(costs.get(key), int | float) and costs[key]:
            yield typed.fault(
                ("costs", key), allowed="only beside `offer = true`", remedy="Add `offer = true`, or delete it."
            )


def _known(typed: Typed, path: Path, known: Sequence[str], what: str) -> Iterator[Fault]:
    """A name that stands for nothing in this file."""
    name = typed.at(path)
    if not isinstance(name, str) or name in known:
        return
    close = nearest(name, known)
    remedy = f"Write {show(close)} instead." if close else "Write one of them, or add what it names."
    yield typed.fault(path, found=show(name), allowed=f"{what}: {listed(known)}", remedy=remedy)


def _texts(value: object) -> list[str]:
    """The texts of a list."""
    return [item for item in value if isinstance(item, str)] if isinstance(value, list) else []
