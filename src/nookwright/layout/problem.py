"""The layout problem made ready for solving: what can go where, at what cost, and what goes together.

A choice is one candidate of one lot in one space. Which of them can be stands in arrays (``possible``); the choices of
a lot are made when somebody asks for them, so that rooms of a thousand spaces fit into memory. What it does not know:
where in a space anything lies.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, TypeAlias, overload

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells
from nookwright.layout.possible import Possible, by_worth, possible_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from nookwright.layout.model import Ask, Candidate, Grid

SPLIT = Fact(
    30,
    unit="cost",
    kind=Kind.CHOICE,
    source="Two lots that belong together, in two spaces: worth three handy spaces.",
)
LEFT_OUT = Fact(
    1000,
    unit="cost",
    kind=Kind.CHOICE,
    source="While searching only: dearer than any place, so that a lot stays out only if it must.",
)


@dataclass(frozen=True)
class Choice:
    """One candidate of one lot in one space.

    Attributes:
        ask: number of the lot.
        grid: number of the space.
        candidate: what it would be.
        area: cells that it takes.
        mass_g: what it weighs.
        cost: footprint and reach.
    """

    ask: int
    grid: int
    candidate: Candidate
    area: int
    mass_g: float
    cost: float


Chosen: TypeAlias = "list[Choice | None]"  # one for each lot; None for one that is left out


class Pair(NamedTuple):
    """Numbers of two lots that wish to be in one space, the lower first, and what it costs if they are not."""

    one: int
    other: int
    cost: float


@dataclass(frozen=True, eq=False)
class Problem:
    """All that the solver needs.

    Attributes:
        grids: the spaces.
        asks: the lots.
        free: the free cells of each space, as a mask.
        cells: how many they are.
        possible: what may be where.
        pairs: lots that wish to be in one space, sorted.
    """

    grids: tuple[Grid, ...]
    asks: tuple[Ask, ...]
    free: tuple[int, ...]
    cells: tuple[int, ...]
    possible: Possible
    pairs: tuple[Pair, ...]

    @cached_property
    def choices(self) -> Choices:
        """For each lot, all that can be, space by space; empty where nothing can."""
        return Choices(self)

    @cached_property
    def columns(self) -> int:
        """How many choices there are in all."""
        return int(np.count_nonzero(self.possible.ok))

    @cached_property
    def can(self) -> tuple[bool, ...]:
        """Whether each lot can be anywhere."""
        return tuple(bool(area) for area in self.least_area)

    @cached_property
    def least_area(self) -> tuple[int, ...]:
        """The fewest cells that each lot may take; 0 where it can be nowhere."""
        possible, somewhere = self.possible, np.asarray(self.possible.ok.any(axis=1))
        rows = (possible.rows(lot) for lot in range(len(self.asks)))
        return tuple(int(min(possible.area[mine][somewhere[mine]], default=0)) for mine in rows)

    @cached_property
    def least_cost(self) -> tuple[float, ...]:
        """The least cost of each lot where it may be; infinite where it can be nowhere."""
        return tuple(float(self.priced(lot).min(initial=np.inf)) for lot in range(len(self.asks)))

    def priced(self, lot: int) -> NDArray[np.float64]:
        """Cost of each candidate of a lot in each space; infinite where it may not be.

        Args:
            lot: its number.
        """
        mine = self.possible.rows(lot)
        costs = self.possible.own[mine, None] + self.possible.there[lot]
        return np.where(self.possible.ok[mine], costs, np.inf)

    def choice(self, lot: int, own: int, place: int) -> Choice:
        """One candidate of a lot in a space.

        Args:
            lot: its number.
            own: which of its candidates.
            place: number of the space.
        """
        candidate = self.asks[lot].candidates[own]
        cost = candidate.cost + float(self.possible.there[lot, place])
        return Choice(lot, place, candidate, candidate.cols * candidate.rows, candidate.mass_g, cost)

    def only(self, lots: Sequence[bool]) -> Problem:
        """The same with all other lots nowhere.

        Args:
            lots: whether each lot may still be where it might.
        """
        return replace(self, possible=self.possible.only(lots))


@dataclass(frozen=True)
class Choices(Sequence[tuple[Choice, ...]]):
    """The choices of every lot, each lot's made when first asked for.

    Attributes:
        problem: of which they are.
    """

    problem: Problem
    _made: dict[int, tuple[Choice, ...]] = field(default_factory=dict)

    def __len__(self) -> int:
        """How many lots there are."""
        return len(self.problem.asks)

    @overload
    def __getitem__(self, lot: int) -> tuple[Choice, ...]: ...

    @overload
    def __getitem__(self, lot: slice) -> list[tuple[Choice, ...]]: ...

    def __getitem__(self, lot: int | slice) -> tuple[Choice, ...] | list[tuple[Choice, ...]]:
        """The choices of a lot, or of several."""
        if isinstance(lot, slice):
            return [self[number] for number in range(*lot.indices(len(self)))]
        number = range(len(self))[lot]
        if number not in self._made:
            self._made[number] = self._of(number)
        return self._made[number]

    def _of(self, lot: int) -> tuple[Choice, ...]:
        """Space by space, the cheapest first."""
        problem = self.problem
        order = by_worth(problem.asks[lot].candidates)
        may = problem.possible.ok[problem.possible.rows(lot)][order]
        return tuple(problem.choice(lot, order[turn], place) for place, turn in np.argwhere(may.T).tolist())


def problem_of(grids: Sequence[Grid], asks: Sequence[Ask]) -> Problem:
    """Make the problem ready: impossible and dominated choices dropped."""
    grids, asks = tuple(grids), tuple(asks)
    free = tuple(free_cells(grid.cols, grid.rows, grid.blocked) for grid in grids)
    numbers = {ask.lot: number for number, ask in enumerate(asks)}
    cells = tuple(mask.bit_count() for mask in free)
    return Problem(grids, asks, free, cells, possible_of(grids, asks, free), _pairs(asks, numbers))


def _pairs(asks: Sequence[Ask], numbers: Mapping[str, int]) -> tuple[Pair, ...]:
    """Each two lots once, at the higher of the two costs that they name."""
    costs: dict[tuple[int, int], float] = {}
    for number, ask in enumerate(asks):
        for name, cost in ask.bonds:
            other = numbers.get(name, number)
            key = (min(number, other), max(number, other))
            if other != number:
                costs[key] = max(cost, costs.get(key, 0.0))
    return tuple(Pair(one, other, cost) for (one, other), cost in sorted(costs.items()))


def cost_parts(problem: Problem, chosen: Sequence[Choice | None]) -> dict[str, float]:
    """The cost of an assignment by parts: footprint, reach, split, open. Lots left out count in none."""
    placed = [choice for choice in chosen if choice is not None]
    split = 0.0
    for one, other, cost in problem.pairs:
        first, second = chosen[one], chosen[other]
        split += cost * (first is not None and second is not None and first.grid != second.grid)
    return {
        "footprint": sum(choice.candidate.cost for choice in placed),
        "reach": sum(choice.cost - choice.candidate.cost for choice in placed),
        "split": split,
        "open": sum(problem.grids[place].open_cost for place in {choice.grid for choice in placed}),
    }
