"""What a module does to the lots: for each the tray that would be taken, its floor, plastic, time and dead height.

The ways of all lots stand in arrays, lot after lot; a pitch turns them into footprints, a rise into heights, and for
each lot the cheapest way that some space has room for is taken, by the weights that the layout also uses. What a
cradle, a shoe or a tray with options has besides a plain tray is worked out once a way, on the cells of one pitch, and
taken for all of them. What it does not know: whether all lots find room together.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.module.choice.candidates import TYPICAL_DENSITY_G_CM3
from nookwright.module.choice.prices import BOUGHT_G, FLOOR_G_DM2, TROUBLE_G
from nookwright.module.choice.trays import Trays, heights
from nookwright.module.estimates import MM2_PER_DM2, MM3_PER_CM3, tray_plastic
from nookwright.module.part_plastic import plastic_of
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import PartKind
from nookwright.survey.layout_wishes import Weights
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.module.choice.trays import Counts, Flags, Numbers
    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way

LEAST_SIDE = Fact(
    2, unit="cells", kind=Kind.CALCULATED, source="Inside a side of one cell there is no room for a finger."
)
USUAL = Weights()
_SAME_COST = 6  # decimals, so that a tie is a tie on every machine


@dataclass(frozen=True)
class Asked:
    """The ways of all lots as arrays, lot after lot.

    Attributes:
        lot: number of its lot, for each way.
        first: where each lot that has a way begins.
        width, depth: inside that a way takes, mm.
        wall: height of its wall above the floor of the tray, mm.
        stack: height of its things above that floor, mm.
        smooth: whether its floor is smooth.
        trouble: to get a thing out, in cost units.
        bought: what has to be bought for it, in the person's currency.
        turns: whether its part may lie turned.
        walled: whether it has the walls of a tray.
        more: what its part has besides a plain tray or its floor: at no height, and for each mm of height, mm3.
        lots: how many lots there are, those without a way too.
    """

    lot: Counts
    first: Counts
    width: Numbers
    depth: Numbers
    wall: Numbers
    stack: Numbers
    smooth: Flags
    trouble: Numbers
    bought: Numbers
    turns: Flags
    walled: Flags
    more: tuple[Numbers, Numbers]
    lots: int


def asked(ways: Sequence[tuple[Way, ...]], module: Module) -> Asked:
    """The ways of all lots as arrays.

    Args:
        ways: for each lot, its ways of being kept.
        module: of the pitch on which all that is not a plain tray is worked out.
    """
    flat = [way for lot in ways for way in lot]
    lot = np.repeat(np.arange(len(ways)), [len(one) for one in ways])
    return Asked(
        lot=lot,
        first=np.flatnonzero(np.diff(lot, prepend=-1)),
        width=np.array([way.inner_width for way in flat], dtype=float),
        depth=np.array([way.inner_depth for way in flat], dtype=float),
        wall=np.array([way.wall_height for way in flat], dtype=float),
        stack=np.array([way.stack_height for way in flat], dtype=float),
        smooth=np.array([way.floor is FloorStyle.SMOOTH or way.box is not None for way in flat], dtype=bool),
        trouble=np.array([way.trouble for way in flat], dtype=float),
        bought=np.array([_bought(way) for way in flat], dtype=float),
        turns=np.array([not way.needs.faces_front for way in flat], dtype=bool),
        walled=np.array([way.box is None for way in flat], dtype=bool),
        more=_more(flat, module),
        lots=len(ways),
    )


def _bought(way: Way) -> float:
    """What has to be bought for a way: a box that is not there yet."""
    return way.box.price or 0.0 if way.box and not way.box.owned else 0.0


def _more(ways: Sequence[Way], module: Module) -> tuple[Numbers, Numbers]:
    """What each part has besides a plain tray, or a shoe besides its floor: a straight line over its height, mm3."""
    start, slope = np.zeros(len(ways)), np.zeros(len(ways))
    for at, way in enumerate(ways):
        if not _plain(way):
            cols, rows = module.cells(way.inner_width), module.cells(way.inner_depth)
            low = module.height(module.seat.dome + way.wall_height)
            one, two = (_besides(way, module, cols, rows, height=low + step) for step in (0.0, module.rise))
            slope[at] = (two - one) / module.rise
            start[at] = one - slope[at] * low
    return start, slope


def _plain(way: Way) -> bool:
    """Whether its part is a tray without anything."""
    return way.kind is PartKind.TRAY and way.needs == PLAIN and not way.compartments and way.box is None


def _besides(way: Way, module: Module, cols: int, rows: int, *, height: float) -> float:
    """What a part has besides a plain tray, or a shoe besides its floor, at one height, mm3."""
    base = module.seat.dome if way.box else height
    plain = tray_plastic(module, cols, rows, base, smooth=way.floor is FloorStyle.SMOOTH or way.box is not None)
    return plastic_of(module, way, cols, rows, height).laid_mm3 - plain.laid_mm3


@dataclass(frozen=True)
class Kept:
    """All lots in the trays that a module would give them.

    Attributes:
        taken_dm2: floor under their footprints.
        inside_dm2: of it, what their things and walls do not need.
        mass_g, time_s: of the trays.
        trouble: summed, in cost units.
        bought: summed, in the person's currency.
        dead: by which a tray is higher than its things need, the mean, mm.
        footprints: different ones, turned ones being the same.
        trays: different ones: footprint, height and floor.
        rims: different heights of them.
        homeless: lots that no space has room for in any way.
    """

    taken_dm2: float
    inside_dm2: float
    mass_g: float
    time_s: float
    trouble: float
    bought: float
    dead: float
    footprints: int
    trays: int
    rims: int
    homeless: int


class Footprints:
    """The ways of all lots at one pitch; ``kept`` is asked for each rise."""

    def __init__(self, ways: Asked, module: Module, rooms: Sequence[tuple[int, int, float]]) -> None:
        """Turn insides into cells.

        Args:
            ways: of all lots.
            module: pitch and seat; the rise plays no part yet.
            rooms: columns, rows and clear height of each space.
        """
        self.ways, self.module = ways, module
        self.rooms = _undominated(rooms)
        longest = max((max(cols, rows) for cols, rows, _ in rooms), default=0)
        self.trays = Trays(module, longest)
        least = int(LEAST_SIDE)
        cols = np.maximum(least, self.trays.cells(ways.width))
        rows = np.maximum(least, self.trays.cells(ways.depth))
        self.small = np.minimum(np.maximum(cols, rows), self.trays.most) == np.maximum(cols, rows)
        self.cols, self.rows = np.minimum(cols, self.trays.most), np.minimum(rows, self.trays.most)

    def kept(self, rise: float, weights: Weights = USUAL) -> Kept:
        """What the lots cost with this rise.

        Args:
            rise: height step, mm.
            weights: what counts how much.
        """
        ways, dome = self.ways, self.module.seat.dome
        height = heights(dome + ways.wall, rise)
        walls = np.where(ways.walled, height, dome)
        laid = self.trays.laid_mm3(self.cols, self.rows, walls, ways.smooth) + ways.more[0] + ways.more[1] * height
        mass = laid / MM3_PER_CM3 * TYPICAL_DENSITY_G_CM3
        area = self.cols * self.rows * self.module.pitch**2 / MM2_PER_DM2
        trouble = TROUBLE_G * weights.one_hand * ways.trouble + BOUGHT_G * ways.bought
        cost = np.round(weights.plastic * mass + FLOOR_G_DM2 * weights.area * area + trouble, _SAME_COST)
        cost = np.where(self._fits(np.maximum(height, dome + ways.stack)), cost, np.inf)
        taken = _cheapest(cost, ways)
        cols, rows = self.cols[taken], self.rows[taken]
        need = (ways.width[taken] + 2 * self.module.wall) * (ways.depth[taken] + 2 * self.module.wall) / MM2_PER_DM2
        times = self.trays.time_s(cols, rows, height[taken], laid[taken])
        short, long = np.minimum(cols, rows), np.maximum(cols, rows)
        dead = height[taken] - dome - ways.wall[taken]
        return Kept(
            taken_dm2=float(area[taken].sum()),
            inside_dm2=float(np.maximum(0.0, area[taken] - need).sum()),
            mass_g=float(mass[taken].sum()),
            time_s=float(times.sum()),
            trouble=float(ways.trouble[taken].sum()),
            bought=float(ways.bought[taken].sum()),
            dead=float(dead.mean()) if len(taken) else 0.0,
            footprints=_different(short, long),
            trays=_different(short, long, height[taken], ways.smooth[taken]),
            rims=_different(height[taken]),
            homeless=ways.lots - len(taken),
        )

    def _fits(self, tall: Numbers) -> Flags:
        """Whether some space has room for a way by itself."""
        fits = np.zeros(len(tall), dtype=bool)
        for cols, rows, clear in self.rooms:
            turned = (self.cols <= rows) & (self.rows <= cols) & self.ways.turns
            fits |= (((self.cols <= cols) & (self.rows <= rows)) | turned) & (tall <= clear)
        both: Flags = fits & self.small
        return both


def _cheapest(cost: Numbers, ways: Asked) -> Counts:
    """For each lot that fits somewhere the first of its cheapest ways."""
    if not len(cost):
        return np.zeros(0, dtype=np.int64)
    least = np.minimum.reduceat(cost, ways.first)
    own = np.repeat(least, np.diff(np.append(ways.first, len(cost))))
    best = np.flatnonzero((cost == own) & np.isfinite(cost))
    _, first = np.unique(ways.lot[best], return_index=True)
    return np.asarray(best[first], dtype=np.int64)


def _different(*columns: Counts | Numbers | Flags) -> int:
    """How many different rows there are."""
    return len({*zip(*(column.tolist() for column in columns), strict=True)})


def _undominated(rooms: Sequence[tuple[int, int, float]]) -> tuple[tuple[int, int, float], ...]:
    """The spaces that no other one beats in width, depth and height."""
    sized = sorted(set(rooms), reverse=True)
    kept: list[tuple[int, int, float]] = []
    for one in sized:
        if not any(all(a <= b for a, b in zip(one, other, strict=True)) for other in kept):
            kept.append(one)
    return tuple(kept)
