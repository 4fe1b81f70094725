"""One stage of a schedule: the instant answer, the search that fits its size, the best of all that was found."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.aim import aimed, asked_of
from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.decode import Decoder, Put
from nookwright.making.schedule.gates import someone_there
from nookwright.making.schedule.improve import improved
from nookwright.making.schedule.prices import bound_of_choice
from nookwright.making.schedule.quick import quick_slots
from nookwright.making.schedule.search import FEW, exact
from nookwright.making.schedule.spans import first_from
from nookwright.making.schedule.tables import tables_of
from nookwright.survey.making_wishes import Order

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.effort import Effort
    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.making.schedule.starts import Starts


GRACE_MIN = Fact(
    60,
    unit="min",
    kind=Kind.CHOICE,
    source="Nobody minds a drawer an hour later if weeks of printing end a day earlier.",
)


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

    Where spaces are wanted one after another, they are first planned so, strictly; that says by when each must be
    ready. Then bedfuls of later spaces may go before those of earlier ones, as long as no space is ready later.

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
    bound = bound_of(bedfuls, starts, begin)
    if not effort.puts:
        return Staged(quick, min(bound, end_of(quick)), end_of(quick))
    search = _Search(bedfuls, starts, begin, loaded, effort)
    by: Mapping[str, int] = {}
    best = quick
    if starts.rules.order is Order.SPACES:
        best = search.walked(quick, strict=True, by={})
        by = promised(ready_by(bedfuls, best), starts)
    best = search.walked(best, by=by)
    if effort.steps and len(bedfuls) <= FEW:
        found = exact(
            bedfuls, starts, begin, quick=best, bound=min(bound, end_of(best)), effort=effort.steps, loaded=loaded,
            by=ends_by(bedfuls, by),
        )  # fmt: skip
        best, bound = min((found.slots, best), key=search.rank), found.bound
    else:
        best, bound = search.by_prices(best, bound, by)
    return Staged(best, min(bound, end_of(best)), end_of(quick), by)


class _Search:
    """What is searched of one stage."""

    def __init__(
        self, bedfuls: Sequence[Bedful], starts: Starts, begin: int, loaded: Mapping[str, str], effort: Effort
    ) -> None:
        self.bedfuls, self.begin, self.effort = bedfuls, begin, effort.scaled(len(bedfuls))
        self.decoder = Decoder({one.id: one for one in bedfuls}, starts, begin, loaded)
        self.tables = tables_of(bedfuls, starts, begin, loaded)
        self.by_spaces = starts.rules.order is Order.SPACES

    def rank(self, slots: Sequence[Slot]) -> tuple[tuple[int, float], Sequence[Slot]]:
        """Less is better."""
        return self.decoder.worth(puts_of(slots)).rank, slots

    def walked(self, slots: tuple[Slot, ...], *, by: Mapping[str, int], strict: bool = False) -> tuple[Slot, ...]:
        """The best schedule that exchanges lead to."""
        order = improved(
            self.tables, order_of(slots), puts=self.effort.puts // 3, strict=strict, ready=self.by_spaces, by=by
        )
        placed = self.decoder.puts(order)
        found = slots if placed is None else self.decoder.slots(placed)
        return found if in_time(self.bedfuls, found, by) else slots

    def by_prices(self, slots: tuple[Slot, ...], bound: int, by: Mapping[str, int]) -> tuple[tuple[Slot, ...], int]:
        """The best schedule that prices and then exchanges lead to, and its bound."""
        ends, latest = ends_by(self.bedfuls, by), end_of(slots)
        order = order_of(slots)
        choice = any(len(one.ways) > 1 for one in self.bedfuls)
        passed = self.effort.passed // (1 + choice)
        asked = asked_of(self.tables, order, self.begin, end=latest, passed=passed, by=ends)
        if choice:
            bound = bound_of_choice(self.tables, self.begin, end=latest, bound=bound, passed=passed, by=ends)
        else:
            bound = max(bound, *(one.priced.bound for one in asked))
        other = aimed(self.decoder, self.tables, asked, slots, least=bound)
        best = min((other, slots), key=self.rank)
        return min((best, self.walked(best, by=by)), key=self.rank), bound


def end_of(slots: Sequence[Slot]) -> int:
    """The minute at which the last of some slots ends; there is one."""
    return max(slot.end for slot in slots)


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


def promised(ready: Mapping[str, int], starts: Starts) -> Mapping[str, int]:
    """By when each space must be ready that could be at a minute: when somebody comes, and a little later.

    Args:
        ready: the minute, by the id of the space.
        starts: with the hours.
    """
    there = someone_there(starts)
    comes = {space: first_from(there, minute) for space, minute in ready.items()}
    return {space: (ready[space] if minute is None else minute) + int(GRACE_MIN) for space, minute in comes.items()}


def in_time(bedfuls: Sequence[Bedful], slots: Sequence[Slot], by: Mapping[str, int]) -> bool:
    """Whether every space is ready by its minute.

    Args:
        bedfuls: with the spaces that wait for them.
        slots: where they are put.
        by: minute by which each space must be ready.
    """
    return all(minute <= by.get(space, minute) for space, minute in ready_by(bedfuls, slots).items())


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
