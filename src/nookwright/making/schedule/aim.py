"""A schedule that ends at its bound, or close by: for each printer alone, along the prices that proved the bound.

The prices say what each minute of the hours is worth to what is left. A row of bedfuls that could still end in time is
continued, all others are dropped; see ``reach``. First the bound itself is aimed at, then later and later ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from random import Random
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.decode import Put
from nookwright.making.schedule.prices import Kinds, Priced, kinds_of, priced
from nookwright.making.schedule.spans import first_from, joined, without

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.decode import Decoder
    from nookwright.making.schedule.model import Slot
    from nookwright.making.schedule.passage import Classes
    from nookwright.making.schedule.spans import Spans
    from nookwright.making.schedule.tables import Ints, Tables
    from nookwright.making.schedule.walks import Words

FIRST = Fact(
    0.7, unit="1", kind=Kind.CHOICE, source="Of the way from the bound to the end: the first aim, an easy one."
)
AIMS = Fact(5, unit="1", kind=Kind.CHOICE, source="Then half of the way that is left, and half again.")
MISSED = Fact(3, unit="1", kind=Kind.CHOICE, source="Aims, each easier than the one before, that are missed at first.")
NEAR = Fact(
    0.002, unit="1", kind=Kind.CHOICE, source="Of the time until the end: so close to the bound is good enough."
)
WIDEST = Fact(
    12_000, unit="1", kind=Kind.MEASURED, source="Beginnings kept in a step: 3000 missed on the demo at times."
)
LABELS = Fact(1.2e7, unit="1", kind=Kind.MEASURED, source="Beginnings tried for one printer and aim: half a second.")
ALIKE = Fact(
    1.1,
    unit="1",
    kind=Kind.MEASURED,
    source="Beginnings that differ by less crowd out others: of 1 to 1.2 the best two.",
)
NARROWEST = Fact(30, unit="1", kind=Kind.CHOICE, source="Beginnings kept for very many bedfuls.")
ROUNDS = Fact(2, unit="1", kind=Kind.CHOICE, source="A printer may end earlier once another one leaves it the hands.")
_SEED = 1


@dataclass(frozen=True)
class Asked:
    """A printer, by its number and id, with the kinds of bedfuls that it prints and their prices."""

    printer: int
    name: str
    kinds: Kinds
    priced: Priced


def asked_of(
    tables: Tables, order: Mapping[str, Sequence[str]], begin: int, *, end: int, passed: int, by: Mapping[str, int]
) -> list[Asked]:
    """Each printer with what an order gives it, and the prices of that.

    Args:
        tables: of all bedfuls.
        order: the ids of each printer.
        begin: minute at which they may begin.
        end: minute at which a schedule is known to end.
        passed: see ``priced``; for all printers together.
        by: minute by which a bedful must have ended, by its id.
    """
    number = {name: at for at, name in enumerate(tables.bedfuls)}
    busy = [(at, order[name]) for at, name in enumerate(tables.printers) if order.get(name)]
    found = []
    for printer, names in busy:
        kinds = kinds_of(tables, [printer], sorted(number[name] for name in names), end=end, by=by)
        prices = priced(kinds, begin, end=end, bound=begin, passed=passed // len(busy))
        found.append(Asked(printer, tables.printers[printer], kinds, prices))
    return found


def aimed(
    decoder: Decoder, tables: Tables, asked: Sequence[Asked], slots: Sequence[Slot], *, least: int
) -> tuple[Slot, ...]:
    """Slots that end earlier, or the same: one printer after another is planned anew, those that end last first.

    Args:
        decoder: of the bedfuls.
        tables: of them.
        asked: printers with what the slots give them.
        slots: to begin with.
        least: minute before which no schedule can end.
    """
    current = tuple(slots)
    for one in sorted(asked, key=lambda one: -max(slot.end for slot in slots if slot.printer == one.name)) * int(
        ROUNDS
    ):
        others = tuple(slot for slot in current if slot.printer != one.name)
        busy = hands_busy(others, decoder.starts.rules.people)
        low, high = max(least, one.priced.bound), max(slot.end for slot in current if slot.printer == one.name)
        share, near, missed = float(FIRST), NEAR * (high - decoder.begin), 0
        for _ in range(int(AIMS)):
            if high - low <= near:
                break
            target = low + int(share * (high - low))
            puts = _puts(decoder, tables, one, busy, target)
            if puts is not None:
                current, high, missed = (*others, *decoder.slots(puts)), puts[-1].end, -int(AIMS)
            else:
                low, missed = target + 1, missed + 1
            if missed >= MISSED:
                break
            share = 0.5
    return tuple(sorted(current))


def hands_busy(slots: Sequence[Slot], people: int) -> Spans:
    """When all hands are at other printers.

    Args:
        slots: of those.
        people: how many beds can be changed at the same time.
    """
    edges = sorted(edge for slot in slots for edge in ((slot.work, 1), (slot.begin, -1)))
    found, busy = [], 0
    for (minute, step), (later, _) in pairwise(edges):
        busy += step
        if busy >= people:
            found.append((minute, later))
    return joined(found)


def _puts(decoder: Decoder, tables: Tables, asked: Asked, busy: Spans, target: int) -> list[Put] | None:
    """What a printer prints so that it ends by a minute, and the hands that it needs are free."""
    from nookwright.making.schedule.reach import ahead, reach

    kinds, prices = asked.kinds, asked.priced.prices
    ((whole, _, loaded),) = kinds.lanes
    works = tables.columns.work[asked.printer]
    classes, allowed = _around(whole, works, busy, target)
    marks = _marks(kinds, classes)
    worth = np.zeros((kinds.materials, target + 1), np.int64)
    ahead(classes, prices, decoder.begin, worth)
    row = np.zeros(int(kinds.count.sum()), np.int64)
    wide = int(max(NARROWEST, min(WIDEST, LABELS / (len(row) * len(kinds.count)))))
    if reach(classes, prices, kinds.count, marks, loaded, decoder.begin, worth, wide, row) != 1:
        return None
    left, free, found = [list(mine) for mine in kinds.bedfuls], decoder.begin, []
    for kind in map(int, row):
        changes = int(classes.material[kind]) != loaded
        start = first_from(allowed[kind][changes], max(free, int(classes.ready[kind])))
        if start is None:
            return None
        begin, free = start + int(works[int(changes)]), start + int(classes.takes[kind, int(changes)])
        loaded = int(classes.material[kind])
        found.append(Put(start, begin, free, asked.name, tables.bedfuls[left[kind].pop(0)], changes))
    return found


def _marks(kinds: Kinds, classes: Classes) -> Words:
    """A random word for each kind, the same for kinds that are nearly alike; see ``reach``."""
    source = Random(_SEED)  # noqa: S311 - the same marks each time
    marks = np.zeros(len(kinds.count), np.uint64)
    keys = list(zip(classes.material, classes.by, classes.ready, kinds.minutes, strict=True))
    first, mark = (-1, -1, -1, -1), 0
    for one in sorted(range(len(keys)), key=lambda one: keys[one]):
        if keys[one][:3] != first[:3] or keys[one][3] > ALIKE * first[3]:
            first, mark = keys[one], source.getrandbits(64)
        marks[one] = mark
    return marks


def _around(whole: Classes, works: Ints, busy: Spans, target: int) -> tuple[Classes, list[tuple[Spans, Spans]]]:
    """Classes whose spans keep off busy hands, up to a minute; and the spans, by class and change."""
    taken = [joined((first - int(minutes) + 1, end) for first, end in busy) for minutes in works]
    allowed: list[tuple[Spans, Spans]] = []
    for one in range(len(whole.material)):
        pair = []
        for change in (0, 1):
            row = whole.row[one, change]
            spans = () if row < 0 else _spans(whole, int(row), target)
            pair.append(without(spans, taken[change]))
        allowed.append((pair[0], pair[1]))
    flat = [spans for pair in allowed for spans in pair]
    edges = np.array([span for spans in flat for span in spans], np.int64).reshape(-1, 2)
    classes = whole._replace(
        row=np.arange(len(flat), dtype=np.int64).reshape(-1, 2),
        at=np.cumsum([0, *map(len, flat)]).astype(np.int64),
        first=np.ascontiguousarray(edges[:, 0]),
        end=np.ascontiguousarray(edges[:, 1]),
    )
    return classes, allowed


def _spans(classes: Classes, row: int, target: int) -> Spans:
    """A row of spans up to a minute."""
    low, high = classes.at[row], classes.at[row + 1]
    pairs = zip(classes.first[low:high].tolist(), classes.end[low:high].tolist(), strict=True)
    return tuple((first, end) for first, end in pairs if first < target)
