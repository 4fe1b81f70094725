"""The play of a loose divider between its walls, and how far its ribs stand out to hold it all the same.

A divider is printed for itself, so the longer it is, the more it may differ from its tray: its play at the ends grows
with it, and its ribs grow with the play. What printers do that nobody has measured is known as usual errors; a coupon
tells the scale and leaves play as small as it is for short ones. What this does not know: printers that err by more.
"""

from __future__ import annotations

import math
from functools import cache

from nookwright.ground.sources import Fact, Kind
from nookwright.module.seating import COUPON_SCALE_SD
from nookwright.sizing.printers.errors import INSIDE_MEAN, INSIDE_SD, OUTSIDE_MEAN, OUTSIDE_SD, SCALE_SD, SCATTER
from nookwright.sizing.printers.household import REACH

END_PLAY = Fact(
    0.4,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="From each end of a loose divider to the wall at least: it drops in without being looked at twice.",
)
DROPS_IN = Fact(
    0.1, unit="mm", kind=Kind.COMMON_PRACTICE, source="Left between both ends and the walls by printers that err."
)
RIB_REACH = Fact(
    1.8,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A rib holds 1.8 - 2 x 0.4 = 1.0 of a divider pushed to the far end, and stays clear of an inlay 2 mm off.",
)
RIB_HOLDS = Fact(
    0.4, unit="mm", kind=Kind.CHOICE, source="Of a divider at the far end, in the loosest of prints: a line's width."
)
OFF_RIB = Fact(0.2, unit="mm", kind=Kind.CHOICE, source="From a rib to an inlay: a rib of 1.8 leaves it 2 off walls.")
STEP = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Of plays and ribs: finer is not what printers can tell.")


@cache
def play_at_end(room: float, *, measured: bool) -> float:
    """From each end of a divider to the wall, so that it drops in whatever the usual printers make of both, mm.

    Args:
        room: from wall to wall, mm.
        measured: whether a coupon told how the printers err in scale.

    >>> [play_at_end(room, measured=False) for room in (60.0, 200.0, 350.0, 500.0)]
    [0.4, 0.4, 0.6, 0.75]
    >>> play_at_end(350.0, measured=True)
    0.4
    """
    taken = REACH * _uncertainty(room, measured=measured) + _likely_taken()
    return max(float(END_PLAY), _in_steps((taken + DROPS_IN) / 2))


@cache
def reach_of_ribs(room: float, *, measured: bool) -> float:
    """How far ribs stand out from a wall, so that they hold a divider that is pushed to the far end, mm.

    Args:
        room: from wall to wall, mm.
        measured: whether a coupon told how the printers err in scale.

    >>> [reach_of_ribs(room, measured=False) for room in (60.0, 200.0, 350.0, 500.0)]
    [1.8, 1.8, 2.25, 2.9]
    """
    given = max(0.0, REACH * _uncertainty(room, measured=measured) - _likely_taken())
    return max(float(RIB_REACH), _in_steps(2 * play_at_end(room, measured=measured) + given + RIB_HOLDS))


def _uncertainty(room: float, *, measured: bool) -> float:
    """Of the room that a divider has in all, mm: two prints, each as long as two scales by half."""
    scale = room * (COUPON_SCALE_SD if measured else SCALE_SD) / math.sqrt(2)
    return math.hypot(scale, INSIDE_SD, scale, OUTSIDE_SD, math.sqrt(2) * SCATTER)


def _likely_taken() -> float:
    """What the room likely loses, mm: an inside comes out small, and an outside large."""
    return OUTSIDE_MEAN - INSIDE_MEAN


def _in_steps(length: float) -> float:
    """Rounded up."""
    return round(math.ceil(round(length / STEP, 6)) * STEP, 4)
