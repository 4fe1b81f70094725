"""Whether all that stands in a space still fits when its prints come out at their largest.

All prints of a space are taken to be larger by the same share about their common middle, as one printer would make
them, with what outsides gain on top. They then settle where there is room: liner and fillers are drawn smaller than
the space so that they can. The usable inside is what readings that err leave; past that, and still inside of what was
read, is a note; past what was read a warning. What it does not know: joints that take up a part of it, so it is on the
safe side. What is outside as drawn is a matter of other checks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.checks.room_inside import beyond
from nookwright.checks.springs import pressed_points
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.printed import Largest
    from nookwright.exchange.kit import KitSpace

_ABOVE, _BELOW = "the clear height", "the floor"  # looked at with the travel
_SHARES = (0.0, 0.5, 1.0)  # of the way to the middle
_CODE = "part-outside-when-large"


def check_grown(spaces: tuple[Furnished, ...], largest: Mapping[str, Largest]) -> list[Finding]:
    """Spaces that are too small for their prints at the largest size.

    Args:
        spaces: with what stands in them.
        largest: how large each part may be printed, by its id.
    """
    return [found for space in spaces if space.stood for found in _too_large(space, largest)]


def as_read(space: KitSpace) -> KitSpace:
    """The inside of a space as it was read, nothing taken off for readings that err."""
    wide, deep, _ = space.margins
    levels = (one.model_copy(update={"width": one.width + wide, "depth": one.depth + deep}) for one in space.usable)
    return space.model_copy(update={"usable": tuple(levels)})


def settled(space: KitSpace, points: Floats) -> tuple[Floats, tuple[float, str]]:
    """Where points come to lie: where they are if they have room, else as far to the middle as it helps.

    Args:
        space: with its usable sizes by height.
        points: (n, 3), in the space's axes.

    Returns:
        The shift, (3,), and by how much they then reach past what, mm: the worst place.
    """
    past = beyond(space, points)
    across, along = past["the left wall"] - past["the right wall"], past["the front"] - past["the back"]
    middle = np.array([across / 2, along / 2, 0.0])
    places = []
    for share in _SHARES:
        worst = _worst(space, points + share * middle)
        if worst[0] <= 0:
            return share * middle, worst
        places.append((worst, share))
    worst, share = min(places, key=lambda each: (each[0][0], each[1]))
    return share * middle, worst


def _worst(space: KitSpace, points: Floats) -> tuple[float, str]:
    """By how much points reach past which wall, corner or rounded edge at most, mm."""
    past = beyond(space, points)
    return max((by, what) for what, by in past.items() if what not in (_ABOVE, _BELOW))


def _too_large(space: Furnished, largest: Mapping[str, Largest]) -> Iterator[Finding]:
    """A finding for the worst wall, and one for the worst blocked box."""
    sizes = [largest[one.part.id] for one in space.stood]
    share, offset = max(size.share for size in sizes), max(size.outside for size in sizes) / 2
    every = [_outline(space.space, _points(one)) for one in space.stood]
    together = np.vstack(every)
    middle = (together.min(axis=0) + together.max(axis=0)) / 2
    outwards = np.sign(together - middle) * np.array([offset, offset, 0.0])
    grown = together + outwards + share * (together - middle) * np.array([1.0, 1.0, 0.0])
    if _worst(space.space, together)[0] <= GRID:
        yield from _past_walls(space, grown)
    shift, _ = settled(space.space, grown)
    yield from _past_boxes(space, share, middle, shift, offset)


def _points(one: Stood) -> Floats:
    """The vertices of a part in the space, its springs pressed in."""
    shape, matrix = one.body.shape, one.body.matrix
    return pressed_points(one.placement, shape, matrix) if one.placement.travel else moved_by(matrix, shape.vertices)


def _outline(space: KitSpace, points: Floats) -> Floats:
    """Those of a part's points that can be the first to meet a wall: where walls are upright, its hull from above."""
    first = space.usable[0].model_copy(update={"z": 0.0})
    upright = all(level.model_copy(update={"z": 0.0}) == first for level in space.usable)
    if space.cove_radius or not upright:
        return points
    from scipy.spatial import ConvexHull

    hull: Floats = points[ConvexHull(points[:, :2]).vertices]
    return hull


def _past_walls(space: Furnished, points: Floats) -> Iterator[Finding]:
    """What reaches past a wall or a corner."""
    _, (past, what) = settled(space.space, points)
    if past <= GRID:
        return
    _, (over, place) = settled(as_read(space.space), points)
    severity, words = Severity.NOTE, "still inside of what was read of it"
    if over > GRID:
        severity, past, what, words = Severity.WARN, over, place, "even of what was read, nothing taken off"
    text = (
        f"Printed at their largest and pushed to where there is most room, its parts reach {past:.2f} mm past {what}: "
        f"{words}."
    )
    remedy = (
        "Measure the printers with a coupon, or set their scale right; or read the space once more at several places, "
        "so that less is taken off. A file takes the rest off the ends of the fillers."
    )
    yield Finding(_CODE, severity, space.space.id, text, remedy, Against(past, 0.0, "mm"))


def _past_boxes(space: Furnished, share: float, middle: Floats, shift: Floats, offset: float) -> Iterator[Finding]:
    """The part that reaches deepest into what is kept free, where none does as drawn."""
    worst = (0.0, "", "")
    for box in space.space.blocked:
        low, high = np.array(box.low), np.array(box.high)
        for one in space.stood:
            reach = np.array([1.0, 1.0, 0.0]) * (share * np.abs(middle).max() + np.abs(shift).max() + offset)
            if (one.low - reach > high).any() or (one.high + reach < low).any():
                continue
            before = _points(one)
            after = before + share * (before - middle) * np.array([1.0, 1.0, 0.0]) + shift
            deep = _into(after, offset, low, high)
            if deep > worst[0] and _into(before, 0.0, low, high) <= GRID:
                worst = deep, one.id, box.reason
    past, name, reason = worst
    if past > GRID:
        text = f"Printed at its largest it reaches {past:.2f} mm into what is kept free for: {reason}."
        remedy = "Measure the printers with a coupon, or measure what is in the way once more and more exactly."
        yield Finding(_CODE, Severity.NOTE, name, text, remedy, Against(past, 0.0, "mm"))


def _into(points: Floats, offset: float, low: Floats, high: Floats) -> float:
    """How deep points beside a blocked box reach into it, mm; 0 where they do not."""
    level = points[(points[:, 2] > low[2]) & (points[:, 2] < high[2])][:, :2]
    inner = level[((level > low[:2] - offset) & (level < high[:2] + offset)).all(axis=1)]
    if not len(inner):
        return 0.0
    return float(np.minimum(inner - low[:2], high[:2] - inner).min(axis=1).max() + offset)
