"""Do whole lots fit, and how much is given away: simulated populations against the limits of ``sizing/statistics``.

    nice .venv/bin/python -m benchmarks.sizing.lots                 # tables, and exit code 1 where a target is missed
    nice .venv/bin/python -m benchmarks.sizing.lots --renew         # the same, into docs/sizes.md and its picture
    nice .venv/bin/python -m benchmarks.sizing.lots --lots 200      # quickly

A lot has 12 things; the first ones are measured with a caliper, and a limit is asked for that none of the 12 exceeds
with a confidence of 95 %. Beside it stand three rules that people use. The excess gap is a limit less the largest of
the 12; an oracle who knows the population and measures nothing has one too, and theirs is the yardstick.
"""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np
from benchmarks.sizing.populations import FOLLOWS_PRIOR, KINDS, LOT, NORMAL, Case, Kind, lots, read

from nookwright.sizing.statistics.largest import Expected, Sampled, all_fit_limit, oracle_limit

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

LOTS = 2000
CONFIDENCE = 0.95
SAMPLES = (1, 3, 5, 8, 10)
LEAST_SHARE = CONFIDENCE - 0.015  # where the population follows the prior
LEAST_SHARE_OFF = 0.90  # at half the spread, and at twice from ALONE_SAMPLES on
ALONE_SAMPLES = 8
MOST_RATIO = {1: 2.5, 3: 1.8, 5: 1.6, 10: 1.2}  # excess gap over the oracle's, where the population follows the prior

OURS = "ours"


def _ours(readings: np.ndarray, kind: Kind) -> float:
    sampled = Sampled(tuple(readings.tolist()), kind.reading_error, LOT)
    return all_fit_limit(sampled, Expected(kind.expected), CONFIDENCE)


RULES: dict[str, Callable[[np.ndarray, Kind], float]] = {
    OURS: _ours,
    "mean + 0.5": lambda readings, _: float(readings.mean()) + 0.5,
    "largest + 0.5": lambda readings, _: float(readings.max()) + 0.5,
    "first + 0.3": lambda readings, _: float(readings[0]) + 0.3,
}


@dataclass(frozen=True)
class Outcome:
    """What a rule did for all lots of a population.

    Attributes:
        kind: of thing.
        case: how its population departs from what is expected.
        samples: measured of each lot.
        rule: its name.
        share: of lots whose things all fit.
        gap: median of the excess gap, mm.
        oracle_gap: median of the oracle's, mm.
    """

    kind: Kind
    case: Case
    samples: int
    rule: str
    share: float
    gap: float
    oracle_gap: float

    @property
    def ratio(self) -> float:
        """Excess gap over the oracle's."""
        return self.gap / self.oracle_gap

    @property
    def misses(self) -> tuple[str, ...]:
        """Targets that are missed, in words; people's rules have none."""
        if self.rule != OURS or self.case not in NORMAL:
            return ()
        found, where = [], f"{self.kind.name}, {self.case}, {self.samples} samples"
        least = LEAST_SHARE if self.case in FOLLOWS_PRIOR else LEAST_SHARE_OFF
        counts = self.case is not Case.TWICE or self.samples >= ALONE_SAMPLES
        if counts and self.share < least:
            found.append(f"{where}: {self.share:.1%} of lots fit, {least:.1%} are asked for")
        most = MOST_RATIO.get(self.samples, np.inf) if self.case in FOLLOWS_PRIOR else np.inf
        if self.ratio > most:
            found.append(f"{where}: excess gap {self.ratio:.2f} of the oracle's, at most {most} are asked for")
        return tuple(found)


def outcomes(kind: Kind, case: Case, count: int, rules: Sequence[str] = tuple(RULES)) -> tuple[Outcome, ...]:
    """All rules and numbers of samples on one population.

    Args:
        kind: of thing.
        case: how its population departs from what is expected.
        count: lots.
        rules: that are tried.
    """
    sizes, spreads = lots(kind, case, count)
    readings, largest = read(kind, sizes, case), sizes.max(axis=1)
    oracle = np.array([oracle_limit(kind.size, spread, LOT, CONFIDENCE) for spread in spreads])
    oracle_gap = float(np.median(oracle - largest))
    found = []
    for samples, name in product(SAMPLES, rules):
        limits = np.array([RULES[name](some[:samples], kind) for some in readings])
        share, gap = float(np.mean(limits >= largest)), float(np.median(limits - largest))
        found.append(Outcome(kind, case, samples, name, share, gap, oracle_gap))
    return tuple(found)


def run(cases: Sequence[Case], count: int, processes: int) -> tuple[Outcome, ...]:
    """Everything that is asked for: all kinds where populations are normal, glass for other shapes.

    Args:
        cases: that are wanted.
        count: lots of each population.
        processes: to start.
    """
    asked = [(kind, case) for case in cases for kind in KINDS if case in NORMAL or kind is KINDS[0]]
    kinds, cases = zip(*asked, strict=True)
    with ProcessPoolExecutor(processes) as pool:
        return tuple(one for many in pool.map(outcomes, kinds, cases, [count] * len(asked)) for one in many)


def table(found: Iterable[Outcome]) -> str:
    """A markdown table: a row a population and rule, a column a number of samples; share of lots and excess gap."""
    cells: dict[tuple[str, str, str], dict[int, str]] = {}
    for one in found:
        text = f"{one.share:.1%}, {one.gap:.2f}"
        text += f" ({one.ratio:.2f})" if one.rule == OURS else ""
        cells.setdefault((one.kind.name, str(one.case), one.rule), {})[one.samples] = text
    heads = ["things", "population", "rule", *(f"{n} measured" if n > 1 else "1 measured" for n in SAMPLES)]
    rows = [[*key, *(row[n] for n in SAMPLES)] for key, row in cells.items()]
    return "\n".join(f"| {' | '.join(row)} |" for row in [heads, ["---"] * len(heads), *rows])


def main() -> int:
    """Run, print, renew the page if asked, and tell whether all targets are met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--lots", type=int, default=LOTS, help="lots of each population")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--renew", action="store_true", help="put the tables and the plot into docs/")
    given = parser.parse_args()
    found = run(list(Case), given.lots, given.processes)
    print(table(found))
    if given.renew:
        from benchmarks.sizing.lots_page import renew

        renew(found, given.lots)
    misses = [miss for one in found for miss in one.misses]
    print("\n".join(misses) or "all targets are met")
    return 1 if misses else 0


if __name__ == "__main__":
    sys.exit(main())
