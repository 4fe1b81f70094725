"""The gain of reading a side of a space again, at another place along it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import ndtri

from nookwright.sizing.next_readings.futures import chances
from nookwright.sizing.spaces.sides import unread_places, walls_of
from nookwright.sizing.statistics.uncertainty import reading_components
from nookwright.sizing.usable import usable_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.sizing.usable import Usable
    from nookwright.survey.models import Space
    from nookwright.survey.trials import Found

SIDES = ("width", "depth", "height")


def places_left(space: Space, side: str) -> int:
    """At how many places of its own a side can still be read.

    Args:
        space: as surveyed.
        side: ``width``, ``depth`` or ``height``.
    """
    return unread_places(len(getattr(space, side).floor))


def usable_later(space: Space, side: str, more: int, found: Sequence[Found] = ()) -> tuple[Usable, ...]:
    """The usable inside after more readings of one side, each equally likely.

    Args:
        space: as surveyed.
        side: ``width``, ``depth`` or ``height``.
        more: how many readings, each at a place of its own.
        found: what pilots showed: a side that a pilot proved is not made better by a tape.
    """
    readings = getattr(space, side)
    walls = walls_of([readings.floor], space.instrument)
    noise = math.hypot(*(one.standard for one in reading_components(space.instrument, readings.largest)))
    spread = math.hypot(walls.spread, noise)
    middle = float(np.mean(readings.floor))
    drawn = middle + spread * ndtri(chances(1 + more)[:, 1:])
    return tuple(
        usable_of(
            space.model_copy(update={side: readings.model_copy(update={"floor": (*readings.floor, *row)})}), found
        )
        for row in drawn.round(3).tolist()
    )
