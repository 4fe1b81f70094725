"""How likely the first print fits, and what would raise that most: chance through the whole chain of a kit.

Drawn anew in each trial: the printer's errors, which all its prints share; the largest thing of every lot, with what
reading errors and things that nobody measured make of it; the tightest pocket of every lot; the width and depth that
every space really has. A trial fits where every thing slides into every pocket and every liner lies down in its space.
Trials come in pairs whose draws mirror each other, so that half of the noise cancels; the same input gives the same
figures.

What would help is measured on the same trials, each time with one doubt taken away: the printer's by a coupon, a lot's
by measuring all of it, a pocket's by a gauge, a space's by reading it again.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.judgement import SLIDES_AT
from nookwright.sizing.printers.errors import (
    ERRORS,
    PrinterErrors,
    inside_sensitivities,
    outside_sensitivities,
)
from nookwright.sizing.statistics.nodes import smallest_of
from nookwright.survey.origins import FitClass

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from nookwright.sizing.fits.chain import Pockets
    from nookwright.sizing.printers.errors import Error
    from nookwright.sizing.statistics.largest import Judged

    Array = NDArray[np.float64]
    Fits = NDArray[np.bool_]

TRIALS = Fact(
    40_000,
    unit="1",
    kind=Kind.CALCULATED,
    source="A share of one half is then known to 0.5 % with a confidence of 95 %, others better.",
)
SEED = Fact(31, unit="1", kind=Kind.CHOICE, source="Any; fixed, so that the same room gives the same figures.")
WORTH = Fact(
    0.005, unit="1", kind=Kind.CALCULATED, source="Gains below this are the noise of the trials, or no matter."
)


@dataclass(frozen=True)
class PocketFit:
    """The things of one lot and the pockets that they are put into in any order.

    Attributes:
        lot: id.
        judged: the dimension that decides.
        pockets: how many, and of what shape.
        drawn: their size, mm.
        fit: how a thing should go in.
    """

    lot: str
    judged: Judged
    pockets: Pockets
    drawn: float
    fit: FitClass

    @property
    def needed(self) -> float:
        """The gap from which a thing goes in, mm; one that is held may touch."""
        return 0.0 if self.fit is FitClass.HELD else float(SLIDES_AT)


@dataclass(frozen=True)
class SpaceFit:
    """A liner and its fillers in one direction of their space.

    Attributes:
        space: id.
        side: width or depth.
        room: what is likely left beside them as drawn, mm.
        uncertainty: standard uncertainty of the space's own size, mm.
        drawn: their size, mm.
    """

    space: str
    side: str
    room: float
    uncertainty: float
    drawn: float


class Step(StrEnum):
    """What a person can do about a doubt."""

    COUPON = "print and measure the coupon"
    MEASURE = "measure every thing"
    GAUGE = "print a gauge"
    READ_AGAIN = "read the space again"


@dataclass(frozen=True)
class Help:
    """What one step would raise the kit's probability to, if it left no doubt.

    Attributes:
        step: what to do.
        subject: id of the lot or space; empty for the printer.
        probability: that the whole kit fits then.
        gain: by how much that is more.
    """

    step: Step
    subject: str
    probability: float
    gain: float


@dataclass(frozen=True)
class FirstPrint:
    """How likely things fit at the first print.

    Attributes:
        kit: everything.
        lots: all things of a lot into all of its pockets, by id.
        spaces: the liner into its space, by id.
        helps: what would raise the kit's most, the greatest gain first; nothing that gains less than ``WORTH``.
        seat: that every part goes down onto its liner.
    """

    kit: float
    lots: Mapping[str, float]
    spaces: Mapping[str, float]
    helps: tuple[Help, ...]
    seat: float = 1.0

    def with_seat(self, seat: float) -> FirstPrint:
        """The same where parts go onto their liners with a probability of their own.

        Args:
            seat: that all of them do.
        """
        return replace(self._times(seat), seat=seat)

    def with_gauged(self, lots: Mapping[str, float]) -> FirstPrint:
        """The same with lots whose pockets were proven by gauges; those leave nothing to be helped by a step.

        Args:
            lots: that all of its things go in, by id.
        """
        return replace(self._times(math.prod(lots.values())), lots={**self.lots, **lots})

    def _times(self, share: float) -> FirstPrint:
        """The same where something else must hold too."""
        helps = tuple(
            replace(one, probability=one.probability * share, gain=one.gain * share)
            for one in self.helps
            if one.gain * share >= WORTH
        )
        return replace(self, kit=self.kit * share, helps=helps)


def first_print(
    pockets: Sequence[PocketFit], sides: Sequence[SpaceFit], errors: PrinterErrors, *, trials: int = int(TRIALS)
) -> FirstPrint:
    """Try the first print of a kit, many times.

    Args:
        pockets: of all lots that stand in pockets.
        sides: of all spaces that have a liner.
        errors: what is known of the printer.
        trials: how many; rounded up to an even number.
    """
    chance = _Chance(-(-trials // 2))
    shared = chance.errors(errors)
    tried = [_Tried(f"lot {one.lot}", *_pocket_gaps(one, errors, shared, chance)) for one in pockets]
    tried += [_Tried(f"space {one.space}", *_side_gaps(one, errors, shared, chance)) for one in sides]
    kit = float(_all(one.fits for one in tried).mean()) if tried else 1.0
    return FirstPrint(
        kit,
        _shares(tried, "lot "),
        _shares(tried, "space "),
        _best(_helps(tried, kit, measured=errors.measured)),
    )


@dataclass(frozen=True)
class _Tried:
    """The trials of one fit: its gap over what it needs, with the doubts as they are and each one taken away.

    Attributes:
        name: of the lot or space.
        gap: in every trial, mm.
        known_printer: the same with the printer's likeliest errors.
        known_size: the same with the likeliest largest thing, or size of the space.
    """

    name: str
    gap: Array
    known_printer: Array
    known_size: Array

    @property
    def fits(self) -> Fits:
        """Whether it fits, in every trial."""
        return self.gap >= 0


class _Chance:
    """Mirrored draws; each call takes the next ones of a seeded stream."""

    def __init__(self, pairs: int) -> None:
        self._pairs, self._random = pairs, np.random.default_rng(int(SEED))

    def uniform(self) -> Array:
        """Between 0 and 1, both left out."""
        half = np.clip(self._random.random(self._pairs), 1e-12, 1 - 1e-12)
        return np.concatenate([half, 1 - half])

    def normal(self, columns: int = 1) -> Array:
        """Of mean 0 and deviation 1, ``float[trials][columns]``."""
        half = self._random.standard_normal((self._pairs, columns))
        return np.concatenate([half, -half])

    def errors(self, errors: PrinterErrors) -> Array:
        """What a printer's errors are beyond the likeliest, ``float[trials][errors]``."""
        values, vectors = np.linalg.eigh(np.array(errors.covariance))
        scaled = self.normal(len(ERRORS)) * np.sqrt(np.maximum(values, 0))
        return np.asarray(np.einsum("te,fe->tf", scaled, vectors))


def _pocket_gaps(one: PocketFit, errors: PrinterErrors, shared: Array, chance: _Chance) -> tuple[Array, Array, Array]:
    follow = inside_sensitivities(one.drawn, round_hole=one.pockets.round_hole)
    tightest = errors.scatter * smallest_of(one.pockets.count, chance.uniform())
    largest = one.judged.largest()
    things = np.interp(chance.uniform(), largest.below, largest.sizes)
    likeliest, printer = errors.of(follow)[0], _along(shared, follow)
    known = one.drawn + likeliest + tightest - one.needed
    return known + printer - things, known - things, known + printer - float(np.median(things))


def _side_gaps(one: SpaceFit, errors: PrinterErrors, shared: Array, chance: _Chance) -> tuple[Array, Array, Array]:
    follow = outside_sensitivities(one.drawn)
    likeliest, printer = errors.of(follow)[0], _along(shared, follow)
    size = one.uncertainty * chance.normal()[:, 0]
    known = one.room - likeliest + np.zeros_like(size)
    return known - printer + size, known + size, known - printer


def _along(shared: Array, follow: Mapping[Error, float]) -> Array:
    """What the shared errors do to one size; without threads, so that every machine sums in one order."""
    return np.asarray(np.einsum("te,e->t", shared, [follow.get(error, 0.0) for error in ERRORS]))


def _all(fits: Iterator[Fits]) -> Fits:
    return np.asarray(np.logical_and.reduce(list(fits)))


def _shares(tried: Sequence[_Tried], kind: str) -> dict[str, float]:
    """The share of trials in which all fits of a lot or space do."""
    names = dict.fromkeys(one.name for one in tried if one.name.startswith(kind))
    return {
        name.removeprefix(kind): float(_all(one.fits for one in tried if one.name == name).mean()) for name in names
    }


def _helps(tried: Sequence[_Tried], kit: float, *, measured: bool) -> Iterator[Help]:
    """Every step, and what it would raise the kit's probability to."""

    def helped(step: Step, subject: str, fits: Iterator[Fits]) -> Help:
        raised = float(_all(fits).mean())
        return Help(step, subject, raised, raised - kit)

    if tried and not measured:
        yield helped(Step.COUPON, "", (one.known_printer >= 0 for one in tried))
    for name in dict.fromkeys(one.name for one in tried):
        kind, _, subject = name.partition(" ")
        step = Step.MEASURE if kind == "lot" else Step.READ_AGAIN
        yield helped(step, subject, (one.known_size >= 0 if one.name == name else one.fits for one in tried))
        if kind == "lot":
            yield helped(Step.GAUGE, subject, (one.fits | (one.name == name) for one in tried))


def _best(helps: Iterator[Help]) -> tuple[Help, ...]:
    """Those that are worth it, the greatest gain first."""
    return tuple(sorted((one for one in helps if one.gain >= WORTH), key=lambda one: -one.gain))
