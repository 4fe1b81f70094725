"""Which copies lie on which bed, where the number of beds is settled: spaces one after the other, then even lengths.

A drawer is usable when the last of its pieces is printed: pieces of one space go onto as few beds as can be, those of
the first space onto the first. Then pieces go from the longest bed to shorter ones where that spreads no space further.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.making.beds.bed import Bed, Fill

MOST_MOVES = Fact(
    60, unit="moves", kind=Kind.CHOICE, source="From bed to bed to even out their lengths; few are found."
)


def arranged(bed: Bed, fills: Sequence[Fill], rank: Callable[[int], int]) -> tuple[Fill, ...]:
    """The same copies on as many beds, the pieces of each space together, the first space first, lengths even.

    Args:
        bed: of the printer.
        fills: as few as were found.
        rank: place of the space of a copy among all spaces; copies of the same space have the same.
    """
    best = _ordered(fills, rank)
    copies = [place.copy for fill in fills for place in fill]
    first = _space_by_space(bed, copies, rank, len(fills))
    for begun in _beginnings(first, len(fills)):
        rest = [copy for copy in copies if copy not in {place.copy for fill in begun for place in fill}]
        tried = _ordered((*begun, *bed.all(rest)), rank) if rest else _ordered(begun, rank)
        if len(tried) <= len(fills) and spread(tried, rank) < spread(best, rank):
            best = tried
            break
    return _ordered(_evened(bed, best, rank), rank)


def spread(fills: Sequence[Fill], rank: Callable[[int], int]) -> int:
    """How many times a space waits for a bed: over all beds, the spaces that have pieces on it."""
    return sum(len({rank(place.copy) for place in fill}) for fill in fills)


def _ordered(fills: Sequence[Fill], rank: Callable[[int], int]) -> tuple[Fill, ...]:
    """Beds in the order in which spaces wait for them."""
    return tuple(sorted(fills, key=lambda fill: sorted(rank(place.copy) for place in fill)))


def _beginnings(fills: Sequence[Fill], beds: int) -> list[Sequence[Fill]]:
    """Beds filled space by space that the others may follow in the usual way: all, or half of them, or a quarter."""
    if len(fills) <= beds:
        return [fills]
    return [fills[:count] for count in dict.fromkeys((beds // 2, beds // 4)) if count]


def _space_by_space(bed: Bed, copies: Sequence[int], rank: Callable[[int], int], most: int) -> list[Fill]:
    """Beds filled one after the other with what the first unfinished space needs, then with what follows.

    Ends early where one bed more than are allowed is begun.
    """
    left = sorted(copies, key=lambda copy: (rank(copy), -bed.area(copy), bed.kinds[copy], copy))
    fills: list[Fill] = []
    while left and len(fills) <= most:
        fill: Fill = ()
        never: set[int] = set()
        for copy in left:
            kind = bed.kinds[copy]
            if kind in never:
                continue
            more = bed.one([*(place.copy for place in fill), copy])
            if more is None:
                never.add(kind)
            else:
                fill = more
        if not fill:
            break
        fills.append(fill)
        there = {place.copy for place in fill}
        left = [copy for copy in left if copy not in there]
    return fills if not left else [*fills, ()]


def _evened(bed: Bed, fills: Sequence[Fill], rank: Callable[[int], int]) -> tuple[Fill, ...]:
    """The beds with pieces moved from the longest to others, as long as that makes the longest shorter."""
    found = list(fills)
    for _ in range(int(MOST_MOVES)):
        times = [bed.time_s(fill) for fill in found]
        longest = max(range(len(found)), key=lambda at: (times[at], -at))
        moved = _moved(bed, found, longest, times, rank)
        if moved is None:
            break
        for at, fill in moved.items():
            found[at] = fill
    return tuple(found)


def _moved(
    bed: Bed, fills: Sequence[Fill], longest: int, times: Sequence[float], rank: Callable[[int], int]
) -> dict[int, Fill] | None:
    """One piece from the longest bed onto the shortest that takes it and has pieces of its space; both beds then."""
    mine = [place.copy for place in fills[longest]]
    tried: set[tuple[int, int]] = set()
    for copy in sorted(mine, key=lambda copy: (-bed.copies[copy].time_s, copy)):
        for at in sorted(range(len(fills)), key=lambda at: (times[at], at)):
            longer = times[at] + bed.copies[copy].time_s
            known = (bed.kinds[copy], at)
            if at == longest or longer >= times[longest] or known in tried:
                continue
            tried.add(known)
            if rank(copy) not in {rank(place.copy) for place in fills[at]}:
                continue
            there = bed.one([*(place.copy for place in fills[at]), copy])
            here = bed.one([one for one in mine if one != copy])
            if there is not None and here is not None:
                return {at: there, longest: here}
    return None
