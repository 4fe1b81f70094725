"""Several pieces on one bed: they share heating and layer changes, and each layer waits only for all of them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.travel import hops

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.estimate.model import PieceEstimate
    from nookwright.making.estimate.settings import Machine


@dataclass(frozen=True, kw_only=True)
class BedfulEstimate:
    """What a bedful takes.

    Attributes:
        heating_s: from the start to the first line.
        spent_s: seconds by what they go into.
        laid_mm3: plastic by what is laid.
        layers: how many layers the highest piece has.
        retractions: how often filament is drawn back.
    """

    heating_s: float
    spent_s: Mapping[Spent, float]
    laid_mm3: Mapping[Laid, float]
    layers: int
    retractions: int

    @property
    def time_s(self) -> float:
        """All of it, heating included."""
        return self.heating_s + sum(self.spent_s.values())

    @property
    def moving_s(self) -> float:
        """All that grows with a printer's slowness, s: neither heating, nor waiting, nor layer changes."""
        apart = self.spent_s[Spent.WAITING] + self.spent_s[Spent.LAYER_CHANGE]
        return sum(self.spent_s.values()) - apart

    @property
    def plastic_mm3(self) -> float:
        """All plastic, mm3."""
        return sum(self.laid_mm3.values())


def together(pieces: Sequence[tuple[PieceEstimate, int]], machine: Machine, *, between: float) -> BedfulEstimate:
    """What pieces take that are printed on one bed, layer by layer.

    Args:
        pieces: each with how many copies of it.
        machine: what moves cost.
        between: mean way from one piece to the next, mm.
    """
    spent: defaultdict[Spent, float] = defaultdict(float)
    laid = dict.fromkeys(Laid, 0.0)
    layers = max((one.layers for one, _ in pieces), default=0)
    layer_s, there = np.zeros(layers), np.zeros(layers, dtype=np.int64)
    for one, count in pieces:
        layer_s[: one.layers] += count * np.array(one.layer_s)
        there[: one.layers] += count
        for what, seconds in one.spent_s.items():
            spent[what] += count * seconds
        for kind, volume in one.laid_mm3.items():
            laid[kind] += count * volume
    crossings = np.maximum(0, there - 1)
    way = hops(np.array([between]), machine)
    extra_s = way.travel_s + way.retractions * machine.retract_s
    spent[Spent.TRAVEL] += float(crossings.sum()) * way.travel_s
    spent[Spent.RETRACTION] += float(crossings.sum()) * way.retractions * machine.retract_s
    spent[Spent.LAYER_CHANGE] = layers * machine.layer_change_s
    idle = machine.least_layer_s - machine.layer_change_s - layer_s - crossings * extra_s
    spent[Spent.WAITING] = float(np.maximum(0.0, idle).sum())
    return BedfulEstimate(
        heating_s=machine.heat_up_s,
        spent_s={what: spent[what] for what in Spent},
        laid_mm3=laid,
        layers=layers,
        retractions=sum(count * one.retractions for one, count in pieces) + int(crossings.sum()) * way.retractions,
    )
