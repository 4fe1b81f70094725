"""How well one thing can be got out with one hand: a small model, in cost units, 0 for the handiest way.

Four things are in the way: what lies on top of it, that it falls over when its neighbour goes, that no fingertip gets
beside it, and a lid. They add up. Things of one lot are alike, so the top one of a pile and any one of a heap will do.
What it does not know: how heavy or slippery a thing is, and how deep a space is that one reaches into.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.clearances import is_small
from nookwright.sizing.ways.way import Arrangement, PartKind
from nookwright.survey.models import Lot, Shape

if TYPE_CHECKING:
    from nookwright.sizing.things import Standing

LAYER_TROUBLE = Fact(
    2.0, unit="cost", kind=Kind.CHOICE, source="Each layer above the first: one thing more to lift off."
)
LOOSE_TROUBLE = Fact(
    3.0, unit="cost", kind=Kind.CHOICE, source="Tall round things fall against each other without a pocket."
)
CROWDED_TROUBLE = Fact(
    0.5, unit="cost", kind=Kind.CHOICE, source="No fingertip gets beside it: it is tipped out by its upper edge."
)
LID_TROUBLE = Fact(
    2.0, unit="cost", kind=Kind.CHOICE, source="A lid takes a second hand, or is put aside first: as a layer."
)
LONG_TROUBLE = Fact(
    3.0, unit="cost", kind=Kind.CHOICE, source="A long tray is emptied first, and lifted out with both hands."
)
ONE_HANDED = Fact(
    300.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="A hand that holds a tray in the middle keeps both ends level."
)
FINGERTIP = Fact(
    12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="What a fingertip goes into beside a thing that it lifts."
)


def trouble_of(
    lot: Lot,
    standing: Standing,
    kind: PartKind,
    counts: tuple[int, int, int],
    *,
    pitch: tuple[float, float],
    arrangement: Arrangement,
) -> float:
    """How much more trouble one thing is to get out than from the handiest way, in cost units.

    Args:
        lot: a loaded lot.
        standing: one thing, as it stands.
        kind: of the part.
        counts: columns, rows and layers.
        pitch: from place to place along x and from row to row along y, mm.
        arrangement: how the places lie to each other.
    """
    columns, rows, layers = counts
    if is_small(standing) or lot.shape is Shape.FLAT:
        return 0.0
    falls = kind is PartKind.TRAY and standing.round_axis == "z" and standing.height > standing.width
    crowded = min(columns, rows) > 1 and finger_room(standing, pitch, arrangement) < FINGERTIP
    return LAYER_TROUBLE * (layers - 1) + LOOSE_TROUBLE * falls + CROWDED_TROUBLE * crowded


def lifting_trouble(width: float, depth: float) -> float:
    """How much more trouble it is to lift a part with such an inside out of its space, in cost units.

    Args:
        width: inside, mm.
        depth: inside, mm.
    """
    return float(LONG_TROUBLE) if max(width, depth) > ONE_HANDED else 0.0


def finger_room(standing: Standing, pitch: tuple[float, float], arrangement: Arrangement) -> float:
    """The widest gap beside a thing among its like: between two of them, or of round ones between three or four, mm.

    Args:
        standing: one thing, as it stands.
        pitch: from place to place along x and from row to row along y, mm.
        arrangement: how the places lie to each other.

    >>> from nookwright.sizing.things import Standing
    >>> from nookwright.survey.models import Stance
    >>> jar = Standing(Stance.UPRIGHT, 50.0, 50.0, 60.0, "z")
    >>> round(finger_room(jar, (52.0, 52.0), Arrangement.ROWS), 1)
    23.5
    >>> round(finger_room(jar, (52.0, 45.1), Arrangement.STAGGERED), 1)
    10.0
    """
    pitch_x, pitch_y = pitch
    beside = max(pitch_x - standing.width, 0.0 if standing.round_axis == "z" else pitch_y - standing.depth)
    if standing.round_axis != "z":
        return beside
    if arrangement is Arrangement.STAGGERED:
        return 2 * pitch_x / math.sqrt(3) - standing.width  # the circle through the middles of three neighbours
    return math.hypot(pitch_x, pitch_y) - standing.width
