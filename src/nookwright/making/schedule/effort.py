"""How long is searched: counted in steps of the solver and in tries, never in seconds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from nookwright.ground.sources import Fact, Kind

GAP = Fact(0.005, unit="1", kind=Kind.CHOICE, source="A schedule that could be half a per cent shorter is good enough.")
STEPS = Fact(
    3.0, unit="steps", kind=Kind.CHOICE, source="Of the solver for each stage: 2 left the demo at 8.6 %, 3 at 0.5 %."
)
TRIES = Fact(6000, unit="1", kind=Kind.CHOICE, source="Exchanges for each stage: about a second for sixty bedfuls.")


def solver_of(effort: float) -> Any:  # noqa: ANN401 - the solver's own type, imported where it is used
    """A solver that works alone, from a fixed seed, for so many of its own steps.

    Args:
        effort: steps, on the usual machine about as many seconds.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.random_seed = 1
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = effort
    solver.parameters.relative_gap_limit = float(GAP)
    return solver


@dataclass(frozen=True)
class Effort:
    """How long a schedule is searched.

    Attributes:
        steps: of the solver, for each stage; 0 for none of it.
        tries: exchanges, for each stage.
    """

    steps: float = float(STEPS)
    tries: int = int(TRIES)


USUAL = Effort()
INSTANT = Effort(steps=0, tries=0)  # the instant answer alone
