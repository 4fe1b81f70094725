"""Whether what kit.json says of the layout, of chances, savings and next readings agrees with itself and with the kit.

Nothing is printed by these figures, but people choose by them: a saving whose lines the room file does not take, a
chance of more than one. What this does not know: whether a figure of a search or of a forecast is right; only that
sums are the sums of their parts, shares lie between 0 and 1, and what is named is there.
"""

from __future__ import annotations

import math
import tomllib
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import WRITTEN, Wrong, between, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Room

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding

MOST_READINGS = Fact(
    1000, unit="1", kind=Kind.CHOICE, source="Nobody reads a thing more often: such a figure is wrong."
)
BY_CHANCE = Fact(
    0.02, unit="1", kind=Kind.CALCULATED, source="Shares of thousands of trials, multiplied: 0.005 each, in a row."
)


def check_judged(kit: Kit, room: Room) -> Iterator[Finding]:
    """One finding about everything in these records that does not agree.

    Args:
        kit: the kit, its references sound.
        room: as surveyed.
    """
    wrong = (*_layout(kit, room), *_chances(kit), *_savings(kit), *_readings(kit, room))
    yield from said_once("record-disagrees", Severity.WARN, wrong)


def _layout(kit: Kit, room: Room) -> Iterator[Wrong]:
    """The layout's cost."""
    said = kit.layout
    if not (said.cost or said.spaces):
        return
    yield from words("layout", "Which of the two layouts it is", said.style, room.choices.layout.value)
    cost = sum(one.value for one in said.cost)
    yield from figure("layout", "Its cost is", said.total, cost)
    yield from between("layout", "No layout costs less than", said.bound, 0.0, said.total)
    share = (said.total - said.bound) / said.bound if said.bound else 0.0
    of_total = (said.total - said.bound) / said.total if said.total else 0.0
    yield from between("layout", "It is above that by a share of", said.gap, min(share, of_total), max(share, of_total))
    kinds = [one.name for one in said.cost]
    tightest = {one.name: one.value for one in said.tightest}
    yield from figure(
        "layout", "The tightest costs", said.tightest_total, sum(tightest.get(name, 0.0) for name in kinds)
    )
    for what, names in (("cost", kinds), ("arrangement", [one.name for one in said.arrangement])):
        if len(set(names)) < len(names):
            yield Wrong("layout", f"A part of its {what} is listed twice.")
    known, spaces = {one.id for one in kit.spaces}, [one.space for one in said.spaces]
    if len(set(spaces)) < len(spaces) or not set(spaces) <= known:
        yield Wrong("layout", "A space is listed twice in it, or is none of the kit.")
    yield from figure(
        "layout",
        "The calm one takes more floor by",
        said.calm_dm2,
        sum(one.calm_dm2 for one in said.spaces),
        unit="dm2",
    )
    yield from figure(
        "layout", "The calm one takes more plastic by", said.calm_g, sum(one.calm_g for one in said.spaces), unit="g"
    )


def _chances(kit: Kit) -> Iterator[Wrong]:
    """How likely the first print fits."""
    said, all_of = kit.first_print, {one.id for one in kit.lots} | {one.id for one in kit.spaces}
    shares = {**said.lots, **said.spaces, "seat": said.seat}
    for name, share in (*shares.items(), ("kit", said.kit)):
        yield from between(name, "The first print fits with a probability of", share, 0.0, 1.0)
    yield from (
        Wrong(name, "A chance is told of it, and there is no such lot or space.") for name in said.lots.keys() - all_of
    )
    yield from (
        Wrong(name, "A chance is told of it, and there is no such lot or space.")
        for name in said.spaces.keys() - all_of
    )
    pockets = {lot.id for lot in kit.lots if any(size.pocket for size in lot.sizes)}
    yield from words("kit", "Lots in pockets that a chance is told of", sorted(said.lots), sorted(pockets))
    product = math.prod(shares.values())
    yield from between(
        "kit", "Everything fits at once with a probability of", said.kit, product - BY_CHANCE, product + BY_CHANCE
    )
    for help_ in said.helps:
        if help_.subject and help_.subject not in all_of | {one.id for one in kit.printers}:
            yield Wrong(help_.subject, "A step would help it, and there is no such lot or space.")
        yield from between(
            help_.subject or "kit", "A step would raise the probability to", help_.probability, said.kit, 1.0
        )
        yield from figure(
            help_.subject or "kit", "A step would raise it by", help_.gain, help_.probability - said.kit, off=WRITTEN
        )
    steps = [(one.step, one.subject) for one in said.helps]
    if len(set(steps)) < len(steps):
        yield Wrong("kit", "A step that would help is listed twice.")


def _savings(kit: Kit) -> Iterator[Wrong]:
    """What could be left out: lines that the room file takes, and less than there is."""
    for one in kit.savings:
        yield from between("savings", f"{one.text}: it saves", one.mass_g, 0.0, max(kit.totals.mass_g, 0.0), unit="g")
        yield from between("savings", f"{one.text}: it saves", one.time_s, 0.0, max(kit.totals.time_s, 0.0), unit="s")
        try:
            tables = tomllib.loads(one.toml)
        except tomllib.TOMLDecodeError as error:
            yield Wrong("savings", f"{one.text}: its lines for the room file cannot be read: {error}.")
            continue
        yield from (
            Wrong("savings", f"{one.text}: its lines have a table {name!r}, which a room file has not.")
            for name in tables
            if name not in Room.model_fields
        )
    said = [one.text for one in kit.savings]
    if len(set(said)) < len(said):
        yield Wrong("savings", "A saving is listed twice.")


def _readings(kit: Kit, room: Room) -> Iterator[Wrong]:
    """What to measure next: of something that is there, in a dimension that it has, once."""
    lots, spaces = {one.id: one for one in room.lot}, {one.id: one for one in room.space}
    for one in kit.next_readings:
        subject = lots.get(one.subject) or spaces.get(one.subject)
        if subject is None:
            yield Wrong(one.subject, "Readings are asked of it, and there is no such lot or space.")
            continue
        yield from words(one.subject, "Its name", one.name, subject.name or subject.id)
        if not hasattr(subject, one.dimension):
            yield Wrong(one.subject, f"Readings are asked of its {one.dimension!r}, which it does not have.")
        yield from between(one.subject, "Readings that are asked for", one.readings, 1, MOST_READINGS)
        for what, share in (("surer", one.surer), ("surer instead", one.surer_instead)):
            yield from between(one.subject, f"With them the first print is {what} by", share, -1.0, 1.0)
    asked = [(one.subject, one.dimension) for one in kit.next_readings]
    if len(set(asked)) < len(asked):
        yield Wrong("kit", "A reading is asked for twice.")
