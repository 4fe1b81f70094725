"""Whether things leave their cradle, tray or rest when their space stops.

A thing is thrown against the wall before it. It stays where that wall reaches above its centre of mass; where its
pocket is so deep and so tight that it jams rather than climbs out; where the stop has not the energy to tip it over
the rim; or where a part or the wall of the space behind the rim catches it. What no wall holds slides on by ``v^2 / 2
mu g``, as far as it has room. A heap stays where the rim is above it, and what lies under a lid stays anyway. Of
stacked things the uppermost is looked at, of rows the one before which no other stands: the rest lean on it.

What this does not know: what things are made of at their edges, and how a heap sloshes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.forces.blocks import Block
from nookwright.checks.forces.densities import one_g
from nookwright.checks.forces.thrown import HEAVY_G, LEAST_HOLD, Thrown, slide_way
from nookwright.checks.forces.walls import hold_of
from nookwright.checks.forces.wedge import DUSTY
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.words import HEAPED, IN_A_DISPENSER, IN_A_REST
from nookwright.survey.origins import Process

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats, Indices
    from nookwright.checks.forces.around import Around
    from nookwright.checks.forces.masses import Mass
    from nookwright.checks.forces.slams import Slam
    from nookwright.checks.forces.stands import Loads
    from nookwright.checks.forces.walls import Hold
    from nookwright.exchange.kit import LotPlace

SAME_SPOT = Fact(1e-3, unit="mm", kind=Kind.CHOICE, source="Things whose places differ by less stand on each other.")
HEAP_SHARE = Fact(0.95, unit="1", kind=Kind.CALCULATED, source="A wall is found to a 32nd of a heap's height.")
SAID = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Depths are said in tenths, and found to half of that.")
_HOLD = frozenset({"cradle", "rest", "shoe", "nest"})  # parts that are made to hold what is in them
_BREAKS = frozenset({Process.MOULDED_GLASS, Process.BLOWN_GLASS, Process.CERAMICS})


@dataclass(frozen=True, eq=False)
class _Thing:
    """A thing in the axes of its part, and which way of these it is thrown."""

    low: Floats
    high: Floats
    mass: Mass
    axis: int
    sign: float
    rolls: bool
    upright: bool

    @property
    def up(self) -> float:
        """Height of its centre of mass above its underside, mm."""
        return float(self.mass.centre[2] - self.low[2])

    def over(self, depth: float) -> Block:
        """It as a block that turns about a rim so high above its underside."""
        back = float(self.high[self.axis] - self.low[self.axis]) / 2
        up = self.up - depth
        if self.rolls:
            back = math.sqrt(max(0.0, back**2 - up**2))
        spread = float(self.mass.spread[self.axis, self.axis] + self.mass.spread[2, 2])
        return Block(back, up, spread / self.mass.mass_g + back**2 + up**2)


def thrown_from(lot: str, place: LotPlace, slam: Slam, loads: Loads, around: Around) -> Thrown | None:
    """The thing of a place that leaves it soonest at a stop; ``None`` where all stay.

    Args:
        lot: id of the lot.
        place: of its things.
        slam: the stop.
        loads: of the kit.
        around: the parts of the space.
    """
    shape = loads.shape_of(place.placement)
    if shape is None or not place.at or place.stance == IN_A_DISPENSER:
        return None
    scene = _Scene(place, slam, shape, around, loads)
    lacks = [lack for thing in _leading(lot, place, slam, loads) if (lack := _lack(thing, scene))]
    if not lacks:
        return None
    worst = max(lacks, key=lambda lack: lack.needs - lack.depth)
    kept = loads.lots[lot]
    space = loads.placements[place.placement].space
    grave = kept.made in _BREAKS or kept.hazard is not None or one_g(kept) >= HEAVY_G
    grave |= loads.parts[place.part].kind in _HOLD
    return Thrown(lot, kept.name or lot, space, slam, worst.depth, worst.needs, grave)


@dataclass(frozen=True)
class _Lack:
    """How deep a thing is held, and how deep it should be, mm."""

    depth: float
    needs: float


@dataclass(frozen=True, eq=False)
class _Scene:
    """A place of things, what stops it, and all that is around."""

    place: LotPlace
    slam: Slam
    shape: Shape
    around: Around
    loads: Loads

    @property
    def supports(self) -> tuple[str, ...]:
        """Ids of the placements that hold the things."""
        return (self.place.placement, *self.place.held_by)

    def box_of(self, thing: _Thing) -> tuple[Floats, Floats]:
        """The box round a thing in its space."""
        matrix = matrix_of(self.loads.placements[self.place.placement].space_from_part)
        corners = moved_by(matrix, np.array([thing.low, thing.high]))
        return corners.min(axis=0), corners.max(axis=0)

    def stop_of(self, thing: _Thing, *, up: float) -> float:
        """Free way of a thing to what stands before its part and reaches so high above its underside, mm."""
        low, high = self.box_of(thing)
        own = frozenset(self.supports)
        return self.around.next(low, high, self.slam.throw, above=float(low[2]) + up, own=own).gap


def _leading(lot: str, place: LotPlace, slam: Slam, loads: Loads) -> Iterator[_Thing]:
    """The things of a place that have none before and none above them."""
    turn = matrix_of(loads.placements[place.placement].space_from_part)[:3, :3]
    way = turn.T @ [0.0, slam.throw.sign, 0.0]
    axis = int(np.argmax(np.abs(way[:2])))
    sign = float(np.sign(way[axis]))
    half = np.array([place.size[0] / 2, place.size[1] / 2, 0.0])
    low = np.array(place.at) - half
    high = low + np.array(place.size)
    masses = loads.each(lot, place)
    rolls = place.round_axis in ("x", "y") and "xy".index(place.round_axis) != axis
    top = _uppermost(low)
    for number in top[_first(low[top], high[top], axis, sign)].tolist():
        yield _Thing(low[number], high[number], masses[number], axis, sign, rolls, place.round_axis == "z")


def _uppermost(low: Floats) -> Indices:
    """Numbers of the things that have no other of their place straight above them."""
    order = np.lexsort((-low[:, 2], low[:, 1].round(3), low[:, 0].round(3)))
    new = (np.abs(np.diff(low[order, :2], axis=0)) > SAME_SPOT).any(axis=1)
    return np.sort(order[np.concatenate([[True], new])])


def _first(low: Floats, high: Floats, axis: int, sign: float) -> list[int]:
    """Which things have no other before them that shares half of their width and reaches above their middle."""
    across = 1 - axis
    middle = (low + high) / 2
    found = []
    for number, at in enumerate(middle):
        before = sign * (middle[:, axis] - at[axis]) > SAME_SPOT
        shared = np.minimum(high[:, across], high[number, across]) - np.maximum(low[:, across], low[number, across])
        wide = shared > (high[number, across] - low[number, across]) / 2
        if not (before & wide & (high[:, 2] > at[2]) & (low[:, 2] < at[2])).any():
            found.append(number)
    return found


def _lack(thing: _Thing, scene: _Scene) -> _Lack | None:
    """What a thing lacks of its hold; nothing where it stays."""
    place, slam = scene.place, scene.slam
    if thing.mass.mass_g <= 0:
        return None
    if place.stance == IN_A_REST and place.size[thing.axis] == max(place.size):
        return None if _stays_endways(thing, scene) else _Lack(0.0, thing.up)
    hold = hold_of(scene.shape, thing.low, thing.high, thing.axis, thing.sign, upright=thing.upright)
    if place.stance == HEAPED:
        height = float(thing.high[2] - thing.low[2])
        return None if hold.depth >= HEAP_SHARE * height else _Lack(hold.depth, height)
    if _stays(thing, hold, scene) or _caught(thing, hold, scene):
        return None
    return _Lack(hold.depth, _needed(thing, slam))


def _stays(thing: _Thing, hold: Hold, scene: _Scene) -> bool:
    """Whether the wall before a thing keeps it, or friction does where there is none."""
    slam = scene.slam
    if hold.depth < LEAST_HOLD:
        return slide_way(slam) <= thing.over(0.0).back
    if not thing.over(hold.depth).topples(slam.accel_g, slam.speed_m_s):
        return True
    behind = hold_of(scene.shape, thing.low, thing.high, thing.axis, -thing.sign, upright=thing.upright)
    return behind.depth >= LEAST_HOLD and hold.gap + behind.gap <= DUSTY * hold.depth


def _caught(thing: _Thing, hold: Hold, scene: _Scene) -> bool:
    """Whether something as high as its middle stops it while that is still carried, or before it is half way over."""
    room = float(thing.high[thing.axis] - thing.low[thing.axis]) / (2 if hold.depth < LEAST_HOLD else 4)
    return scene.stop_of(thing, up=thing.up) <= room


def _needed(thing: _Thing, slam: Slam) -> float:
    """Least depth at which a stop does not tip it over the rim, mm; halved down to a tenth."""
    low, high = 0.0, thing.up
    while high - low > SAID / 2:
        middle = (low + high) / 2
        low, high = (middle, high) if thing.over(middle).topples(slam.accel_g, slam.speed_m_s) else (low, middle)
    return max(float(LEAST_HOLD), high)


def _stays_endways(thing: _Thing, scene: _Scene) -> bool:
    """Whether a long thing that slides along its rest keeps its middle between the supports."""
    low, high = scene.box_of(thing)
    boxes = [scene.loads.box_of(name) for name in scene.supports]
    middle = float(low[1] + high[1]) / 2
    forwards = scene.slam.throw.sign > 0
    edge = max(far[1] for _, far in boxes) - middle if forwards else middle - min(near[1] for near, _ in boxes)
    return bool(min(slide_way(scene.slam), scene.stop_of(thing, up=0.0)) <= edge)
