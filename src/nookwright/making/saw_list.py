"""Strips sawn off bars: which strip off which bar, by first fit of the longest first, and the fewest bars there can be.

Each strip but the last of a bar costs a cut beside its length. The bound is that of Martello and Toth for packing bins
(Knapsack Problems, 1990, section 8.3): strips longer than half a bar lie alone, or with what fits beside them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.survey.cutting_wishes import BAR, KERF

if TYPE_CHECKING:
    from collections.abc import Sequence

_STEP = 0.01  # mm; lengths are compared in whole steps


@dataclass(frozen=True)
class Cut:
    """One strip off a bar.

    Attributes:
        strip: its number in the list that was asked for.
        bar: number of the bar, from 0.
        start: where it begins on the bar, mm.
        length: of it, mm.
    """

    strip: int
    bar: int
    start: float
    length: float


@dataclass(frozen=True)
class SawList:
    """Strips on bars.

    Attributes:
        cuts: bar by bar, in the order of sawing.
        bars: how many are needed.
        least: fewer would not do in any way.
    """

    cuts: tuple[Cut, ...]
    bars: int
    least: int


def saw_list(lengths: Sequence[float], *, bar: float = BAR, kerf: float = KERF) -> SawList:
    """Strips laid on bars.

    Args:
        lengths: of the strips, mm.
        bar: length of a bar, mm.
        kerf: what a cut takes, mm.

    Raises:
        ValueError: a strip is longer than a bar.

    >>> saw_list([600, 500, 390, 300], bar=1000, kerf=2).bars
    2
    """
    if max(lengths, default=0.0) > bar:
        raise ValueError(f"A strip is at most as long as a bar, {bar:g} mm; found {max(lengths):g} mm.")
    room: list[float] = []
    cuts: list[Cut] = []
    for number in sorted(range(len(lengths)), key=lambda one: (-lengths[one], one)):
        length = lengths[number]
        at = next((one for one, start in enumerate(room) if start + length <= bar + _STEP / 2), len(room))
        if at == len(room):
            room.append(0.0)
        cuts.append(Cut(number, at, round(room[at], 6), length))
        room[at] += length + kerf
    return SawList(tuple(sorted(cuts, key=lambda cut: (cut.bar, cut.start))), len(room), least_bars(lengths, bar, kerf))


def least_bars(lengths: Sequence[float], bar: float, kerf: float) -> int:
    """The fewest bars that strips may need: no way to lay them needs fewer.

    Args:
        lengths: of the strips, mm.
        bar: length of a bar, mm.
        kerf: what a cut takes, mm.

    >>> least_bars([600, 600, 600], 1000, 2), least_bars([], 1000, 2)
    (3, 0)
    """
    full = round((bar + kerf) / _STEP)  # the last strip of a bar needs no cut: as if all did, on a longer bar
    sizes = sorted((round((length + kerf) / _STEP) for length in lengths), reverse=True)
    found = math.ceil(sum(sizes) / full)
    for small in {size for size in sizes if 2 * size <= full} | {0}:
        alone = [size for size in sizes if size > full - small]
        large = [size for size in sizes if full < 2 * size <= 2 * (full - small)]
        rest = sum(size for size in sizes if small <= size and 2 * size <= full)
        beside = len(large) * full - sum(large)
        found = max(found, len(alone) + len(large) + max(0, math.ceil((rest - beside) / full)))
    return found
