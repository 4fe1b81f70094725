"""Screws, nuts and washers by their standard: ``M5x16 ISO 4762``, ``M5 ISO 4032``, ``M5 ISO 7089``.

A screw is kept as the round thing that it fills: the head's diameter, and head and shank together as its height. Its
mass counts the shank as solid steel at the nominal diameter and the head without its recess, so it errs to the heavy
side.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Shape
from nookwright.survey.standard_size import Limits, StandardSize, Sureness
from nookwright.survey.standard_tables import MM3_PER_CM3, STEEL_G_CM3

SHORTEST_SCREW = Fact(4, unit="mm", kind=Kind.CHOICE, source="Shorter screws of these threads are not in the trade.")
LONGEST_SCREW = Fact(60, unit="mm", kind=Kind.CHOICE, source="Longer ones are kept with rods rather than with screws.")
EXAMPLE_LENGTH = Fact(16, unit="mm", kind=Kind.CHOICE, source="The length that stands for all in the list of sizes.")

_SOURCE = "{standard} by way of an open fastener table"
_SCREW = re.compile(r"m([0-9]+)x([0-9]{1,3})(iso[0-9]+)")


@dataclass(frozen=True)
class _Head:
    """The head of one kind of screw: diameter and height by thread; a countersunk head lies within the length."""

    standard: str
    what: str
    sizes: dict[int, tuple[float, float]]


_HEADS = {
    "iso4762": _Head(
        "ISO 4762",
        "socket head cap screw",
        {3: (5.5, 3.0), 4: (7.0, 4.0), 5: (8.5, 5.0), 6: (10.0, 6.0), 8: (13.0, 8.0)},
    ),
    "iso7380": _Head(
        "ISO 7380-1",
        "button head screw",
        {3: (5.7, 1.65), 4: (7.6, 2.2), 5: (9.5, 2.75), 6: (10.5, 3.3), 8: (14.0, 4.4)},
    ),
    "iso10642": _Head(
        "ISO 10642",
        "countersunk socket screw",
        {3: (6.72, 0.0), 4: (8.96, 0.0), 5: (11.2, 0.0), 6: (13.44, 0.0), 8: (17.92, 0.0)},
    ),
    "iso7045": _Head("ISO 7045", "pan head screw", {3: (5.6, 2.4), 4: (8.0, 3.1), 5: (9.5, 3.7), 6: (12.0, 4.6)}),
}


def screw(designation: str) -> StandardSize | None:
    """The screw of a designation, or ``None`` where the kind, the thread or the length is not known.

    >>> screw("M4x12 ISO 7380").dimensions["diameter"].largest
    7.6
    """
    plain = re.sub(r"\s+", "", designation.casefold()).replace("×", "x").removesuffix("-1")
    match = _SCREW.fullmatch(plain)
    if not match:
        return None
    thread, length, head = int(match[1]), int(match[2]), _HEADS.get(match[3])
    if head is None or thread not in head.sizes or not SHORTEST_SCREW <= length <= LONGEST_SCREW:
        return None
    return _screw(head, thread, length)


def _screw(head: _Head, thread: int, length: int) -> StandardSize:
    """One screw."""
    diameter, height = head.sizes[thread]
    volume = math.pi / 4 * (diameter**2 * height + thread**2 * length)
    return StandardSize(
        f"M{thread}x{length} {head.standard.removesuffix('-1')}",
        f"{head.what} M{thread} x {length}",
        Shape.ROUND,
        (Limits(diameter), Limits(height + length)),
        _SOURCE.format(standard=head.standard),
        Sureness.SINGLE,
        round(volume * STEEL_G_CM3 / MM3_PER_CM3, 2),
        "calculated: solid shank and head, steel",
    )


def screw_examples() -> tuple[StandardSize, ...]:
    """One screw of each kind and thread; lengths from 4 to 60 are known as well."""
    return tuple(_screw(head, thread, int(EXAMPLE_LENGTH)) for head in _HEADS.values() for thread in head.sizes)


def _nut(thread: int, flats: float, height: float) -> StandardSize:
    """A hexagon nut, as the circle about its sharp corners."""
    volume = (math.sqrt(3) / 2 * flats**2 - math.pi / 4 * thread**2) * height
    return StandardSize(
        f"M{thread} ISO 4032",
        f"hexagon nut M{thread}",
        Shape.ROUND,
        (Limits(round(flats * 2 / math.sqrt(3), 2)), Limits(height)),
        _SOURCE.format(standard="ISO 4032") + "; the circle about the sharp corners is calculated",
        Sureness.SINGLE,
        round(volume * STEEL_G_CM3 / MM3_PER_CM3, 2),
        "calculated: hexagon less the thread, steel",
    )


NUTS = (_nut(3, 5.5, 2.4), _nut(4, 7.0, 3.2), _nut(5, 8.0, 4.7), _nut(6, 10.0, 5.2), _nut(8, 13.0, 6.8))


def _washer(thread: int, hole: float, diameter: float, thickness: float) -> StandardSize:
    """A plain washer."""
    volume = math.pi / 4 * (diameter**2 - hole**2) * thickness
    return StandardSize(
        f"M{thread} ISO 7089",
        f"plain washer for M{thread}",
        Shape.ROUND,
        (Limits(diameter), Limits(thickness)),
        _SOURCE.format(standard="ISO 7089"),
        Sureness.SINGLE,
        round(volume * STEEL_G_CM3 / MM3_PER_CM3, 2),
        "calculated: ring, steel",
    )


WASHERS = (
    _washer(3, 3.2, 7.0, 0.5),
    _washer(4, 4.3, 9.0, 0.8),
    _washer(5, 5.3, 10.0, 1.0),
    _washer(6, 6.4, 12.0, 1.6),
    _washer(8, 8.4, 16.0, 1.6),
)
