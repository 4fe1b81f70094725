"""The usable inside of a space: a stack of outlines, what is in the way, the clear height, all after their errors."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.found import piloted
from nookwright.sizing.spaces.bow import Bow, bow_of
from nookwright.sizing.spaces.outlines import (
    FOOT,
    LEAN_ERROR,
    Insets,
    Outline,
    inset_at,
    leaning,
    lump_levels,
    merged,
    most_up_to,
)
from nookwright.sizing.spaces.sides import Least, least_of, walls_of
from nookwright.sizing.spaces.square import RunOff, run_off_of
from nookwright.survey.inside import Wall
from nookwright.survey.trials import Axis

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.survey.inside import Lump
    from nookwright.survey.models import Blocked, Space
    from nookwright.survey.readings import SideReadings
    from nookwright.survey.trials import Found

BLOCKED_GROWTH = Fact(
    3.0,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="What is in the way is kept clear by this: it was taped, and it is round.",
)


@dataclass(frozen=True)
class BlockedBox:
    """A box that nothing may enter, grown by the measuring error; mm, from the front left corner of the floor."""

    reason: str
    service: bool
    x0: float
    y0: float
    z0: float
    x1: float
    y1: float
    z1: float


@dataclass(frozen=True)
class Usable:
    """What may be filled.

    Attributes:
        space: id of the space.
        width: smallest at the floor, less the measuring error.
        depth: the same along y.
        height: clear height, less mat, bow and measuring error.
        corner_radius: of the vertical corners.
        blocked: boxes that nothing may enter.
        cove_radius: of the rounded edge between walls and floor.
        levels: outlines from the floor (0) to the clear height, by how far each wall stands in; upright walls if empty.
        bow: of the floor.
        margins: what was taken off the smallest readings of width, depth and height, mm.
    """

    space: str
    width: float
    depth: float
    height: float
    corner_radius: float
    blocked: tuple[BlockedBox, ...]
    cove_radius: float = 0.0
    levels: tuple[Outline, ...] = ()
    bow: Bow = field(default_factory=Bow)
    margins: tuple[float, float, float] = (0.0, 0.0, 0.0)

    @property
    def foot(self) -> Insets:
        """How far walls stand in where the liner's fillers lie along them."""
        return most_up_to(self.levels, float(FOOT))

    @property
    def passed(self) -> Insets:
        """How far walls stand in at most over all heights: what goes in from above passes them all."""
        return most_up_to(self.levels, self.height)

    def up_to(self, top: float) -> Insets:
        """How far walls stand in at most from the floor up to a height.

        Args:
            top: height, mm.
        """
        return most_up_to(self.levels, top)

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The outlines by height; two alike where walls are upright."""
        return self.levels or (Outline(0.0, Insets()), Outline(self.height, Insets()))


def usable_of(space: Space, found: Sequence[Found] = ()) -> Usable:
    """The usable inside of a space, in mm; sides may be 0 where nothing is left.

    Args:
        space: the space as surveyed.
        found: what pilots showed.
    """
    run_off = run_off_of(space)
    across = _sides(space, space.width, run_off)
    along = _sides(space, space.depth, None)
    high, bow = clear_height(space), bow_of(space)
    clear = max(0.0, high.value - space.mat - bow.height)
    top = piloted(clear, clear + high.margin, found, space.id, Axis.HEIGHT)
    widths, depths = _piloted(across, found, space.id, Axis.WIDTH), _piloted(along, found, space.id, Axis.DEPTH)
    width, depth = widths[0][1], depths[0][1]
    levels = _stack(space, widths, depths, top)
    return Usable(
        space=space.id,
        width=width,
        depth=depth,
        height=top,
        corner_radius=space.corner_radius,
        cove_radius=space.cove_radius,
        blocked=tuple(_blocked(space, high.value, run_off, (width, depth))),
        levels=levels if any(level.insets.any for level in levels) else (),
        bow=bow,
        margins=(across[0][1].smallest - width, along[0][1].smallest - depth, high.margin - (top - clear)),
    )


def floor_sides(space: Space) -> tuple[Least, Least]:
    """Width and depth at the floor, with what is not known of them.

    Args:
        space: as surveyed.
    """
    across, along = _sides(space, space.width, run_off_of(space)), _sides(space, space.depth, None)
    return across[0][1], along[0][1]


def _piloted(
    levels: list[tuple[float, Least]], found: Sequence[Found], space: str, axis: Axis
) -> list[tuple[float, float]]:
    """One direction at every height that was read, all of them moved as a pilot at the floor says."""
    values = [(z, least.value) for z, least in levels]
    moved = piloted(values[0][1], levels[0][1].smallest, found, space, axis) - values[0][1]
    return [(z, max(0.0, value + moved)) for z, value in values]


def clear_height(space: Space) -> Least:
    """The lowest thing that a space passes under on its whole way, or its own clear height.

    Args:
        space: as surveyed.
    """
    found = []
    for readings in (space.height, *(one.height for one in space.passes_under)):
        walls = walls_of((readings.all,), space.instrument)
        found.append(least_of(readings.all, walls, space.instrument))
    return min(found, key=lambda least: least.value)


def _sides(space: Space, readings: SideReadings, run_off: RunOff | None) -> list[tuple[float, Least]]:
    """The least of one direction at every height that was read."""
    levels = readings.levels(space.height.smallest)
    walls = walls_of([level for _, level in levels], space.instrument)
    more = (run_off.component,) if run_off else ()
    off = run_off.mean if run_off else 0.0
    return [(z, least_of(level, walls, space.instrument, more=more, off=off)) for z, level in levels]


def _stack(
    space: Space, across: list[tuple[float, float]], along: list[tuple[float, float]], top: float
) -> tuple[Outline, ...]:
    """The outlines by height above the mat: readings, lean, and what stands out all along a wall."""
    rim, mat = space.height.smallest, space.mat
    heights = {z for z, _ in across} | {z for z, _ in along} | {0.0, rim}
    levels = [Outline(z, _insets(space, across, along, z=z, rim=rim)) for z in sorted(heights)]
    for lump in space.lump:
        if lump.along is None:
            levels = list(lump_levels(levels, lump, top=rim))
    onto_mat = [Outline(0.0, inset_at(levels, mat))] + [replace(one, z=one.z - mat) for one in levels if one.z > mat]
    return merged(onto_mat, top)


def _insets(
    space: Space, across: list[tuple[float, float]], along: list[tuple[float, float]], *, z: float, rim: float
) -> Insets:
    """How far walls stand in at one height, against the floor."""
    known = leaning(space.lean, z, rim) if space.lean else Insets()
    x = max(0.0, _narrower(across, z) - known.left - known.right)
    y = max(0.0, _narrower(along, z) - known.front - known.back)
    return Insets(known.left + x, known.right + x, known.front + y, known.back + y)


def _narrower(levels: list[tuple[float, float]], z: float) -> float:
    """By how much a direction is narrower at a height than at the floor, mm; negative where it is wider."""
    stack = [Outline(height, Insets(left=levels[0][1] - length)) for height, length in levels]
    return inset_at(stack, z).left


def _blocked(space: Space, top: float, run_off: RunOff, floor: tuple[float, float]) -> Iterator[BlockedBox]:
    """Blocked boxes, and what stands out from a part of a wall."""
    # Places along x are read from the left wall, which may run off to either side of the liner's own axis.
    skew = run_off.mean if run_off.size else 0.0
    for box in space.blocked:
        one = _grown(box, top, space.mat, skew)
        # What is fixed to the building goes out through the back of a drawer that is drawn out.
        yield replace(one, y1=max(one.y1, floor[1])) if box.stays else one
    for lump in space.lump:
        if lump.along is not None:
            yield _standing_out(lump, top, space.mat, floor)


def _grown(box: Blocked, top: float, mat: float, skew: float) -> BlockedBox:
    """A blocked box with the measuring error on all sides, above the mat; up to the top where no height is given."""
    high = top if box.height is None else box.z + box.height + BLOCKED_GROWTH
    return BlockedBox(
        reason=box.reason,
        service=box.service,
        x0=max(0.0, box.x - BLOCKED_GROWTH - skew),
        y0=max(0.0, box.y - BLOCKED_GROWTH),
        z0=max(0.0, box.z - mat - BLOCKED_GROWTH),
        x1=box.x + box.width + BLOCKED_GROWTH,
        y1=box.y + box.depth + BLOCKED_GROWTH,
        z1=max(0.0, high - mat),
    )


def _standing_out(lump: Lump, top: float, mat: float, floor: tuple[float, float]) -> BlockedBox:
    """What stands out from a part of a wall, as a box: sure across the wall, grown along it."""
    width, depth = floor
    start, length = lump.along or 0.0, lump.length
    upright = lump.wall in (Wall.LEFT, Wall.RIGHT)
    side = depth if upright else width
    low, high = max(0.0, start - BLOCKED_GROWTH), side if length is None else start + length + BLOCKED_GROWTH
    out = lump.out + LEAN_ERROR
    near = lump.wall in (Wall.LEFT, Wall.FRONT)
    far = width if upright else depth
    inner, outer = (0.0, out) if near else (max(0.0, far - out), far)
    x0, x1, y0, y1 = (inner, outer, low, high) if upright else (low, high, inner, outer)
    z1 = top if lump.height is None else lump.z + lump.height + BLOCKED_GROWTH
    z0 = max(0.0, lump.z - mat - BLOCKED_GROWTH)
    return BlockedBox(lump.what, service=False, x0=x0, y0=y0, z0=z0, x1=x1, y1=y1, z1=max(0.0, z1 - mat))
