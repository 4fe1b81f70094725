"""One stage of a schedule: the instant answer, the search that fits its size, the best of all that was found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.decode import Decoder, Put
from nookwright.making.schedule.improve import improved
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.search import FEW, exact
from nookwright.making.schedule.stretches import plan_stretches

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.effort import Effort
    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.starts import Starts


@dataclass(frozen=True)
class Staged:
    """The slots of one stage in order of time, and by how much of it the end could be earlier at most.

    Attributes:
        slots: in order of time.
        bound: minute before which no schedule of this stage can end that begins when this one does.
        quick: minute at which the instant answer ended.
    """

    slots: tuple[Slot, ...]
    bound: int
    quick: int


def stage_of(
    bedfuls: Sequence[Bedful], starts: Starts, begin: int, *, loaded: Mapping[str, str], effort: Effort
) -> Staged | None:
    """Schedule one stage.

    Args:
        bedfuls: of the stage; at least one.
        starts: when they may begin.
        begin: minute at which they may begin.
        loaded: material that each printer has loaded.
        effort: of the search.

    Returns:
        The stage; ``None`` where the hours end before all is placed.
    """
    quick = quick_slots(bedfuls, starts, begin, loaded)
    if quick is None:
        return None
    end = max(slot.end for slot in quick)
    bound = min(end, bound_of(bedfuls, starts, begin))
    decoder = Decoder({one.id: one for one in bedfuls}, starts, begin, loaded)
    found = [quick]
    if effort.steps and len(bedfuls) <= FEW:
        best = exact(bedfuls, starts, begin, quick=quick, bound=bound, effort=effort.steps, loaded=loaded)
        bound = best.bound
        found.append(best.slots)
    orders = [order_of(slots) for slots in found]
    if effort.steps and len(bedfuls) > FEW:
        planned = plan_stretches(bedfuls, starts, begin, quick=quick, bound=bound, effort=effort.steps)
        bound = planned.bound
        orders += planned.orders
    for order in orders:
        better = improved(decoder, order, tries=effort.tries // len(orders), bound=bound)
        found += [decoder.slots(better)] if better is not None else []
    return Staged(min(found, key=lambda slots: (decoder.worth(puts_of(slots)).rank, slots)), bound, end)


def order_of(slots: Sequence[Slot]) -> Mapping[str, tuple[str, ...]]:
    """The ids of the bedfuls of each printer, in order of time."""
    found: dict[str, tuple[str, ...]] = {}
    for slot in sorted(slots):
        found[slot.printer] = (*found.get(slot.printer, ()), slot.bedful)
    return found


def puts_of(slots: Sequence[Slot]) -> tuple[Put, ...]:
    """The same as an order puts them."""
    return tuple(Put(one.work, one.begin, one.end, one.printer, one.bedful, one.changes) for one in sorted(slots))
