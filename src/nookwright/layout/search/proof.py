"""The bound by the solver, worked out beside the search: it runs in a thread, and lets the search run meanwhile."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.errors import LayoutError
from nookwright.layout.assignment import assign
from nookwright.layout.effort import MOST_COLUMNS
from nookwright.layout.programme import Limits

if TYPE_CHECKING:
    from nookwright.layout.assignment import Assignment
    from nookwright.layout.effort import Effort
    from nookwright.layout.problem import Problem


@dataclass(frozen=True)
class Proof:
    """What was proven: no layout of these lots costs less.

    Attributes:
        bound: of the cost.
        proven: whether the solver stopped at its gap, not at a limit.
        by_clock: whether the clock stopped it.
        nodes: of its search tree.
    """

    bound: float
    proven: bool
    by_clock: bool
    nodes: int


class Prover:
    """Works on the bound of a problem beside the search."""

    def __init__(self, problem: Problem, effort: Effort, *, clock_s: float) -> None:
        """Begin, unless the programme would be too large.

        Args:
            problem: every lot of it that has a choice is to be placed.
            effort: how hard to try.
            clock_s: safety net, s.
        """
        self._problem = problem
        self._limits = Limits(effort.rel_gap, effort.max_nodes, max(clock_s, 1.0), effort.seed)
        self._found: Assignment | None = None
        self._thread: threading.Thread | None = None
        if problem.columns <= MOST_COLUMNS:
            self._thread = threading.Thread(target=self._run, name="bound of the layout", daemon=True)
            self._thread.start()

    def _run(self) -> None:
        room_for = [float(cells) for cells in self._problem.cells]
        try:
            self._found = assign(self._problem, room_for=room_for, slack=False, limits=self._limits)
        except LayoutError:  # the lots do not all fit: no bound for all of them
            self._found = None

    def result(self) -> Proof | None:
        """What was proven, once it is; ``None`` if nothing was."""
        if self._thread:
            self._thread.join()
        found = self._found
        return Proof(found.bound, found.proven, found.by_clock, found.nodes) if found else None
