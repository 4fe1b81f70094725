"""What every schedule must keep, checked minute by minute and without the code that made it; and random schedules."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Rules, Stage, Way
from nookwright.survey.making_wishes import Order

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.making.schedule.model import Schedule, Slot
    from nookwright.making.schedule.spans import Spans

DAYS = 14
DAY = 240  # minutes of a day in these tests, so that they are quick
SPACES = ("left", "right", "shelf")


def minutes(spans: Spans) -> set[int]:
    """All minutes of some spans, one by one."""
    return {minute for first, end in spans for minute in range(first, end)}


def breaches(
    schedule: Schedule, bedfuls: Sequence[Bedful], hours: Sequence[Hours], rules: Rules, *, strict: bool = False
) -> Iterator[str]:
    """Every rule that a schedule breaks, in words; if strict, spaces come one after another on each printer."""
    known = {one.id: one for one in bedfuls}
    by_printer = {one.printer: one for one in hours}
    named = [slot.bedful for slot in schedule.slots] + [one.bedful for one in schedule.unplaced]
    if sorted(named) != sorted(known):
        yield "a bedful is missing, or is there twice"
    for slot in schedule.slots:
        yield from _of_slot(slot, known[slot.bedful], by_printer[slot.printer], rules, schedule.begin)
    for printer, its in by_printer.items():
        yield from _of_printer([one for one in schedule.slots if one.printer == printer], known, its)
        if strict:
            yield from _of_order([one for one in schedule.slots if one.printer == printer], known, rules)
    ready = dict(schedule.ready)
    yield from (f"{space} is late" for space, minute in schedule.by if ready.get(space, 0) > minute)
    for minute in {slot.work for slot in schedule.slots}:
        if sum(slot.work <= minute < slot.begin for slot in schedule.slots) > rules.people:
            yield f"too few hands at {minute}"
    yield from _of_stages(schedule, known, hours)
    if schedule.bound > schedule.end:
        yield "the bound is later than the end"


def _of_slot(slot: Slot, bedful: Bedful, hours: Hours, rules: Rules, begin: int) -> Iterator[str]:
    there, runs, nights = minutes(hours.there), minutes(hours.runs), minutes(hours.nights)
    run = set(range(slot.begin, slot.end))
    if slot.work < begin:
        yield f"{slot.bedful} begins before the schedule"
    if not set(range(slot.work, slot.begin)) <= there or slot.work not in there:
        yield f"nobody is there to load {slot.bedful}"
    if not run <= runs:
        yield f"{slot.bedful} runs when its printer must not"
    if slot.night != bool(run & nights) or (slot.night and not bedful.night):
        yield f"{slot.bedful} runs at night, or says so wrongly"
    if slot.begin - slot.work != hours.setup_min + hours.change_min * slot.changes:
        yield f"the change of the bed before {slot.bedful} has another length"
    if (
        slot.end - slot.begin != bedful.on(slot.printer).minutes(rules.plan_by)
        or not slot.begin < slot.likely <= slot.end
    ):
        yield f"{slot.bedful} has another length"
    ready = dict(rules.drying_min).get(bedful.material, 0)
    if slot.work < begin + ready:
        yield f"{slot.bedful} is not dry"


def _of_printer(slots: Sequence[Slot], known: dict[str, Bedful], hours: Hours) -> Iterator[str]:
    loaded = hours.loaded
    for slot in sorted(slots):
        material = known[slot.bedful].material
        if slot.changes != (material != loaded):
            yield f"the filament before {slot.bedful} is changed, or not, against what is loaded"
        loaded = material
    for one, other in pairwise(sorted(slots)):
        if other.work < one.end:
            yield f"{one.bedful} and {other.bedful} are on one printer at once"


def _of_order(slots: Sequence[Slot], known: dict[str, Bedful], rules: Rules) -> Iterator[str]:
    for one, other in pairwise(sorted(slots)):
        first, second = known[one.bedful], known[other.bedful]
        if first.stage == second.stage and rules.rank(first) > rules.rank(second):
            yield f"{one.bedful} comes before {other.bedful} against the order of spaces"


def _of_stages(schedule: Schedule, known: dict[str, Bedful], hours: Sequence[Hours]) -> Iterator[str]:
    someone = {minute for one in hours for minute in minutes(one.there)}
    for stage in Stage:
        before = [slot.end for slot in schedule.slots if known[slot.bedful].stage < stage]
        after = [slot.work for slot in schedule.slots if known[slot.bedful].stage == stage]
        if (
            before
            and after
            and not any(set(range(at, at + 30)) <= someone for at in range(max(before), min(after) - 29))
        ):
            yield f"stage {stage} begins before what is printed first was tried"


def spans_of(draw: st.DrawFn, *, least: int) -> Spans:
    """A few stretches of a day, the same every day."""
    edges = sorted(draw(st.sets(st.integers(0, DAY), min_size=2, max_size=4)))
    day = [(first, end) for first, end in zip(edges[::2], edges[1::2], strict=False) if end - first >= least]
    return tuple((number * DAY + first, number * DAY + end) for number in range(DAYS) for first, end in day)


@st.composite
def some_hours(draw: st.DrawFn, printer: str) -> Hours:
    """Hours of a printer that is seen to once or twice a day, most of them with nights of their own."""
    there = spans_of(draw, least=30) or ((0, DAYS * DAY),)
    runs: Spans = ((0, DAYS * DAY),)
    if draw(st.booleans()):
        runs = tuple((number * DAY, number * DAY + draw(st.integers(150, DAY))) for number in range(DAYS))
    nights = tuple((number * DAY + 200, number * DAY + DAY) for number in range(DAYS))
    away = minutes(nights) - minutes(there)
    return Hours(
        printer=printer,
        there=there,
        runs=runs,
        nights=tuple((minute, minute + 1) for minute in sorted(away)),
        setup_min=draw(st.integers(0, 10)),
        change_min=draw(st.integers(0, 8)),
        loaded=draw(st.sampled_from(("", "grey", "blue"))),
    )


@st.composite
def some_bedfuls(draw: st.DrawFn, printers: Sequence[str], *, most: int, stages: bool = True) -> tuple[Bedful, ...]:
    """A few bedfuls for some printers."""
    found = []
    for number in range(draw(st.integers(1, most))):
        on = draw(st.lists(st.sampled_from(list(printers)), min_size=1, unique=True))
        likely = draw(st.integers(5, 150))
        ways = tuple(Way(printer, likely * 60.0, likely * 50.0, likely * draw(st.integers(60, 80))) for printer in on)
        found.append(
            Bedful(
                id=f"b{number}",
                material=draw(st.sampled_from(("grey", "blue"))),
                ways=ways,
                mass_g=draw(st.integers(1, 300)),
                high_g=320.0,
                stage=draw(st.sampled_from(Stage)) if stages else Stage.KIT,
                spaces=tuple(draw(st.lists(st.sampled_from(SPACES), max_size=2, unique=True))),
                night=draw(st.booleans()),
            )
        )
    return tuple(found)


@st.composite
def some_rules(draw: st.DrawFn) -> Rules:
    """Rules of either order."""
    return Rules(
        order=draw(st.sampled_from(Order)),
        spaces=SPACES,
        people=draw(st.integers(1, 2)),
        drying_min=draw(st.sampled_from(((), (("blue", 70),)))),
    )
