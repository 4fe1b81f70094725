"""One row of the table: what a pitch and a rise would do to the whole household."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.choice.candidates import SMALLEST_FINE, module_of
from nookwright.module.choice.lots import USUAL, Footprints, asked
from nookwright.module.choice.prices import BOUGHT_G, FLOOR_G_DM2, HOUR_G, KIND_G, TROUBLE_G
from nookwright.module.choice.spaces import floors_of
from nookwright.module.seat import CLEARANCE_GROWTH, whole_layers

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.module.choice.lots import Kept
    from nookwright.module.choice.spaces import Floors, Inside
    from nookwright.sizing.ways import Way
    from nookwright.survey.layout_wishes import Weights

S_PER_H = Fact(3600.0, unit="s/h", kind=Kind.STANDARD, source="SI.")


@dataclass(frozen=True)
class ModuleRow:
    """How one module does in a household.

    Attributes:
        pitch, rise: the module, mm.
        edge_dm2: floor lost beside the cells, fillers included.
        open_dm2: of it, what no filler takes up.
        inside_dm2: floor lost inside trays, since footprints are whole cells.
        taken_dm2: floor under all trays, the last one included.
        liner_g, liner_s: panels and fillers.
        trays_g, trays_s: every lot in the tray that would be taken by itself.
        trouble: of getting things out of these, in cost units.
        footprints: different ones.
        parts: different trays, panels and fillers.
        rims: different heights of trays.
        dead: by which a tray is higher than its things need, the mean, mm.
        levels: whole rises below the clear heights, summed over the spaces.
        top: clear height above the last whole rise, the mean, mm.
        homeless: lots that no space has room for.
        price_g: all of it on one scale, in grams, as the person weighs it; see ``prices``.
    """

    pitch: float
    rise: float
    edge_dm2: float
    open_dm2: float
    inside_dm2: float
    taken_dm2: float
    liner_g: float
    liner_s: float
    trays_g: float
    trays_s: float
    trouble: float
    footprints: int
    parts: int
    rims: int
    dead: float
    levels: int
    top: float
    homeless: int
    price_g: float

    @property
    def lost_dm2(self) -> float:
        """Floor lost at edges and inside trays."""
        return self.edge_dm2 + self.inside_dm2

    @property
    def floor_dm2(self) -> float:
        """Floor that the household's things take up, edges included."""
        return self.edge_dm2 + self.taken_dm2

    @property
    def mass_g(self) -> float:
        """Liner and trays."""
        return self.liner_g + self.trays_g

    @property
    def time_s(self) -> float:
        """Of printing them."""
        return self.liner_s + self.trays_s

    @property
    def rank(self) -> tuple[float, ...]:
        """Less is better: lots without a home, then the price, then the smaller module."""
        return (self.homeless, round(self.price_g, 6), self.pitch, self.rise)


def judge(
    pitches: Iterable[float],
    rises: Iterable[float],
    *,
    layer: float,
    insides: Sequence[Inside],
    ways: Sequence[tuple[Way, ...]],
    growth: float = CLEARANCE_GROWTH,
    weights: Weights = USUAL,
) -> tuple[ModuleRow, ...]:
    """What each pitch with each rise does to a household.

    Spaces and footprints are worked out once a pitch, heights once a pitch and rise.

    Args:
        pitches: cell sizes, mm.
        rises: height steps, mm; rounded up to whole layers.
        layer: the common layer, mm.
        insides: the spaces that get trays.
        ways: for each lot, its ways of being kept.
        growth: of a socket's clearance with its distance from a part's middle, mm/mm.
        weights: what counts how much.
    """
    steps = tuple(whole_layers(step, layer) for step in rises)
    wanted = asked(ways, module_of(float(SMALLEST_FINE), steps[0], layer, "", growth))
    rows: list[ModuleRow] = []
    for pitch in pitches:
        module = module_of(pitch, steps[0], layer, "", growth)
        floors = floors_of(insides, module)
        lots = Footprints(wanted, module, floors.rooms)
        rows += [_row(pitch, rise, floors, lots.kept(rise, weights), weights) for rise in steps]
    return tuple(rows)


def _row(pitch: float, rise: float, floors: Floors, kept: Kept, weights: Weights) -> ModuleRow:
    levels = [int(round(clear / rise, 6)) for _, _, clear in floors.rooms]
    tops = [clear - level * rise for level, (_, _, clear) in zip(levels, floors.rooms, strict=True)]
    return ModuleRow(
        pitch=pitch,
        rise=rise,
        edge_dm2=floors.edge_dm2,
        open_dm2=floors.open_dm2,
        inside_dm2=kept.inside_dm2,
        taken_dm2=kept.taken_dm2,
        liner_g=floors.mass_g,
        liner_s=floors.time_s,
        trays_g=kept.mass_g,
        trays_s=kept.time_s,
        trouble=kept.trouble,
        footprints=kept.footprints,
        parts=kept.trays + len(floors.parts),
        rims=kept.rims,
        dead=kept.dead,
        levels=sum(levels),
        top=sum(tops) / len(tops) if tops else 0.0,
        homeless=kept.homeless,
        price_g=_price_g(floors, kept, weights),
    )


def _price_g(floors: Floors, kept: Kept, weights: Weights) -> float:
    """All of it on one scale, in grams."""
    hours = (floors.time_s + kept.time_s) / S_PER_H
    kinds = kept.trays + len(floors.parts)
    return (
        weights.plastic * (floors.mass_g + kept.mass_g + HOUR_G * hours)
        + weights.area * FLOOR_G_DM2 * (floors.edge_dm2 + kept.taken_dm2)
        + weights.one_hand * TROUBLE_G * kept.trouble
        + weights.fewer_sizes * KIND_G * kinds
        + BOUGHT_G * kept.bought
    )
