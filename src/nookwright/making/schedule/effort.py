"""How long is searched: counted in steps of the solver, in bedfuls placed and in minutes passed, never in seconds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from nookwright.ground.sources import Fact, Kind

GAP = Fact(0.005, unit="1", kind=Kind.CHOICE, source="Spools that could be half a per cent cheaper are good enough.")
STEPS = Fact(2.0, unit="steps", kind=Kind.CHOICE, source="Of the solver for a stage of few bedfuls; most need less.")
PUTS = Fact(
    2e7,
    unit="1",
    kind=Kind.MEASURED,
    source="Bedfuls placed in the tries of a stage, about 2.5 s; twice as many gain 0.2 %.",
)
USUAL_BEDFULS = Fact(
    120,
    unit="1",
    kind=Kind.MEASURED,
    source="Of some 300 pieces; on 104 bedfuls, more search gained nothing.",
)
PASSED = Fact(
    3e8,
    unit="1",
    kind=Kind.MEASURED,
    source="Minutes passed and bedfuls tried in them for the bound of a stage, about 2.5 s.",
)


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
        steps: of the solver, for each stage of few bedfuls; 0 for none of it.
        puts: bedfuls placed in all tries of a stage together; 0 for none.
        passed: minutes passed, and bedfuls tried in them, for the bound of a stage; 0 for none.
    """

    steps: float = float(STEPS)
    puts: int = int(PUTS)
    passed: int = int(PASSED)

    def scaled(self, bedfuls: int) -> Effort:
        """The effort for a stage: as it is up to a usual number of bedfuls, beyond that it grows with them."""
        more = max(1.0, bedfuls / USUAL_BEDFULS)
        return Effort(self.steps, int(self.puts * more), int(self.passed * more))


USUAL = Effort()
INSTANT = Effort(steps=0, puts=0, passed=0)  # the instant answer alone
