"""Choosing the module: every candidate pitch is tried on all spaces and lots of the household at once.

Judged by area: what is lost at the edges of the spaces, what is lost inside trays because footprints are whole cells,
and the liner's plastic, turned into area at the budget's rate. The rise is the first whole-layer height from its start
on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.estimates import BUDGET_FLOOR_G_DM2, MM2_PER_DM2, panel_plastic
from nookwright.module.lines import WALL
from nookwright.module.module import Module
from nookwright.module.seat import CLEARANCE_GROWTH, outer_size, seat_of, whole_layers

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.sizing.usable import Usable
    from nookwright.sizing.ways import Way

RISE_START = Fact(
    6.0, unit="mm", kind=Kind.CHOICE, source="30 layers of 0.2, 24 of 0.25, 20 of 0.3: whole at all usual heights."
)
SMALLEST_FINE = Fact(
    17.0, unit="mm", kind=Kind.CALCULATED, source="Below, sockets leave too little land for their rings."
)
LARGEST_FINE = Fact(19.0, unit="mm", kind=Kind.CALCULATED, source="Upper end of the fine range, for small things.")
SMALLEST_COARSE = Fact(22.0, unit="mm", kind=Kind.CALCULATED, source="Lower end of the coarse range, for heavy things.")
LARGEST_COARSE = Fact(24.0, unit="mm", kind=Kind.CALCULATED, source="Above, the gap at an edge is a hand's width.")
PITCH_STEP = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="Sizes stay readable on a rule.")
TYPICAL_DENSITY_G_CM3 = Fact(
    1.24, unit="g/cm3", kind=Kind.HANDBOOK, source="PLA, ISO 1183 figure of several data sheets."
)


@dataclass(frozen=True)
class PitchRow:
    """How one pitch does: areas lost in dm2, grams of liner, and their sum in dm2."""

    pitch: float
    edge_dm2: float
    inside_dm2: float
    liner_g: float
    lost_dm2: float


def candidates() -> tuple[float, ...]:
    """The pitches that are tried, mm.

    >>> candidates()[:2], candidates()[-1]
    ((17.0, 17.5), 24.0)
    """
    fine = round((LARGEST_FINE - SMALLEST_FINE) / PITCH_STEP)
    coarse = round((LARGEST_COARSE - SMALLEST_COARSE) / PITCH_STEP)
    return (
        *(SMALLEST_FINE + PITCH_STEP * step for step in range(fine + 1)),
        *(SMALLEST_COARSE + PITCH_STEP * step for step in range(coarse + 1)),
    )


def module_of(pitch: float, rise: float, layer: float, chosen: str, growth: float = CLEARANCE_GROWTH) -> Module:
    """The module of a pitch and rise.

    Args:
        pitch: cell size, mm.
        rise: height step, mm; rounded up to whole layers.
        layer: the household's common layer, mm.
        chosen: why, in one sentence.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
    """
    seat = seat_of(layer, growth)
    return Module(pitch=pitch, rise=whole_layers(rise, layer), seat=seat, wall=float(WALL), chosen=chosen)


def judge(pitch: float, layer: float, usables: Sequence[Usable], ways: Sequence[tuple[Way, ...]]) -> PitchRow:
    """What a pitch loses in this household.

    Args:
        pitch: cell size, mm.
        layer: the common layer, mm.
        usables: the spaces that get a liner.
        ways: for each lot, its ways of being kept.
    """
    module = module_of(pitch, RISE_START, layer, "")
    edge = liner = 0.0
    for usable in usables:
        cols, rows = int(usable.width // pitch), int(usable.depth // pitch)
        edge += usable.width * usable.depth - cols * rows * pitch * pitch
        liner += panel_plastic(module, cols, rows).mass_g(TYPICAL_DENSITY_G_CM3) if cols and rows else 0.0
    inside = sum(min((_inside_loss(module, way) for way in lot), default=0.0) for lot in ways)
    lost = (edge + inside) / MM2_PER_DM2 + liner / BUDGET_FLOOR_G_DM2
    return PitchRow(pitch, edge / MM2_PER_DM2, inside / MM2_PER_DM2, liner, lost)


def _inside_loss(module: Module, way: Way) -> float:
    """Area of a way's tray less the area that its things need with walls, mm2."""
    cols, rows = module.cells(way.inner_width), module.cells(way.inner_depth)
    need = (way.inner_width + 2 * module.wall) * (way.inner_depth + 2 * module.wall)
    return max(0.0, outer_size(cols, module.pitch) * outer_size(rows, module.pitch) - need)


def choose(
    layer: float,
    usables: Sequence[Usable],
    ways: Sequence[tuple[Way, ...]],
    *,
    pitch: float | None = None,
    rise: float | None = None,
    growth: float = CLEARANCE_GROWTH,
) -> tuple[Module, tuple[PitchRow, ...]]:
    """The module for a household, and the table it was chosen from.

    Args:
        layer: the common layer, mm.
        usables: the spaces that get a liner.
        ways: for each lot, its ways of being kept.
        pitch: a pitch already decided, mm.
        rise: a rise already decided, mm.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
    """
    height = RISE_START if rise is None else rise
    if pitch is not None:
        row = judge(pitch, layer, usables, ways)
        return module_of(pitch, height, layer, f"pitch {pitch:g} as the room file says", growth), (row,)
    rows = tuple(judge(tried, layer, usables, ways) for tried in candidates())
    best = min(rows, key=lambda row: (round(row.lost_dm2, 6), row.pitch))
    reason = (
        f"pitch {best.pitch:g} loses least of {len(rows)} tried: {best.edge_dm2:.1f} dm2 at edges, "
        f"{best.inside_dm2:.1f} dm2 inside trays, {best.liner_g:.0f} g of liner"
    )
    return module_of(best.pitch, height, layer, reason, growth), rows
