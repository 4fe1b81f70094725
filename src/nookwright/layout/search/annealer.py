"""One annealing of a whole room: from prices to an assignment, from that to packed spaces, and on from there.

Importing this module loads numba. How far a stage has come is handed in as shares from 0 to 1: evenly
spaced they make a run that can be repeated, taken from a clock they make one that ends in time.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.effort import FACTOR
from nookwright.layout.packing import pack_free
from nookwright.layout.search.favourites import favourites_of, wishful
from nookwright.layout.search.loose import anneal_loose
from nookwright.layout.search.state import TALLY, cost_of, desk_of, empty_state, kept_of, restore
from nookwright.layout.search.tight import anneal_tight

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import NDArray

    from nookwright.layout.effort import Effort
    from nookwright.layout.problem import Choice, Problem
    from nookwright.layout.search.prices import Prices, Relaxation
    from nookwright.layout.search.state import Kept

LOOSE_HOT = Fact(1.0, unit="cost", kind=Kind.MEASURED, source="From prices on; best of 0.6 to 30 on invented rooms.")
LOOSE_COLD = Fact(0.3, unit="cost", kind=Kind.MEASURED, source="Best of 0.2 to 1 on the same rooms.")
MILD = Fact(0.6, unit="1", kind=Kind.MEASURED, source="Fine at first, of the price of a cell: best of 0.4 to 2.")
STERN = Fact(6.0, unit="1", kind=Kind.MEASURED, source="Fine at last: hardly anything is over then; best of 4 to 8.")
TIGHT_HOT = Fact(1.0, unit="cost", kind=Kind.MEASURED, source="On packed spaces; best of 1 to 8 on invented rooms.")
TIGHT_COLD = Fact(0.3, unit="cost", kind=Kind.MEASURED, source="Best of 0.15 to 1 on the same rooms.")
LEAST_FINE = Fact(0.1, unit="cost", kind=Kind.CHOICE, source="For a cell too many where cells are worth nothing.")
REPAIR = Fact(5.0, unit="1", kind=Kind.CHOICE, source="So much hotter is a round that begins with lots left out.")
NOISE = Fact(1e-6, unit="1", kind=Kind.CALCULATED, source="Sums of costs are no more exact than this.")


class Annealer:
    """A search with one seed; ``kept`` is the best packed layout so far."""

    kept: Kept

    def __init__(self, problem: Problem, relaxation: Relaxation, prices: Prices, *, effort: Effort, seed: int) -> None:
        """Get ready.

        Args:
            problem: what can go where.
            relaxation: of it.
            prices: of its spaces.
            effort: how hard to try.
            seed: of every random choice.
        """
        self.problem, self.relaxation, self.prices = problem, relaxation, prices
        self.effort = effort.for_lots(len(problem.asks))
        self.table = relaxation.table
        self.random = Random(seed)  # noqa: S311 - nothing secret
        self.state = empty_state(self.table, seed=seed)
        self.desk = desk_of(self.table, self.state)
        self.favourites = favourites_of(relaxation, prices)
        table = self.table
        worth = np.maximum(prices.cell, table.opened / np.maximum(table.cells, 1))
        self.cell_fine = np.maximum(worth, LEAST_FINE)
        self.gram_fine = np.maximum(prices.gram, self.cell_fine * table.cells / np.maximum(table.load_g, 1.0))
        self.kept = kept_of(self.state)
        self._airy = effort.factor < FACTOR

    def assign(self, shares: Iterable[float], *, moves: int) -> Iterator[None]:
        """Choose spaces and footprints by area and mass alone; comes up after each part.

        Args:
            shares: how far it has come, before each of its parts.
            moves: in each part.
        """
        state = self.state
        state.room[:] = np.floor(self.effort.factor * self.table.cells).astype(np.int64)
        restore(self.table, state, wishful(self.relaxation, self.prices, state))
        for share in shares:
            heat, fine = _between(LOOSE_HOT, LOOSE_COLD, share), _between(MILD, STERN, share)
            anneal_loose(
                self.table, state, self.desk, *self.favourites, self.relaxation.lots, heat, fine * self.cell_fine,
                fine * self.gram_fine, moves,
            )  # fmt: skip
            yield

    def take(self, choices: Iterable[Choice | None]) -> None:
        """Begin with an assignment that somebody else has made.

        Args:
            choices: one for each lot.
        """
        asks, begun = self.problem.asks, kept_of(self.state)
        begun.at[:] = begun.chosen[:] = begun.space[:] = -1
        for lot, choice in enumerate(choices):
            if choice is not None:
                own = next(k for k, one in enumerate(asks[lot].candidates) if one is choice.candidate)
                begun.chosen[lot], begun.space[lot] = self.table.first[lot] + own, choice.grid
        self.state.room[:] = np.floor(self.effort.factor * self.table.cells).astype(np.int64)
        restore(self.table, self.state, begun)

    def pack(self) -> None:
        """Pack every space; what finds no place in its space, or is too much to carry, is left out.

        The best of several assignments that are packed is kept.
        """
        table, state = self.table, self.state
        packed = kept_of(state)
        packed.at[:] = -1
        for place in range(len(table.cells)):
            lots = self._carried(place)
            ones = [int(state.chosen[lot]) for lot in lots]
            packing = pack_free(
                self.problem.free[place],
                self.problem.grids[place].cols + 1,
                [(int(table.wide[one]), int(table.deep[one])) for one in ones],
                tries=self.effort.tries,
                random=self.random,
                turn=[bool(table.turns[one]) for one in ones],
            )
            state.tally[TALLY.tries] += packing.tries
            for lot, spot in zip(lots, packing.spots, strict=True):
                if spot is not None:
                    row, col = (spot.col, spot.row) if table.swapped[place] else (spot.row, spot.col)
                    packed.at[lot], packed.turned[lot] = row * 64 + col, int(spot.turned)
        nowhere = packed.at < 0
        packed.chosen[nowhere], packed.space[nowhere] = -1, -1
        restore(table, state, packed)
        cost = cost_of(table, state)
        if cost < self.kept.cost[0]:
            self.kept = kept_of(state, cost)

    def _rooms(self) -> NDArray[np.int64]:
        """Cells that spaces may be filled with once they are packed: all, unless air was asked for."""
        share = self.effort.factor if self._airy else 1.0
        rooms: NDArray[np.int64] = np.floor(share * self.table.cells).astype(np.int64)
        return rooms

    def again(self, rounds: int) -> Iterator[float]:
        """Further rounds while something is left out, hotter ones; first of all no more air is kept.

        Args:
            rounds: how many at most.
        """
        for _ in range(rounds):
            if self.complete:
                return
            self._airy = False
            yield float(REPAIR)

    def _carried(self, place: int) -> list[int]:
        """The lots of a space; the heaviest that it cannot carry left out, the smallest where air is kept."""
        state, table = self.state, self.table
        lots = [int(lot) for lot in state.order[place, : state.many[place]]]
        mass_g = sum(float(table.mass_g[state.chosen[lot]]) for lot in lots)
        while mass_g > table.load_g[place] + NOISE:
            lots.sort(key=lambda lot: float(table.mass_g[state.chosen[lot]]))
            mass_g -= float(table.mass_g[state.chosen[lots.pop()]])
        lots.sort(key=lambda lot: int(table.area[state.chosen[lot]]))
        while self._airy and sum(int(table.area[state.chosen[lot]]) for lot in lots) > state.room[place]:
            lots.pop(0)
        return lots

    def improve(self, shares: Iterable[float], *, steps: int, hotter: float = 1.0) -> Iterator[bool]:
        """Anneal on packed spaces; says after each part whether the best became better. Ends where nothing can be.

        Args:
            shares: how far it has come, before each of its parts.
            steps: in each part.
            hotter: than usual.
        """
        self.state.room[:] = self._rooms()
        restore(self.table, self.state, self.kept)
        for share in shares:
            if self.perfect:
                return
            before = float(self.kept.cost[0])
            heat = _between(hotter * TIGHT_HOT, TIGHT_COLD, share)
            anneal_tight(
                self.table, self.state, self.desk, self.kept, *self.favourites, self.relaxation.lots,
                cost_of(self.table, self.state), heat, self.effort.glimpse, self.effort.patience, steps,
            )  # fmt: skip
            yield float(self.kept.cost[0]) < before

    @property
    def perfect(self) -> bool:
        """Whether no layout can be cheaper."""
        return float(self.kept.cost[0]) <= self.prices.bound + NOISE * abs(self.prices.bound)

    @property
    def complete(self) -> bool:
        """Whether nothing is left out that could be somewhere."""
        return bool((self.kept.chosen[self.relaxation.lots] >= 0).all())

    @property
    def iterations(self) -> int:
        """Moves drawn and packings made."""
        return int(self.state.tally[TALLY.moves] + self.state.tally[TALLY.tries])


def _between(first: float, last: float, share: float) -> float:
    """From the first to the last in equal ratios."""
    return float(first * (last / first) ** share)
