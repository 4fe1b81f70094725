"""One thing of a lot at its largest, in each way that it may stand.

Simple clearances for now: the largest sample and an allowance for what was not sampled. A published size is a limit
already and gets none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Shape, Stance

if TYPE_CHECKING:
    from nookwright.survey.models import Lot
    from nookwright.survey.readings import Readings

SAMPLE_ERROR = Fact(0.3, unit="mm", kind=Kind.COMMON_PRACTICE, source="Reading a rule or caliper on a thing by hand.")
FEW_SAMPLES_SHARE = Fact(
    0.01,
    unit="1",
    kind=Kind.COMMON_PRACTICE,
    source="How much larger the largest of a lot may be than one sample of it.",
)
ENOUGH_SAMPLES = Fact(3, unit="1", kind=Kind.CHOICE, source="From three samples on the largest one stands for the lot.")
SLENDER = Fact(4.0, unit="1", kind=Kind.COMMON_PRACTICE, source="Things taller than this many diameters are laid down.")


@dataclass(frozen=True)
class Standing:
    """One thing at its largest, as it stands: mm along x, along y and upwards.

    Attributes:
        stance: how it stands.
        width, depth, height: its box.
        round_axis: axis of a round thing, empty for a box.
    """

    stance: Stance
    width: float
    depth: float
    height: float
    round_axis: str


def largest(readings: Readings, *, published: bool) -> float:
    """The largest size that a thing of the lot is taken to have, mm.

    Args:
        readings: samples of one dimension.
        published: the readings are limits of a standard.
    """
    if published:
        return readings.largest
    unsampled = 0.0 if len(readings.all) >= ENOUGH_SAMPLES else FEW_SAMPLES_SHARE * readings.largest
    return readings.largest + SAMPLE_ERROR + unsampled


def stances_of(lot: Lot) -> tuple[Stance, ...]:
    """How the things of a lot may stand: as the person says, or the usual ways of their shape."""
    if lot.stands is not None:
        return lot.stands
    if lot.shape is Shape.FLAT:
        return (Stance.LYING, Stance.ON_EDGE)
    if lot.shape is Shape.ROUND and lot.diameter and lot.height:
        slender = lot.height.largest > SLENDER * lot.diameter.largest
        return (Stance.LYING,) if slender else (Stance.UPRIGHT, Stance.LYING)
    return (Stance.UPRIGHT, Stance.LYING)


def standings_of(lot: Lot) -> tuple[Standing, ...]:
    """Every way that one thing of a lot may stand, in a fixed order and without repeats.

    Args:
        lot: a loaded lot; its shape's dimensions are present.
    """
    found: list[Standing] = []
    for stance in stances_of(lot):
        for standing in _STANDINGS[lot.shape or Shape.BOX](lot, stance):
            if standing not in found:
                found.append(standing)
    return tuple(found)


def _size(lot: Lot, readings: Readings | None) -> float:
    return 0.0 if readings is None else largest(readings, published=lot.standard is not None)


def _box(lot: Lot, stance: Stance) -> tuple[Standing, ...]:
    width, depth, height = (_size(lot, side) for side in (lot.width, lot.depth, lot.height))
    if stance is Stance.UPRIGHT:
        return (Standing(stance, width, depth, height, ""),)
    return (Standing(stance, width, height, depth, ""), Standing(stance, height, depth, width, ""))


def _round(lot: Lot, stance: Stance) -> tuple[Standing, ...]:
    diameter, height = _size(lot, lot.diameter), _size(lot, lot.height)
    if stance is Stance.UPRIGHT:
        return (Standing(stance, diameter, diameter, height, "z"),)
    return (Standing(stance, height, diameter, diameter, "x"),)


def _flat(lot: Lot, stance: Stance) -> tuple[Standing, ...]:
    width, depth, thickness = (_size(lot, side) for side in (lot.width, lot.depth, lot.thickness))
    if stance is Stance.ON_EDGE:
        return (Standing(stance, width, thickness, depth, ""), Standing(stance, depth, thickness, width, ""))
    return (Standing(stance, width, depth, thickness, ""),)


_STANDINGS = {Shape.BOX: _box, Shape.ROUND: _round, Shape.FLAT: _flat}
