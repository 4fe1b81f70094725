"""A first layout at once, without kernels: one lot after the other, the large ones first, where it costs least."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.layout.draft import Draft

if TYPE_CHECKING:
    from random import Random

    from numpy.typing import NDArray

    from nookwright.layout.problem import Choice, Problem

    Flags = NDArray[np.bool_]
    Footprint = tuple[int, int, bool]


def first_draft(problem: Problem, random: Random) -> Draft:
    """A packed layout; lots may be left out that a better one would place.

    Args:
        problem: what can go where.
        random: for what the draft may do later; nothing is drawn now.
    """
    greedy = _Greedy(problem, random)
    for number in sorted(range(len(problem.asks)), key=lambda one: _turn(problem, one)):
        if problem.can[number]:
            greedy.place(number)
    return greedy.draft


def _turn(problem: Problem, number: int) -> tuple[int, float, int]:
    """The large ones first, of these the often used ones."""
    return -problem.least_area[number], -problem.asks[number].use, number


class _Greedy:
    """A draft, and what is known of its spaces, as arrays."""

    def __init__(self, problem: Problem, random: Random) -> None:
        self.problem, self.draft = problem, Draft(problem, random)
        self.opens = np.array([grid.open_cost for grid in problem.grids])
        self.cells = np.array(problem.cells, dtype=np.int64)
        self.load_g = np.array([grid.load_g for grid in problem.grids])
        self.full: dict[Footprint, Flags] = {}  # nothing is ever taken out, so a space stays full for a footprint

    def place(self, number: int) -> None:
        """Put a lot where it costs least now."""
        costs = self._costs(number)
        order = np.argsort(costs.T, axis=None, kind="stable")[: int(np.isfinite(costs).sum())]
        for place, own in zip(*np.divmod(order, len(costs)), strict=True):
            if self._add(self.problem.choice(number, int(own), int(place))):
                return

    def _add(self, choice: Choice) -> bool:
        """Make a choice; where its footprint finds no place, remember that."""
        one, place, draft = choice.candidate, choice.grid, self.draft
        full = self._full((one.cols, one.rows, one.may_turn))
        if full[place]:
            return False
        if not draft.add(choice):
            full[place] = draft.carries(choice)
            return False
        self.opens[place] = 0.0
        self.cells[place] -= choice.area
        self.load_g[place] = self.problem.grids[place].load_g - draft.mass_g[place]
        return True

    def _full(self, footprint: Footprint) -> Flags:
        return self.full.setdefault(footprint, np.zeros(len(self.problem.grids), dtype=np.bool_))

    def _costs(self, number: int) -> NDArray[np.float64]:
        """What each candidate of a lot costs now in each space; infinite where it has no room."""
        problem, possible = self.problem, self.problem.possible
        mine = possible.rows(number)
        costs: NDArray[np.float64] = problem.priced(number) + self.opens + self._parted(number)
        costs[possible.area[mine, None] > self.cells] = np.inf
        costs[possible.mass_g[mine, None] > self.load_g] = np.inf
        for own, one in enumerate(problem.asks[number].candidates):
            costs[own, self._full((one.cols, one.rows, one.may_turn))] = np.inf
        return costs

    def _parted(self, number: int) -> NDArray[np.float64]:
        """What it costs in each space that lots which it belongs to are elsewhere."""
        parted = np.zeros(len(self.problem.grids))
        for other, cost in self.draft.near[number]:
            there = self.draft.chosen[other]
            if there is not None:
                parted += cost
                parted[there.grid] -= cost
        return parted
