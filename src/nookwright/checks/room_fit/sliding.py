"""A lid that slides: whether it goes along its whole way, opens its tray, stays guided, and stops.

It lies on a ledge, under walls that lean over it. It is lifted by no more of its play than what hangs under it needs
to pass the front wall, and pushed to each side in turn: the side where it goes farthest is its way. What springs, such
as a tongue with a nose, is stiff here: the way ends where it meets, and how it bends is a matter of strength. As tight
as it may come out, its plate alone is pushed, without what hangs under it.
"""

from __future__ import annotations

from functools import partial
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, called
from nookwright.checks.room_fit.moved import grown_corners, tightness
from nookwright.checks.room_fit.sweeps import free_share, meets
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.floor import CORNER_RADIUS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.moved import Ways
    from nookwright.checks.room_fit.printed import Largest

STICKING_FRICTION = Fact(
    0.6,
    unit="1",
    kind=Kind.HANDBOOK,
    source="The high end of published 0.2 to 0.6 for plastic on plastic: a lid that is pulled at a corner jams.",
)
OPENS = Fact(0.3, unit="1", kind=Kind.CHOICE, source="A lid that opens less of its tray is of no use.")
OFF = Fact(
    12.0, unit="mm", kind=Kind.CHOICE, source="A lid that comes up by so much is off its rim, whatever its skirt."
)
SPRUNG = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="Ways are compared as closely as a lid is pushed by hand.")
_LIFTS = (0.0, 0.25, 0.5, 0.75, 0.95)  # of the play upwards
# of a tray, in its own axes: trays open to the front first
_SIDES = (np.array([0.0, -1, 0]), np.array([0.0, 1, 0]), np.array([-1.0, 0, 0]), np.array([1.0, 0, 0]))
_UP = np.array([0.0, 0.0, 1.0])
_DOWNWARDS = -0.99  # z of the normal of a face that looks down
_DIGITS = 2  # of a height, to tell levels apart


def held_down(one: Stood, holder: Stood, ways: Ways) -> bool:
    """Whether a lid cannot be lifted off what it lies in.

    Args:
        one: the lid.
        holder: its tray.
        ways: finds how far parts go.
    """
    return ways.free(one, OFF * _UP, holder) < 1


def about_slide(
    space: Furnished, one: Stood, holder: Stood, largest: Mapping[str, Largest], ways: Ways
) -> Iterator[Finding]:
    """Findings about a lid that slides.

    Args:
        space: where it is.
        one: the lid.
        holder: its tray.
        largest: how large each part may be printed, by its id.
        ways: finds how far parts go.
    """
    side, length, way = _way(one, holder, ways)
    if way < OPENS * length:
        text = (
            f"Of its {length:.0f} mm it slides {way:.1f} mm, as drawn; it should open {100 * OPENS:.0f} % of its tray."
        )
        yield Finding("lid-stuck", Severity.STOP, one.id, text, OURS, Against(way, OPENS * length, "mm"))
        return
    yield from _guided(one, side, length, way)
    if way <= length - SPRUNG:  # it stops
        yield from _falls_off(one, holder, way * side, ways)
    more = tightness(one, largest[one.part.id], largest[holder.part.id])
    (share,) = ways.verdict(
        f"tight slide {more.tolist()}", one, holder,
        lambda: (free_share(_plate(one, more, side), way * side, holder.corners),),
    )  # fmt: skip
    if share < 1:
        text = f"As tight as it may come out it slides {share * way:.1f} mm of {way:.1f} mm: it may stick."
        remedy = "Try it before the tray is filled; a few strokes of a file along its bevels, or a little wax, help."
        yield Finding("lid-may-stick", Severity.NOTE, one.id, text, remedy, Against(share * way, way, "mm"))
    yield from _in_place(space, one, holder, side, way)


def _way(one: Stood, holder: Stood, ways: Ways) -> tuple[Floats, float, float]:
    """The side to which a lid goes, lifted as little as will do; its length that way, and how far it goes, mm."""
    play = ways.free(one, OFF * _UP, holder) * float(OFF)
    number, length, way = ways.verdict("slide", one, holder, lambda: _farthest(one, holder, play))
    return _turned(holder, _SIDES[int(number)]), length, way


def _turned(holder: Stood, side: Floats) -> Floats:
    """A side of a tray, in the space."""
    turned: Floats = holder.body.matrix[:3, :3] @ side
    return turned


def _farthest(one: Stood, holder: Stood, play: float) -> tuple[float, float, float]:
    """Number of a side, length that way, and how far it goes: the first that opens enough, else the farthest."""
    sides = [(number, _turned(holder, side)) for number, side in enumerate(_SIDES)]
    for lifted, (number, side) in product(_LIFTS, sides):
        corners, length = one.corners + lifted * play * _UP, float(np.abs(side) @ (one.high - one.low))
        if not meets(corners, OPENS * length * side, holder.corners):
            return number, length, free_share(corners, length * side, holder.corners) * length
    tried = []
    for number, side in sides:
        length = float(np.abs(side) @ (one.high - one.low))
        tried.append((number, length, free_share(one.corners + play / 2 * _UP, length * side, holder.corners) * length))
    return max(tried, key=lambda each: each[2])


def _guided(one: Stood, side: Floats, length: float, way: float) -> Iterator[Finding]:
    """Whether it stops, and does not jam at the end of its way."""
    if way > length - SPRUNG:
        text = f"Nothing stops it: it slides right out of its tray, {length:.0f} mm."
        yield Finding("lid-no-stop", Severity.WARN, one.id, text, "Mind it when the tray is tipped, or glue a stop on.")
        return
    across = float((1 - np.abs(side))[:2] @ (one.high - one.low)[:2])
    left, least = length - way - CORNER_RADIUS, STICKING_FRICTION * across
    if left < least - SPRUNG:
        text = f"At the end of its way {left:.1f} mm of it are guided; pulled at a corner it jams below {least:.1f} mm."
        remedy = "Push it at its middle, or choose a longer and narrower tray."
        yield Finding("lid-jams", Severity.WARN, one.id, text, remedy, Against(left, least, "mm"))


def _falls_off(one: Stood, holder: Stood, way: Floats, ways: Ways) -> Iterator[Finding]:
    """Whether it can be lifted out on its way."""
    for share in (0.5, 1.0):
        moved = one.corners + share * way
        (up,) = ways.verdict(f"up after {share}", one, holder, partial(_lifted_off, moved, holder.corners))
        if up == 1:
            text = f"After {np.linalg.norm(share * way):.0f} mm of its way nothing holds it down: it falls off."
            yield Finding("lid-loose", Severity.STOP, one.id, text, OURS)
            return


def _lifted_off(corners: Floats, others: Floats) -> tuple[float]:
    """How far something goes straight up, of what shows that nothing holds it."""
    return (free_share(corners, OFF * _UP, others),)


def _plate(one: Stood, more: Floats, side: Floats) -> Floats:
    """The triangles of a lid above its underside, wider across its way; what hangs under it springs."""
    across = np.abs(np.linalg.inv(one.body.matrix[:3, :3]) @ np.array([side[1], side[0], 0.0]))
    corners = grown_corners(one, more * across)
    flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(flat, axis=1)
    down = flat[:, 2] < _DOWNWARDS * area
    levels, where = np.unique(np.round(corners[down][:, 0, 2], _DIGITS), return_inverse=True)
    under = float(levels[np.argmax(np.bincount(where, weights=area[down]))]) if len(levels) else float(one.low[2])
    plate: Floats = corners[corners[:, :, 2].min(axis=1) >= under - 10.0**-_DIGITS]
    return plate


def _in_place(space: Furnished, one: Stood, holder: Stood, side: Floats, way: float) -> Iterator[Finding]:
    """Whether it opens where it stands, or its tray must be lifted out first."""
    beside = space.near(one, way)
    around = [other for other in beside if other is not holder and other.high[2] > one.low[2]]
    shares = [free_share(one.corners, way * side, other.corners) for other in around]
    reach = one.high + np.maximum(0.0, way * side), one.low + np.minimum(0.0, way * side)
    level = space.space.usable[0]
    wall = (reach[1][:2] < (level.x, level.y)).any() or (reach[0][0] > level.x + level.width)
    wall = bool(wall or reach[0][1] > level.y + level.depth)
    if wall or min(shares, default=1.0) < 1:
        blocker = (
            "a wall"
            if wall
            else next(called(other.placement) for other, share in zip(around, shares, strict=True) if share < 1)
        )
        text = f"In its place the lid of {holder.placement.label} does not open all the way: {blocker} is before it."
        remedy = "Lift the tray out to fill it; to draw from its slot the lid stays shut."
        yield Finding("lid-opens-outside", Severity.NOTE, one.id, text, remedy)
