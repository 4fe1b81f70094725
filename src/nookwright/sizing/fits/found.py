"""What trials said, turned into sizes: pockets of gauged lots, sides of piloted spaces, the clearance of the seat."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.gauges import Tried, after, gauged_pocket, needed
from nookwright.sizing.statistics.uncertainty import Combined, Component
from nookwright.survey.origins import Says

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.sizing.fits.chain import Pockets, PocketSize
    from nookwright.sizing.fits.gauges import Needed
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.sizing.statistics.largest import Judged
    from nookwright.survey.origins import FitClass
    from nookwright.survey.trials import Axis, Found

GAP_ERROR = Fact(
    0.25,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Standard uncertainty of a gap, read with a rule or cards.",
)
SEAT_MOVES = {
    Says.TIGHT: Fact(
        0.1, unit="mm", kind=Kind.CHOICE, source="Added to the clearance a side of all sockets: one ring's step."
    ),
    Says.GOES_IN: Fact(0.0, unit="mm", kind=Kind.CHOICE, source="The seat stays as it is."),
    Says.LOOSE: Fact(
        -0.05, unit="mm", kind=Kind.CHOICE, source="Half a step less: a loose seat holds, a tight one cannot be used."
    ),
}


def tried_of(found: Iterable[Found], lot: str) -> tuple[Tried, ...]:
    """Every gauge that was tried for a lot; each table of the room file is one print.

    Args:
        found: of the room.
        lot: id of the lot.
    """
    mine = [one for one in found if one.gauge == lot]
    return tuple(
        Tried(number, size, says)
        for number, one in enumerate(mine)
        for size, says in zip(one.sizes, one.says, strict=True)
    )


def needed_by(
    judged: Judged, errors: PrinterErrors, *, pockets: Pockets, fit: FitClass, tried: tuple[Tried, ...]
) -> Needed:
    """What is known of the size needed, gauges included.

    Args:
        judged: one dimension of the things.
        errors: of the printer.
        pockets: how many there are, and of what shape.
        fit: how a thing goes in.
        tried: gauges and their answers.
    """
    before = needed(judged, errors, pockets=pockets)
    return after(before, tried, fit) if tried else before


def with_gauges(size: PocketSize, wanted: Needed, fit: FitClass) -> PocketSize:
    """A pocket sized by gauges: the sum that it was, and what they move it by.

    Args:
        size: of the pocket by things, printer and clearance alone.
        wanted: what is known with the gauges.
        fit: how a thing goes in.
    """
    pocket = gauged_pocket(wanted, fit)
    return replace(size, found=pocket - size.pocket, confidence=wanted.holds(pocket, fit))


def piloted(value: float, most: float, found: Iterable[Found], space: str, axis: Axis) -> float:
    """The usable side of a space by its pilots, mm; as it was where there are none.

    A pilot is a piece as drawn, so the printer's scale is in the finding already. It was laid at one place, so nothing
    is made larger than the smallest reading.

    Args:
        value: usable by the readings, mm.
        most: the smallest reading, mm.
        found: of the room.
        space: id of the space.
        axis: which side.
    """
    sizes = [
        one.pilot + (one.loose or 0.0) - (one.tight or 0.0)
        for one in found
        if one.space == space and one.axis is axis and one.pilot is not None
    ]
    if not sizes:
        return value
    margin = Combined((Component("gap", float(GAP_ERROR)),)).expanded(sides=1)
    return max(0.0, min(min(sizes) - margin, most))


def seat_move(found: Iterable[Found]) -> float:
    """What is added to the clearance a side of every socket, mm: the tightest that was found.

    Args:
        found: of the room.
    """
    return max((float(SEAT_MOVES[one.seat]) for one in found if one.seat is not None), default=0.0)
