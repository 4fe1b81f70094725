"""Stretches of time as whole minutes: sets that are joined, cut and shifted.

Vocabulary: a *span* is ``(first, end)``, its end not in it; *spans* are sorted, apart from each other and not empty.
Minutes count from midnight of the first day of a schedule.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

Span = tuple[int, int]
Spans = tuple[Span, ...]


def joined(spans: Iterable[Span]) -> Spans:
    """All minutes that are in any of the spans, in whatever order they come.

    >>> joined([(5, 7), (0, 3), (3, 5), (9, 9)])
    ((0, 7),)
    """
    found: list[Span] = []
    for first, end in sorted(span for span in spans if span[0] < span[1]):
        if found and first <= found[-1][1]:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((first, end))
    return tuple(found)


def both(one: Spans, other: Spans) -> Spans:
    """The minutes that are in both.

    >>> both(((0, 5), (8, 9)), ((3, 10),))
    ((3, 5), (8, 9))
    """
    found: list[Span] = []
    mine, theirs = 0, 0
    while mine < len(one) and theirs < len(other):
        first, end = max(one[mine][0], other[theirs][0]), min(one[mine][1], other[theirs][1])
        if first < end:
            found.append((first, end))
        if one[mine][1] < other[theirs][1]:
            mine += 1
        else:
            theirs += 1
    return tuple(found)


def without(one: Spans, other: Spans) -> Spans:
    """The minutes of the one that are not in the other.

    >>> without(((0, 10),), ((2, 3), (9, 12)))
    ((0, 2), (3, 9))
    """
    if not one:
        return ()
    return both(one, gaps(other, one[0][0], one[-1][1]))


def gaps(spans: Spans, first: int, end: int) -> Spans:
    """The minutes between two moments that are in none of the spans."""
    edges = [first, *(min(max(edge, first), end) for span in spans for edge in span), end]
    return tuple((begin, stop) for begin, stop in zip(edges[::2], edges[1::2], strict=True) if begin < stop)


def fitting(spans: Spans, minutes: int) -> Spans:
    """When something of so many minutes may begin to lie in one span as a whole.

    >>> fitting(((0, 10), (20, 22)), 4)
    ((0, 7),)
    """
    return tuple((first, end - minutes + 1) for first, end in spans if end - first >= minutes)


def shifted(spans: Spans, minutes: int) -> Spans:
    """The spans so many minutes later, or earlier where they are negative."""
    return tuple((first + minutes, end + minutes) for first, end in spans)


def first_from(spans: Spans, minute: int) -> int | None:
    """The first minute of the spans that is not before another; ``None`` where there is none.

    >>> first_from(((0, 3), (8, 9)), 3), first_from(((0, 3),), 3)
    (8, None)
    """
    at = bisect_right(spans, (minute, minute)) - 1
    if at >= 0 and spans[at][0] <= minute < spans[at][1]:
        return minute
    later = at + 1
    while later < len(spans) and spans[later][0] < minute:
        later += 1
    return spans[later][0] if later < len(spans) else None


def meet(spans: Spans, first: int, end: int) -> bool:
    """Whether any minute from the first on, before the end, is in the spans."""
    found = first_from(spans, first)
    return found is not None and found < end


def length(spans: Spans) -> int:
    """How many minutes there are in them."""
    return sum(end - first for first, end in spans)
