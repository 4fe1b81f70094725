"""How good schedules are and how long they take: the demo, and households of 180 and 1300 pieces, by order and hours.

``python benchmarks/making/schedule.py`` prints the table; with ``docs`` behind it, it renews the one in
``docs/schedule.md`` and the chart above it. Pieces of the household are drawn from a fixed seed; masses and times are
those of closed forms. Seconds are those of the processor.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.build import plan_and_design
from nookwright.documents.schedule_chart import Look, schedule_svg
from nookwright.exchange.calendar_file import Names
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort as LayoutEffort
from nookwright.making.bedfuls import Job, bedfuls
from nookwright.making.jobs import make
from nookwright.making.printing import rules_of
from nookwright.making.schedule.effort import USUAL
from nookwright.making.schedule.from_loads import Needs, bedfuls_of, needs_of
from nookwright.making.schedule.hours import Beginning, hours_of
from nookwright.making.schedule.model import Rules, Stage
from nookwright.making.schedule.plan import schedule_of
from nookwright.survey.load import load_room
from nookwright.survey.making_wishes import Alone, Making, Order, Running, Week
from nookwright.survey.models import Printer
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.schedule.model import Bedful

DOCS = Path(__file__).resolve().parents[2] / "docs"
PAGE, PICTURE = DOCS / "schedule.md", DOCS / "pictures" / "schedule-demo.svg"
HEAD = ("case", "bedfuls", "printing, h", "at once, days", "searched, days", "bound, days", "gap", "s")
MANY = 1300
HOURS = {
    "mornings and evenings": Making(),
    "evenings, no nights": Making(there=Week(weekdays=("17:30-22:30",), weekends=("9:00-22:30",))),
    "always someone there": Making(there=Week(every_day=("0:00-24:00",))),
}


@dataclass(frozen=True)
class Case:
    """Bedfuls, the printers that print them, the spaces in their order."""

    name: str
    bedfuls: tuple[Bedful, ...]
    printers: tuple[Printer, ...]
    spaces: tuple[str, ...]


def demo() -> Case:
    """The demo room as it is built, trials first."""
    with demo_path() as path:
        room = load_room(path)
    designed = plan_and_design(room, effort=LayoutEffort(), progress=Silent())
    making = make(room, designed.all_copies, designed.cut, lambda piece: piece.plastic.body_mm3)
    trials = make(room, designed.trials.copies, designed.trials.cut, lambda piece: piece.plastic.body_mm3)
    spaces = rules_of(room).spaces
    found = (
        *bedfuls_of(
            trials.loads,
            needs_of(trials, designed.trials.copies, spaces),
            ids=[f"t{number:02d}" for number, _ in enumerate(trials.loads, start=1)],
            stage=Stage.TRIAL,
        ),
        *bedfuls_of(
            making.loads,
            needs_of(making, designed.all_copies, spaces),
            ids=[f"b{number:02d}" for number, _ in enumerate(making.loads, start=1)],
        ),
    )
    return Case("demo", found, room.printer, spaces)


def household(pieces: int = 180) -> Case:
    """Three printers, four colours, eight spaces; pieces as trays and panels are, small ones more often."""
    source = random.Random(7)  # noqa: S311 - drawn for a benchmark
    materials = ("grey", "white", "blue", "red")
    spaces = tuple(f"space-{number}" for number in range(1, 9))
    beds = ((220, 220, 240), (300, 260, 280), (180, 180, 180))
    printers = tuple(
        Printer(id=f"p{number}", bed_width=wide, bed_depth=deep, bed_height=high, materials=materials)
        for number, (wide, deep, high) in enumerate(beds, start=1)
    )
    jobs: list[Job] = []
    needs: dict[str, tuple[str, ...]] = {}
    for number in range(pieces):
        width, depth = (min(source.lognormvariate(4.5, 0.4), 165.0) for _ in range(2))
        mass_g = width * depth * source.uniform(0.0015, 0.006)
        name = f"piece-{number:03d}"
        needs[name] = (spaces[number * len(spaces) // pieces],)
        jobs.append(Job(name, 1, width, depth, 40.0, source.choice(materials), mass_g, mass_g * 160 + 600))
    loads = bedfuls(jobs, printers)
    ids = [f"b{number:03d}" for number, _ in enumerate(loads, start=1)]
    return Case(f"{pieces} pieces", bedfuls_of(loads, Needs(needs, frozenset(needs)), ids=ids), printers, spaces)


def measured(case: Case, hours: str, order: Order) -> tuple[str, ...]:
    """One row of the table."""
    making = HOURS[hours]
    printers: Sequence[Printer] = case.printers
    if "no nights" in hours:
        printers = [one.model_copy(update={"running": Running(alone=Alone.BY_DAY)}) for one in printers]
    rules = Rules(order=order, spaces=case.spaces)
    began = time.process_time()
    schedule = schedule_of(case.bedfuls, hours_of(making, printers, Beginning()), rules, effort=USUAL)
    took_s = time.process_time() - began
    printing_h = sum(one.ways[0].minutes(rules.plan_by) for one in case.bedfuls) / 60
    days = (f"{minutes / 1440:.2f}" for minutes in (schedule.quick, schedule.end, schedule.bound))
    left = f" ({len(schedule.unplaced)} without a place)" if schedule.unplaced else ""
    name = f"{case.name}, {hours}, {order}{left}"
    return (name, str(len(case.bedfuls)), f"{printing_h:.0f}", *days, f"{schedule.gap:.1%}", f"{took_s:.1f}")


def picture(case: Case) -> str:
    """The chart of the demo, on days of the calendar."""
    with demo_path() as path:
        room = load_room(path)
    begins = Beginning(date(2026, 3, 2), dated=True, minute=1050)
    hours = hours_of(Making(), case.printers, begins)
    schedule = schedule_of(case.bedfuls, hours, Rules(spaces=case.spaces), beginning=begins)
    names = Names(
        room.room.name,
        {one.id: one.name for one in room.printer},
        {one.id: one.name for one in room.material},
        {one.id: one.name for one in room.space},
    )
    look = Look(names, {one.id: one.colour for one in room.material}, hours)
    return schedule_svg(schedule, {one.id: one for one in case.bedfuls}, look)


def main() -> None:
    """Print the table, or renew the one in the docs."""
    rows = [HEAD, ("---",) * len(HEAD)]
    cases = (demo(), household(), household(MANY))
    for case in cases:
        for hours in HOURS if case is not cases[-1] else ("mornings and evenings",):
            for order in Order:
                rows.append(measured(case, hours, order))
                print(" | ".join(rows[-1]), flush=True)
    table = "\n".join("| " + " | ".join(row) + " |" for row in rows)
    if "docs" in sys.argv[1:]:
        head, _, rest = PAGE.read_text(encoding="utf-8").partition("<!-- schedules -->\n")
        _, _, tail = rest.partition("<!-- end -->")
        text = f"{head}<!-- schedules -->\n{table}\n<!-- end -->{tail}"
        PICTURE.write_text(picture(cases[0]), encoding="utf-8", newline="\n")
        PAGE.write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
