"""Which rectangles of a bed are free for a piece where places on it must stay free."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.cutting.model import Bed
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.survey.models import Printer

Zone = tuple[float, float, float, float]  # x0, y0, x1, y1
CELL = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Side of a cell: a bed of 300 x 300 is searched in milliseconds.")
_NOTHING: Zone = (0.0, 0.0, 0.0, 0.0)


def beds_of(printer: Printer) -> tuple[Bed, ...]:
    """All rectangles of a printer's bed that are free for one piece, the largest first; of no size where nothing is.

    Args:
        printer: as surveyed; its margins are taken off, and sides are whole tenths of a mm, in which pieces are nested.
            Where places must stay free, or pieces are printed one by one, they are nested in cells.
    """
    width, depth = (side - 2 * printer.margin for side in (printer.bed_width, printer.bed_depth))
    zones = kept_free(printer)
    if zones or printer.one_by_one:
        apart = room_between(printer)
        width, depth = _cells_down(width, apart), _cells_down(depth, apart)
        zones = tuple(
            (_cells_down(x0, apart), _cells_down(y0, apart), _cells_up(x1), _cells_up(y1)) for x0, y0, x1, y1 in zones
        )
    free = free_rectangles(width, depth, zones) or (_NOTHING,)
    return tuple(Bed(_tenths_down(x1 - x0), _tenths_down(y1 - y0), printer.bed_height) for x0, y0, x1, y1 in free)


def room_between(printer: Printer) -> float:
    """What pieces are apart on a bed: their brims included; one by one the head must pass as well, mm.

    Args:
        printer: as surveyed.
    """
    brim, head = printer.profile.brim, printer.one_by_one
    return max(printer.spacing + 2 * brim, head.radius + brim if head else 0.0)


def kept_free(printer: Printer) -> tuple[Zone, ...]:
    """The places that pieces keep off by their brim, from the corner inside the margins of the bed."""
    off, brim = printer.margin, printer.profile.brim
    return tuple(
        (zone.x - off - brim, zone.y - off - brim, zone.x + zone.width - off + brim, zone.y + zone.depth - off + brim)
        for zone in printer.keep_out
    )


def _cells_down(length: float, apart: float) -> float:
    """What is left of a length for a piece in whole cells, with the room that it keeps to the next one."""
    return math.floor(round((length + apart) / CELL, 6)) * CELL - apart


def _cells_up(length: float) -> float:
    return math.ceil(round(length / CELL, 6)) * CELL


def _tenths_down(length: float) -> float:
    return math.floor(round(length * 10, 6)) / 10


def free_rectangles(width: float, depth: float, zones: Sequence[Zone]) -> tuple[Zone, ...]:
    """All rectangles without a zone in them that no other such rectangle holds, the largest first.

    Args:
        width: of the bed, mm.
        depth: of the bed, mm.
        zones: that must stay free.

    >>> free_rectangles(100, 80, [(0, 0, 20, 20)])
    ((20, 0, 100, 80), (0, 20, 100, 80))
    >>> free_rectangles(100, 80, [])
    ((0, 0, 100, 80),)
    """
    found = set(_between(width, depth, zones))
    most = [one for one in found if not any(one != other and _holds(other, one) for other in found)]
    return tuple(sorted(most, key=lambda one: (-(one[2] - one[0]) * (one[3] - one[1]), one[1], one[0])))


def _between(width: float, depth: float, zones: Sequence[Zone]) -> Iterator[Zone]:
    """Free rectangles from an edge of the bed or of a zone to another, each as deep as it goes."""
    for x0 in sorted({0, *(zone[2] for zone in zones)}):
        for x1 in sorted({width, *(zone[0] for zone in zones)}):
            if x1 > x0:
                at = 0.0 if isinstance(depth, float) else 0
                for zone in sorted((one for one in zones if one[0] < x1 and one[2] > x0), key=lambda one: one[1]):
                    if zone[1] > at:
                        yield x0, at, x1, zone[1]
                    at = max(at, zone[3])
                if depth > at:
                    yield x0, at, x1, depth


def _holds(outer: Zone, inner: Zone) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and outer[2] >= inner[2] and outer[3] >= inner[3]
