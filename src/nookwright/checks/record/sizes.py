"""Whether kit.json tells rightly how large the things of each lot may be, and how its pockets got their diameter.

The table of sizes is where a person sees why a pocket is as wide as it is, and enters more readings after. Readings
must be those of the room file; limits and sums are worked out once more by the statistics, and every sum must be the
sum of its parts. What this does not know: another statistics than the tool's own.
"""

from __future__ import annotations

from statistics import mean, stdev
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.lot_sizes import dimensions_of, fit_of, pocket_of, sized, terms_of
from nookwright.sizing.printers.household import household_of
from nookwright.sizing.statistics.tolerance_factors import one_sided_factor
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.exchange.kit import Kit, KitLot, KitPocket, KitSize
    from nookwright.ground.findings import Finding
    from nookwright.sizing.lot_sizes import SizedSide, Terms
    from nookwright.survey.models import Lot, Room

WRITTEN = Fact(2e-4, unit="mm", kind=Kind.CALCULATED, source="Sizes are written in ten-thousandths, and added up.")
DRAWN = Fact(0.0051, unit="mm", kind=Kind.CALCULATED, source="A pocket is drawn in whole hundredths.")
_ALL_MEASURED = "every one was measured"
_LEAST = 2  # samples that have a spread


def check_sizes(kit: Kit, room: Room) -> Iterator[Finding]:
    """A finding about everything that is wrong with sizes and pockets, and one about fits that nobody asked for.

    Args:
        kit: the kit, its references sound.
        room: with the readings of every lot.
    """
    terms = terms_of(room, household_of(room).envelope)
    lots = {lot.id: lot for lot in room.lot}
    kinds = {part.id: part.kind for part in kit.parts}
    wrong = (one for lot in kit.lots for one in _lot(lot, lots[lot.id], terms, kinds))
    yield from said_once("size-record", Severity.STOP, wrong)
    yield from said_once("thing-otherwise", Severity.WARN, _fits(kit, lots))


def _fits(kit: Kit, lots: Mapping[str, Lot]) -> Iterator[Wrong]:
    """Pockets that things go into otherwise than the room file asks for."""
    for one in kit.lots:
        for size in one.sizes:
            if size.pocket:
                yield from words(one.id, "A thing goes into its pocket", size.pocket.fit, fit_of(lots[one.id]).value)


def _lot(said: KitLot, lot: Lot, terms: Terms, kinds: Mapping[str, str]) -> Iterator[Wrong]:
    """One lot."""
    yield from words(said.id, "Its dimensions", tuple(one.dimension for one in said.sizes), dimensions_of(lot))
    known = dimensions_of(lot)
    for one in said.sizes:
        if one.dimension in known:
            yield from _size(said.id, one, sized(lot, one.dimension, terms), lot)
    pockets = [one for one in said.sizes if one.pocket]
    in_pockets = any(kinds.get(place.part) == "cradle" and place.round_axis == "z" for place in said.places)
    yield from words(said.id, "It is kept in round pockets", bool(pockets), in_pockets)
    for one in pockets:
        if one.pocket and lot.diameter and one.dimension == "diameter":
            yield from _pocket(said.id, one.pocket, lot, terms)


def _size(name: str, said: KitSize, side: SizedSide, lot: Lot) -> Iterator[Wrong]:
    """One dimension: what was read, what no thing exceeds, and where that comes from."""
    what = f"Its {said.dimension}"
    yield from words(name, f"{what} was read as", said.readings, side.readings)
    yield from words(name, f"{what} is published", said.published, not side.process)
    yield from words(name, f"{what} comes of", said.process, side.process)
    yield from figure(name, f"{what} is at most", said.limit, side.limit, unit="mm", off=WRITTEN)
    yield from figure(name, f"{what} is so with a confidence of", said.confidence, side.confidence, off=WRITTEN)
    tolerance = side.tolerance.plus_minus if side.tolerance else 0.0
    yield from figure(name, f"{what} differs to each side by", said.tolerance, tolerance, unit="mm", off=WRITTEN)
    source = side.tolerance.source if side.tolerance else lot.standard or _ALL_MEASURED
    yield from words(name, f"{what} has as source", said.source, source)
    alone = _samples_alone(side, lot.count)
    yield from figure(name, f"{what}, by its samples alone", said.samples_alone, alone, unit="mm", off=WRITTEN)


def _samples_alone(side: SizedSide, count: int) -> float:
    """The mean and as many standard deviations as a whole lot needs, mm; 0 where there is nothing to work it out of."""
    if side.measured < _LEAST or side.tolerance is None:
        return 0.0
    share = side.confidence ** (1 / count)
    return mean(side.readings) + one_sided_factor(side.measured, share, side.confidence) * stdev(side.readings)


def _pocket(name: str, said: KitPocket, lot: Lot, terms: Terms) -> Iterator[Wrong]:
    """The sum that a pocket is."""
    asked = pocket_of(lot, terms, pockets=capacity(lot))
    for what, stated, true in (
        ("The largest reading", said.measured, asked.measured),
        ("The lot may be larger than that by", said.limit, asked.limit),
        ("The printer may take off", said.printer, asked.printer),
        ("The clearance of the fit", said.clearance, asked.clearance),
        ("Trials move it by", said.found, asked.found),
    ):
        yield from figure(name, f"Of its pocket: {what[0].lower()}{what[1:]}", stated, true, unit="mm", off=WRITTEN)
    together = said.measured + said.limit + said.printer + said.clearance + said.found
    yield from figure(name, "Its pocket is drawn with", said.size, together, unit="mm", off=DRAWN)
    yield from figure(name, "Its pocket holds with a confidence of", said.confidence, asked.confidence, off=WRITTEN)
    yield from words(name, "The printer of its pocket was measured", said.calibrated, terms.errors.measured)
