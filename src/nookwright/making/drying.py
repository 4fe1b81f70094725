"""When filament that needs it goes into the dryer: as late as will do, at a time when someone is there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.spans import Spans


@dataclass(frozen=True)
class Drying:
    """One material to be dried.

    Attributes:
        material: id.
        begin: minute at which it goes into the dryer.
        end: minute from which it may be printed.
        bedful: the first that needs it.
    """

    material: str
    begin: int
    end: int
    bedful: str


def dryings(
    slots: Sequence[Slot], bedfuls: Mapping[str, Bedful], minutes: Mapping[str, int], there: Spans
) -> tuple[Drying, ...]:
    """What is dried before its first bedful, in order of time.

    Args:
        slots: of the schedule.
        bedfuls: by id.
        minutes: in the dryer, by material.
        there: when someone is there.
    """
    found: dict[str, Drying] = {}
    for slot in sorted(slots):
        material = bedfuls[slot.bedful].material
        if material in minutes and material not in found:
            begin = _latest(there, slot.work - minutes[material])
            found[material] = Drying(material, begin, begin + minutes[material], slot.bedful)
    return tuple(sorted(found.values(), key=lambda one: (one.begin, one.material)))


def _latest(there: Spans, minute: int) -> int:
    """The last minute up to another at which someone is there; that itself where nobody was before."""
    before = [min(end - 1, minute) for first, end in there if first <= minute]
    return max(before, default=minute)
