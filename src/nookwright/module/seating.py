"""How often a part goes on, when printers and joints are as inexact as they are: seeded trials of the rigid fit.

What is drawn for each trial: the scale along x and along y and the skew by which part and liner differ, the float of
each panel in its joints, a local error of each cone, and where the panels' joints lie under the part. What is the same
everywhere, the part takes up by shifting and turning; what grows with the distance from its middle, its sockets must.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.module.fit import need
from nookwright.module.pattern import PERIOD, Pattern, has_cone
from nookwright.module.seat import CLEARANCE_GROWTH, socket_clearance

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.module.module import Module

    Array = NDArray[np.float64]

SCALE_SD = Fact(
    0.0014, unit="1", kind=Kind.COMMON_PRACTICE, source="Two printers of 0.1 % each, uncalibrated, an axis."
)
SKEW_SD_DEG = Fact(0.1, unit="deg", kind=Kind.COMMON_PRACTICE, source="Frames that were squared by hand.")
COUPON_SCALE_SD = Fact(
    0.0005, unit="1", kind=Kind.CALCULATED, source="A coupon tells 0.014 %; the rest for warmth, wear, spools."
)
COUPON_SKEW_SD_DEG = Fact(
    0.05, unit="deg", kind=Kind.CALCULATED, source="A coupon tells 0.012; the rest for how finely a frame is set."
)
JOINT_FLOAT = Fact(
    0.15, unit="mm", kind=Kind.CALCULATED, source="The most that a key's clearance lets a panel float, each way."
)
LOCAL_SD = Fact(0.05, unit="mm", kind=Kind.COMMON_PRACTICE, source="Repeatability of a belt-driven axis.")
COUPON_GROWTH = Fact(
    0.0025, unit="mm/mm", kind=Kind.CALCULATED, source="Half of CLEARANCE_GROWTH: enough once a coupon was measured."
)
CONFIDENCE_Z = Fact(
    1.6449, unit="1", kind=Kind.STANDARD, source="95 % of a normal distribution lie below: a one-sided bound."
)
_AT_ONCE = 250  # trials that are solved together: what fits the cache


@dataclass(frozen=True)
class Spread:
    """By how much part and liner differ.

    Attributes:
        scale_sd: of the difference in scale, along each axis.
        skew_sd_deg: of the difference in skew, degrees.
        joint_float: largest shift of a panel in its joints, each way and along each axis, mm.
        local_sd: of each cone along each axis, mm.
    """

    scale_sd: float
    skew_sd_deg: float
    joint_float: float = JOINT_FLOAT
    local_sd: float = LOCAL_SD


UNCALIBRATED = Spread(SCALE_SD, SKEW_SD_DEG)
COUPON = Spread(COUPON_SCALE_SD, COUPON_SKEW_SD_DEG)


class Turn(StrEnum):
    """How a part is turned against the liner; each is a case of its own."""

    NONE = "as printed"
    QUARTER = "by 90 degrees"
    HALF = "by 180 degrees"


@dataclass(frozen=True)
class Seating:
    """How many of the trials went on."""

    trials: int
    fits: int

    @property
    def probability(self) -> float:
        """Share of the trials that went on."""
        return self.fits / self.trials

    @property
    def at_least(self) -> float:
        """Lower 95 % confidence bound of the probability: the score interval of Wilson, one-sided.

        >>> round(Seating(2000, 1950).at_least, 4)
        0.9686
        """
        z2 = CONFIDENCE_Z**2
        share, count = self.probability, self.trials
        middle = share + z2 / (2 * count)
        half = CONFIDENCE_Z * math.sqrt(share * (1 - share) / count + z2 / (4 * count**2))
        return (middle - half) / (1 + z2 / count)


def probability_of_seating(
    module: Module,
    cols: int,
    rows: int,
    *,
    panel_cells: int,
    spread: Spread,
    trials: int,
    seed: int,
    turn: Turn = Turn.NONE,
    growth: float = CLEARANCE_GROWTH,
    pattern: Pattern = Pattern.CHESSBOARD,
) -> Seating:
    """How often a part goes on.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        panel_cells: cells along each side of a panel of the liner.
        spread: how inexact printers and joints are.
        trials: how many.
        seed: of the random numbers.
        turn: how the part is turned. By a quarter the skew counts twice, since both lean the other way.
        growth: of the sockets' clearance with the distance from the middle, mm/mm.
        pattern: in which cells the liner has a cone.
    """
    places, clearances = sockets(module, cols, rows, growth)
    return seating_of(places, clearances, (cols, rows), panel_cells=panel_cells, spread=spread, trials=trials,
                      seed=seed, turn=turn, pattern=pattern)  # fmt: skip


def seating_of(
    places: Array,
    clearances: Array,
    cells: tuple[int, int],
    *,
    panel_cells: int,
    spread: Spread,
    trials: int,
    seed: int,
    turn: Turn = Turn.NONE,
    pattern: Pattern = Pattern.CHESSBOARD,
) -> Seating:
    """How often a part goes on that has these sockets.

    Args:
        places: (n, 2), their middles from the middle of the part, one a cell, row by row, mm.
        clearances: (n,), of each, mm; infinite for a cell that needs none.
        cells: footprint along x and y, cells.
        panel_cells: cells along each side of a panel of the liner.
        spread: how inexact printers and joints are.
        trials: how many.
        seed: of the random numbers.
        turn: how the part is turned.
        pattern: in which cells the liner has a cone.
    """
    random = np.random.default_rng(seed)
    fits = 0
    for first in range(0, trials, _AT_ONCE):
        count = min(_AT_ONCE, trials - first)
        offsets, met = _drawn(random, places, cells, count, panel_cells=panel_cells, spread=spread, turn=turn,
                              pattern=pattern)  # fmt: skip
        fits += int(need(places, offsets, np.where(met, clearances, np.inf), decide_only=True).fits.sum())
    return Seating(trials, fits)


def sockets(module: Module, cols: int, rows: int, growth: float = CLEARANCE_GROWTH) -> tuple[Array, Array]:
    """Middles of a part's sockets from its own middle, row by row, and their clearances, mm.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        growth: of the clearance with the distance from the middle, mm/mm.
    """
    col, row = _cells(cols, rows)
    places = np.stack([col + 0.5 - cols / 2, row + 0.5 - rows / 2], axis=1) * module.pitch
    clearances = [socket_clearance(math.hypot(x, y), growth, module.seat.clearance) for x, y in places.tolist()]
    return places, np.array(clearances)


def _cells(cols: int, rows: int) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Columns and rows of all cells, row by row."""
    row, col = np.divmod(np.arange(cols * rows), cols)
    return col, row


def _drawn(
    random: np.random.Generator,
    places: Array,
    cells: tuple[int, int],
    count: int,
    *,
    panel_cells: int,
    spread: Spread,
    turn: Turn,
    pattern: Pattern,
) -> tuple[Array, NDArray[np.bool_]]:
    """Offsets of so many trials, (count, n, 2), and which sockets meet a cone, (count, n)."""
    scale = random.normal(0.0, spread.scale_sd, (count, 1, 2))
    skew = np.radians(random.normal(0.0, spread.skew_sd_deg, (count, 1, 1)))
    if turn is Turn.QUARTER:
        scale, skew = scale[..., ::-1], 2 * skew
    # A skew leans each axis by half of it; the other half is a turn, which the placement takes up anyway.
    offsets = scale * places + skew / 2 * places[:, ::-1]
    offsets += random.normal(0.0, spread.local_sd, offsets.shape)
    start = random.integers(0, panel_cells, (count, 2))
    col, row = _cells(*cells)
    across, back = (start[:, :1] + col) // panel_cells, (start[:, 1:] + row) // panel_cells
    most = int(max(across.max(), back.max())) + 1
    floats = random.uniform(-spread.joint_float, spread.joint_float, (count, most, most, 2))
    offsets += floats[np.arange(count)[:, None], across, back]
    begin = random.integers(0, len(PERIOD), (count, 2))
    known = np.array([[_cones(col + i, row + j, pattern) for j in PERIOD] for i in PERIOD])
    return offsets, known[begin[:, 0], begin[:, 1]]


def _cones(col: NDArray[np.int64], row: NDArray[np.int64], pattern: Pattern) -> list[bool]:
    """Which of these cells of the liner have a cone."""
    return [has_cone(c, r, pattern) for c, r in zip(col.tolist(), row.tolist(), strict=True)]
