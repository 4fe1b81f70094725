"""The calibration loop, closed in simulation: hidden errors print a coupon, its readings name the errors.

    nice .venv/bin/python -m benchmarks.sizing.printers              # a table, and exit code 1 where a share is missed
    nice .venv/bin/python -m benchmarks.sizing.printers --printers 200

The printed coupon comes from a model of its own: every peg is moved by the printer's map (scale, skew) and by what
it stands off its place, and distances are taken between the moved ones; nothing of the linear sensitivities that the
estimate rests on is used. A reading has the hand's error, the display's digit, and the error of the caliper along its
beam: a smooth curve, everywhere uniform within the limits of DIN 862. How smooth it is nobody publishes. Judged is a
curve that changes over 100 mm; one that changes over 50 mm is shown beside it and not judged.

A feature counts as hit where the size that the estimate foretells is within the limit of what this printer makes of it,
its scatter from feature to feature left out, since that differs from print to print.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.special import ndtr

from nookwright.sizing.printers.calibrate import calibrate
from nookwright.sizing.printers.coupon import PEG, Face, features
from nookwright.sizing.printers.errors import ERRORS, Error, unmeasured
from nookwright.survey.origins import CouponForm as Form

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.sizing.printers.coupon import Feature

    Array = NDArray[np.float64]

# What the simulation assumes and asks for.
TIMES = 3  # readings of each feature
HAND_MM, DIGIT_MM, SCATTER_MM = 0.02, 0.01, 0.02
CALIPER_MM, CALIPER_LONG_MM, LONG_FROM_MM = 0.02, 0.03, 100.0  # DIN 862, +-
SHUT_BELOW_MM = 12.0  # holes from here on come out like slots
SMOOTH_OVER_MM, ROUGH_OVER_MM = 100.0, 50.0
FEATURE_MM, SCALE, SKEW_DEG, SHARE = 0.05, 0.0003, 0.03, 0.95
FORESEEN = (Error.SCALE_X, Error.SCALE_Y, Error.SKEW_DEG)


@dataclass(frozen=True)
class Case:
    """One kind of simulation.

    Attributes:
        form: of the coupon.
        wide: how many times wider than the defaults the hidden errors are drawn.
        smooth_over: distance over which the caliper's error changes, mm.
        judged: whether the shares must be reached.
    """

    form: Form
    wide: float
    smooth_over: float = SMOOTH_OVER_MM
    judged: bool = True

    def __str__(self) -> str:
        smooth = f"caliper changes over {self.smooth_over:.0f} mm"
        return f"{self.form} cross, errors {self.wide:g} x as wide, {smooth}{'' if self.judged else ' (not judged)'}"


CASES = (
    Case(Form.SHORT, 1.0),
    Case(Form.SHORT, 2.0),
    Case(Form.LONG, 1.0),
    Case(Form.LONG, 2.0),
    Case(Form.SHORT, 1.0, ROUGH_OVER_MM, judged=False),
    Case(Form.LONG, 1.0, ROUGH_OVER_MM, judged=False),
)


@dataclass(frozen=True)
class Loop:
    """What came of one case.

    Attributes:
        case: of what.
        errors: estimated less hidden, ``float[printers][7]`` in the order of ``ERRORS``.
        claimed: standard uncertainties that the estimates state, the same shape.
        sizes: foretold less made, ``float[printers][features]`` in the order of the coupon's features, mm.
    """

    case: Case
    errors: Array
    claimed: Array
    sizes: Array

    def shares(self) -> dict[str, float]:
        """Share of printers within the limit, for scale, skew and every feature."""
        limits = dict(zip(FORESEEN, (SCALE, SCALE, SKEW_DEG), strict=True))
        found = {
            str(error): float(np.mean(np.abs(self.errors[:, ERRORS.index(error)]) <= limit))
            for error, limit in limits.items()
        }
        hit = (np.abs(self.sizes) <= FEATURE_MM).mean(axis=0)
        return found | {one.id: float(share) for one, share in zip(features(self.case.form), hit, strict=True)}

    def within(self, error: Error) -> float:
        """The bound that 95 of 100 estimates of one error keep."""
        return float(np.quantile(np.abs(self.errors[:, ERRORS.index(error)]), SHARE))

    @property
    def honest(self) -> float:
        """Share of all estimates within twice their stated standard uncertainty: 0.954 for normal ones."""
        return float(np.mean(np.abs(self.errors) <= 2 * self.claimed))


def hidden(printers: int, wide: float, random: np.random.Generator) -> Array:
    """Errors of printers, ``float[printers][7]``, about the defaults' means."""
    known = unmeasured()
    spread = np.array([known.uncertainty(error) for error in ERRORS])
    return np.asarray(np.array(known.mean) + wide * spread * random.standard_normal((printers, len(ERRORS))))


def printed(errors: Array, form: Form, random: np.random.Generator) -> Array:
    """The sizes on the coupons of these printers, ``float[printers][features]``, mm.

    Args:
        errors: as ``hidden`` gives them.
        form: of the coupon.
        random: of what stands off its place.
    """
    of = {error: errors[:, column] for column, error in enumerate(ERRORS)}
    moved = _map(of)
    places = sorted({place for one in features(form) if len(one.at) > 1 for place in one.at})
    off = random.normal(0.0, SCATTER_MM / np.sqrt(2), (len(places), len(errors), 2))
    pegs = {place: moved @ np.array(place) + off[number] for number, place in enumerate(places)}
    columns = []
    for one in features(form):
        if len(one.at) > 1:
            between = pegs[one.at[1]] - pegs[one.at[0]]
            apart = np.hypot(between[:, 0], between[:, 1])
            columns.append(apart + _width(moved, between / apart[:, None]) + of[Error.OUTSIDE])
        else:
            columns.append(_single(one, of, moved) + random.normal(0.0, SCATTER_MM, len(errors)))
    return np.stack(columns, axis=1)


def repeated(errors: Array, form: Form) -> Array:
    """The same sizes without what differs from print to print."""
    return printed(errors, form, _Still())  # type: ignore[arg-type]


class _Still:
    """A source of random numbers that are all nought."""

    def normal(self, _mean: float, _spread: float, shape: int | tuple[int, ...]) -> Array:
        return np.zeros(shape)


def _map(of: dict[Error, Array]) -> Array:
    """The printers' maps of the plane, ``float[printers][2][2]``: y leans by the skew, both axes are scaled."""
    lean = np.radians(of[Error.SKEW_DEG])
    x, y = 1 + of[Error.SCALE_X], 1 + of[Error.SCALE_Y]
    return np.stack([np.stack([x, y * np.sin(lean)], 1), np.stack([np.zeros_like(x), y * np.cos(lean)], 1)], 1)


def _width(moved: Array, along: Array) -> Array:
    """Width of a mapped peg between jaws that stand across a direction."""
    return np.asarray(PEG * np.linalg.norm(np.einsum("nij,ni->nj", moved, along), axis=1))


def _single(one: Feature, of: dict[Error, Array], moved: Array) -> Array:
    """Size of a feature that stands by itself: across its mapped sides, and what its edges add or take."""
    axis = int(one.along[1] != 0)
    side, other = moved[:, :, axis], moved[:, :, 1 - axis]
    across = np.abs(side[:, 0] * other[:, 1] - side[:, 1] * other[:, 0]) / np.hypot(other[:, 0], other[:, 1])
    size = one.nominal * across
    if one.face in {Face.OUTSIDE, Face.FOOT}:
        return np.asarray(size + of[Error.OUTSIDE] + (2 * of[Error.FIRST_LAYER] if one.face is Face.FOOT else 0.0))
    shut = max(0.0, (SHUT_BELOW_MM - one.nominal) / SHUT_BELOW_MM) if one.face is Face.HOLE else 0.0
    return np.asarray(size + of[Error.INSIDE] + shut * of[Error.SMALL_HOLE])


def read(sizes: Array, smooth_over: float, random: np.random.Generator) -> Array:
    """Readings of printed sizes, ``float[printers][features][TIMES]``, each printer with a caliper of its own.

    Args:
        sizes: as printed, mm.
        smooth_over: distance over which the caliper's error changes, mm.
        random: of hand and caliper.
    """
    nominal = sizes.mean(axis=0)
    curve = np.exp(-((nominal[:, None] - nominal) ** 2) / 2 / smooth_over**2) + 1e-9 * np.eye(len(nominal))
    drawn = random.standard_normal(sizes.shape) @ np.linalg.cholesky(curve).T
    limit = np.where(nominal > LONG_FROM_MM, CALIPER_LONG_MM, CALIPER_MM)
    shown = (sizes + (2 * ndtr(drawn) - 1) * limit)[:, :, None] + random.normal(0.0, HAND_MM, (*sizes.shape, TIMES))
    return np.asarray(np.round(shown / DIGIT_MM) * DIGIT_MM)


def close(case: Case, printers: int, seed: int = 1) -> Loop:
    """Print, read, calibrate, compare.

    Args:
        case: what is simulated.
        printers: how many.
        seed: of the random numbers.
    """
    random = np.random.default_rng(seed)
    errors = hidden(printers, case.wide, random)
    readings = read(printed(errors, case.form, random), case.smooth_over, random)
    names = [one.id for one in features(case.form)]
    found = [
        calibrate({name: row.tolist() for name, row in zip(names, rows, strict=True)}, form=case.form)
        for rows in readings
    ]
    estimated = np.array([each.mean for each in found])
    claimed = np.sqrt(np.array([np.diag(each.covariance) for each in found]))
    return Loop(case, estimated - errors, claimed, repeated(estimated, case.form) - repeated(errors, case.form))


def missed(loop: Loop) -> dict[str, float]:
    """The shares that are below what is asked for."""
    return {name: share for name, share in loop.shares().items() if share < SHARE}


def table(loop: Loop) -> str:
    """One case in words and figures."""
    shares = loop.shares()
    worst = min((share, name) for name, share in shares.items() if name not in FORESEEN)
    lines = [str(loop.case)]
    for error in ERRORS:
        scaled, unit = (100, "%") if error in FORESEEN[:2] else (1, "deg" if error is Error.SKEW_DEG else "mm")
        share = f"  share {shares[error]:.3f}" if error in shares else ""
        lines.append(f"  {error:<12} 95 of 100 within {scaled * loop.within(error):.4f} {unit}{share}")
    lines.append(
        f"  features     worst of {len(loop.sizes[0])}: {worst[1]}, share {worst[0]:.3f} within {FEATURE_MM} mm"
    )
    lines.append(f"  stated       {100 * loop.honest:.1f} % of estimates within twice their stated uncertainty")
    return "\n".join(lines)


def main() -> int:
    """All cases; the exit code says whether every judged share is reached."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--printers", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    failed = 0
    for case in CASES:
        loop = close(case, asked.printers, asked.seed)
        print(table(loop), flush=True)
        if case.judged and missed(loop):
            failed += 1
            print("  MISSED       " + ", ".join(f"{name} {share:.3f}" for name, share in missed(loop).items()))
    print(f"{failed} of {sum(case.judged for case in CASES)} cases miss a share of {SHARE:g}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
