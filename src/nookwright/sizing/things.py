"""One thing of a lot at its largest, in each way that it may stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.lot_sizes import Terms, dimensions_of, sized
from nookwright.survey.models import Shape, Stance

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.survey.models import Lot

SLENDER = Fact(4.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Things taller than this many diameters are laid down.")


@dataclass(frozen=True)
class Standing:
    """One thing at its largest, as it stands: mm along x, along y and upwards.

    Attributes:
        stance: how it stands.
        width, depth, height: its box.
        round_axis: axis of a round thing, empty for a box.
        pocket: diameter of the pocket that holds it, as drawn; 0 where it stands in none.
    """

    stance: Stance
    width: float
    depth: float
    height: float
    round_axis: str
    pocket: float = 0.0


def stances_of(lot: Lot) -> tuple[Stance, ...]:
    """How the things of a lot may stand: as the person says, or the usual ways of their shape."""
    if lot.stands is not None:
        return lot.stands
    if lot.shape is Shape.LOOSE:
        return ()
    if lot.shape is Shape.FLAT:
        return (Stance.LYING, Stance.ON_EDGE)
    if lot.shape is Shape.ROUND and lot.diameter and lot.height:
        slender = lot.height.largest > SLENDER * lot.diameter.largest
        return (Stance.LYING,) if slender else (Stance.UPRIGHT, Stance.LYING)
    return (Stance.UPRIGHT, Stance.LYING)


def standings_of(lot: Lot, terms: Terms | None = None) -> tuple[Standing, ...]:
    """Every way that one thing of a lot may stand, in a fixed order and without repeats.

    Args:
        lot: a loaded lot; its shape's dimensions are present.
        terms: what holds for all lots; the usual when left out.
    """
    sides = {side: sized(lot, side, terms or Terms()).limit for side in dimensions_of(lot)}
    found: list[Standing] = []
    for stance in stances_of(lot):
        for standing in _STANDINGS[lot.shape or Shape.BOX](sides, stance):
            if standing not in found:
                found.append(standing)
    return tuple(found)


def _box(sides: Mapping[str, float], stance: Stance) -> tuple[Standing, ...]:
    width, depth, height = sides["width"], sides["depth"], sides["height"]
    if stance is Stance.UPRIGHT:
        return (Standing(stance, width, depth, height, ""),)
    return (Standing(stance, width, height, depth, ""), Standing(stance, height, depth, width, ""))


def _round(sides: Mapping[str, float], stance: Stance) -> tuple[Standing, ...]:
    diameter, height = sides["diameter"], sides["height"]
    if stance is Stance.UPRIGHT:
        return (Standing(stance, diameter, diameter, height, "z"),)
    return (Standing(stance, height, diameter, diameter, "x"),)


def _flat(sides: Mapping[str, float], stance: Stance) -> tuple[Standing, ...]:
    width, depth, thickness = sides["width"], sides["depth"], sides["thickness"]
    if stance is Stance.ON_EDGE:
        return (Standing(stance, width, thickness, depth, ""), Standing(stance, depth, thickness, width, ""))
    return (Standing(stance, width, depth, thickness, ""),)


_STANDINGS = {Shape.BOX: _box, Shape.ROUND: _round, Shape.FLAT: _flat}
