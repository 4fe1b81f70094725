"""How early any schedule could end, by counting minutes: a bound that needs no search.

While nobody is there a bed cannot be changed, so each absence at each printer is bridged by one bedful at most. All
absences up to a moment, the longest first, are given the longest bedfuls: that much can be printed in them, and in the
hours with someone there at most those hours. Where this is less than what must be printed, the end is later. The same
holds for every set of printers and the bedfuls that only they may print, and after what must be tried first.
"""

from __future__ import annotations

from itertools import chain, combinations, pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.spans import both, gaps, length

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.making.schedule.model import Bedful
    from nookwright.making.schedule.spans import Span, Spans
    from nookwright.making.schedule.starts import Starts

MOST_PRINTERS = Fact(5, unit="1", kind=Kind.CHOICE, source="Of more printers only each and all together are counted.")


def bound_of(bedfuls: Sequence[Bedful], starts: Starts, begin: int) -> int:
    """The minute before which no schedule of these bedfuls can end.

    Args:
        bedfuls: of one stage, each of which the hours allow.
        starts: when they may begin.
        begin: minute at which they may begin.
    """
    return max(_ends(bedfuls, starts, begin))


def _ends(bedfuls: Sequence[Bedful], starts: Starts, begin: int) -> Iterable[int]:
    """The bound of every set of printers."""
    yield begin
    for printers in _sets(tuple(starts.hours)):
        only = [one for one in bedfuls if all(way.printer in printers for way in one.ways)]
        if only:
            yield _end(only, starts, printers, begin)
    for bedful in bedfuls:
        yield min(_alone(bedful, starts, way.printer, begin) for way in bedful.ways if way.printer in starts.hours)


def _sets(printers: tuple[str, ...]) -> Iterable[tuple[str, ...]]:
    sizes = range(1, len(printers) + 1) if len(printers) <= MOST_PRINTERS else (1, len(printers))
    return chain.from_iterable(combinations(printers, size) for size in sizes)


def _alone(bedful: Bedful, starts: Starts, printer: str, begin: int) -> int:
    """When a bedful would end that is the first on its printer, its filament loaded or changed.

    Where a change of bed takes no time, only one of the filament can last until the minute at which a run may begin.
    """
    ends = []
    for change in (False, True):
        later = both(starts.at(bedful, printer, change=change), ((begin, _horizon(starts, printer)),))
        if later:
            ends.append(later[0][0] + starts.work(printer, change=change) + starts.run(bedful, printer))
    return min(ends, default=begin)


def _end(bedfuls: Sequence[Bedful], starts: Starts, printers: tuple[str, ...], begin: int) -> int:
    """The first minute up to which some printers can have printed what only they may print."""
    runs = sorted((min(starts.run(one, way.printer) for way in one.ways) for one in bedfuls), reverse=True)
    works = sum(min(starts.work(way.printer, change=False) for way in one.ways) for one in bedfuls)
    there = {name: both(starts.hours[name].there, ((begin, _horizon(starts, name)),)) for name in printers}
    low, high = begin, max(_horizon(starts, name) for name in printers)
    bridges = _bridges(runs, _between(there))
    while low < high:
        middle = (low + high) // 2
        if _room(starts, there, bridges, (begin, middle)) >= sum(runs) + works:
            high = middle
        else:
            low = middle + 1
    return low


def _between(there: dict[str, Spans]) -> int:
    """The least time from the beginning of one absence to that of the next."""
    steps = (later[1] - one[1] for spans in there.values() for one, later in pairwise(spans))
    return max(1, min(steps, default=1))


def _bridges(runs: Sequence[int], between: int) -> list[int]:
    """What each bedful can print in one absence, in a second one that follows, and so on, the most first.

    A run begins with someone there, so it goes through the whole of an absence before it comes to the next.
    """
    found = list(chain.from_iterable(range(run, 0, -between) for run in runs))
    return sorted(found, reverse=True)


def _room(starts: Starts, there: dict[str, Spans], bridges: Sequence[int], window: Span) -> int:
    """The most minutes of work and of runs that printers have between two moments."""
    if window[0] >= window[1]:
        return 0
    stretches = {name: both(spans, (window,)) for name, spans in there.items()}
    absences = sorted(
        (
            _usable(starts.hours[name].runs, first, stop)
            for name, spans in stretches.items()
            for first, stop in gaps(spans, *window)
            if first > window[0]  # nothing runs yet at the beginning
        ),
        reverse=True,
    )
    bridged = sum(map(min, absences, bridges))  # the longer with the longer is the most there can be
    return sum(map(length, stretches.values())) + bridged


def _usable(runs: Spans, first: int, stop: int) -> int:
    """Minutes of an absence in which what runs at its beginning may run on."""
    return next((min(stop, end) - first for begin, end in both(runs, ((first, stop),)) if begin == first), 0)


def _horizon(starts: Starts, printer: str) -> int:
    hours = starts.hours[printer]
    return max((end for _, end in (*hours.there, *hours.runs)), default=0)
