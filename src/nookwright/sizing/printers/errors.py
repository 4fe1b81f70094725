"""The error of a printer with one material, as far as it repeats, with how well it is known.

A printed size is ``nominal * (1 + scale) + offset`` and a scatter from feature to feature. Offsets differ outside and
inside: a bead is laid beside its line, and round holes are drawn shut while they cool, small ones more. Skew is the
angle that is missing between the axes. The first layer is pressed wider than the rest.

The defaults hold for a printer that nobody has measured; what they are drawn from is said beside each.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping

PERCENT = Fact(0.01, unit="1", kind=Kind.STANDARD, source="SI.")
SCALE_SD = Fact(
    0.0014,
    unit="1",
    kind=Kind.CHOICE,
    source="Belt and shrinkage of a printer that nobody has measured: 0.14 % an axis, as the seat is calculated for.",
)
SKEW_SD_DEG = Fact(
    0.1, unit="deg", kind=Kind.CHOICE, source="Square of a frame put together by hand, as the seat is calculated for."
)
OUTSIDE_MEAN = Fact(0.05, unit="mm", kind=Kind.COMMON_PRACTICE, source="Outsides come out 0 to 0.1 large.")
OUTSIDE_SD = Fact(0.08, unit="mm", kind=Kind.COMMON_PRACTICE, source="From printer to printer and spool to spool.")
INSIDE_MEAN = Fact(-0.15, unit="mm", kind=Kind.COMMON_PRACTICE, source="Insides come out 0.1 to 0.2 small.")
INSIDE_SD = Fact(0.08, unit="mm", kind=Kind.COMMON_PRACTICE, source="From printer to printer and spool to spool.")
SMALL_HOLE_MEAN = Fact(
    -0.15, unit="mm", kind=Kind.COMMON_PRACTICE, source="What a hole of no diameter would lose beyond a slot."
)
SMALL_HOLE_SD = Fact(0.08, unit="mm", kind=Kind.COMMON_PRACTICE, source="From printer to printer.")
SMALL_HOLE_UP_TO = Fact(
    12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Holes from this diameter on come out like slots."
)
FIRST_LAYER_MEAN = Fact(
    0.15, unit="mm", kind=Kind.COMMON_PRACTICE, source="Spread of the first layer to each side, pressed on the bed."
)
FIRST_LAYER_SD = Fact(0.1, unit="mm", kind=Kind.COMMON_PRACTICE, source="By the gap that the nozzle was set to.")
SCATTER = Fact(
    0.02, unit="mm", kind=Kind.COMMON_PRACTICE, source="Standard deviation from feature to feature of one print."
)


class Error(StrEnum):
    """One component of a printer's error; the offsets are of a whole width, not of one side."""

    SCALE_X = "scale x"
    SCALE_Y = "scale y"
    SKEW_DEG = "skew"
    OUTSIDE = "outside"
    INSIDE = "inside"
    SMALL_HOLE = "small holes"
    FIRST_LAYER = "first layer"


ERRORS = tuple(Error)


@dataclass(frozen=True)
class PrinterErrors:
    """What is known of one printer with one material.

    Attributes:
        mean: the likeliest error, ``float[7]`` in the order of ``ERRORS``: 1, 1, degrees, then mm.
        covariance: of the same, ``float[7][7]``.
        scatter: standard deviation from feature to feature, mm.
        measured: by a coupon; ``False`` for the defaults.
    """

    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    scatter: float
    measured: bool

    def value(self, error: Error) -> float:
        """The likeliest value of one component."""
        return self.mean[ERRORS.index(error)]

    def uncertainty(self, error: Error) -> float:
        """Its standard uncertainty."""
        at = ERRORS.index(error)
        return float(np.sqrt(self.covariance[at][at]))

    def of(self, sensitivities: Mapping[Error, float]) -> tuple[float, float]:
        """A size's error: the likeliest, and its standard uncertainty without scatter.

        Args:
            sensitivities: how much the size grows with each component.

        Returns:
            both in mm.
        """
        row = np.array([sensitivities.get(error, 0.0) for error in ERRORS])
        return float(row @ np.array(self.mean)), float(np.sqrt(row @ np.array(self.covariance) @ row))


def unmeasured() -> PrinterErrors:
    """The defaults of a printer that has printed no coupon."""
    known = {
        Error.SCALE_X: (0.0, SCALE_SD),
        Error.SCALE_Y: (0.0, SCALE_SD),
        Error.SKEW_DEG: (0.0, SKEW_SD_DEG),
        Error.OUTSIDE: (OUTSIDE_MEAN, OUTSIDE_SD),
        Error.INSIDE: (INSIDE_MEAN, INSIDE_SD),
        Error.SMALL_HOLE: (SMALL_HOLE_MEAN, SMALL_HOLE_SD),
        Error.FIRST_LAYER: (FIRST_LAYER_MEAN, FIRST_LAYER_SD),
    }
    spread = np.diag([float(known[error][1]) ** 2 for error in ERRORS])
    return PrinterErrors(
        mean=tuple(float(known[error][0]) for error in ERRORS),
        covariance=tuple(tuple(row) for row in spread.tolist()),
        scatter=float(SCATTER),
        measured=False,
    )


def inside_sensitivities(size: float, *, round_hole: bool) -> dict[Error, float]:
    """How an inside width follows the printer's errors: both scales by half, as it may lie either way.

    Args:
        size: nominal width or diameter, mm.
        round_hole: a round hole, which small ones draw shut.
    """
    small = max(0.0, 1 - size / SMALL_HOLE_UP_TO) if round_hole else 0.0
    return {Error.SCALE_X: size / 2, Error.SCALE_Y: size / 2, Error.INSIDE: 1.0, Error.SMALL_HOLE: small}


def outside_sensitivities(size: float) -> dict[Error, float]:
    """How an outside width follows the printer's errors.

    Args:
        size: nominal width or diameter, mm.
    """
    return {Error.SCALE_X: size / 2, Error.SCALE_Y: size / 2, Error.OUTSIDE: 1.0}
