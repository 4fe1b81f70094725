"""The gain of measuring more things of a lot: one dimension, judged now and in every future that readings may bring."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from scipy.special import ndtr

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.chain import CLEARANCE, all_fit_probability, size_pocket
from nookwright.sizing.lot_sizes import limit_of
from nookwright.sizing.next_readings.futures import futures
from nookwright.sizing.next_readings.gain import LEAST_CELLS, LEAST_FIT, LEAST_MASS_G, LEAST_POCKET, Gain, rate

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.sizing.fits.chain import Pockets
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.statistics.largest import Judged
    from nookwright.survey.origins import FitClass

AT_ONCE = (
    Fact(1, unit="1", kind=Kind.CHOICE, source="Readings that may be asked for at once: the next one,"),
    Fact(3, unit="1", kind=Kind.CHOICE, source="or a few,"),
    Fact(8, unit="1", kind=Kind.CHOICE, source="or so many that they speak for themselves."),
)
UNLIKELY = Fact(
    0.05, unit="1", kind=Kind.CHOICE, source="What less than one lot in twenty would show is not looked for."
)


class Sizing(Protocol):
    """How the size that is drawn follows from what is known of the things."""

    @property
    def pocket(self) -> bool:
        """Whether each tenth counts: a pocket follows the things closely."""

    def size(self, judged: Judged) -> float:
        """The size to draw, mm."""

    def fits(self, judged: Judged, size: float) -> float:
        """How likely all things of the lot go in at that size."""


@dataclass(frozen=True)
class Loose:
    """Things in a tray: the limit of the lot alone counts, clearances are the tray's.

    Attributes:
        dimension: which one.
        confidence: that no thing exceeds the limit.
        pocket: each tenth counts all the same, as for a lot that has no place yet.
    """

    dimension: str
    confidence: float
    pocket: bool = False

    def size(self, judged: Judged) -> float:
        """The limit of the lot, mm."""
        if self.dimension == "thickness":
            return limit_of(judged.sampled, judged.expected, self.dimension, self.confidence)
        return judged.largest().limit(self.confidence)

    def fits(self, judged: Judged, size: float) -> float:
        """How likely no thing of the lot exceeds that size; of sheets, their mean."""
        if self.dimension == "thickness":
            middle, above = (
                limit_of(judged.sampled, judged.expected, self.dimension, float(share)) for share in (0.5, ndtr(1.0))
            )
            return float(ndtr((size - middle) / max(above - middle, 1e-9)))
        return float(judged.largest().probability(size))


@dataclass(frozen=True)
class InPockets:
    """Things in pockets of their own: what the printer does counts too.

    Attributes:
        errors: of the printer.
        pockets: how many, and of what shape.
        fit: how a thing goes in.
        confidence: that all things go into all pockets.
    """

    errors: PrinterErrors
    pockets: Pockets
    fit: FitClass
    confidence: float
    pocket: bool = True

    def size(self, judged: Judged) -> float:
        """The pocket to draw, mm; never narrower than its things."""
        size = size_pocket(judged, self.errors, pockets=self.pockets, fit=self.fit, confidence=self.confidence)
        return max(size.pocket, size.measured + size.limit)

    def fits(self, judged: Judged, size: float) -> float:
        """How likely all things go into all pockets with the clearance of the fit."""
        clearance = float(CLEARANCE[self.fit])
        return all_fit_probability(judged, self.errors, pockets=self.pockets, drawn=size, clearance=clearance)


@dataclass(frozen=True)
class Outcome:
    """What is decided for a size.

    Attributes:
        room: the largest size that still goes into what is made, mm; at least the size it was decided for.
        cells: footprint.
        mass_g: plastic of its part, g.
    """

    room: float
    cells: int
    mass_g: float


@dataclass(frozen=True)
class Asked:
    """So many readings of one dimension, and what they gain."""

    readings: int
    gain: Gain


def next_of(
    judged: Judged,
    sizing: Sizing,
    decide: Callable[[float], Outcome],
    *,
    reading_error: float,
    rough: bool = False,
) -> Asked | None:
    """The readings of one dimension that gain most in a minute; ``None`` where no decision would change.

    Args:
        judged: what is known of it now.
        sizing: how a size follows from what is known.
        decide: what is made for a size in mm.
        reading_error: standard uncertainty of a reading to come, mm.
        rough: the readings so far are rough, to 5 mm, and would be replaced.
    """
    open_ones = judged.sampled.count if rough else judged.sampled.unmeasured
    if not open_ones or not may_change(judged, sizing, decide):
        return None
    found = []
    for many in sorted({min(int(many), open_ones) for many in AT_ONCE}):
        later = futures(judged, many, reading_error=reading_error, rough=rough)
        asked = Asked(many, gain_of(judged, later, sizing, decide))
        if asked.gain.counts:
            found.append((rate(asked.gain, many), asked, later))
    if not found:
        return None
    _, best, later = max(found, key=lambda one: one[0])
    return replace(best, gain=replace(best.gain, at_same_size=_at_same_size(best.gain, later, sizing)))


def may_change(judged: Judged, sizing: Sizing, decide: Callable[[float], Outcome]) -> bool:
    """Whether knowing the largest of the lot outright could change a decision: most dimensions end here.

    Args:
        judged: what is known now.
        sizing: how a size follows from what is known.
        decide: what is made for a size in mm.
    """
    size, largest = sizing.size(judged), judged.largest()
    least = size - max(0.0, largest.limit(1 - UNLIKELY) - largest.limit(float(UNLIKELY)))
    now, then = decide(size), decide(least)
    smaller = now.cells - then.cells >= LEAST_CELLS or now.mass_g - then.mass_g >= LEAST_MASS_G
    if sizing.pocket:
        return smaller or size - least >= LEAST_POCKET
    return smaller or 1 - sizing.fits(judged, now.room) >= LEAST_FIT


def gain_of(judged: Judged, later: Sequence[Judged], sizing: Sizing, decide: Callable[[float], Outcome]) -> Gain:
    """What is gained on average if one of these futures comes true.

    Args:
        judged: what is known now.
        later: what may be known then, each equally likely.
        sizing: how a size follows from what is known.
        decide: what is made for a size in mm.
    """
    size, share = sizing.size(judged), 1 / len(later)
    sizes = [sizing.size(one) for one in later]
    now, then = decide(size), [decide(one) for one in sizes]
    return Gain(
        pocket=size - sum(sizes) * share if sizing.pocket else 0.0,
        cells=sum(now.cells - one.cells for one in then) * share,
        mass_g=sum(now.mass_g - one.mass_g for one in then) * share,
        fit=0.0 if sizing.pocket else _surer(now, later, then, sizing),
    )


def _surer(now: Outcome, later: Sequence[Judged], then: Sequence[Outcome], sizing: Sizing) -> float:
    """How much likelier all fit, for the part is made by what is known then.

    Against today's part in the same future: what a reading says of the things themselves makes none of them fit. A
    pocket, which follows each reading, is drawn as sure then as now.
    """
    pairs = zip(later, then, strict=True)
    gained = [sizing.fits(one, out.room) - sizing.fits(one, now.room) for one, out in pairs if out.cells != now.cells]
    return sum(gained) / len(later)


def _at_same_size(gain: Gain, later: Sequence[Judged], sizing: Sizing) -> float:
    """How likely all fit if pockets stay as wide as they are, on average, and what was gained is spent on safety."""
    if not sizing.pocket:
        return 0.0
    return sum(sizing.fits(one, sizing.size(one) + max(0.0, gain.pocket)) for one in later) / len(later)
