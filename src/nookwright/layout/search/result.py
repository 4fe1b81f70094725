"""A draft as the layout that later stages take."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.errors import LayoutError
from nookwright.layout.effort import NOISE
from nookwright.layout.model import CostPart, Layout, Placed
from nookwright.layout.problem import cost_parts

if TYPE_CHECKING:
    from nookwright.layout.draft import Draft
    from nookwright.layout.model import LeftOut, SpacePrice


def layout_of(
    draft: Draft,
    *,
    left_out: tuple[LeftOut, ...],
    bound: float,
    proven: bool,
    seed: int,
    iterations: int,
    by_clock: bool = False,
    stopped: bool = False,
    nodes: int = 0,
    prices: tuple[SpacePrice, ...] = (),
) -> Layout:
    """The layout of a draft.

    Args:
        draft: what is where.
        left_out: the lots that are nowhere, with reasons.
        bound: proven for the lots that are placed; less than what one open space costs counts for nothing.
        proven: whether the bound was proven to its gap.
        seed: of the search.
        iterations: moves and packings.
        by_clock: whether the clock stopped it.
        stopped: whether somebody stopped it.
        nodes: of the bound's search tree.
        prices: of the spaces.

    Raises:
        LayoutError: the bound lies above the cost, so one of the two is wrong.
    """
    parts = cost_parts(draft.problem, draft.chosen)
    cost = sum(parts.values())
    anything = any(draft.chosen)
    proved = honest(max(bound, least_cost(draft)), cost) if anything else 0.0
    return Layout(
        placed=_placed(draft),
        left_out=left_out,
        cost=tuple(CostPart(name, value) for name, value in parts.items()),
        bound=proved,
        gap=(cost - proved) / proved if proved else 0.0,
        proven=proven,
        by_clock=by_clock,
        seed=seed,
        iterations=iterations,
        prices=prices,
        stopped=stopped,
        bound_nodes=nodes,
    )


def least_cost(draft: Draft) -> float:
    """What the lots that are placed cost at least: each its cheapest choice, and the cheapest space."""
    problem = draft.problem
    least = sum(cost for cost, chosen in zip(problem.least_cost, draft.chosen, strict=True) if chosen is not None)
    return least + min((grid.open_cost for grid in problem.grids if grid.fill), default=0.0)


def honest(bound: float, cost: float) -> float:
    """A bound, rounded down to the cost where it lies above it by no more than the solver's noise.

    Raises:
        LayoutError: it lies above by more, so one of the two is wrong.
    """
    if bound > cost + NOISE * max(1.0, cost):
        raise LayoutError(f"the proven bound {bound:g} lies above the cost {cost:g} of a layout that was found")
    return min(bound, cost)


def _placed(draft: Draft) -> tuple[Placed, ...]:
    """What is placed, by space, row and column."""
    placed = []
    for choice, spot in zip(draft.chosen, draft.spots, strict=True):
        if choice is None or spot is None:
            continue
        one = choice.candidate
        cols, rows = (one.rows, one.cols) if spot.turned else (one.cols, one.rows)
        space = draft.problem.grids[choice.grid].space
        placed.append(Placed(space, spot.col, spot.row, cols, rows, spot.turned, one, one.height))
    return tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))
