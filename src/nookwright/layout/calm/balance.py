"""Which lot goes to which space so that rows have air: an assignment that is fined where a space gets fuller than that.

The tightest layout fills handy spaces to the last cell, and rows seldom manage that. Here the same costs are weighed
(footprint, reach, belonging together, spaces in use) with a fine on every cell beyond what rows fill easily. By areas
only; whether rows really fit, the search for rows says.
"""

from __future__ import annotations

import math
from random import Random
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.layout.problem import Problem

AIR = Fact(
    0.8, unit="1", kind=Kind.COMMON_PRACTICE, source="People live in drawers that are 60 to 85 % full; rows want air."
)
FULL = Fact(0.97, unit="1", kind=Kind.CHOICE, source="Rows that fill more than this were never found.")
AIRLESS = Fact(
    0.3, unit="cost/cell", kind=Kind.CHOICE, source="A cell beyond the air: somewhat more than a cell grown."
)
OVERFULL = Fact(3.0, unit="cost/cell", kind=Kind.CHOICE, source="A cell beyond full: ten times that.")
STEPS = Fact(400, unit="moves/lot", kind=Kind.CHOICE, source="A tenth of a second for fifty lots.")
MOST_STEPS = Fact(60_000, unit="moves", kind=Kind.CHOICE, source="Large rooms: half a second.")
HOT = Fact(10.0, unit="cost", kind=Kind.CHOICE, source="Temperature at the start: a third of two lots parted.")
COLD = Fact(0.3, unit="cost", kind=Kind.CHOICE, source="Temperature at the end: a cell.")


def balanced(problem: Problem, homes: Mapping[str, tuple[str, ...]], *, seed: int) -> dict[str, tuple[str, ...]]:
    """Homes with air, by annealing from other homes.

    Args:
        problem: what can go where.
        homes: by id of a space, the lots in it; lots that are in none stay out.
        seed: of what is drawn.
    """
    walk = _Walk(problem, homes)
    random = Random(seed)  # noqa: S311 - nothing secret
    best, least, cost = list(walk.at), 0.0, 0.0
    moves = min(int(STEPS) * len(walk.movable), int(MOST_STEPS))
    for number in range(moves):
        heat = HOT * (COLD / HOT) ** (number / moves)
        changes = walk.draw(random)
        change = walk.change(changes)
        if change <= -heat * math.log(1 - random.random()):
            cost += change
            if cost < least - float(COLD) / moves:
                best, least = list(walk.at), cost
        else:
            walk.change(walk.undo)
    return {
        grid.space: tuple(ask.lot for ask, place in zip(problem.asks, best, strict=True) if place == number)
        for number, grid in enumerate(problem.grids)
    }


class _Walk:
    """An assignment by areas, changed in place."""

    def __init__(self, problem: Problem, homes: Mapping[str, tuple[str, ...]]) -> None:
        self.problem = problem
        places = {lot: space for space, lots in homes.items() for lot in lots}
        names = {grid.space: number for number, grid in enumerate(problem.grids)}
        self.at = [names[places[ask.lot]] if ask.lot in places else -1 for ask in problem.asks]
        self.cost, self.area, self.mass_g = self._tables()
        self.near: list[list[tuple[int, float]]] = [[] for _ in problem.asks]
        for one, other, price in problem.pairs:
            self.near[one].append((other, price))
            self.near[other].append((one, price))
        self.taken = [0.0] * len(problem.grids)
        self.load_g = [0.0] * len(problem.grids)
        self.count = [0] * len(problem.grids)
        for lot, place in enumerate(self.at):
            if place >= 0:
                self._put(lot, place, 1)
        self.movable = [lot for lot, place in enumerate(self.at) if place >= 0 and len(self.cost[lot]) > 1]
        self.undo: dict[int, int] = {}

    def _tables(self) -> tuple[list[dict[int, float]], list[dict[int, float]], list[dict[int, float]]]:
        """For each lot and space: the least cost, a middling area, the least mass."""
        costs, areas, masses = [], [], []
        for choices in self.problem.choices:
            here: dict[int, list[tuple[float, int, float]]] = {}
            for choice in choices:
                here.setdefault(choice.grid, []).append((choice.cost, choice.area, choice.mass_g))
            costs.append({place: min(found)[0] for place, found in here.items()})
            areas.append({place: (min(f)[1] + min(a for _, a, _ in f)) / 2 for place, f in here.items()})
            masses.append({place: min(g for _, _, g in found) for place, found in here.items()})
        return costs, areas, masses

    def _put(self, lot: int, place: int, sign: int) -> None:
        self.taken[place] += sign * self.area[lot][place]
        self.load_g[place] += sign * self.mass_g[lot][place]
        self.count[place] += sign

    def draw(self, random: Random) -> dict[int, int]:
        """Some lot to some space, or two that change places."""
        one = random.choice(self.movable)
        if random.random() < 1 / 2:
            return {one: random.choice(sorted(self.cost[one]))}
        other = random.choice(self.movable)
        if self.at[other] in self.cost[one] and self.at[one] in self.cost[other]:
            return {one: self.at[other], other: self.at[one]}
        return {one: random.choice(sorted(self.cost[one]))}

    def change(self, changes: Mapping[int, int]) -> float:
        """Make the changes; how much dearer it got."""
        self.undo = {lot: self.at[lot] for lot in changes}
        touched = {*changes.values(), *self.undo.values()}
        before = self._local(changes) + self._fines(touched)
        for lot, place in changes.items():
            self._put(lot, self.at[lot], -1)
            self._put(lot, place, 1)
            self.at[lot] = place
        return self._local(changes) + self._fines(touched) - before

    def _local(self, changes: Mapping[int, int]) -> float:
        """What the changed lots cost where they are: their place, and those they belong to elsewhere."""
        total = 0.0
        for lot in changes:
            total += self.cost[lot][self.at[lot]]
            for other, price in self.near[lot]:
                if other not in changes or other > lot:
                    total += price * (self.at[other] >= 0 and self.at[other] != self.at[lot])
        return total

    def _fines(self, places: set[int]) -> float:
        """What is fined in some spaces: cells beyond the air and beyond full, grams beyond the load, being in use."""
        total = 0.0
        for place in sorted(places):
            grid, cells, taken = self.problem.grids[place], self.problem.cells[place], self.taken[place]
            total += AIRLESS * max(0.0, taken - AIR * cells) + OVERFULL * max(0.0, taken - FULL * cells)
            total += max(0.0, self.load_g[place] - grid.load_g) + grid.open_cost * (self.count[place] > 0)
        return total
