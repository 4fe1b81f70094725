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

    Flags = NDArray[np.bool_]
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
MANY = Fact(2000, unit="lots", kind=Kind.CHOICE, source="Of more, prices are looked for on some of them first.")
SAMPLE = Fact(1000, unit="lots", kind=Kind.MEASURED, source="They are at least so many; fewer gave a lower bound.")
EACH = Fact(
    3.3, unit="lots", kind=Kind.MEASURED, source="And so many for each space; with one, prices came to nothing."
)
CROWD = Fact(250, unit="spaces", kind=Kind.MEASURED, source="So often as many spaces take so often as many rounds.")
SAMPLE_REACH = Fact(1.0, unit="1", kind=Kind.MEASURED, source="As ``REACH``, where lots are many; best of 0.2 to 1.5.")
LAST = Fact(0.4, unit="1", kind=Kind.MEASURED, source="Share of rounds for all of them afterwards.")
LAST_REACH = Fact(0.02, unit="1", kind=Kind.MEASURED, source="Steps then aim so much above the best at first.")
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
    tree: Whole  # of each lot, the number of the tree that it stands in


class Block(NamedTuple):
    """Some lots with equally many candidates, few enough for a processor's cache.

    Attributes:
        lots: numbers of the lots, among those that take part.
        candidates: of each lot, a row a lot, numbered through all lots.
        own: cost of each candidate, infinite where it may not be, by lot, candidate and space.
        area, mass_g: of each candidate.
        there: what a lot costs more in a space.
    """

    lots: Whole
    candidates: Whole
    own: Vector
    area: Vector
    mass_g: Vector
    there: Vector


class Relaxation:
    """The relaxed problem at given prices."""

    def __init__(self, table: Table, lots: Flags | None = None) -> None:
        """Get ready; lots that can be nowhere take no part.

        Args:
            table: the problem.
            lots: whether each lot takes part; all when left out.
        """
        self.table = table
        counts = np.diff(table.first)
        lot_of = np.repeat(np.arange(len(counts)), counts)
        able = np.zeros(len(counts), dtype=np.bool_)
        able[lot_of[table.ok.any(axis=1)]] = True
        able &= True if lots is None else lots
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
        table = self.table
        for count in np.unique(self.counts).tolist():
            alike = np.flatnonzero(self.counts == count)
            most = max(1, int(BLOCK) // (count * max(len(table.cells), 1)))
            for first in range(0, len(alike), most):
                lots = alike[first : first + most]
                these = table.first[self.lots[lots], None] + np.arange(count)
                own = np.where(table.ok[these], table.own[these, None], np.inf)
                area = table.area[these].astype(np.float64)
                yield Block(lots, these, own, area, table.mass_g[these], table.there[self.lots[lots]])

    def priced(self, block: Block, cell: Vector, gram: Vector) -> Vector:
        """Cost of every candidate of a block in every space, with what it takes of the space, but not its reach.

        Args:
            block: which lots.
            cell: price of a cell in each space.
            gram: price of a gram.
        """
        priced: Vector = block.area[:, :, None] * cell
        priced += block.own
        if gram.any():
            priced += block.mass_g[:, :, None] * gram
        return priced

    def least(self, cell: Vector, gram: Vector) -> Vector:
        """The least cost of every lot in every space, with what it takes of it.

        Args:
            cell: price of a cell in each space.
            gram: price of a gram.
        """
        least = np.empty((len(self.lots), len(self.table.cells)))
        for block in self.blocks:
            least[block.lots] = self.priced(block, cell, gram).min(axis=1) + block.there
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
    tree = np.unique([_top(root, lot) for lot in range(len(lots))], return_inverse=True)[1]
    return Forest(tuple(reversed(levels)), np.array(roots, dtype=np.int64), tree)


def _top(root: list[int], one: int) -> int:
    while root[one] != one:
        root[one] = root[root[one]]
        one = root[one]
    return one


def _settle(best: Vector, forest: Forest) -> tuple[float, Whole]:
    """The cheapest space of every lot, bonds counted; the sum of it. What is handed in is changed."""
    for children, parents, bonds in forest.levels:
        mine = best[children]
        mine = np.minimum(mine, mine.min(axis=1)[:, None] + bonds[:, None])
        for parent, more in zip(parents.tolist(), mine, strict=True):
            best[parent] += more
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
    climb, made = _Climb(relaxation), 0
    if len(relaxation.lots) > MANY:
        some = _Climb(_sample(relaxation), reach=SAMPLE_REACH)
        some.rise(int(rounds * max(1.0, len(relaxation.table.cells) / CROWD)), stop)
        climb, made = _Climb(relaxation, begin=some, reach=LAST_REACH), some.made
        rounds = int(LAST * rounds)
    climb.rise(max(rounds, 1), stop)
    return Prices(climb.best_cell, climb.best_gram, climb.best, climb.made + made)


def _sample(relaxation: Relaxation) -> Relaxation:
    """Some of the lots, with their partners, in spaces that are as much smaller: prices are about the same."""
    table, lots = relaxation.table, relaxation.lots
    every = max(1, round(len(lots) / max(SAMPLE, EACH * len(table.cells))))
    kept = np.zeros(len(table.first) - 1, dtype=np.bool_)
    kept[lots[relaxation.forest.tree % every == 0]] = True
    share = np.count_nonzero(kept) / len(lots)
    cells = np.ceil(table.cells * share).astype(np.int64)
    return Relaxation(table._replace(cells=cells, load_g=table.load_g * share, opened=table.opened * share), kept)


class _Climb:
    """Steps up the relaxed sum: along what was overdrawn lately, as far as a sum a little above the best asks."""

    best_cell: Vector
    best_gram: Vector

    def __init__(self, relaxation: Relaxation, *, begin: _Climb | None = None, reach: float = REACH) -> None:
        table = relaxation.table
        self.relaxation = relaxation
        self.cell: Vector = begin.best_cell if begin else table.opened / np.maximum(table.cells, 1)
        self.gram: Vector = begin.best_gram if begin else np.zeros(len(table.cells))
        self.grams = float(table.load_g.max(initial=1.0)) / max(float(table.cells.max(initial=1)), 1.0)
        self.best, self.best_cell, self.best_gram = -np.inf, self.cell, self.gram
        self.reach, self.idle, self.made = float(reach), 0, 0
        self.drift = np.zeros(2 * len(table.cells))

    def rise(self, rounds: int, stop: Callable[[], bool]) -> None:
        """So many rounds, the first of them in any case.

        Args:
            rounds: most rounds.
            stop: asked before each further round.
        """
        for number in range(rounds):
            if (number and stop()) or not self.round():
                return

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
