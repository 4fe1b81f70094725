"""The plan of printing as the page shows it: times of the clock, names, and only the lines that say something."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from nookwright.documents.schedule_words import WEEKDAYS, clock, in_days
from nookwright.ground.times import DAY_MIN, MINUTE_S

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit
    from nookwright.exchange.printing_models import KitCost, KitLearned, KitPrinting, KitPurchase


@dataclass(frozen=True)
class PrintingView:
    """When what is printed.

    Attributes:
        length: from the beginning to the end, in words.
        end: when the last print ends.
        ready: names of spaces, and when each is complete.
        purchases: what to buy, and by when.
        costs: names of what is paid for, and the price.
        learned: names of printers with materials that were timed or weighed, and what that showed.
    """

    length: str
    end: str
    ready: tuple[tuple[str, str], ...]
    purchases: tuple[tuple[KitPurchase, str], ...]
    costs: tuple[tuple[str, float], ...]
    learned: tuple[tuple[str, KitLearned], ...]


def printing_view(kit: Kit) -> PrintingView:
    """How the printing of a kit is shown."""
    printing = kit.printing
    spaces, materials, printers = (
        {one.id: one.name for one in some} for some in (kit.spaces, kit.materials, kit.printers)
    )
    return PrintingView(
        length=in_days(round((printing.end_s - printing.begin_s) / MINUTE_S)),
        end=when(printing, printing.end_s),
        ready=tuple((spaces[one.space], when(printing, one.at_s)) for one in printing.ready),
        purchases=tuple((one, when(printing, one.by_s)) for one in printing.purchases),
        costs=_costs(printing.cost) if printing.cost else (),
        learned=tuple(
            (f"{printers[one.printer]}, {materials.get(one.material, one.material)}", one)
            for one in printing.learned
            if one.timed or one.weighed
        ),
    )


def when(printing: KitPrinting, at_s: float) -> str:
    """A time of the schedule in words: with its date, or with the number of its day from a Monday on.

    Args:
        printing: of the kit.
        at_s: from midnight of the first day.
    """
    minute = round(at_s / MINUTE_S)
    number = minute // int(DAY_MIN)
    if not printing.first:
        return f"on day {number + 1}, a {WEEKDAYS[number % len(WEEKDAYS)]}, {clock(minute)}"
    day = date.fromisoformat(printing.first) + timedelta(days=number)
    return f"on {WEEKDAYS[day.weekday()]} {day.isoformat()}, {clock(minute)}"


def _costs(cost: KitCost) -> tuple[tuple[str, float], ...]:
    """Every line that is not nought, and their sum where there are several."""
    lines = (
        ("Filament", cost.filament),
        ("Electricity", cost.electricity),
        ("Wear and upkeep of printers", cost.machine),
        ("Prints that fail", cost.spoiled),
        ("Work", cost.labour),
        ("Margin", cost.margin),
    )
    shown = tuple(line for line in lines if line[1])
    return (*shown, ("Together", cost.total)) if len(shown) > 1 else shown
