"""What a making process says of the spread of sizes, before anything is measured.

A published tolerance +-T is what a maker promises over years, moulds and shifts; the things of one lot come from one or
two boxes. Its standard deviation is taken as T / 3: practically all of a process lies within its tolerance. Tables of a
standard belong to its publisher, so only the values that are needed here stand here. Whoever knows better says so in
the room file (``[[process]]``).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.origins import Process

if TYPE_CHECKING:
    from collections.abc import Callable

SIGMAS = Fact(
    3.0,
    unit="1",
    kind=Kind.COMMON_PRACTICE,
    source="A tolerance is taken as three standard deviations: 99.7 % of a normal process lie within.",
)
GLASS_BASE = Fact(
    0.5, unit="mm", kind=Kind.MEMORY, source="ISO 9058 / CETIE DT2: body diameters of bottles +-(0.5 + 0.012 D)."
)
GLASS_SHARE = Fact(0.012, unit="1", kind=Kind.MEMORY, source="The part of it that grows with the diameter.")
BLOWN_BASE = Fact(1.0, unit="mm", kind=Kind.MEMORY, source="Blown by mouth: no standard; twice a bottle's.")
BLOWN_SHARE = Fact(0.024, unit="1", kind=Kind.MEMORY, source="Blown by mouth: no standard; twice a bottle's.")
WOOD_BASE = Fact(
    0.3, unit="mm", kind=Kind.MEMORY, source="Sawn or turned by hand and sanded, +-: common practice in joineries."
)
WOOD_SHARE = Fact(
    0.01, unit="1", kind=Kind.MEMORY, source="Wood moves about 1 % across the grain between a dry and a damp room."
)
CERAMICS_SHARE = Fact(
    0.03, unit="1", kind=Kind.MEMORY, source="Clay shrinks by 10 to 13 % in drying and firing, and not twice alike."
)
SHEET_UP_TO = Fact(150.0, unit="mm", kind=Kind.MEMORY, source="ISO 216: the side up to which +-1.5 mm are allowed.")
SHEET_LARGE_UP_TO = Fact(600.0, unit="mm", kind=Kind.MEMORY, source="ISO 216: the side up to which +-2 mm are.")
SOFT_BASE = Fact(1.0, unit="mm", kind=Kind.MEMORY, source="Soft goods: as they are folded and pressed, +-.")
SOFT_SHARE = Fact(0.03, unit="1", kind=Kind.MEMORY, source="Soft goods: as they are folded and pressed, +-.")
UNKNOWN_BASE = Fact(0.6, unit="mm", kind=Kind.CHOICE, source="Things of no known making: looser than moulded plastic.")
UNKNOWN_SHARE = Fact(0.01, unit="1", kind=Kind.CHOICE, source="Things of no known making: a bottle's, nearly.")
_PAPER_MM = ((float(SHEET_UP_TO), 1.5), (float(SHEET_LARGE_UP_TO), 2.0), (float("inf"), 3.0))
# Bands of general tolerances, over ... up to and including, and +- in mm. ISO 2768-1, table 1.
_LINEAR_UP_TO = (3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
_MEDIUM_MM = (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0)
_COARSE_MM = (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0)
# Plastic mouldings, tolerance group 6, not bound to one tool. DIN 16742:2013.
_PLASTIC_UP_TO = (
    3.0,
    6.0,
    10.0,
    18.0,
    30.0,
    50.0,
    80.0,
    120.0,
    180.0,
    250.0,
    315.0,
    400.0,
    500.0,
    630.0,
    800.0,
    1000.0,
)
_PLASTIC_MM = (0.12, 0.18, 0.22, 0.26, 0.31, 0.37, 0.57, 0.80, 0.93, 1.05, 1.15, 1.60, 2.20, 2.50, 2.80, 3.10)


@dataclass(frozen=True)
class Tolerance:
    """What a process promises of one size.

    Attributes:
        plus_minus: mm, to each side.
        source: where that comes from.
        sure: a published value that was checked; ``False`` for what is from memory or our own choice.
    """

    plus_minus: float
    source: str
    sure: bool

    @property
    def spread(self) -> float:
        """Standard deviation of such a process, mm."""
        return self.plus_minus / SIGMAS


def tolerance_of(process: Process, size: float) -> Tolerance:
    """The tolerance of one size of a thing that was made in this way.

    Args:
        process: how it was made.
        size: mm, above 0; beyond the last band of a table the last band's share of its size goes on.
    """
    return _TOLERANCES[process](size)


def own_tolerance(plus_minus: float, percent: float, size: float) -> Tolerance:
    """A tolerance that the user states: a fixed part and a share of the size.

    Args:
        plus_minus: mm.
        percent: of the size.
        size: mm.
    """
    return Tolerance(plus_minus + percent / 100 * size, "stated in the room file", sure=True)


def _banded(up_to: tuple[float, ...], values: tuple[float, ...], source: str) -> Callable[[float], Tolerance]:
    def of(size: float) -> Tolerance:
        at = bisect_left(up_to, size)
        value = values[at] if at < len(values) else values[-1] / up_to[-1] * size
        return Tolerance(value, source, sure=True)

    return of


def _linear(base: float, share: float, source: str) -> Callable[[float], Tolerance]:
    def of(size: float) -> Tolerance:
        return Tolerance(base + share * size, source, sure=False)

    return of


def _paper(size: float) -> Tolerance:
    return Tolerance(next(value for up_to, value in _PAPER_MM if size <= up_to), "ISO 216, from memory", sure=False)


_TOLERANCES: dict[Process, Callable[[float], Tolerance]] = {
    Process.MOULDED_GLASS: _linear(GLASS_BASE, GLASS_SHARE, "ISO 9058, from memory"),
    Process.BLOWN_GLASS: _linear(BLOWN_BASE, BLOWN_SHARE, "twice that of moulded glass, from memory"),
    Process.MOULDED_PLASTIC: _banded(_PLASTIC_UP_TO, _PLASTIC_MM, "DIN 16742, group 6"),
    Process.FORMED_SHEET: _banded(_LINEAR_UP_TO, _COARSE_MM, "ISO 2768-1, class c"),
    Process.MACHINED_METAL: _banded(_LINEAR_UP_TO, _MEDIUM_MM, "ISO 2768-1, class m"),
    Process.WOOD: _linear(WOOD_BASE, WOOD_SHARE, "from memory"),
    Process.CERAMICS: _linear(0.0, CERAMICS_SHARE, "from memory"),
    Process.PAPER: _paper,
    Process.SOFT: _linear(SOFT_BASE, SOFT_SHARE, "from memory"),
    Process.UNKNOWN: _linear(UNKNOWN_BASE, UNKNOWN_SHARE, "our choice"),
}
