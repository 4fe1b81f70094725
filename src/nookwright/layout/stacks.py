"""Lots that found no place on the floor, on the lid of another lot's tray: two levels, where the height is there.

The lower tray gets a deck lid, and the upper one the same footprint. What is used more often stands above. Promise:
things stay below the ledge of the lid and come out past it; both trays, the reserve of both seats and the unevenness
of layers lie within the clear height along the travel; the load holds; nothing else moves.
What it does not know: risers.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells
from nookwright.layout.candidates import COST_PER_G
from nookwright.layout.filling.growth import GROWTH, stays
from nookwright.layout.model import CostPart, Layout, Placed
from nookwright.layout.rules import allowed
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.seat import outer_size
from nookwright.module.stacking import deck_g, deck_opening, decked_height, may_be_decked, stack_reserve
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import TRAY_CLEARANCE, Arrangement, PartKind
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from nookwright.layout.filling.means import Means
    from nookwright.layout.model import Ask, Candidate, Grid
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot, Room

LIFT = Fact(
    4.0,
    unit="cost",
    kind=Kind.CHOICE,
    source="Lifting one tray off to get at another: as much as two layers of things, each time it is used.",
)


@dataclass(frozen=True)
class Stack:
    """Two parts in one place.

    Attributes:
        lower: the part on the liner, closed by a deck lid.
        upper: the part on it.
        cost: what it costs that the lot that came finds its place here.
        more_g: what it adds to the load, g.
    """

    lower: Placed
    upper: Placed
    cost: float
    more_g: float


def lidded(room: Room) -> frozenset[str]:
    """Lots whose trays may be closed by a lid: nothing is wished of them that a lid would be in the way of."""
    plain = type(room.choices.tray)()
    return frozenset(lot.id for lot in room.lot if room.choices.tray == plain and _plain(lot))


def _plain(lot: Lot) -> bool:
    return lot.tray == type(lot.tray)() and not lot.hazard


def stacked(
    layout: Layout, grids: Sequence[Grid], asks: Sequence[Ask], means: Means, *, lids: Collection[str]
) -> Layout:
    """The layout with lots that were left out put on others, as far as height and load allow.

    Args:
        layout: what is placed, and what is left out.
        grids: the spaces.
        asks: the lots.
        means: the module and the beds.
        lids: ids of the lots whose trays may be closed by a lid.
    """
    work = _Work(layout, grids, asks, means, lids)
    missing = {left.lot for left in layout.left_out}
    for ask in sorted((ask for ask in asks if ask.lot in missing), key=lambda ask: (-ask.use, ask.lot)):
        work.place(ask)
    return work.layout()


class _Work:
    """A layout to which stacks are added."""

    def __init__(
        self, layout: Layout, grids: Sequence[Grid], asks: Sequence[Ask], means: Means, lids: Collection[str]
    ) -> None:
        self.before, self.means, self.lids = layout, means, lids
        self.placed = list(layout.placed)
        self.grids = {grid.space: grid for grid in grids}
        self.asks = {ask.lot: ask for ask in asks}
        self.cost = 0.0
        self.found: list[str] = []
        self.load_g = {name: sum(means.mass_g(one) for one in layout.in_space(name)) for name in self.grids}

    def place(self, ask: Ask) -> None:
        """Put a lot where it costs least, if it goes anywhere."""
        best: tuple[Stack, int] | None = None
        for number, one in enumerate(self.placed):
            for stack in self._stacks(ask, one):
                if best is None or stack.cost < best[0].cost:
                    best = stack, number
        if best is None:
            return
        stack, number = best
        self.placed[number] = stack.lower
        self.placed.append(stack.upper)
        self.load_g[stack.lower.space] += stack.more_g
        self.cost += stack.cost
        self.found.append(ask.lot)

    def _stacks(self, ask: Ask, there: Placed) -> Iterator[Stack]:
        """Ways to stack a lot with a part: above it, or below it where it is used less."""
        grid, own = self.grids[there.space], there.candidate
        if own is None or own.way.long or stays(there) or own.lot not in self.asks:
            return
        if not may_be_decked(self.means.module, there.cols, there.rows):
            return
        other = self.asks[own.lot]
        for candidate in ask.candidates:
            if candidate.way.long or not allowed(ask, replace(candidate, tall=0.0), grid, _everywhere(grid)):
                continue
            came = self._fitted(candidate, there)
            if came is None:
                continue
            lower, upper, below = (there, came, other) if other.use <= ask.use else (came, there, ask)
            stack = self._stack(grid, lower, upper)
            if stack is not None:
                cost = candidate.cost + ask.use * grid.reach + dict(ask.leaning).get(grid.space, 0.0)
                yield replace(stack, cost=round(cost + self._apart(ask, grid) + LIFT * below.use + stack.cost, 6))

    def _apart(self, ask: Ask, grid: Grid) -> float:
        """What it costs that lots it belongs to are in other spaces."""
        where = {one.candidate.lot: one.space for one in self.placed if one.candidate}
        bonds = dict(ask.bonds)
        bonds |= {o.lot: c for o in self.asks.values() for name, c in o.bonds if name == ask.lot and o.lot not in bonds}
        return sum(cost for name, cost in bonds.items() if where.get(name, grid.space) != grid.space)

    def _fitted(self, candidate: Candidate, there: Placed) -> Placed | None:
        """A candidate on the cells of a part, grown to them where it is a tray; ``None`` where it does not fit them."""
        for turned in (False, True) if candidate.may_turn else (False,):
            cols, rows = (candidate.rows, candidate.cols) if turned else (candidate.cols, candidate.rows)
            grown = candidate.way.kind is PartKind.TRAY
            most = [side + int(GROWTH * side) * grown for side in (cols, rows)]
            if cols <= there.cols <= most[0] and rows <= there.rows <= most[1]:
                return replace(there, candidate=candidate, turned=turned, height=candidate.height, label="")
        return None

    def _stack(self, grid: Grid, lower: Placed, upper: Placed) -> Stack | None:
        """Two parts on the same cells; its cost is that of the plastic that stacking takes."""
        below, above = lower.candidate, upper.candidate
        if below is None or above is None or below.lot not in self.lids or not _closes(below):
            return None
        module, cols, rows = self.means.module, lower.cols, lower.rows
        if lower.turned:
            cols, rows = rows, cols
        if not _comes_out(below.way, deck_opening(module, cols, rows)):
            return None
        smooth = below.way.floor is FloorStyle.SMOOTH
        least = decked_height(module, cols, rows, things=below.way.stack_height, smooth=smooth)
        height = max(least, lower.height)
        top = height + max(upper.height, above.tall)
        new = (
            replace(lower, height=height, decked=True, level=0, raised=0.0),
            replace(upper, level=1, raised=height, decked=False),
        )
        if top + stack_reserve(top) > grid.height or not self._passes(grid, *new):
            return None
        before_g = next(self.means.mass_g(one) for one in self.placed if _same_place(one, lower))
        lid_g = deck_g(module, cols, rows, TYPICAL_DENSITY_G_CM3)
        more_g = sum(self.means.mass_g(one) for one in new) + lid_g - before_g
        if self.load_g[grid.space] + more_g > grid.load_g:
            return None
        plastic_g = sum(self.means.mass_g(one) - one.candidate.mass_g for one in new if one.candidate) + lid_g
        return Stack(*new, cost=COST_PER_G * max(0.0, plastic_g), more_g=more_g)

    def _passes(self, grid: Grid, *parts: Placed) -> bool:
        """Whether each part, as high as it is now, prints and goes in."""
        return all(self.means.allows(grid, one.cols, one.rows, one.height) for one in parts)

    def layout(self) -> Layout:
        """The result; its bound holds as before, since no lot has a cost below nothing."""
        if not self.found:
            return self.before
        placed = tuple(sorted(self.placed, key=lambda one: (one.space, one.row, one.col, one.level)))
        left = tuple(one for one in self.before.left_out if one.lot not in self.found)
        cost = (*self.before.cost, CostPart("stacks", round(self.cost, 6)))
        return replace(self.before, placed=placed, left_out=left, cost=cost)


def _everywhere(grid: Grid) -> int:
    """All cells of a space, as if nothing were blocked: where the part stands is known already."""
    return free_cells(grid.cols, grid.rows, ())


def _same_place(one: Placed, other: Placed) -> bool:
    return (one.space, one.col, one.row) == (other.space, other.col, other.row) and not one.level


def _closes(candidate: Candidate) -> bool:
    """Whether a lid closes over it: a tray for one lot, with nothing in its rim."""
    way = candidate.way
    return way.kind is PartKind.TRAY and way.needs == PLAIN and not way.compartments and way.box is None


def _comes_out(way: Way, opening: tuple[float, float]) -> bool:
    """Whether all things, as they lie side by side, clear the ledge of a lid; a heap is picked up bit by bit."""
    if way.arrangement is Arrangement.HEAP:
        return True
    moved = way.pitch_x / 2 if way.arrangement is Arrangement.STAGGERED and way.rows > 1 and not way.short else 0.0
    across = way.pitch_x * (way.columns - 1) + moved + way.thing.width
    back = way.pitch_y * (way.rows - 1) + way.thing.depth
    return across + TRAY_CLEARANCE <= opening[0] and back + TRAY_CLEARANCE <= opening[1]


def about_stacks(layout: Layout, pitch: float) -> tuple[Finding, ...]:
    """What stands on what.

    Args:
        layout: with its stacks.
        pitch: size of a cell, mm.
    """
    upper = [one for one in layout.placed if one.level and one.candidate]
    return tuple(_about(one, next(low for low in layout.placed if _same_place(low, one)), pitch) for one in upper)


def _about(upper: Placed, lower: Placed, pitch: float) -> Finding:
    names = [one.candidate.lot if one.candidate else "" for one in (upper, lower)]
    size = f"{outer_size(lower.cols, pitch):.0f} x {outer_size(lower.rows, pitch):.0f} mm"
    text = f"Its tray stands on the lid of the one of {names[1]} ({size}): lift it off to get at what is below."
    remedy = "Say stacks = false in [choices] if that is too much trouble; then a lot more stays without a place."
    return Finding("stacked", Severity.NOTE, names[0], text, remedy)
