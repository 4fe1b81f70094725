"""The floor and the walls of an open part as its mesh has them: thickness, height, span between what holds them.

Looked at are lines through the written mesh. A wall is what lies at an outer face at most heights; a cross wall is what
stands inside it at most places along it. What this does not know: ribs, fillets and swollen rims, which only help.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.strength.probes import grid, scattered, solid_along, spread
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape
    from nookwright.checks.strength.probes import Lines
    from nookwright.checks.verdicts import Verdicts

AT_FACE = Fact(1.5, unit="mm", kind=Kind.CHOICE, source="A wall begins at most so far inside the outer face.")
THICKEST_WALL = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="What is thicker is no wall but a block.")
LOW_QUARTER = Fact(
    25.0, unit="%", kind=Kind.CHOICE, source="Of places: sockets and domes take less of a floor than a quarter each."
)
MOST = Fact(0.5, unit="1", kind=Kind.CHOICE, source="A wall that is there at fewer places is a notch, not a wall.")
EDGE = Fact(6.0, unit="mm", kind=Kind.CHOICE, source="Round corners reach so far in.")
ROOT_SHARE = Fact(
    0.15, unit="1", kind=Kind.CHOICE, source="A wall that is thicker than this at its foot has a fillet there."
)
_UPRIGHT = 89  # lines through a floor
_ALONG = 7  # lines along a wall
_LEVELS = (0.12, 0.3, 0.5, 0.7, 0.88)  # heights of a wall, as shares
_FEET = (0.3, 0.8, 1.3, 1.8, 2.4, 3.2, 4.2)  # mm above the floor, where fillets end


@dataclass(frozen=True)
class Panel:
    """A wall: which side, thickness, free height above floor and fillet, span between what holds it, all in mm."""

    side: str
    thickness: float
    height: float
    span: float

    @property
    def axis(self) -> int:
        """The axis of the part that crosses it: 0 or 1."""
        return 0 if self.side in ("left", "right", "column") else 1


@dataclass(frozen=True)
class Vessel:
    """An open part: size of its inside, its floor, its walls; a part without any wall has none.

    Attributes:
        floor: thickness of the floor at its thin places, mm.
        top: height of the floor's upper side, mm.
        width, depth: between the outer walls, mm.
        panels: outer walls and fixed dividers.
    """

    floor: float
    top: float
    width: float
    depth: float
    panels: tuple[Panel, ...]


def vessel_of(shape: Shape, verdicts: Verdicts) -> Vessel:
    """What a mesh says of the floor and the walls of a part.

    Args:
        shape: of the whole part, standing as it is used.
        verdicts: those reached before.
    """
    found = verdicts.of(f"vessel {shape.key}", lambda: _numbers(_looked_at(shape)))
    return _vessel(found)


SIDES = ("left", "right", "front", "back", "column", "row")
OUTWARD = {"left": -1, "right": 1, "front": -1, "back": 1}  # along the axis that crosses the wall


def _numbers(vessel: Vessel) -> tuple[float, ...]:
    """A vessel as verdicts keep it."""
    panels = [(SIDES.index(one.side), one.thickness, one.height, one.span) for one in vessel.panels]
    return (vessel.floor, vessel.top, vessel.width, vessel.depth, *(float(n) for panel in panels for n in panel))


def _vessel(numbers: tuple[float, ...]) -> Vessel:
    """The reverse."""
    rest = numbers[4:]
    rows = [rest[at : at + 4] for at in range(0, len(rest), 4)]
    floor, top, width, depth = numbers[:4]
    return Vessel(floor, top, width, depth, tuple(Panel(SIDES[int(side)], *sizes) for side, *sizes in rows))


def _looked_at(shape: Shape) -> Vessel:
    """Look at a mesh."""
    (x0, y0, z0), (x1, y1, z1) = shape.box
    edge = min(float(EDGE), (x1 - x0) / 4, (y1 - y0) / 4)
    upright = solid_along(shape, 2, scattered((x0 + edge, y0 + edge), (x1 - edge, y1 - edge), _UPRIGHT)).first()
    low = upright.where(upright.end - z0 < MOST * (z1 - z0))
    if not len(low.line):
        return Vessel(float(z1 - z0), float(z1 - z0), float(x1 - x0), float(y1 - y0), ())
    floor = float(np.percentile(low.thickness, LOW_QUARTER))
    top = float(np.median(low.end) - z0)
    across, columns = _walls(shape, 0, z0 + top)
    along, rows = _walls(shape, 1, z0 + top)
    width = float(x1 - x0) - sum(wall.thickness for wall in across)
    depth = float(y1 - y0) - sum(wall.thickness for wall in along)
    panels = [
        *(_held(wall, depth, rows) for wall in across),
        *(_held(wall, width, columns) for wall in along),
        *(_held(wall.panel, depth, rows) for wall in columns),
        *(_held(wall.panel, width, columns) for wall in rows),
    ]
    return Vessel(floor, top, width, depth, tuple(panels))


@dataclass(frozen=True)
class _Cross:
    """A wall inside: where it is along the axis that crosses it, and what it is."""

    at: float
    panel: Panel


def _held(wall: Panel, length: float, cross: list[_Cross]) -> Panel:
    """A wall with the span between those walls that cross it."""
    stops = np.array([0.0, *sorted(one.at for one in cross), length])
    return Panel(wall.side, wall.thickness, wall.height, float(np.diff(stops).max()))


def _walls(shape: Shape, axis: int, floor: float) -> tuple[list[Panel], list[_Cross]]:
    """Outer walls across an axis, and those between them."""
    low, high = shape.box
    other = 1 - axis
    levels = floor + np.array(_LEVELS) * (high[2] - floor)
    edge = min(float(EDGE), (high[other] - low[other]) / 4)
    points = grid(spread(low[other] + edge, high[other] - edge, _ALONG), levels)
    lines = solid_along(shape, axis, points)
    first, last = lines.first(), lines.last()
    sides = ("left", "right") if axis == 0 else ("front", "back")
    found = [
        (sides[0], first.where((first.start - low[axis] < AT_FACE) & (first.thickness < THICKEST_WALL))),
        (sides[1], last.where((high[axis] - last.end < AT_FACE) & (last.thickness < THICKEST_WALL))),
    ]
    foot = _foot(shape, axis, floor)
    outer = [wall for side, at in found if (wall := _wall(side, at, high[2] - floor, foot)) is not None]
    inner = lines.where(
        (lines.start - low[axis] > THICKEST_WALL)
        & (high[axis] - lines.end > THICKEST_WALL)
        & (lines.thickness < THICKEST_WALL)
    )
    return outer, list(_crossing(inner, "column" if axis == 0 else "row", high[2] - floor, low[axis], foot))


def _foot(shape: Shape, axis: int, floor: float) -> float:
    """Height of the fillet between floor and wall, mm: above it the wall is as thin as further up."""
    low, high = shape.box
    middle = float(low[1 - axis] + 0.41 * (high[1 - axis] - low[1 - axis]))
    heights = np.array([at for at in (*_FEET, *(_LEVELS[2] * (high[2] - floor),)) if at < high[2] - floor])
    lines = solid_along(shape, axis, grid(np.array([middle]), floor + heights)).first()
    if len(lines.line) < len(heights):
        return 0.0
    thick = lines.thickness > lines.thickness[-1] * (1 + ROOT_SHARE)
    return float(heights[: len(_FEET)][thick[: len(_FEET)]].max(initial=0.0))


def _wall(side: str, lines: Lines, height: float, foot: float) -> Panel | None:
    """A wall by the lines that meet it; nothing where too few do."""
    level = lines.line.astype(np.int64) % len(_LEVELS)
    there = np.bincount(level, minlength=len(_LEVELS)) >= MOST * _ALONG
    if not there.any() or not len(lines.line):
        return None
    highest = int(np.flatnonzero(there)[-1])
    whole = highest == len(_LEVELS) - 1
    free = height if whole else height * (_LEVELS[highest] + _LEVELS[highest + 1]) / 2
    kept = there[level] & (level <= highest)
    return Panel(side, float(np.percentile(lines.thickness[kept], LOW_QUARTER)), float(free) - foot, 0.0)


def _crossing(lines: Lines, side: str, height: float, low: float, foot: float) -> list[_Cross]:
    """Walls between the outer ones: stretches that lie at the same place at most heights and places."""
    middle = (lines.start + lines.end) / 2
    order = np.argsort(middle)
    apart = np.flatnonzero(np.diff(middle[order]) > THICKEST_WALL / 2) + 1
    found = []
    for group in np.split(order, apart) if len(order) else ():
        wall = _wall(side, lines.where(np.isin(np.arange(len(middle)), group)), height, foot)
        if wall is not None and len(group) >= MOST * lines.count / 2:
            found.append(_Cross(float(np.median(middle[group]) - low), wall))
    return found
