"""The layout problem made ready for solving: what can go where, at what cost, and what goes together.

A choice is one candidate of one lot in one space. Choices that can never be are dropped here, and so are
candidates that another one of the same lot beats in everything. What it does not know: where in a space
anything lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, places, shifts_for, stride

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

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


@dataclass(frozen=True)
class Problem:
    """All that the solver needs.

    Attributes:
        grids: the spaces.
        asks: the lots.
        free: the free cells of each space, as a mask.
        cells: how many they are.
        choices: for each lot, all that can be; empty where nothing can.
        pairs: lots that wish to be in one space, sorted.
    """

    grids: tuple[Grid, ...]
    asks: tuple[Ask, ...]
    free: tuple[int, ...]
    cells: tuple[int, ...]
    choices: tuple[tuple[Choice, ...], ...]
    pairs: tuple[Pair, ...]


def problem_of(grids: Sequence[Grid], asks: Sequence[Ask]) -> Problem:
    """Make the problem ready: impossible and dominated choices dropped."""
    grids, asks = tuple(grids), tuple(asks)
    free = tuple(free_cells(grid.cols, grid.rows, grid.blocked) for grid in grids)
    numbers = {ask.lot: number for number, ask in enumerate(asks)}
    leaning = [dict(ask.leaning) for ask in asks]
    choices = tuple(
        tuple(
            Choice(
                ask=number,
                grid=place,
                candidate=candidate,
                area=candidate.cols * candidate.rows,
                mass_g=candidate.mass_g,
                cost=candidate.cost + ask.use * grid.reach + leaning[number].get(grid.space, 0.0),
            )
            for place, grid in enumerate(grids)
            for candidate in undominated([one for one in ask.candidates if allowed(ask, one, grid, free[place])])
        )
        for number, ask in enumerate(asks)
    )
    return Problem(grids, asks, free, tuple(mask.bit_count() for mask in free), choices, _pairs(asks, numbers))


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


def allowed(ask: Ask, candidate: Candidate, grid: Grid, free: int) -> bool:
    """Whether the candidate could be alone in the space."""
    return (
        grid.fill
        and (not ask.spaces or grid.space in ask.spaces)
        and not (ask.out_of_reach and grid.children)
        and not (ask.cool and grid.warm)
        and not (ask.dry and grid.wet)
        and passes(candidate, grid)
        and candidate.tall <= grid.height
        and candidate.mass_g <= grid.load_g
        and held(candidate, grid)
        and fits(candidate, grid, free)
    )


def held(candidate: Candidate, grid: Grid) -> bool:
    """Whether it is no smaller than what the cones of the space hold in every place."""
    mine = sorted((candidate.cols, candidate.rows))
    return mine[0] >= grid.smallest[0] and mine[1] >= grid.smallest[1]


def passes(candidate: Candidate, grid: Grid) -> bool:
    """Whether the part, level or on a side, passes the opening of the space: by its two shorter sides."""
    if grid.opening is None:
        return True
    short, middle, _ = sorted((*candidate.size, candidate.height))
    narrow, wide = sorted(grid.opening)
    return short <= narrow and middle <= wide


def fits(candidate: Candidate, grid: Grid, free: int) -> bool:
    """Whether its footprint finds a free place, turned or not."""
    step = stride(grid.cols)
    return any(
        cols <= grid.cols and rows <= grid.rows and places(free, shifts_for(cols, rows, step))
        for cols, rows in lyings(candidate)
    )


def lyings(candidate: Candidate) -> set[tuple[int, int]]:
    """Its footprint, and turned if it may be."""
    upright, turned = (candidate.cols, candidate.rows), (candidate.rows, candidate.cols)
    return {upright, turned} if candidate.may_turn else {upright}


def undominated(candidates: Sequence[Candidate]) -> list[Candidate]:
    """Those that no other beats or equals in side lengths, mass and cost; all fit in height."""
    kept: list[Candidate] = []
    for candidate in sorted(candidates, key=lambda one: (one.cost, one.cols * one.rows, one.mass_g, one.cols)):
        if not any(_no_worse(other, candidate) for other in kept):
            kept.append(candidate)
    return kept


def _no_worse(one: Candidate, other: Candidate) -> bool:
    """Whether ``one`` is no dearer, no heavier and lies wherever ``other`` lies, turned or not."""
    return (
        one.cost <= other.cost
        and one.mass_g <= other.mass_g
        and all(any(cols <= width and rows <= depth for cols, rows in lyings(one)) for width, depth in lyings(other))
    )


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
