"""A programme of columns that are 0 or 1, handed to HiGHS.

One thread and a fixed seed: the same programme always gets the same answer.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from nookwright.ground.errors import LayoutError

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True)
class Limits:
    """When the solver stops.

    Attributes:
        rel_gap: proven relative distance to the best.
        max_nodes: nodes of the search tree.
        clock_s: safety net, s.
        seed: of the solver.
    """

    rel_gap: float
    max_nodes: int
    clock_s: float
    seed: int


@dataclass
class Programme:
    """Columns and rows while they are collected."""

    cost: list[float] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    index: list[int] = field(default_factory=list)
    value: list[float] = field(default_factory=list)

    def column(self, cost: float) -> int:
        """Add a column of 0 or 1."""
        self.cost.append(cost)
        return len(self.cost) - 1

    def row(self, low: float, terms: Sequence[tuple[int, float]], high: float) -> None:
        """Add a row ``low <= sum <= high``."""
        self.start.append(len(self.index))
        self.low.append(low)
        self.high.append(high)
        self.index += [index for index, _ in terms]
        self.value += [value for _, value in terms]


@dataclass(frozen=True)
class Solved:
    """What the solver found: a value for each column, ``None`` if a limit came before any answer."""

    values: list[float] | None
    bound: float
    proven: bool
    by_clock: bool
    nodes: int


def solve(programme: Programme, limits: Limits) -> Solved:
    """The least cost.

    Raises:
        LayoutError: the solver failed, or there is no answer.
    """
    if not programme.cost:
        return Solved([], 0.0, proven=True, by_clock=False, nodes=0)
    import highspy

    solver = _quiet_solver(highspy)
    options: dict[str, Any] = {
        "threads": 1,
        "random_seed": limits.seed,
        "mip_rel_gap": limits.rel_gap,
        "mip_max_nodes": limits.max_nodes,
        "time_limit": limits.clock_s,
    }
    for name, value in options.items():
        solver.setOptionValue(name, value)
    solver.passModel(_model(highspy, programme))
    solver.run()
    status, known = solver.getModelStatus(), highspy.HighsModelStatus
    info = solver.getInfo()
    stopped = {known.kTimeLimit, known.kSolutionLimit, known.kIterationLimit}
    if status != known.kOptimal and status not in stopped:
        raise LayoutError(f"The assignment of lots to spaces failed: the solver says {status.name}.")
    has_solution = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return Solved(
        list(solver.getSolution().col_value) if has_solution else None,
        float(info.mip_dual_bound),
        proven=status == known.kOptimal,
        by_clock=status == known.kTimeLimit,
        nodes=int(info.mip_node_count),
    )


def _quiet_solver(highspy: Any) -> Any:  # noqa: ANN401 - the solver publishes no types
    """A solver that prints nothing: unless silenced before its first step, it writes a line to stdout."""

    class Quiet(highspy.Highs):  # type: ignore[misc]
        def enableCallbacks(self) -> None:  # noqa: N802 - the solver's name
            self.setOptionValue("output_flag", False)  # noqa: FBT003 - the solver's signature
            super().enableCallbacks()

    return Quiet()


def _model(highspy: Any, programme: Programme) -> Any:  # noqa: ANN401 - the solver publishes no types
    """The programme in the solver's form: rows first, all columns 0 or 1."""
    count = len(programme.cost)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = count, len(programme.low)
    model.col_cost_ = np.array(programme.cost)
    model.col_lower_, model.col_upper_ = np.zeros(count), np.ones(count)
    model.row_lower_, model.row_upper_ = np.array(programme.low), np.array(programme.high)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.array([*programme.start, len(programme.index)])
    model.a_matrix_.index_ = np.array(programme.index)
    model.a_matrix_.value_ = np.array(programme.value)
    model.integrality_ = [highspy.HighsVarType.kInteger] * count
    return model
