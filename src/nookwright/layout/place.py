"""The layout of a whole room: assign, pack, repair, improve, and say how good it is.

The order of work: an assignment with the areas of the spaces scaled down a little (``assignment``), a packing
of each space (``packing``), repair of what stayed out, annealing on the packed draft (``improve``), and the
proven bound from the assignment with whole areas. Every stage stops by counts, so the same input gives the
same layout on any machine; a generous clock is only a safety net, and the layout says when it was needed.
"""

from __future__ import annotations

import time
from dataclasses import replace
from random import Random
from typing import TYPE_CHECKING

from nookwright.ground.errors import LayoutError
from nookwright.ground.progress import Progress, Silent
from nookwright.layout.assignment import Assignment, assign
from nookwright.layout.draft import Draft
from nookwright.layout.effort import NOISE, TIGHTEN, USUAL, Effort
from nookwright.layout.improve import Improver
from nookwright.layout.model import CostPart, Layout, Placed
from nookwright.layout.problem import cost_parts, problem_of
from nookwright.layout.programme import Limits
from nookwright.layout.reasons import left_out
from nookwright.layout.tidy import tidy

if TYPE_CHECKING:
    from nookwright.layout.model import Ask, Grid
    from nookwright.layout.problem import Problem

__all__ = ["Effort", "lay_out"]


def lay_out(
    grids: tuple[Grid, ...],
    asks: tuple[Ask, ...],
    *,
    pitch: float,
    effort: Effort = USUAL,
    progress: Progress = Silent(),  # noqa: B008 - it holds no state
) -> Layout:
    """Decide what goes where.

    Args:
        grids: the spaces.
        asks: the lots.
        pitch: size of a cell, mm; only for what is said about lots that are left out.
        effort: how hard to try.
        progress: who is told how far it is.

    Raises:
        LayoutError: the solver failed.
    """
    problem = problem_of(grids, asks)
    deadline = time.monotonic() + effort.clock_s
    work = _Work(problem, effort, deadline)
    steps = (work.begin, work.repair, work.improve)
    for step in progress.track(steps, len(steps), "laying out"):
        step()
    return work.layout(pitch)


class _Work:
    """The steps of one layout, with what they pass on."""

    def __init__(self, problem: Problem, effort: Effort, deadline: float) -> None:
        self.problem, self.effort, self.deadline = problem, effort, deadline
        self.random = Random(effort.seed)  # noqa: S311 - nothing secret
        self.draft = Draft(problem, self.random)
        self.room_for = [effort.factor * cells for cells in problem.cells]
        self.by_clock = False
        self.moves = 0
        self.hopeless = 0  # lots for which the last assignment had no room, even by area

    def _assign(self, problem: Problem, room_for: list[float], *, slack: bool) -> Assignment:
        clock_s = max((self.deadline - time.monotonic()) / 2, 1.0)  # half of what is left, so that the bound gets some
        limits = Limits(self.effort.rel_gap, self.effort.max_nodes, clock_s, self.effort.seed)
        answer = assign(problem, room_for=room_for, slack=slack, limits=limits)
        self.by_clock |= answer.by_clock
        return answer

    def begin(self) -> None:
        """Assign and pack once."""
        answer = self._assign(self.problem, self.room_for, slack=True)
        self.draft.take(answer.chosen, tries=self.effort.tries)
        self._tighten(answer)

    def repair(self) -> None:
        """Place what stayed out: by moves, then by assigning anew with less room where packing failed."""
        for _ in range(self.effort.rounds):
            if not self._missing():
                return
            self._anneal(self.effort.moves // 4, stop_when_complete=True)
            if len(self._missing()) <= self.hopeless:
                return
            self._assign_anew()

    def _assign_anew(self) -> None:
        """Offer less room in the spaces that could not be packed; keep the better draft."""
        best, kept = self.draft.cost(), self.draft.copy_places()
        answer = self._assign(self.problem, self.room_for, slack=True)
        self.draft.take(answer.chosen, tries=self.effort.tries)
        self._tighten(answer)
        if self.draft.cost() >= best:
            self.draft.restore(kept)

    def _tighten(self, answer: Assignment) -> None:
        """Offer less room in the spaces of what was assigned and could not be packed."""
        self.hopeless = sum(1 for c, can in zip(answer.chosen, self.problem.choices, strict=True) if can and not c)
        failed = {c.grid for c, spot in zip(answer.chosen, self.draft.spots, strict=True) if c and not spot}
        for place in failed:
            self.room_for[place] *= float(TIGHTEN)

    def _missing(self) -> list[int]:
        """Lots that could be somewhere and are nowhere."""
        return [n for n, choice in enumerate(self.draft.chosen) if choice is None and self.problem.choices[n]]

    def improve(self) -> None:
        """Anneal, then leave what is free in one piece."""
        self._anneal(self.effort.moves, stop_when_complete=False)
        tidy(self.draft)

    def _anneal(self, moves: int, *, stop_when_complete: bool) -> None:
        run = Improver(self.draft, self.random, tries=self.effort.glimpse).run(
            moves, deadline=self.deadline, stop_when_complete=stop_when_complete
        )
        self.moves += run.moves
        self.by_clock |= run.by_clock

    def _proof(self) -> Assignment:
        """The bound: whole areas, no geometry, only the lots that are placed."""
        choices = tuple(
            all_of if chosen else () for all_of, chosen in zip(self.problem.choices, self.draft.chosen, strict=True)
        )
        room_for = [float(cells) for cells in self.problem.cells]
        return self._assign(replace(self.problem, choices=choices), room_for, slack=False)

    def layout(self, pitch: float) -> Layout:
        """The result."""
        proof = self._proof()
        parts = cost_parts(self.problem, self.draft.chosen)
        cost = sum(parts.values())
        anything = any(self.draft.chosen)
        bound = honest(max(proof.bound, self._least_open()), cost) if anything else 0.0
        return Layout(
            placed=self._placed(),
            left_out=left_out(self.draft, pitch=pitch),
            cost=tuple(CostPart(name, value) for name, value in parts.items()),
            bound=bound,
            gap=(cost - bound) / bound if anything else 0.0,
            proven=proof.proven,
            by_clock=self.by_clock,
            seed=self.effort.seed,
            iterations=self.moves + self.draft.tries,
        )

    def _least_open(self) -> float:
        """What at least one space in use costs."""
        return min((grid.open_cost for grid in self.problem.grids), default=0.0)

    def _placed(self) -> tuple[Placed, ...]:
        """What is placed, by space, row and column."""
        placed = []
        for choice, spot in zip(self.draft.chosen, self.draft.spots, strict=True):
            if choice is None or spot is None:
                continue
            one = choice.candidate
            cols, rows = (one.rows, one.cols) if spot.turned else (one.cols, one.rows)
            space = self.problem.grids[choice.grid].space
            placed.append(Placed(space, spot.col, spot.row, cols, rows, spot.turned, one, one.height))
        return tuple(sorted(placed, key=lambda one: (one.space, one.row, one.col)))


def honest(bound: float, cost: float) -> float:
    """A bound, rounded down to the cost where it lies above it by no more than the solver's noise.

    Raises:
        LayoutError: it lies above by more, so one of the two is wrong.
    """
    if bound > cost + NOISE * max(1.0, cost):
        raise LayoutError(f"the proven bound {bound:g} lies above the cost {cost:g} of a layout that was found")
    return min(bound, cost)
