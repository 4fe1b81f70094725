"""What holds two pieces on each other where a part was cut across its height: laps inside its walls, pins, or faces.

A lap is a tongue of the lower piece that stands up inside a wall of the upper one, with a gap for the glue between
them. Its underside leans at 45 degrees, so it prints without support; it reaches a little into the inside, so there is
none where a thing stands. Walls are felt out in the recipe: no kind of part is known here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.holds import AROUND_DOWEL, AROUND_PIN, DOWEL, DOWEL_DEPTH, PINS_APART, spread
from nookwright.cutting.model import Axis, Hold, Joint, Lap
from nookwright.cutting.sampling import inside
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.node import snapped
from nookwright.shapes.regions import Polygon
from nookwright.shapes.solids import Move, Prism, Solid, Tip
from nookwright.sizing.ways import Arrangement

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.cutting.fields import Field
    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import Pin
    from nookwright.cutting.sampling import Floats, Told
    from nookwright.parts.design import Copy

    Spots = Sequence[tuple[float, float, float, float, float]]  # x0, y0, x1, y1 of a thing, height of its underside

LAP_HEIGHT = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="Above the cut: seven walls of 1.2 to glue, and a guide.")
ROOT = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Below the cut, before its underside leans away to the wall.")
LAP_THICK = Fact(0.9, unit="mm", kind=Kind.CALCULATED, source="Two lines of 0.47 at 0.2 mm layers.")
LAP_GAP = Fact(0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="For the glue, and the spread of a first layer.")
LAP_LONG = Fact(
    24.0, unit="mm", kind=Kind.CHOICE, source="Along the wall: stiff enough to guide, short enough to miss."
)
LAP_SHORT = Fact(
    10.0, unit="mm", kind=Kind.CHOICE, source="The least along a wall: four times its height is lost glue."
)
LAPS_APART = Fact(60.0, unit="mm", kind=Kind.CHOICE, source="Nearer ones add little: a wall bows between them by 0.1.")
LEAD_IN = Fact(0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="Off the edge that the upper piece slides over.")
CLEAR_OF_THINGS = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="Between a lap and a thing that goes in beside it.")
CORNER = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="From a corner: its round and a little more.")
THICKEST_WALL = Fact(4.0, unit="mm", kind=Kind.CHOICE, source="A thicker one is glued on its edge alone, or pinned.")
_INTO = 0.3  # mm that a lap begins inside its wall
_FEEL = 0.1  # mm between points across a wall
_FINE = 0.01  # mm, the same near its inside
_ALONG = 0.5  # mm between points along a wall: finer than a rib
_TRIED = 4  # steps between laps that are tried
_UP = 1.0  # mm between heights
_FEW = 2  # laps or pins that place a piece


@dataclass(frozen=True)
class _Wall:
    """A side of a field, looked at from outside: depth goes inwards, along goes along it.

    Attributes:
        axis: that it is square to, 0 or 1.
        end: 0 for the low side, 1 for the high one.
        face: where its outside is along that axis, mm.
        span: from where to where it goes along the other one, mm.
    """

    axis: int
    end: int
    face: float
    span: tuple[float, float]

    def depth(self, by: Floats) -> Floats:
        """Coordinates so far inside of its face, ascending."""
        return self.face + by if self.end == 0 else (self.face - by)[::-1]

    def told(self, recipe: Solid, by: Floats, along: Floats, up: Floats) -> Told:
        """Which points are material, ``bool[depth][along][up]``."""
        across = self.depth(by)
        axes = (across, along, up) if self.axis == 0 else (along, across, up)
        found = inside(recipe, axes)
        found = found if self.axis == 0 else found.swapaxes(0, 1)
        return found if self.end == 0 else found[::-1]


def level_joint(recipe: Solid, fit: Fit, field: Field, spots: Spots) -> Joint:
    """The joint on top of a piece.

    Args:
        recipe: the part.
        fit: what joints are made to.
        field: of the lower piece.
        spots: where things stand in the part.
    """
    at = field.z[1]
    area = _area_mm2(recipe, field, at)
    for pin in fit.pins:
        pins = _pins(recipe, pin, field)
        if len(pins) >= _FEW:
            return Joint(Hold.PINS, Axis.HEIGHT, at, field.x, pins, pin, area_mm2=area, across=field.y)
    level = _Level(at, lap_gap(fit))
    laps = tuple(lap for wall in _walls(field) for lap in _laps(recipe, wall, level, spots))
    if len(laps) >= _FEW:
        return Joint(Hold.LAPS, Axis.HEIGHT, at, field.x, laps=laps, area_mm2=area, across=field.y)
    return Joint(Hold.FACES, Axis.HEIGHT, at, field.x, area_mm2=area, across=field.y)


def _walls(field: Field) -> Iterable[_Wall]:
    """The sides of a field that are the outside of the part."""
    for axis, mine, across, cut in ((0, field.x, field.y, field.cut_x), (1, field.y, field.x, field.cut_y)):
        for end in (0, 1):
            if not cut[end]:
                yield _Wall(axis, end, mine[end], (across[0] + CORNER, across[1] - CORNER))


@dataclass(frozen=True)
class _Level:
    """A cut across the height: where it is, and the gap between a lap and the upper wall, mm."""

    at: float
    gap: float

    @property
    def room(self) -> float:
        """What a lap takes inside a wall, mm."""
        return float(self.gap + LAP_THICK)


def _laps(recipe: Solid, wall: _Wall, level: _Level, spots: Spots) -> list[Lap]:
    """The laps inside one wall: as long as they may be, none where a thing stands."""
    along = np.arange(wall.span[0], wall.span[1] + _FEEL, _ALONG)
    thick = _thickness(recipe, wall, along, level)
    for long in (float(LAP_LONG), float(LAP_SHORT)):
        laps = {}
        for first, last in _straight(thick, round(long / _ALONG)):
            place = float(along[first] + along[last]) / 2
            lap = _lap(wall, (place, long), _exact(recipe, wall, place, float(thick[first]), level.at), level)
            if not any(_meets(lap, spot) for spot in spots):
                laps[place] = lap
        chosen = spread(list(laps), float(LAPS_APART))
        if chosen:
            return [laps[place] for place in chosen]
    return []


def _straight(thick: Floats, count: int) -> Iterable[tuple[int, int]]:
    """Stretches of so many steps along which a wall has one thickness, as (first, last)."""
    for first in range(0, len(thick) - count, _TRIED):
        near = thick[first : first + count + 1]
        if np.isfinite(near).all() and np.ptp(near) < _FEEL / 2:
            yield first, first + count


def _thickness(recipe: Solid, wall: _Wall, along: Floats, level: _Level) -> Floats:
    """Thickness of a wall at each place along it; infinite where it is not straight, or something is beside it."""
    by = np.arange(_FEEL / 2, THICKEST_WALL + level.room, _FEEL)
    up = np.arange(level.at - ROOT - level.room - _INTO, level.at + LAP_HEIGHT + _UP, _UP)
    told = wall.told(recipe, by, along, up)
    same = (told == told[:, :, :1]).all(axis=(0, 2))
    first = told[:, :, 0]
    count = np.where(first.all(axis=0), len(by), first.argmin(axis=0))
    beside = round(level.room / _FEEL) + 1
    clear = np.array([not first[n : n + beside, k].any() for k, n in enumerate(count)], dtype=np.bool_)
    good = same & clear & (count > 0) & (count * _FEEL <= THICKEST_WALL)
    return np.where(good, count * _FEEL, np.inf)


def _exact(recipe: Solid, wall: _Wall, place: float, near: float, at: float) -> float:
    """The thickness of a wall at a place, to a hundredth."""
    by = np.arange(max(near - 2 * _FEEL, _FINE), near + 2 * _FEEL, _FINE)
    told = wall.told(recipe, by, np.array([place]), np.array([at - _UP / 2]))[:, 0, 0]
    return float(by[int(told.argmin())] - _FINE / 2) if not told.all() else near


def _lap(wall: _Wall, along: tuple[float, float], thick: float, level: _Level) -> Lap:
    """The box of a lap, by its middle along a wall and its length, and how thick the wall is."""
    sign = 1.0 if wall.end == 0 else -1.0
    near, far = sorted((wall.face + sign * (thick - _INTO), wall.face + sign * (thick + level.room)))
    start, end = along[0] - along[1] / 2, along[0] + along[1] / 2
    low, high = level.at - ROOT - level.room - _INTO, level.at + LAP_HEIGHT
    x0, x1, y0, y1 = (near, far, start, end) if wall.axis == 0 else (start, end, near, far)
    return Lap((snapped(x0), snapped(y0), snapped(low)), (snapped(x1), snapped(y1), snapped(high)))


def _meets(lap: Lap, spot: tuple[float, float, float, float, float]) -> bool:
    """Whether a thing, on its way down to where it stands, would meet a lap."""
    x0, y0, x1, y1, underside = spot
    clear = float(CLEAR_OF_THINGS)
    beside = (
        lap.high[0] + clear <= x0 or lap.low[0] - clear >= x1 or lap.high[1] + clear <= y0 or lap.low[1] - clear >= y1
    )
    return not beside and lap.high[2] > underside


def lap_gap(fit: Fit) -> float:
    """Between a lap and the wall of the upper piece, mm: for the glue, and for what the printers do to sizes."""
    return max(float(LAP_GAP), fit.tongue)


def lap_solid(lap: Lap, field: Field, at: float, fit: Fit) -> Solid:
    """The tongue itself, in the axes of its part.

    Args:
        lap: its box.
        field: of the lower piece, whose wall it stands inside of.
        at: height of the cut, mm.
        fit: what joints are made to.
    """
    (x0, y0, z0), (x1, y1, z1) = lap.low, lap.high
    turns = _side_of(lap, field)
    deep, long = (x1 - x0, y1 - y0) if turns % 2 == 0 else (y1 - y0, x1 - x0)
    inner = _INTO + lap_gap(fit)
    profile = Polygon(
        tuple(
            (snapped(u), snapped(z))
            for u, z in (
                (0.0, z0), (deep, z0 + deep), (deep, z1), (inner + LEAD_IN, z1), (inner, z1 - LEAD_IN), (inner, at),
                (0.0, at),
            )
        )
    )  # fmt: skip
    lying = Tip(Prism(profile, long), "x")  # depth along x, height along z, its length along y below 0
    corner = {0: (x0, y1), 1: (x0, y0), 2: (x1, y0), 3: (x1, y1)}[turns]
    return Move(lying, x=corner[0], y=corner[1], quarter_turns=turns)


def _side_of(lap: Lap, field: Field) -> int:
    """Quarter turns that bring a lap of the low x side to its own side: the side of the field that it is nearest to."""
    far = {
        0: abs(lap.low[0] - field.x[0]),
        1: abs(lap.low[1] - field.y[0]),
        2: abs(field.x[1] - lap.high[0]),
        3: abs(field.y[1] - lap.high[1]),
    }
    return min(far, key=lambda turns: (far[turns], turns))


def _pins(recipe: Solid, pin: Pin, field: Field) -> tuple[tuple[float, float], ...]:
    """Where pins may stand, upright: solid material all around, as deep as they go; the outermost few."""
    from scipy.ndimage import minimum_filter

    around = float(AROUND_DOWEL if pin.diameter >= DOWEL else AROUND_PIN)
    at, deep = field.z[1], pin.depth + around
    if at - deep < field.z[0]:
        return ()
    off = DOWEL_DEPTH + AROUND_DOWEL  # where pins of the cuts beside may lie
    axes = [
        np.arange(low + (off if cut[0] else 0.0) + 0.5, high - (off if cut[1] else 0.0), 1.0)
        for (low, high), cut in ((field.x, field.cut_x), (field.y, field.cut_y))
    ]
    if not min(map(len, axes)):
        return ()
    up = np.linspace(at - deep, at + deep, 9)
    solid = inside(recipe, (axes[0], axes[1], up)).all(axis=2)
    reach = int(np.ceil(pin.hole / 2 + around))
    free = minimum_filter(solid, size=2 * reach + 1, mode="constant", cval=0)
    places = [(float(axes[0][i]), float(axes[1][j])) for i, j in np.argwhere(free)]
    return _outermost(places)


def _outermost(places: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Of some places those furthest out in each diagonal, none near another."""
    found: list[tuple[float, float]] = []
    for sx, sy in ((-1, -1), (1, 1), (1, -1), (-1, 1)):
        best = max(places, key=lambda place: (sx * place[0] + sy * place[1], place), default=None)
        if best and all(np.hypot(best[0] - x, best[1] - y) >= PINS_APART for x, y in found):
            found.append(best)
    return tuple(found)


def _area_mm2(recipe: Solid, field: Field, at: float) -> float:
    """Of the face of a cut."""
    grain = 0.3
    axes = [np.arange(low + grain / 2, high, grain) for low, high in (field.x, field.y)]
    return round(float(inside(recipe, (axes[0], axes[1], np.array([at - 1e-3]))).sum()) * grain**2, 1)


def spots_in(same: Iterable[Copy]) -> Spots:
    """Where things stand in the copies of a part; what is poured in leaves room beside a lap.

    Args:
        same: copies of one part.
    """
    found = set()
    for copy in same:
        for held in copy.holds:
            if held.way.arrangement is not Arrangement.HEAP:
                wide, deep = held.way.thing.width / 2, held.way.thing.depth / 2
                found |= {(x - wide, y - deep, x + wide, y + deep, z) for x, y, z in held.places}
    return tuple(sorted(found))
