# ruff: noqa: PLR0917 - nopython functions hand arrays on by position
"""The search of ``kernels`` with another rule of placing, for open strips and beds: best fit on the skyline.

The lowest segment of the skyline takes, of all footprints that are left, the one that fits it best, of equals the first
in the order. Where nothing fits, the segment is filled up to its lower neighbour and lost. (Best fit after Burke,
Kendall and Whitwell, Operations Research 52 (2004) 655; scores of this kind after Leung, Zhang and Sim, EJOR 215 (2011)
57; the scores are our own.)

So an order is a priority among equals, and a change of it first matters at the step where it decides: all before is
kept, and a change that decides nothing costs nothing. A try is given up as soon as more is lost than what stays out now
allows. The space is a box of a width and a height; a strip is packed by asking for lower and lower boxes. Several bins
are boxes beside each other with a wall of width 1 between them, filled one after the other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from nookwright.layout.packing.compiled import compiled
from nookwright.layout.packing.fitting import (
    Gap,
    Things,
    best_way,
    choose,
    clear_sides,
    count_sides,
    most_score,
    sides_of,
)
from nookwright.layout.packing.kernels import MOVE, TURN, change, propose
from nookwright.layout.packing.skyline import BEGIN, LEVEL, WIDTH, cut, lift_to, lowest, lowest_of_first, walls

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Words = NDArray[np.uint64]

# Columns of ``marks``: what is kept of each step of placing beside the skyline before it.
SEGMENTS: Final = np.int64(0)  # of that skyline
LOW: Final = np.int64(1)  # its lowest
LOST: Final = np.int64(2)  # area lost under it
BEST: Final = np.int64(3)  # score of the footprint taken
ITEM: Final = np.int64(4)  # its number
LIES: Final = np.int64(5)  # 1 where it lies turned
X: Final = np.int64(6)
Y: Final = np.int64(7)
MARKS: Final = np.int64(8)

# Rows of ``work``.
_ORDER: Final = 0  # that is tried, by step of the order
_TURNED: Final = 1
_AT: Final = 2  # -1 for what stays out, by step of the order
_RANK: Final = 3  # step of the order, by footprint
PLACED: Final = np.int64(4)  # step of placing, by footprint; the number of footprints for one that stays out
_WAY: Final = 5  # whether it is tried turned first, by footprint
SIDE: Final = np.int64(6)  # which half of ``shots`` and ``marks`` holds a step of placing
_REST: Final = 7  # what is not placed yet, in the order that is tried
WORK: Final = np.int64(8)

_NO_LIMIT: Final = 1 << 62


class Desk(NamedTuple):
    """What a search writes on; see ``desk_for``. Each step is kept twice, as it is and as it is tried."""

    work: Ints
    sides: Ints
    sky: Ints
    shots: Ints
    marks: Ints


def desk_for(count: int, width: int, height: int, bins: int = 1) -> Desk:
    """A desk for so many footprints and a box of these sides, or a smaller one.

    Args:
        count: footprints.
        width: of the box.
        height: of the box.
        bins: boxes beside each other.
    """
    segments = min(count + 1, bins * width) + 2 * bins
    return Desk(
        np.zeros((WORK, count + 1), np.int64),
        np.zeros((2, max(width, height) + 1), np.int64),
        np.zeros((3, segments), np.int64),
        np.zeros((2, count + 1, 3, segments), np.int64),
        np.zeros((2, count + 1, MARKS), np.int64),
    )


@compiled
def _gap(sky: Ints, count: int, low: int, height: int) -> Gap:
    """The gap above a segment."""
    left, right = walls(sky, count, low, height)
    return Gap(sky[WIDTH, low], left, right, height - sky[LEVEL, low])


@compiled
def _put(sky: Ints, count: int, low: int, wide: int, tall: int, gap: Gap) -> tuple[int, int]:
    """Stand a footprint in a gap, by the wall that it is level with, else by the higher; its x, and the segments."""
    top = sky[LEVEL, low] + tall
    if wide < gap.width:
        if tall == gap.left or (tall != gap.right and gap.left >= gap.right):
            count = cut(sky, count, low, wide)
        else:
            count = cut(sky, count, low, gap.width - wide)
            low += 1
    x = sky[BEGIN, low]
    return x, lift_to(sky, count, low, top)


@compiled
def _gather(things: Things, desk: Desk, first: int) -> tuple[int, int]:
    """Line up what is placed from a step on, or not at all, in the order that is tried; how many, and their area."""
    work, count, area = desk.work, 0, 0
    for item in range(things.cols.size):
        clear_sides(desk.sides, things, item)
    for step in range(things.cols.size):
        item = work[_ORDER, step]
        if work[PLACED, item] >= first:
            work[_REST, count] = item
            count += 1
            area += things.cols[item] * things.rows[item]
            count_sides(desk.sides, things, item, 1)
    return count, area


@compiled
def _pack_from(height: int, things: Things, desk: Desk, first: int, most_lost: int, bins: int) -> tuple[int, int]:
    """Pack in the order that is tried from a step of placing on, into the other half of the desk.

    Args:
        height: of the box.
        things: what is packed.
        desk: holds the order tried, and all steps before the first.
        first: step of placing.
        most_lost: area; the try is given up when more is lost.
        bins: boxes beside each other.

    Returns:
        area that stays out, -1 for a try that was given up, and the number of steps.
    """
    work, sky = desk.work, desk.sky
    left_out, area = _gather(things, desk, first)
    now = desk.marks[work[SIDE, first], first]
    count, lost, place = now[SEGMENTS], now[LOST], first
    sky[:, :count] = desk.shots[work[SIDE, first], first, :, :count]
    while left_out > 0:
        low = lowest(sky, count) if bins == 1 else lowest_of_first(sky, count, height)
        gap = _gap(sky, count, low, height)
        if gap.room <= 0:
            break
        index, lies, best = choose(work[_REST, :left_out], work[_WAY], things, gap, most_score(desk.sides, gap))
        if index < 0:
            up = min(gap.left, gap.right)
            lost += up * gap.width
            if lost > most_lost:
                return -1, place
            count = lift_to(sky, count, low, sky[LEVEL, low] + up)
            continue
        item = work[_REST, index]
        for number in range(index, left_out - 1):
            work[_REST, number] = work[_REST, number + 1]
        left_out -= 1
        area -= things.cols[item] * things.rows[item]
        count_sides(desk.sides, things, item, -1)
        side = 1 - work[SIDE, place]
        mark = desk.marks[side, place]
        desk.shots[side, place, :, :count] = sky[:, :count]
        mark[SEGMENTS], mark[LOW], mark[LOST], mark[BEST] = count, low, lost, best
        mark[ITEM], mark[LIES], mark[Y] = item, lies, sky[LEVEL, low]
        wide, tall = sides_of(things, item, lies)
        mark[X], count = _put(sky, count, low, wide, tall, gap)
        place += 1
    return area, place


@compiled
def _wins_at(height: int, things: Things, desk: Desk, item: int, limit: int, stop: int) -> int:
    """The first step before ``stop`` at which a footprint that came forward to ``limit`` wins; else ``stop``."""
    work = desk.work
    for place in range(stop):
        side = work[SIDE, place]
        mark = desk.marks[side, place]
        if work[_RANK, mark[ITEM]] >= limit:
            gap = _gap(desk.shots[side, place], mark[SEGMENTS], mark[LOW], height)
            if best_way(things, item, work[_WAY, item], gap)[0] == mark[BEST]:
                return place
    return stop


@compiled
def _decides_at(
    height: int, things: Things, desk: Desk, order: Ints, placed: int, kind: np.int64, one: int, two: int
) -> int:
    """The first step of placing at which a change may decide; the number of steps where it decides nothing.

    A footprint that comes later matters where it was placed; one that comes sooner where it beats an equal.
    """
    work = desk.work
    if kind == TURN or (kind == MOVE and two > one):
        at: int = work[PLACED, order[one]]
        return min(placed, at)
    limit = min(one, two)
    later = placed if kind == MOVE else min(placed, work[PLACED, order[limit]])
    sooner = order[max(one, two)]
    stop = min(later, work[PLACED, sooner])
    won = _wins_at(height, things, desk, sooner, limit, stop)
    return won if won < stop else later


@compiled
def _take_over(order: Ints, desk: Desk, first: int, placed: int) -> None:
    """Make what was tried from a step of placing on the present packing."""
    work, count = desk.work, order.size
    for step in range(count):
        item = order[step]
        work[_RANK, item] = step
        if work[PLACED, item] >= first:
            work[PLACED, item] = count
    for place in range(first, placed):
        work[SIDE, place] = 1 - work[SIDE, place]
        work[PLACED, desk.marks[work[SIDE, place], place, ITEM]] = place
    for step in range(count):
        work[_AT, step] = -1 if work[PLACED, order[step]] == count else 0


@compiled
def _lay(floor: Ints, segment: int, begin: int, level: int, width: int) -> None:
    """A segment of a skyline."""
    floor[BEGIN, segment], floor[LEVEL, segment], floor[WIDTH, segment] = begin, level, width


@compiled
def _lay_out(width: int, height: int, order: Ints, turned: Ints, desk: Desk, bins: int) -> None:
    """Empty boxes, and the order to try."""
    work, count = desk.work, order.size
    for step in range(count):
        item = order[step]
        work[_ORDER, step], work[_WAY, item], work[PLACED, item] = item, turned[step], count
    work[SIDE, : count + 1] = 1
    floor = desk.shots[1, 0]
    for number in range(bins):
        begin = number * (width + 1)
        if number > 0:
            _lay(floor, 2 * number - 1, begin - 1, height, 1)
        _lay(floor, 2 * number, begin, 0, width)
    desk.marks[1, 0, SEGMENTS], desk.marks[1, 0, LOST] = 2 * bins - 1, 0


@compiled
def search(
    width: int,
    height: int,
    things: Things,
    order: Ints,
    turned: Ints,
    desk: Desk,
    most_tries: int,
    rng: Words,
    bins: int = 1,
) -> tuple[int, int]:
    """Pack a box, and change the order until everything is in or the tries are used up.

    Args:
        width: of the box.
        height: of the box.
        things: what is packed.
        order: of the footprints; the order found afterwards.
        turned: 1 where one is tried turned first, by step of the order; afterwards as well.
        desk: large enough for the footprints and the box. Afterwards ``work[PLACED, item]`` is the step p at which a
            footprint was placed, and ``marks[work[SIDE, p], p]`` tells where and which way.
        most_tries: packings at most; changes that decide nothing count.
        rng: state of the generator.
        bins: boxes beside each other; what lies in the n-th has its x from n * (width + 1) on.

    Returns:
        area that stayed out, and tries.
    """
    work, count = desk.work, order.size
    _lay_out(width, height, order, turned, desk, bins)
    left, placed = _pack_from(height, things, desk, 0, _NO_LIMIT, bins)
    _take_over(order, desk, 0, placed)
    spare = bins * width * height - (things.cols * things.rows).sum()
    new_order, new_turned = work[_ORDER, :count], work[_TURNED, :count]
    tries = 1
    while left > 0 and count > 1 and tries < most_tries:
        tries += 1
        kind, one, two = propose(order, work[_AT], things.may_turn, rng)
        first = _decides_at(height, things, desk, order, placed, kind, one, two)
        new_order[:], new_turned[:] = order, turned
        change(new_order, new_turned, kind, one, two)
        for step in range(count):
            work[_WAY, new_order[step]] = new_turned[step]
        if first < placed:
            got, reached = _pack_from(height, things, desk, first, spare + left, bins)
            if got < 0 or got > left:
                for step in range(count):
                    work[_WAY, order[step]] = turned[step]
                continue
            left, placed = got, reached
        order[:], turned[:] = new_order, new_turned
        _take_over(order, desk, first, placed)
    return left, tries
