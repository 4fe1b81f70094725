"""Whether a person can keep the schedule: each bedful once, on its printer, when someone is there, and long enough.

What this does not know: whether it could be shorter, and what a printer had loaded before its first bedful.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, between, figure, words
from nookwright.checks.schedule.clock import clock_of
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import HOUR_MIN, MINUTE_S
from nookwright.survey.making_wishes import PlanBy

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.schedule.clock import Clock
    from nookwright.exchange.kit import Bedful, Kit
    from nookwright.exchange.printing_models import KitLearned, KitSlot
    from nookwright.exchange.trial_models import TrialBedful
    from nookwright.survey.models import Printer, Room

    Loads = Mapping[str, Bedful | TrialBedful]

SHORTEST = Fact(60.0, unit="s", kind=Kind.CALCULATED, source="A schedule counts whole minutes; no print takes none.")


def loads_of(kit: Kit) -> dict[str, Bedful | TrialBedful]:
    """All bedfuls by their id, those of trials first."""
    trials: Loads = {one.id: one for one in kit.first.bedfuls}
    return {**trials, **{one.id: one for one in kit.bedfuls}}


def learned_of(kit: Kit) -> dict[tuple[str, str], KitLearned]:
    """What was learned, by printer and material."""
    return {(one.printer, one.material): one for one in kit.printing.learned}


def wrong_slots(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Everything about single bedfuls that cannot be as the schedule has it.

    Args:
        kit: with a schedule, all that it names known.
        room: with printers and hours.
    """
    printers, loads, learned = {one.id: one for one in room.printer}, loads_of(kit), learned_of(kit)
    end_s = max((slot.end_s for slot in kit.printing.slots), default=0.0)
    first = date.fromisoformat(kit.printing.first) if kit.printing.first else None
    clocks = {one.id: clock_of(one, room, first, end_s) for one in room.printer}
    yield from _each_once(kit, loads)
    for slot in kit.printing.slots:
        load = loads[slot.bedful]
        yield from words(slot.bedful, "The printer that prints it", slot.printer, load.printer)
        yield from _lengths(slot, load, printers[slot.printer], learned.get((slot.printer, load.material)), room)
        yield from _hours(slot, clocks[slot.printer], by_night=getattr(load, "night", True))
    yield from _in_turn(kit, loads)
    yield from _trials_first(kit)
    yield from _hands(kit, room)


def _each_once(kit: Kit, loads: Loads) -> Iterator[Wrong]:
    """Bedfuls in the schedule twice, or in it and without a place in it; one that is in neither was printed before."""
    times = Counter([slot.bedful for slot in kit.printing.slots] + list(kit.printing.unplaced))
    for name in loads:
        yield from figure(name, "Times that it is in the schedule", times[name], min(times[name], 1))
    slots = [(slot.change_s, slot.bedful) for slot in kit.printing.slots]
    if slots != sorted(slots, key=lambda one: one[0]):
        yield Wrong("printing", "The schedule is not in order of time.")


def _lengths(
    slot: KitSlot, load: Bedful | TrialBedful, printer: Printer, learned: KitLearned | None, room: Room
) -> Iterator[Wrong]:
    """A change that is too short or too long, and a print that does not take what its bedful does."""
    running = printer.running
    change_min = math.ceil(running.setup_min) + (math.ceil(running.colour_change_min) if slot.filament else 0)
    yield from figure(
        slot.bedful, "To change the bed takes", slot.start_s - slot.change_s, change_min * MINUTE_S, unit="s"
    )
    if learned is None:
        yield Wrong(slot.bedful, f"Nothing is said of how {slot.printer} prints {load.material}, which it is to print.")
        return
    likely = slot.likely_s - slot.start_s
    slower = sorted((load.time_s, learned.slowness * load.time_s))
    least, most = (_minutes_s(max(one + learned.start_s, 0.0)) for one in slower)
    yield from between(slot.bedful, "It is likely to take", likely, least, max(most, float(SHORTEST)), unit="s")
    longest = likely if room.making.plan_by is PlanBy.LIKELY else math.inf
    ends = slot.end_s - slot.start_s
    yield from figure(slot.bedful, "It takes at the longest", ends, min(max(ends, likely), longest), unit="s")


def _minutes_s(time_s: float) -> float:
    """Seconds as a schedule counts them: whole minutes, rounded up, but for what a record rounds off."""
    return max(float(SHORTEST), math.ceil(round(time_s, 4) / MINUTE_S) * MINUTE_S)


def _hours(slot: KitSlot, clock: Clock, *, by_night: bool) -> Iterator[Wrong]:
    """A change with nobody there, a print when the printer must not run, and nights that are not said."""
    if not clock.someone_from_to(slot.change_s, slot.start_s):
        yield Wrong(
            slot.bedful, f"Its bed is to be changed {_when(slot.change_s)}, and nobody is at {slot.printer} then."
        )
    if not clock.may_run(slot.start_s, slot.end_s):
        yield Wrong(
            slot.bedful,
            f"{slot.printer} is to run from {_when(slot.start_s)} to {_when(slot.end_s)}, and it must not run then.",
        )
    dark = clock.by_night(slot.start_s, slot.end_s)
    yield from words(slot.bedful, "It runs through a night with nobody there", slot.night, dark)
    if dark and not by_night:
        yield Wrong(slot.bedful, "Someone must be there while it runs, and the schedule has it run through a night.")


def _in_turn(kit: Kit, loads: Loads) -> Iterator[Wrong]:
    """Bedfuls of one printer that overlap, and changes of filament between them that are not said, or said in vain."""
    lines: dict[str, list[KitSlot]] = defaultdict(list)
    for slot in sorted(kit.printing.slots, key=lambda one: one.change_s):
        lines[slot.printer].append(slot)
    for line in lines.values():
        for one, other in pairwise(line):
            if other.change_s < one.end_s:
                until = f"{one.bedful} is printed until {_when(one.end_s)}"
                yield Wrong(other.bedful, f"It is to be put on at {_when(other.change_s)}, and {until}.")
            changes = loads[one.bedful].material != loads[other.bedful].material
            changes |= getattr(loads[one.bedful], "change", None) is not None
            yield from words(other.bedful, "The filament is changed before it", other.filament, changes)


def _trials_first(kit: Kit) -> Iterator[Wrong]:
    """Bedfuls of the kit that begin before all trials are done."""
    trials = {one.id for one in kit.first.bedfuls}
    tried_s = max((slot.end_s for slot in kit.printing.slots if slot.bedful in trials), default=0.0)
    for slot in kit.printing.slots:
        if slot.bedful not in trials and slot.start_s < tried_s:
            text = f"It begins at {_when(slot.start_s)}, before the trials are done at {_when(tried_s)}."
            yield Wrong(slot.bedful, text)


def _hands(kit: Kit, room: Room) -> Iterator[Wrong]:
    """More beds to be changed at once than there are people."""
    slots = sorted(kit.printing.slots, key=lambda one: one.change_s)
    for number, slot in enumerate(slots):
        at_once = sum(slot.change_s < other.start_s for other in slots[:number]) + 1
        if at_once > room.making.people:
            hands = f"there are hands for {room.making.people}"
            yield Wrong(slot.bedful, f"At {_when(slot.change_s)} {at_once} beds are to be changed at once; {hands}.")


def _when(second: float) -> str:
    """A moment in words.

    >>> _when(24300.0)
    'day 1, 6:45'
    """
    day, rest = divmod(int(second // MINUTE_S), 24 * int(HOUR_MIN))
    return f"day {day + 1}, {rest // int(HOUR_MIN)}:{rest % int(HOUR_MIN):02d}"
