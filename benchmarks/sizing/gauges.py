"""Do gauges close the loop: simulated users against ``sizing/fits/gauges``.

    nice .venv/bin/python -m benchmarks.sizing.gauges               # table, and exit code 1 where the target is missed
    nice .venv/bin/python -m benchmarks.sizing.gauges --users 50    # quickly

Each user has a lot of 12 things of one population, of which the first one or three were measured with a caliper, and a
printer whose errors nobody knows. Up to three times they print three gauges, try every thing in each and say what they
found, by their own taste and with slips. Hidden from the tool are the things, the printer, the shift of each print, the
scatter of each gauge and the taste.

A gauged fit holds where all things go into all pockets of the next print and no pocket is loose for the largest. For
each user this has a true probability, over the shift and the scatter of that print; the target is 99 % for 95 % of the
users. A kit has several gauged fits; the product of their probabilities is shown as it is.
"""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import product

import numpy as np
from benchmarks.sizing.populations import FOLLOWS_PRIOR, LOT, NORMAL, SEED, Case, Kind, lots, read
from benchmarks.sizing.populations import KINDS as THINGS
from scipy.special import ndtr

from nookwright.sizing.fits.chain import Pockets
from nookwright.sizing.fits.gauges import (
    PRINT_TO_PRINT,
    SURE,
    Needed,
    Tried,
    after,
    gauge_sizes,
    gauged_pocket,
    needed,
    worth_gauging,
)
from nookwright.sizing.fits.judgement import (
    LOOSE_SD,
    LOOSE_WIDTH,
    SLIDES_AT,
    SLIDES_SD,
    SLIDES_WIDTH,
    SLIP,
    loose_at,
)
from nookwright.sizing.printers.errors import ERRORS, PrinterErrors, inside_sensitivities, unmeasured
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled
from nookwright.survey.origins import FitClass, Says

USERS = 400
ROUNDS = 3
SAMPLES = (1, 3)
LEAST_USERS = 0.95
KIT_FITS = 10  # gauged fits of one kit, for the product
ROUND_NODES = np.polynomial.hermite_e.hermegauss(21)


@dataclass(frozen=True)
class User:
    """What the tool does not know, and what it was told.

    Attributes:
        judged: what the tool makes of the readings.
        zero: drawn size at which the largest thing has no gap, in a print without shift, mm.
        taste: standard deviations by which this person calls things tight and loose at larger gaps than others.
    """

    judged: Judged
    zero: float
    taste: float


@dataclass(frozen=True)
class Outcome:
    """One population, fit and number of samples after so many rounds.

    Attributes:
        kind: of thing.
        case: how its population departs from what is expected.
        samples: measured of each lot.
        fit: how a thing should go in.
        rounds: of gauges; 0 before any.
        true: true probability of each user that the fit holds, ``float64[users]``.
        told: what the tool says of it.
        gap: median gap of the largest thing, mm.
    """

    kind: Kind
    case: Case
    samples: int
    fit: FitClass
    rounds: int
    true: np.ndarray
    told: np.ndarray
    gap: float

    @property
    def share(self) -> float:
        """Of users whose fit holds as surely as asked."""
        return float(np.mean(self.true >= SURE))

    @property
    def kit(self) -> float:
        """Mean product over the fits of a kit, each of another user."""
        whole = len(self.true) // KIT_FITS * KIT_FITS
        return float(self.true[:whole].reshape(-1, KIT_FITS).prod(axis=1).mean())

    @property
    def misses(self) -> bool:
        """Whether the target is missed."""
        return self.case in FOLLOWS_PRIOR and self.rounds == ROUNDS and self.share < LEAST_USERS


def users(kind: Kind, case: Case, samples: int, count: int) -> list[User]:
    """Draw users with their lots and printers."""
    random = np.random.default_rng([SEED, THINGS.index(kind), list(Case).index(case), samples, 7])
    sizes, _ = lots(kind, case, count)
    readings = read(kind, sizes, case)
    errors = unmeasured()
    hidden = random.multivariate_normal(errors.mean, errors.covariance, count)
    adds = hidden @ _row(kind.size)
    judged = [Judged(Sampled(tuple(some[:samples].tolist()), kind.reading_error, LOT), Expected(kind.expected))
              for some in readings]  # fmt: skip
    return [
        User(each, float(things.max() - add), float(taste))
        for each, things, add, taste in zip(judged, sizes, adds, random.standard_normal(count), strict=True)
    ]


def _row(size: float) -> np.ndarray:
    """Sensitivities of a round pocket in the order of the errors."""
    row = inside_sensitivities(size, round_hole=True)
    return np.array([row.get(error, 0.0) for error in ERRORS])


def answers(
    user: User, sizes: tuple[float, ...], fit: FitClass, number: int, random: np.random.Generator
) -> list[Tried]:
    """What the user says of one print of gauges."""
    shift, scatter = random.normal(0, PRINT_TO_PRINT), random.normal(0, unmeasured().scatter, len(sizes))
    return [
        Tried(number, size, _says(size + shift + off - user.zero, user.taste, fit, random))
        for size, off in zip(sizes, scatter, strict=True)
    ]


def _says(gap: float, taste: float, fit: FitClass, random: np.random.Generator) -> Says:
    if random.random() < SLIP:
        return list(Says)[random.integers(len(Says))]
    if gap < SLIDES_AT + SLIDES_SD * taste + random.logistic(0, SLIDES_WIDTH / 2):
        return Says.TIGHT
    loose = gap > loose_at(fit) + LOOSE_SD * taste + random.logistic(0, LOOSE_WIDTH)
    return Says.LOOSE if loose else Says.GOES_IN


def true_probability(user: User, drawn: float, fit: FitClass, errors: PrinterErrors) -> float:
    """That the next print holds, of one who knows all but that print's shift and scatter."""
    nodes, weights = ROUND_NODES
    gap = drawn - user.zero + PRINT_TO_PRINT * nodes
    inside = ndtr(gap / errors.scatter) - ndtr((gap - loose_at(fit)) / errors.scatter)
    return float(weights @ inside**LOT / weights.sum())


def outcomes(kind: Kind, case: Case, samples: int, fit: FitClass, count: int) -> list[Outcome]:
    """The users of one population before and after each round."""
    random = np.random.default_rng(
        [SEED, THINGS.index(kind), list(Case).index(case), samples, list(FitClass).index(fit)]
    )
    errors = unmeasured()
    seen: list[list[tuple[float, float, float]]] = [[] for _ in range(ROUNDS + 1)]
    for user in users(kind, case, samples, count):
        start = needed(user.judged, errors, pockets=Pockets(LOT, round_hole=True))
        told: list[Tried] = []
        wanted: Needed = start
        for number in range(ROUNDS + 1):
            drawn = gauged_pocket(wanted, fit)
            gap = drawn - user.zero
            seen[number].append((true_probability(user, drawn, fit, errors), wanted.holds(drawn, fit), gap))
            if number < ROUNDS and worth_gauging(wanted, fit):
                told += answers(user, gauge_sizes(wanted), fit, number, random)
                wanted = after(start, told, fit)
    columns = [np.array(rows).T for rows in seen]
    return [
        Outcome(kind, case, samples, fit, number, true, told, float(np.median(gap)))
        for number, (true, told, gap) in enumerate(columns)
    ]


def table(found: list[Outcome]) -> str:
    """A markdown table, a row a population and fit; cells: users at 99 %, median gap, product of a kit."""
    rows = [["things", "population", "measured", "fit", *(f"after {n}" for n in range(ROUNDS + 1)), "told"]]
    rows.append(["---"] * len(rows[0]))
    by_case = [found[at : at + ROUNDS + 1] for at in range(0, len(found), ROUNDS + 1)]
    for some in by_case:
        cells = [f"{one.share:.1%}, {one.gap:.2f} mm, kit {one.kit:.1%}" for one in some]
        first = some[0]
        rows.append(
            [
                first.kind.name,
                str(first.case),
                str(first.samples),
                str(first.fit),
                *cells,
                f"{some[-1].told.mean():.1%}",
            ]
        )
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def run(cases: tuple[Case, ...], fits: tuple[FitClass, ...], count: int, processes: int) -> list[Outcome]:
    """Everything that is asked for.

    Args:
        cases: populations.
        fits: classes of fit.
        count: users of each.
        processes: to start.
    """
    kinds, populations, samples, classes = zip(*product(THINGS, cases, SAMPLES, fits), strict=True)
    with ProcessPoolExecutor(processes) as pool:
        found = pool.map(outcomes, kinds, populations, samples, classes, [count] * len(kinds))
        return [one for many in found for one in many]


def main() -> int:
    """Run, print, and tell whether the target is met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--users", type=int, default=USERS, help="of each population and fit")
    parser.add_argument("--processes", type=int, default=2)
    given = parser.parse_args()
    found = run(NORMAL, (FitClass.EASY, FitClass.CLOSE, FitClass.HELD), given.users, given.processes)
    print(table(found))
    missed = [one for one in found if one.misses]
    for one in missed:
        where = f"{one.kind.name}, {one.case}, {one.samples} samples, {one.fit}"
        print(f"missed: {where}: {one.share:.1%} of users, {LEAST_USERS:.0%} are asked for", file=sys.stderr)
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
