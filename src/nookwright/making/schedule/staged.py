"""One stage of a schedule: the instant answer, the search that fits its size, the best of all that was found."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.decode import Decoder, Put
from nookwright.making.schedule.improve import improved
from nookwright.making.schedule.prices import bound_by_prices
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.search import FEW, exact
from nookwright.making.schedule.tables import tables_of
from nookwright.survey.making_wishes import Order

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
        by: minute by which each space must be ready, by its id; empty where nobody minds.
    """

    slots: tuple[Slot, ...]
    bound: int
    quick: int
    by: Mapping[str, int] = field(default_factory=dict)


def stage_of(
    bedfuls: Sequence[Bedful], starts: Starts, begin: int, *, loaded: Mapping[str, str], effort: Effort
) -> Staged | None:
    """Schedule one stage.

    Where spaces are wanted one after another, they are first planned so, strictly; that says by when each must be ready.
    Then bedfuls of later spaces may go before those of earlier ones, as long as no space is ready later than that.

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
    decoder = Decoder({one.id: one for one in bedfuls}, starts, begin, loaded)
    tables = tables_of(bedfuls, starts, begin, loaded)
    by_spaces = starts.rules.order is Order.SPACES and any(one.spaces for one in bedfuls)
    found = [quick]

    def walked(puts: int, *, strict: bool, by: Mapping[str, int]) -> tuple[Slot, ...]:
        order = improved(tables, order_of(found[-1]), puts=puts, strict=strict, ready=by_spaces, by=by)
        placed = decoder.puts(order)
        return found[-1] if placed is None else decoder.slots(placed)

    by: Mapping[str, int] = {}
    if by_spaces:
        found.append(walked(effort.puts // 2, strict=True, by={}))
        by = ready_by(bedfuls, found[-1])
    found.append(walked(effort.puts // (2 if by_spaces else 1), strict=False, by=by))
    ends = ends_by(bedfuls, by)
    bound = min(end, bound_of(bedfuls, starts, begin))
    if effort.steps and len(bedfuls) <= FEW:
        best = exact(bedfuls, starts, begin, quick=found[-1], bound=bound, effort=effort.steps, loaded=loaded, by=ends)
        bound = best.bound
        found.append(best.slots)
    last = found[-1]
    latest = max(slot.end for slot in last)
    if effort.passed:
        bound = bound_by_prices(tables, begin, end=latest, bound=bound, passed=effort.passed, by=ends)
    return Staged(last, min(bound, latest), end, by)


def ready_by(bedfuls: Sequence[Bedful], slots: Sequence[Slot]) -> Mapping[str, int]:
    """When each space has all its bedfuls.

    Args:
        bedfuls: with the spaces that wait for them.
        slots: where they are put.
    """
    ends = {slot.bedful: slot.end for slot in slots}
    found: dict[str, int] = {}
    for one in bedfuls:
        for space in one.spaces:
            found[space] = max(found.get(space, 0), ends[one.id])
    return found


def ends_by(bedfuls: Sequence[Bedful], by: Mapping[str, int]) -> Mapping[str, int]:
    """The minute by which each bedful must have ended; those that have time are left out.

    Args:
        bedfuls: with the spaces that wait for them.
        by: minute by which each space must be ready.
    """
    found = {one.id: min((by[space] for space in one.spaces if space in by), default=None) for one in bedfuls}
    return {name: minute for name, minute in found.items() if minute is not None}


def order_of(slots: Sequence[Slot]) -> Mapping[str, tuple[str, ...]]:
    """The ids of the bedfuls of each printer, in order of time."""
    found: dict[str, tuple[str, ...]] = {}
    for slot in sorted(slots):
        found[slot.printer] = (*found.get(slot.printer, ()), slot.bedful)
    return found


def puts_of(slots: Sequence[Slot]) -> tuple[Put, ...]:
    """The same as an order puts them."""
    return tuple(Put(one.work, one.begin, one.end, one.printer, one.bedful, one.changes) for one in sorted(slots))
