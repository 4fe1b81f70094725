"""The learning loop, closed in simulation: people print, time and weigh, and the printer's factors are found.

    nice .venv/bin/python -m benchmarks.making.learning              # a table, and exit code 1 where a share is missed
    nice .venv/bin/python -m benchmarks.making.learning --users 200

Each user's printer is 18 % slower than its profile and lays 6 % too much. Eight prints are drawn at random between half
an hour and ten hours; what they take and weigh differs from print to print by 2.5 %, and is read to the minute and the
gram. A factor is found where it is within 2 % of the true one, which 95 of 100 users shall reach from eight sound
prints, and 90 of 100 where one of the eight was paused for hours. No estimate from eight such prints could do it for
more than 97.6 of 100, were all else known: that is the normal distribution within 2 % sqrt(8) / 2.5 %.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.learning.factors import Factors, factors_of
from nookwright.making.learning.observed import Observed

if TYPE_CHECKING:
    from numpy.typing import NDArray

SLOWER, HEAVIER, NOISE = 1.18, 1.06, 0.025
WITHIN, HEATING_S = 0.02, 300.0


@dataclass(frozen=True)
class Case:
    """One kind of simulation.

    Attributes:
        prints: how many each user has made.
        paused: whether one of them was paused for some hours.
        share: of users whose factors must be found; 0 where that is only shown.
    """

    prints: int
    paused: bool = False
    share: float = 0.0

    def __str__(self) -> str:
        asked = f", {100 * self.share:.0f} % asked for" if self.share else ""
        return f"{self.prints} prints{', one paused' if self.paused else ''}{asked}"


CASES = (Case(3), Case(8, share=0.95), Case(8, paused=True, share=0.90), Case(16, share=0.95))


def prints_of(case: Case, random: np.random.Generator) -> tuple[Observed, ...]:
    """What one user has noted down."""
    moving = np.exp(random.uniform(np.log(1800.0), np.log(36_000.0), case.prints))
    fixed = HEATING_S + moving * random.uniform(0.005, 0.03, case.prints)
    mass = moving * random.uniform(0.0035, 0.0055, case.prints)
    time = (SLOWER * moving + fixed) * np.exp(random.normal(0.0, NOISE, case.prints))
    weight = HEAVIER * mass * np.exp(random.normal(0.0, NOISE, case.prints))
    if case.paused:
        time[random.integers(case.prints)] += random.uniform(2 * 3600.0, 10 * 3600.0)
    rows = zip(moving.tolist(), fixed.tolist(), mass.tolist(), time.tolist(), weight.tolist(), strict=True)
    return tuple(
        Observed(
            printer="p", material="m", moving_s=m, fixed_s=f, estimate_g=g, time_s=60.0 * round(t / 60), mass_g=round(w)
        )
        for m, f, g, t, w in rows
    )


def learned(case: Case, users: int, seed: int = 1) -> list[Factors]:
    """What is found of each user's printer."""
    random = np.random.default_rng(seed)
    return [factors_of(prints_of(case, random), "p", "m") for _ in range(users)]


def shares(found: list[Factors]) -> dict[str, float]:
    """Share of users whose factors are found, each and both."""
    slow = np.abs(np.array([one.slowness for one in found]) / SLOWER - 1) <= WITHIN
    heavy = np.abs(np.array([one.heaviness for one in found]) / HEAVIER - 1) <= WITHIN
    return {"time": float(slow.mean()), "mass": float(heavy.mean()), "both": float((slow & heavy).mean())}


def honest(found: list[Factors]) -> dict[str, float]:
    """Share of users whose true factors lie within 1.645 of the stated standard uncertainty: 0.90 if honest."""

    def inside(errors: NDArray[np.float64], stated: NDArray[np.float64]) -> float:
        return float((np.abs(errors) <= 1.645 * stated).mean())

    time = np.array([one.time.mean[0] for one in found]) - np.log(SLOWER)
    mass = np.array([one.mass.mean[0] for one in found]) - np.log(HEAVIER)
    return {
        "time": inside(time, np.sqrt([one.time.covariance[0, 0] for one in found])),
        "mass": inside(mass, np.sqrt([one.mass.covariance[0, 0] for one in found])),
    }


def main() -> int:
    """All cases; the exit code says whether every judged share is reached."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--users", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    failed = 0
    for case in CASES:
        found = learned(case, asked.users, asked.seed)
        got, sure = shares(found), honest(found)
        missed = min(got["time"], got["mass"]) < case.share
        failed += missed
        print(
            f"{case!s:<40} within 2 %: time {got['time']:.3f}  mass {got['mass']:.3f}  both {got['both']:.3f}"
            f"   stated 90 %: time {sure['time']:.3f}  mass {sure['mass']:.3f}{'   MISSED' if missed else ''}",
            flush=True,
        )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
