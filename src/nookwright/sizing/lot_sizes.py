"""How large the things of a lot may be: its samples, the way it was made and what it was measured with, put together.

A published size is a limit already. Of everything else the largest of the whole lot is judged (``statistics.largest``),
each dimension a little more surely than asked, so that all dimensions together hold the confidence.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import lru_cache
from statistics import fmean
from typing import TYPE_CHECKING

from scipy.special import ndtri

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.chain import CONFIDENCE, FIT_OF, Pockets, PocketSize, size_pocket
from nookwright.sizing.fits.found import needed_by, tried_of, with_gauges
from nookwright.sizing.printers.errors import PrinterErrors, unmeasured
from nookwright.sizing.statistics.largest import Expected, Judged, Sampled
from nookwright.sizing.statistics.processes import Tolerance, own_tolerance, tolerance_of
from nookwright.sizing.statistics.uncertainty import Combined, reading_components, rough_error
from nookwright.survey.models import Shape
from nookwright.survey.origins import FitClass, Process, Purpose
from nookwright.survey.readings import Published
from nookwright.survey.standard_size import DIMENSIONS

if TYPE_CHECKING:
    from nookwright.sizing.fits.gauges import Tried
    from nookwright.survey.models import Lot, OwnProcess, Room
    from nookwright.survey.readings import Readings
    from nookwright.survey.trials import Found

THIN_SHARE = Fact(
    0.1,
    unit="1",
    kind=Kind.MEMORY,
    source="Thickness of sheets, card and cork, +-: makers state 5 to 10 %; the tolerance of a side would be absurd.",
)
USUAL_PURPOSE = Purpose.KEEP_UPRIGHT
_CACHE = 4096  # dimensions; a room has some hundreds
_EXACT = 1e-3  # mm; spread of a size that nothing is left to be known of, where the model wants one above 0


@dataclass(frozen=True)
class Terms:
    """What holds for all lots of a room.

    Attributes:
        confidence: that all things of a lot fit, between 0 and 1.
        processes: ways of making that the room file brings along.
        errors: of the printer that makes the pockets.
        found: what gauges and pilots showed.
    """

    confidence: float = float(CONFIDENCE)
    processes: tuple[OwnProcess, ...] = ()
    errors: PrinterErrors = field(default_factory=unmeasured)
    found: tuple[Found, ...] = ()


@dataclass(frozen=True)
class SizedSide:
    """One dimension of the things of a lot, with where its limit comes from.

    Attributes:
        dimension: its name.
        readings: what was measured, or the published limit, mm.
        limit: what no thing of the lot exceeds, mm.
        confidence: that none does; 1 for a published limit.
        process: how they were made, in a word; empty for a published limit.
        tolerance: what that says of this size; ``None`` where nothing is left to be guessed.
        measured: how many things were measured.
    """

    dimension: str
    readings: tuple[float, ...]
    limit: float
    confidence: float
    process: str
    tolerance: Tolerance | None
    measured: int


def terms_of(room: Room, errors: PrinterErrors | None = None) -> Terms:
    """What holds for all lots of a room.

    Args:
        room: as surveyed.
        errors: of the printer that makes the pockets; the usual ones when left out.
    """
    return Terms(room.choices.confidence, room.process, errors or unmeasured(), room.found)


def dimensions_of(lot: Lot) -> tuple[str, ...]:
    """The dimensions of a lot, in the order of its shape."""
    return tuple(side for side in DIMENSIONS[lot.shape or Shape.BOX] if getattr(lot, side) is not None)


def sized(lot: Lot, dimension: str, terms: Terms) -> SizedSide:
    """One dimension of a lot at its largest.

    Args:
        lot: a loaded lot.
        dimension: one that it has.
        terms: what holds for all lots.
    """
    readings: Readings = getattr(lot, dimension)
    if isinstance(readings, Published):
        return SizedSide(dimension, readings.all, readings.largest, 1.0, "", None, 0)
    confidence = 1 - (1 - terms.confidence) / len(DIMENSIONS[lot.shape or Shape.BOX])
    tolerance = process_tolerance(lot, dimension, terms)
    sampled, expected = _sampled(lot, readings), Expected(tolerance.spread)
    return SizedSide(
        dimension,
        readings.all,
        limit_of(sampled, expected, dimension, confidence),
        confidence,
        lot.made or Process.UNKNOWN.value,
        tolerance if sampled.unmeasured else None,
        len(readings.all),
    )


def limit_of(sampled: Sampled, expected: Expected, dimension: str, confidence: float) -> float:
    """What no thing of a lot exceeds in one dimension, mm.

    Args:
        sampled: as it was measured.
        expected: what its making says.
        dimension: its name: sheets lie in piles, so of their thickness the mean counts.
        confidence: that none does.
    """
    limit = _sheet_limit if dimension == "thickness" else _limit
    return limit(sampled, expected, confidence)


def judged_of(lot: Lot, dimension: str, terms: Terms) -> Judged:
    """One dimension of a lot as the statistics have it; a published limit is one thing, measured without error.

    Args:
        lot: a loaded lot.
        dimension: one that it has.
        terms: what holds for all lots.
    """
    readings: Readings = getattr(lot, dimension)
    if isinstance(readings, Published):
        return Judged(Sampled((readings.largest,), 0.0, 1), Expected(_EXACT))
    return Judged(_sampled(lot, readings), Expected(process_tolerance(lot, dimension, terms).spread))


def process_tolerance(lot: Lot, dimension: str, terms: Terms) -> Tolerance:
    """What the way that a lot was made says of one of its dimensions.

    Args:
        lot: a loaded lot.
        dimension: one that it has.
        terms: what holds for all lots.
    """
    size, made = fmean(getattr(lot, dimension).all), lot.made or Process.UNKNOWN.value
    for own in terms.processes:
        if own.id == made:
            return replace(own_tolerance(own.tolerance, own.percent, size), source=own.source)
    found = tolerance_of(Process(made), size)
    if dimension == "thickness" and found.plus_minus > THIN_SHARE * size:
        return Tolerance(THIN_SHARE * size, "a tenth of its thickness, from memory", sure=False)
    return found


def fit_of(lot: Lot) -> FitClass:
    """How a thing of a lot goes into its pocket: as the lot says, or as its purpose asks for."""
    return lot.fit or FIT_OF[lot.purpose or USUAL_PURPOSE]


def pocket_of(lot: Lot, terms: Terms, *, pockets: int) -> PocketSize:
    """The round pocket that a standing thing of a lot goes into.

    Its diameter alone decides whether a thing goes in, so it has the whole confidence.

    Args:
        lot: a loaded lot of round things.
        terms: what holds for all lots.
        pockets: how many there are.
    """
    judged = judged_of(lot, "diameter", terms)
    asked = (Pockets(pockets, round_hole=True), fit_of(lot), terms.confidence)
    size = _pocket(judged.sampled, judged.expected, terms.errors, asked)
    tried = tried_of(terms.found, lot.id)
    return _gauged((judged.sampled, judged.expected), terms.errors, asked, tried, size) if tried else size


def drawn(pocket: PocketSize) -> float:
    """The diameter that a pocket is drawn with, mm: its size, in whole hundredths."""
    return round(pocket.pocket, 2)


def _sampled(lot: Lot, readings: Readings) -> Sampled:
    read = Combined(reading_components(lot.instrument, fmean(readings.all))).standard
    error = rough_error() if lot.rough else read
    return Sampled(readings.all, error, lot.count)  # measured = "all" is checked against the count when it is loaded


@lru_cache(_CACHE)
def _limit(sampled: Sampled, expected: Expected, confidence: float) -> float:
    return Judged(sampled, expected).largest().limit(confidence)


@lru_cache(_CACHE)
def _sheet_limit(sampled: Sampled, expected: Expected, confidence: float) -> float:
    """Thickness of one sheet, mm. They lie in piles, which differ less than single sheets: one sheet's limit holds."""
    count = len(sampled.readings)
    spread = Judged(sampled, expected).spread if sampled.unmeasured else 0.0
    doubt = math.hypot(spread * math.sqrt(1 + 1 / count), sampled.reading_error / math.sqrt(count))
    return fmean(sampled.readings) + float(ndtri(confidence)) * doubt


@lru_cache(_CACHE)
def _pocket(
    sampled: Sampled, expected: Expected, errors: PrinterErrors, asked: tuple[Pockets, FitClass, float]
) -> PocketSize:
    pockets, fit, confidence = asked
    size = size_pocket(Judged(sampled, expected), errors, pockets=pockets, fit=fit, confidence=confidence)
    # A printer that prints insides large could take a pocket below its things; it is never drawn narrower than them.
    return replace(size, printer=max(size.printer, -size.clearance))


@lru_cache(_CACHE)
def _gauged(
    things: tuple[Sampled, Expected],
    errors: PrinterErrors,
    asked: tuple[Pockets, FitClass, float],
    tried: tuple[Tried, ...],
    size: PocketSize,
) -> PocketSize:
    """The same with what gauges showed."""
    pockets, fit, _ = asked
    wanted = needed_by(Judged(*things), errors, pockets=pockets, fit=fit, tried=tried)
    return with_gauges(size, wanted, fit)
