"""Several pieces on one bed: they share heating and layer changes, and each layer waits only for all of them.

Or, one by one, each has its layers to itself: then they share nothing but the heating, and wait as if they were alone.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.making.estimate.first_layer import NOTHING
from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.motion import move_s
from nookwright.making.estimate.travel import hops

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from nookwright.making.estimate.first_layer import Around
    from nookwright.making.estimate.model import PieceEstimate
    from nookwright.making.estimate.settings import Machine


@dataclass(frozen=True, kw_only=True)
class BedfulEstimate:
    """What a bedful takes.

    Attributes:
        heating_s: from the start to the first line.
        spent_s: seconds by what they go into.
        laid_mm3: plastic by what is laid.
        layers: how many layers are laid: those of the highest piece, or one by one those of all.
        retractions: how often filament is drawn back.
        layer_s: of each layer, changes and waiting included; none one by one, where there is no common layer.
    """

    heating_s: float
    spent_s: Mapping[Spent, float]
    laid_mm3: Mapping[Laid, float]
    layers: int
    retractions: int
    layer_s: tuple[float, ...] = ()

    def until_s(self, layer: int) -> float:
        """From the start to the beginning of a layer, the first being 1, s."""
        return self.heating_s + sum(self.layer_s[: layer - 1])

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


def together(
    pieces: Sequence[tuple[PieceEstimate, int]], machine: Machine, *, between: float, around: Around = NOTHING
) -> BedfulEstimate:
    """What pieces take that are printed on one bed, layer by layer.

    Args:
        pieces: each with how many copies of it.
        machine: what moves cost.
        between: mean way from one piece to the next, mm.
        around: what is laid round them in the first layer.
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
    _add(around, laid, spent, layer_s)
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
        layer_s=tuple((layer_s + crossings * extra_s + np.maximum(0.0, idle) + machine.layer_change_s).tolist()),
    )


def one_by_one(
    pieces: Sequence[tuple[PieceEstimate, int]],
    machine: Machine,
    *,
    between: float,
    lift_s: float,
    around: Around = NOTHING,
) -> BedfulEstimate:
    """What pieces take of which each is finished before the next is begun.

    Args:
        pieces: each with how many copies of it.
        machine: what moves cost.
        between: mean way from one piece to the next, mm.
        lift_s: in which the nozzle rises over what stands and comes down again, between all of them, s.
        around: what is laid round them in the first layer.
    """
    spent: defaultdict[Spent, float] = defaultdict(float)
    laid = dict.fromkeys(Laid, 0.0)
    layers = retractions = 0
    for one, count in pieces:
        layers += count * one.layers
        retractions += count * one.retractions
        for what, seconds in one.spent_s.items():
            spent[what] += count * seconds
        for kind, volume in one.laid_mm3.items():
            laid[kind] += count * volume
    _add(around, laid, spent, np.zeros(1))
    moves = max(0, sum(count for _, count in pieces) - 1)
    way = float(move_s(between, machine.travel_mm_s, machine.acceleration_mm_s2)) if moves else 0.0
    spent[Spent.TRAVEL] += moves * way + lift_s
    spent[Spent.RETRACTION] += moves * machine.retract_s
    return BedfulEstimate(
        heating_s=machine.heat_up_s,
        spent_s={what: spent[what] for what in Spent},
        laid_mm3=laid,
        layers=layers,
        retractions=retractions + moves,
    )


def _add(around: Around, laid: dict[Laid, float], spent: dict[Spent, float], layer_s: NDArray[np.float64]) -> None:
    """Count what is laid round the pieces, in the first layer."""
    for kind, volume in around.laid_mm3.items():
        laid[kind] += volume
    for what, seconds in around.spent_s.items():
        spent[what] += seconds
        layer_s[:1] += seconds
