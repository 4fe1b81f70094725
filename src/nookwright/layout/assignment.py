"""Which lot goes into which space as what: a mixed-integer programme, solved by HiGHS.

Geometry enters as areas only, divided by a factor: at 0.97 nearly every space that comes out can really be
packed; at 1.0 the programme is a relaxation of the layout, and its dual bound is a bound of the layout's
cost.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from nookwright.layout.problem import LEFT_OUT
from nookwright.layout.programme import Programme, solve

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.problem import Choice, Chosen, Problem
    from nookwright.layout.programme import Limits


@dataclass(frozen=True)
class Assignment:
    """What the solver found.

    Attributes:
        chosen: one choice for each lot, or ``None``; all ``None`` if nothing was found before a limit.
        bound: proven lower bound of the programme's cost.
        proven: whether it stopped at the gap, not at a limit.
        by_clock: whether it stopped at the clock.
        nodes: nodes of the search tree.
    """

    chosen: tuple[Choice | None, ...]
    bound: float
    proven: bool
    by_clock: bool
    nodes: int


def assign(problem: Problem, *, room_for: Sequence[float], slack: bool, limits: Limits) -> Assignment:
    """Solve the assignment.

    Args:
        problem: what can go where.
        room_for: cells that each space may be filled with.
        slack: whether a lot may stay out at a high cost; without, every lot that has a choice must be placed.
        limits: when to stop.

    Raises:
        LayoutError: the solver failed, or there is no answer without slack.
    """
    programme = Programme()
    columns = [[programme.column(choice.cost) for choice in choices] for choices in problem.choices]
    out = [programme.column(float(LEFT_OUT)) if slack and choices else None for choices in problem.choices]
    for number, cols in enumerate(columns):
        if cols:
            rest = out[number]
            programme.row(1, [(col, 1.0) for col in cols] + ([(rest, 1.0)] if rest is not None else []), 1)
    by_grid = _by_grid(problem, columns)
    _open_rows(programme, problem, by_grid, room_for)
    _pair_rows(programme, problem, by_grid, out)
    solved = solve(programme, limits)
    chosen: Chosen = [None] * len(problem.asks)
    if solved.values is not None:
        for number, cols in enumerate(columns):
            for choice, col in zip(problem.choices[number], cols, strict=True):
                if solved.values[col] > 1 / 2:
                    chosen[number] = choice
    return Assignment(tuple(chosen), solved.bound, solved.proven, solved.by_clock, solved.nodes)


def _by_grid(problem: Problem, columns: list[list[int]]) -> list[dict[int, list[tuple[int, Choice]]]]:
    """For each space and lot: the columns that put the lot there."""
    by_grid: list[dict[int, list[tuple[int, Choice]]]] = [{} for _ in problem.grids]
    for number, cols in enumerate(columns):
        for choice, col in zip(problem.choices[number], cols, strict=True):
            by_grid[choice.grid].setdefault(number, []).append((col, choice))
    return by_grid


def _open_rows(
    programme: Programme,
    problem: Problem,
    by_grid: list[dict[int, list[tuple[int, Choice]]]],
    room_for: Sequence[float],
) -> None:
    """Area and load of every space, and that it counts as open once anything is in it."""
    for place, lots in enumerate(by_grid):
        if not lots:
            continue
        used = programme.column(problem.grids[place].open_cost)
        entries = [entry for group in lots.values() for entry in group]
        room, load_g = float(room_for[place]), problem.grids[place].load_g
        programme.row(-inf, [(col, float(choice.area)) for col, choice in entries] + [(used, -room)], 0)
        if sum(max(choice.mass_g for _, choice in group) for group in lots.values()) > load_g:
            programme.row(-inf, [(col, choice.mass_g) for col, choice in entries] + [(used, -load_g)], 0)
        for group in lots.values():
            programme.row(-inf, [(col, 1.0) for col, _ in group] + [(used, -1.0)], 0)


def _pair_rows(
    programme: Programme,
    problem: Problem,
    by_grid: list[dict[int, list[tuple[int, Choice]]]],
    out: list[int | None],
) -> None:
    """A pair is split unless some space holds both, or one of them is left out."""
    for one, other, cost in problem.pairs:
        if not problem.choices[one] or not problem.choices[other]:
            continue
        split = programme.column(cost)
        terms = [(split, 1.0)] + [(rest, 1.0) for rest in (out[one], out[other]) if rest is not None]
        for lots in by_grid:
            if one in lots and other in lots:
                both = programme.column(0.0)
                terms.append((both, 1.0))
                for number in (one, other):
                    programme.row(-inf, [(both, 1.0)] + [(col, -1.0) for col, _ in lots[number]], 0)
        programme.row(1, terms, inf)
