"""A layout round parts that stay: they become blocked cells and load, and are put back afterwards.

Promise: a part that is pinned to a corner is there afterwards, in its size; the cost and the bound of the layout count
it. What breaks a hard rule is not pinned but named. Something printed is pinned first; then the layout is looked for
once more in which it may move, at the price of its plastic, and the cheaper one is taken.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.layout.bits import free_cells
from nookwright.layout.candidates import COST_PER_G
from nookwright.layout.filling.spots import Box, Floor
from nookwright.layout.model import CostPart, Layout, Placed
from nookwright.layout.pins import Pin, Slip
from nookwright.layout.problem import LEFT_OUT
from nookwright.layout.rules import held, highest, passes
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.part_plastic import plastic_of
from nookwright.module.seat import outer_size
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Ask, Candidate, Grid

    Solve = Callable[[tuple[Grid, ...], tuple[Ask, ...]], Layout]


@dataclass(frozen=True)
class Pinned:
    """What is left to decide once some parts stand.

    Attributes:
        grids: the spaces, with less room and load.
        asks: the lots that have no place yet.
        back: the parts that stay, to be put back.
        extra: what they cost, by the name of the part of the cost.
        slips: places that break a rule.
    """

    grids: tuple[Grid, ...]
    asks: tuple[Ask, ...]
    back: tuple[Placed, ...]
    extra: tuple[CostPart, ...]
    slips: tuple[Slip, ...]

    def put_back(self, layout: Layout) -> Layout:
        """The layout with what stays in it, counted in cost and bound.

        Args:
            layout: of the rest.
        """
        placed = tuple(sorted((*layout.placed, *self.back), key=lambda one: (one.space, one.row, one.col, one.level)))
        more = {part.name: part.value for part in self.extra}
        cost = [CostPart(part.name, part.value + more.pop(part.name, 0.0)) for part in layout.cost]
        cost += [CostPart(name, value) for name, value in more.items() if value]
        whole = replace(layout, placed=placed, cost=tuple(cost))
        bound = min(whole.counted, layout.bound + sum(part.value for part in self.extra))
        return replace(whole, bound=bound, gap=(whole.counted - bound) / bound if bound else 0.0)


def lay_out_around(
    grids: Sequence[Grid], asks: Sequence[Ask], pins: Sequence[Pin], means: Means, solve: Solve
) -> tuple[Pinned, Layout]:
    """What is left to decide round what stays, and its layout, without what stays.

    Args:
        grids: the spaces.
        asks: the lots.
        pins: what stays.
        means: the module, and what parts weigh.
        solve: lays out lots in spaces.
    """
    fixed = pinned(grids, asks, pins, means)
    layout = solve(fixed.grids, fixed.asks)
    if not any(pin.printed and pin.at for pin in pins):
        return fixed, layout
    free = pinned(grids, asks, [replace(pin, at=None) if pin.printed else pin for pin in pins], means)
    other = solve(free.grids, free.asks)
    if _worth(free.put_back(other)) < _worth(fixed.put_back(layout)):
        return replace(free, slips=fixed.slips), other
    return fixed, layout


def _worth(layout: Layout) -> float:
    """What a layout costs, and what it leaves out."""
    return round(sum(part.value for part in layout.cost) + LEFT_OUT * len(layout.left_out), 6)


def pinned(grids: Sequence[Grid], asks: Sequence[Ask], pins: Sequence[Pin], means: Means) -> Pinned:
    """Spaces and lots round what stays.

    Args:
        grids: the spaces.
        asks: the lots.
        pins: what stays, at most one a lot.
        means: the module, and what parts weigh.
    """
    by_lot = {ask.lot: ask for ask in asks}
    standing = _Standing(grids, means)
    homes: dict[str, Pin] = {}
    for pin in sorted((pin for pin in pins if pin.lot in by_lot), key=lambda pin: pin.number):
        if pin.at:
            standing.set_down(by_lot[pin.lot], pin)
        else:
            homes[pin.lot] = pin
    where = {one.candidate.lot: one.space for one in standing.back if one.candidate}
    asks_left, slips = [], list(standing.slips)
    for ask in asks:
        if ask.lot in where:
            continue
        left = _leaning(ask, by_lot, where, grids)
        if ask.lot in homes:
            left = _at_home(left, homes[ask.lot], grids, means, slips)
        asks_left.append(left)
    extra = _extra(standing.back, by_lot, grids, where)
    return Pinned(standing.grids(), tuple(asks_left), tuple(standing.back), extra, tuple(sorted(slips)))


class _Standing:
    """Spaces while parts are set down in them."""

    def __init__(self, grids: Sequence[Grid], means: Means) -> None:
        self.by_space = {grid.space: grid for grid in grids}
        self.floors = {g.space: Floor(g.cols, g.rows, free_cells(g.cols, g.rows, g.blocked)) for g in grids}
        self.load_g: dict[str, float] = defaultdict(float)
        self.means = means
        self.back: list[Placed] = []
        self.slips: list[Slip] = []

    def set_down(self, ask: Ask, pin: Pin) -> None:
        """Set one part down at its corner, or say why not."""
        grid, floor = self.by_space[pin.space], self.floors[pin.space]
        barred = _barred(ask, grid)
        if barred:
            self.slips.append(Slip(pin.number, pin.lot, "space", f'"{pin.space}"', *barred))
            return
        lying = [one for candidate in _high(ask.candidates, pin, self.means) for one in _lyings(candidate, grid, pin)]
        if not lying:
            self.slips.append(_no_size(ask, grid, pin, self.means))
            return
        fitting = [one for one in lying if Box(one.col, one.row, one.cols, one.rows) in floor]
        if not fitting:
            self.slips.append(self._taken(pin, lying[0]))
            return
        placed = fitting[0]
        mass_g = self.means.mass_g(placed)
        if self.load_g[pin.space] + mass_g > grid.load_g:
            self.slips.append(_too_heavy(pin, grid, self.load_g[pin.space] + mass_g))
            return
        self.load_g[pin.space] += mass_g
        self.floors[pin.space] = floor.without((Box(placed.col, placed.row, placed.cols, placed.rows),))
        self.back.append(placed)

    def _taken(self, pin: Pin, one: Placed) -> Slip:
        """Why the cells of a part are not free."""
        grid = self.by_space[pin.space]
        box = Box(one.col, one.row, one.cols, one.rows)
        over = [o for o in self.back if o.space == pin.space and _meet(box, Box(o.col, o.row, o.cols, o.rows))]
        if over and over[0].candidate:
            why = f"a place that overlaps that of {over[0].candidate.lot}"
        elif box.right > grid.cols or box.back > grid.rows:
            why = "a place that ends outside the space"
        else:
            why = "a place where something is blocked"
        return Slip(
            pin.number, pin.lot, "x", why, "floor that is free", "Measure it again, or let the tool find it a place."
        )

    def grids(self) -> tuple[Grid, ...]:
        """The spaces with what stands taken off."""
        return tuple(self._reduced(grid) for grid in self.by_space.values())

    def _reduced(self, grid: Grid) -> Grid:
        here = [one for one in self.back if one.space == grid.space]
        if not here:
            return grid
        cells = {(one.col + x, one.row + y) for one in here for x in range(one.cols) for y in range(one.rows)}
        return replace(
            grid,
            blocked=tuple(sorted({*grid.blocked, *cells})),
            load_g=grid.load_g - self.load_g[grid.space],
            open_cost=0.0,
        )


def _meet(one: Box, other: Box) -> bool:
    return one.col < other.right and other.col < one.right and one.row < other.back and other.row < one.back


def _high(candidates: tuple[Candidate, ...], pin: Pin, means: Means) -> tuple[Candidate, ...]:
    """Those that are as high as the pin says, and lower ones made so high where they may be."""
    height = pin.height
    if height is None:
        return candidates
    found = []
    for one in candidates:
        if one.height == height:
            found.append(one)
        elif one.height < height <= highest(one):
            low_g, high_g = (_way_g(one, z, means) for z in (one.height, height))
            mass_g, part_g = one.mass_g + high_g - low_g, one.part_g and one.part_g + high_g - low_g
            found.append(replace(one, height=height, tall=max(one.tall, height), mass_g=mass_g, part_g=part_g))
    return tuple(found)


def _lyings(candidate: Candidate, grid: Grid, pin: Pin) -> list[Placed]:
    """A candidate at the corner of a pin, straight and turned, in the size that the pin says; sorted by the caller."""
    if candidate.tall > grid.height or not passes(candidate, grid) or pin.at is None:
        return []
    found = []
    for turned in (False, True) if candidate.may_turn else (False,):
        least = (candidate.rows, candidate.cols) if turned else (candidate.cols, candidate.rows)
        cols, rows = pin.size or least
        if cols >= least[0] and rows >= least[1] and held(replace(candidate, cols=cols, rows=rows), grid):
            found.append(Placed(pin.space, *pin.at, cols, rows, turned, candidate, candidate.height, pinned=True))
    return found


def _barred(ask: Ask, grid: Grid) -> tuple[str, str] | None:
    """What is allowed, and the remedy, where a lot may not be in a space at all."""
    rules = (
        (not grid.fill, "a drawer or a shelf, which have a floor", "Name another space."),
        (
            ask.out_of_reach and grid.children,
            "a space out of children's reach",
            "Name another one, or lock it and say locked = true there.",
        ),
        (ask.cool and grid.warm, "a space that stays cool", "Name another one."),
        (ask.dry and grid.wet, "a space that stays dry", "Name another one."),
        (
            bool(ask.spaces) and grid.space not in ask.spaces,
            f"a home of its group: {', '.join(ask.spaces)}",
            "Name one of them, or add the space to [choices.homes].",
        ),
    )
    return next(((allowed, remedy) for broken, allowed, remedy in rules if broken), None)


def _no_size(ask: Ask, grid: Grid, pin: Pin, means: Means) -> Slip:
    """No candidate is low enough, or small enough for the size that the place gives."""
    pitch = means.module.pitch
    low = [one for one in ask.candidates if one.tall <= grid.height]
    if not low:
        least = min(one.tall for one in ask.candidates)
        return Slip(
            pin.number, pin.lot, "space", f'"{pin.space}", {grid.height:.0f} mm high above the liner',
            f"a space with at least {least:.0f} mm", "Name a higher space, or let the lot lie down.",
        )  # fmt: skip
    if pin.height is not None and not _high(tuple(low), pin, means):
        heights = dict.fromkeys(_heights(one, means.module.rise) for one in low)
        return Slip(
            pin.number, pin.lot, "height", f"{pin.height:g} mm", " or ".join(heights),
            "Measure it again, or leave its height to the tool.",
        )  # fmt: skip
    sizes = dict.fromkeys(f"{outer_size(c.cols, pitch):.0f} x {outer_size(c.rows, pitch):.0f} mm" for c in low)
    size = pin.size or (1, 1)
    found = f"{outer_size(size[0], pitch):.0f} x {outer_size(size[1], pitch):.0f} mm"
    return Slip(
        pin.number, pin.lot, "width", found, f"at least one of {', '.join(sizes)}",
        "Measure it again, say less room to grow, or leave its size to the tool.",
    )  # fmt: skip


def _too_heavy(pin: Pin, grid: Grid, mass_g: float) -> Slip:
    return Slip(
        pin.number, pin.lot, "space", f'"{pin.space}", loaded with {mass_g:.0f} g by what stays in it',
        f"at most {grid.load_g:.0f} g", "Keep less in it, or state a higher load if the space can bear it.",
    )  # fmt: skip


def _leaning(ask: Ask, by_lot: Mapping[str, Ask], where: Mapping[str, str], grids: Iterable[Grid]) -> Ask:
    """A lot that wishes to be with what stays: it costs more in all other spaces."""
    costs = dict(ask.leaning)
    for name, cost in _bonds(ask, by_lot).items():
        for grid in grids if name in where else ():
            if grid.space != where[name]:
                costs[grid.space] = costs.get(grid.space, 0.0) + cost
    bonds = tuple((name, cost) for name, cost in ask.bonds if name not in where)
    return replace(ask, leaning=tuple(sorted(costs.items())), bonds=bonds)


def _bonds(ask: Ask, by_lot: Mapping[str, Ask]) -> dict[str, float]:
    """The lots that it should be with, whoever of the two says so, each at the higher cost."""
    bonds = dict(ask.bonds)
    for other in by_lot.values():
        for name, cost in other.bonds:
            if name == ask.lot:
                bonds[other.lot] = max(cost, bonds.get(other.lot, 0.0))
    return bonds


def _at_home(ask: Ask, pin: Pin, grids: Sequence[Grid], means: Means, slips: list[Slip]) -> Ask:
    """A lot whose space is said, and maybe its size; what is printed may leave both at the price of its plastic."""
    grid = next(grid for grid in grids if grid.space == pin.space)
    barred = _barred(ask, grid)
    if barred:
        slips.append(Slip(pin.number, pin.lot, "space", f'"{pin.space}"', *barred))
        return ask
    high = replace(ask, candidates=_high(ask.candidates, pin, means))
    sized = _sized(high, pin.size, means) if pin.size else high.candidates
    if not sized:
        slips.append(_no_size(ask, grid, pin, means))
        return ask
    if not pin.printed:
        return replace(ask, candidates=sized, spaces=(pin.space,))
    worth = round(COST_PER_G * min(_part_g(one, means) for one in sized), 6)
    costs = dict(ask.leaning)
    for other in grids:
        if other.space != pin.space:
            costs[other.space] = costs.get(other.space, 0.0) + worth
    others = (
        tuple(replace(one, cost=round(one.cost + worth, 6)) for one in ask.candidates)
        if sized != ask.candidates
        else ()
    )
    return replace(ask, candidates=(*sized, *others), leaning=tuple(sorted(costs.items())))


def _sized(ask: Ask, size: tuple[int, int], means: Means) -> tuple[Candidate, ...]:
    """Its candidates made as large as the part is, as it lies; those that are larger dropped."""
    found = []
    for one in ask.candidates:
        for cols, rows in (size, size[::-1]) if one.may_turn else (size,):
            if one.cols <= cols and one.rows <= rows:
                more_g = means.tray_g(cols, rows, one.height, one.way.floor) - _part_g(one, means)
                outer = outer_size(cols, means.module.pitch), outer_size(rows, means.module.pitch)
                part_g = one.part_g + more_g if one.part_g else 0.0
                larger = replace(one, cols=cols, rows=rows, size=outer, mass_g=one.mass_g + more_g, part_g=part_g)
                found.append(larger)
                break
    return tuple(found)


def _heights(one: Candidate, rise: float) -> str:
    """How high the part of a candidate may be, in words."""
    most = highest(one)
    if math.isinf(most):
        return f"{one.height:g} mm and more"
    last = one.height + (most - one.height) // rise * rise
    return f"{one.height:g} to {last:g} mm" if last > one.height else f"{one.height:g} mm"


def _way_g(one: Candidate, height: float, means: Means) -> float:
    """What the part of a candidate weighs at a height, with its pockets or its sleeve, g."""
    if one.way.kind is PartKind.TRAY:
        return means.tray_g(one.cols, one.rows, height, one.way.floor)
    return plastic_of(means.module, one.way, one.cols, one.rows, height).mass_g(TYPICAL_DENSITY_G_CM3)


def _part_g(one: Candidate, means: Means) -> float:
    """What the part of a candidate weighs, g."""
    return means.tray_g(one.cols, one.rows, one.height, one.way.floor)


def _extra(
    back: Sequence[Placed], by_lot: Mapping[str, Ask], grids: Sequence[Grid], where: Mapping[str, str]
) -> tuple[CostPart, ...]:
    """What the parts that stay cost: for themselves, and where two of them belong together and are apart."""
    by_space = {grid.space: grid for grid in grids}
    costs = dict.fromkeys(("footprint", "reach", "split", "open"), 0.0)
    for one in back:
        if one.candidate:
            ask, grid = by_lot[one.candidate.lot], by_space[one.space]
            costs["footprint"] += one.candidate.cost
            costs["reach"] += ask.use * grid.reach + dict(ask.leaning).get(grid.space, 0.0)
            others = _bonds(ask, by_lot).items()
            costs["split"] += sum(c / 2 for name, c in others if where.get(name, one.space) != one.space)
    costs["open"] = sum(by_space[name].open_cost for name in {one.space for one in back})
    return tuple(CostPart(name, round(value, 6)) for name, value in costs.items())
