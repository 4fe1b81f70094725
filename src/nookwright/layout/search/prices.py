"""What a cell and a gram of every space are worth: the prices of the relaxed problem, and the bound that they prove.

Areas and loads are taken out of the rules and priced instead. Then every lot takes its cheapest choice, those that
belong together are settled exactly on a forest of bonds, and a space is used if what it sells is worth its opening. The
sum is never above the cost of any layout, whatever the prices; a subgradient method raises it (after Held, Wolfe and
Crowder 1974). Bonds that would close a ring are left out of the sum, which only lowers it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import NDArray

    from nookwright.layout.search.table import Table

    Vector = NDArray[np.float64]
    Whole = NDArray[np.int64]

ROUNDS = Fact(400, unit="rounds", kind=Kind.MEASURED, source="On invented rooms later ones gained less than 0.1 %.")
PATIENCE = Fact(
    20, unit="rounds", kind=Kind.MEASURED, source="Without a better sum before steps are halved; best of 12 to 25."
)
WORTH = Fact(1e-4, unit="1", kind=Kind.CHOICE, source="A smaller share more is no better sum.")
REACH = Fact(
    0.2, unit="1", kind=Kind.MEASURED, source="Steps aim at a sum so much above the best at first; best of 0.05 to 0.5."
)
KEEP = Fact(0.8, unit="1", kind=Kind.MEASURED, source="Share of the last direction that is kept; best of 0 to 0.9.")
BLOCK = Fact(100_000, unit="1", kind=Kind.MEASURED, source="Costs worked on at a time: best of 20000 to 2000000.")
SHORTEST = Fact(1e-4, unit="1", kind=Kind.CHOICE, source="Aims no more above the best than this move nothing.")


@dataclass(frozen=True)
class Prices:
    """Prices of every space, and the bound that they prove.

    Attributes:
        cell: of one cell, cost.
        gram: of one gram of load, cost.
        bound: proven lower bound of the cost of any complete layout.
        rounds: how many were made.
    """

    cell: Vector
    gram: Vector
    bound: float
    rounds: int


@dataclass(frozen=True)
class Forest:
    """Bonds without rings, child by child: the deepest first."""

    levels: tuple[tuple[Whole, Whole, Vector], ...]  # children, parents, bonds
    roots: Whole


class Block(NamedTuple):
    """Some lots with their candidates, few enough for a processor's cache.

    Attributes:
        lots: of the lots that take part.
        rows: of their candidates.
        own: cost of each candidate, infinite where it may not be, by candidate and space.
        starts: first candidate of each lot, counted from that of the first lot.
    """

    lots: slice
    rows: slice
    own: Vector
    starts: Whole


class Relaxation:
    """The relaxed problem at given prices."""

    def __init__(self, table: Table) -> None:
        """Get ready; lots that can be nowhere take no part."""
        self.table = table
        counts = np.diff(table.first)
        lot_of = np.repeat(np.arange(len(counts)), counts)
        able = np.zeros(len(counts), dtype=np.bool_)
        able[lot_of[table.ok.any(axis=1)]] = True
        self.lots = np.flatnonzero(able)
        self.candidates = np.flatnonzero(able[lot_of])
        self.starts = np.concatenate([[0], np.cumsum(counts[self.lots])[:-1]]).astype(np.int64)
        self.counts = counts[self.lots]
        self.area = table.area[self.candidates].astype(np.float64)
        self.mass_g = table.mass_g[self.candidates]
        self.forest = _forest(table, self.lots)
        self.blocks = tuple(self._blocks())

    def _blocks(self) -> Iterator[Block]:
        """The lots, some at a time."""
        spaces, first = max(len(self.table.cells), 1), 0
        ends = np.cumsum(self.counts)
        while first < len(self.lots):
            start = int(self.starts[first])
            last = max(first + 1, int(np.searchsorted(ends, start + BLOCK / spaces, side="right")))
            rows = slice(start, int(ends[last - 1]))
            these = self.candidates[rows]
            own = np.where(self.table.ok[these], self.table.own[these, None], np.inf)
            yield Block(slice(first, last), rows, own, self.starts[first:last] - start)
            first = last

    def priced(self, block: Block, cell: Vector, gram: Vector) -> Vector:
        """Cost of every candidate of a block in every space, with what it takes of the space, but not its reach.

        Args:
            block: which lots.
            cell: price of a cell in each space.
            gram: price of a gram.
        """
        priced: Vector = self.area[block.rows, None] * cell
        priced += block.own
        if gram.any():
            priced += self.mass_g[block.rows, None] * gram
        return priced

    def least(self, cell: Vector, gram: Vector) -> Vector:
        """The least cost of every lot in every space, with what it takes of it.

        Args:
            cell: price of a cell in each space.
            gram: price of a gram.
        """
        least = np.empty((len(self.lots), len(self.table.cells)))
        for block in self.blocks:
            mine = least[block.lots]
            np.minimum.reduceat(self.priced(block, cell, gram), block.starts, axis=0, out=mine)
            mine += self.table.there[self.lots[block.lots]]
        return least

    def choose(self, cell: Vector, gram: Vector) -> tuple[Whole, Whole]:
        """Candidate and space of every lot that costs least at these prices."""
        _, space = _settle(self.least(cell, gram), self.forest)
        return self.candidates[self._cheapest(space, cell, gram)], space

    def solve(self, cell: Vector, gram: Vector) -> tuple[float, Vector, Vector]:
        """The sum at these prices, and by how much areas and loads of the spaces are overdrawn."""
        table = self.table
        if not len(self.lots):
            nothing = np.zeros(len(table.cells))
            return 0.0, nothing, nothing
        total, space = _settle(self.least(cell, gram), self.forest)
        worth = table.opened - cell * table.cells - gram * table.load_g
        used = worth < 0
        total += float(worth[used].sum())
        taken = self._cheapest(space, cell, gram)
        area = np.bincount(space, self.area[taken], len(worth)) - used * table.cells
        mass_g = np.bincount(space, self.mass_g[taken], len(worth)) - used * table.load_g
        return total, area.astype(np.float64), mass_g

    def _cheapest(self, space: Whole, cell: Vector, gram: Vector) -> Whole:
        """The cheapest candidate of every lot in its space."""
        if not len(self.lots):
            return np.zeros(0, dtype=np.int64)
        here = np.repeat(space, self.counts)
        cost = self.table.own[self.candidates] + self.area * cell[here] + self.mass_g * gram[here]
        cost[~self.table.ok[self.candidates, here]] = np.inf
        low = np.repeat(np.minimum.reduceat(cost, self.starts), self.counts)
        hits = np.flatnonzero(cost == low)[::-1]
        taken = np.empty(len(self.lots), dtype=np.int64)
        taken[np.repeat(np.arange(len(self.lots)), self.counts)[hits]] = hits  # of several, the first is written last
        return taken


def _forest(table: Table, lots: Whole) -> Forest:
    """The dearest bonds first, as long as they close no ring."""
    index = {int(lot): k for k, lot in enumerate(lots)}
    bonds = sorted(
        (-float(table.bond[p]), index[lot], index[int(table.near[p])])
        for lot in index
        for p in range(table.near_at[lot], table.near_at[lot + 1])
        if lot < table.near[p] and int(table.near[p]) in index
    )
    root = list(range(len(lots)))
    partners: list[list[tuple[int, float]]] = [[] for _ in lots]
    for cost, one, other in bonds:
        if _top(root, one) != _top(root, other):
            root[_top(root, one)] = _top(root, other)
            partners[one].append((other, -cost))
            partners[other].append((one, -cost))
    seen, roots, levels = [False] * len(lots), [], []
    level: list[tuple[int, int, float]] = []
    for lot in range(len(lots)):
        if not seen[lot] and _top(root, lot) == lot:
            roots.append(lot)
            seen[lot] = True
    layer = roots
    while layer:
        level = [(other, lot, cost) for lot in layer for other, cost in partners[lot] if not seen[other]]
        layer = [child for child, _, _ in level]
        for child in layer:
            seen[child] = True
        if level:
            children, parents, costs = zip(*level, strict=True)
            levels.append((np.array(children), np.array(parents), np.array(costs, dtype=np.float64)))
    return Forest(tuple(reversed(levels)), np.array(roots, dtype=np.int64))


def _top(root: list[int], one: int) -> int:
    while root[one] != one:
        root[one] = root[root[one]]
        one = root[one]
    return one


def _settle(best: Vector, forest: Forest) -> tuple[float, Whole]:
    """The cheapest space of every lot, bonds counted; the sum of it. What is handed in is changed."""
    for children, parents, bonds in forest.levels:
        mine = best[children]
        np.add.at(best, parents, np.minimum(mine, mine.min(axis=1)[:, None] + bonds[:, None]))
    space = np.argmin(best, axis=1) if len(best) else np.zeros(0, dtype=np.int64)
    total = float(best[forest.roots, space[forest.roots]].sum())
    for children, parents, bonds in reversed(forest.levels):
        alone = space[children]
        stay = best[children, space[parents]] <= best[children, alone] + bonds
        space[children] = np.where(stay, space[parents], alone)
    return total, space


def raise_bound(
    relaxation: Relaxation, *, rounds: int = int(ROUNDS), stop: Callable[[], bool] = lambda: False
) -> Prices:
    """Prices that prove a high bound.

    Args:
        relaxation: of the problem.
        rounds: most rounds.
        stop: asked before each round.
    """
    climb = _Climb(relaxation)
    for _ in range(rounds):
        if stop() or not climb.round():
            break
    return Prices(climb.best_cell, climb.best_gram, climb.best, climb.made)


class _Climb:
    """Steps up the relaxed sum: along what was overdrawn lately, as far as a sum a little above the best asks."""

    def __init__(self, relaxation: Relaxation) -> None:
        table = relaxation.table
        self.relaxation = relaxation
        self.cell, self.gram = table.opened / np.maximum(table.cells, 1), np.zeros(len(table.cells))
        self.grams = float(table.load_g.max(initial=1.0)) / max(float(table.cells.max(initial=1)), 1.0)
        self.best, self.best_cell, self.best_gram = -np.inf, self.cell, self.gram
        self.reach, self.idle, self.made = float(REACH), 0, 0
        self.drift = np.zeros(2 * len(table.cells))

    def round(self) -> bool:
        """One round; says whether another is worth while."""
        total, area, mass_g = self.relaxation.solve(self.cell, self.gram)
        self.made += 1
        self.idle = 0 if total > self.best + WORTH * abs(self.best) else self.idle + 1
        if total > self.best:
            self.best, self.best_cell, self.best_gram = total, self.cell, self.gram
        over = np.concatenate([area, mass_g / self.grams])
        length = float(over @ over)
        if length <= 0 or self.reach < SHORTEST:
            return False
        if self.idle >= PATIENCE:
            self.reach, self.idle, self.drift = self.reach / 2, 0, self.drift * 0
            self.cell, self.gram = self.best_cell, self.best_gram
            return True
        self.drift = KEEP * self.drift + (1 - KEEP) * over
        target = self.best + self.reach * max(abs(self.best), float(len(self.relaxation.lots)))
        move = (target - total) / length * self.drift
        spaces = len(self.cell)
        self.cell = np.maximum(self.cell + move[:spaces], 0.0)
        self.gram = np.maximum(self.gram + move[spaces:] / self.grams, 0.0)
        return True
