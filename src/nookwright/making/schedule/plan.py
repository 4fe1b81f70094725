"""A schedule from bedfuls and hours: what the hours allow, the instant answer, the search, and what there is to say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.schedule.bound import bound_of
from nookwright.making.schedule.effort import USUAL, Effort
from nookwright.making.schedule.gates import tried
from nookwright.making.schedule.hours import UNDATED_MONDAY, Beginning
from nookwright.making.schedule.model import Schedule, Stage, Unplaced
from nookwright.making.schedule.staged import Staged, stage_of
from nookwright.making.schedule.starts import starts_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful, Rules, Slot
    from nookwright.making.schedule.starts import Starts


def schedule_of(
    bedfuls: Sequence[Bedful],
    hours: Sequence[Hours],
    rules: Rules,
    *,
    beginning: Beginning = UNDATED_MONDAY,
    effort: Effort = USUAL,
) -> Schedule:
    """Which bedful goes on which printer when, so that all is done as early as possible.

    Args:
        bedfuls: what is still to be printed, with different ids.
        hours: of the printers.
        rules: what holds between bedfuls.
        beginning: when it begins.
        effort: of the search.

    Raises:
        ValueError: two bedfuls have the same id.
    """
    if len({one.id for one in bedfuls}) != len(bedfuls):
        raise ValueError("Bedfuls of a schedule need different ids.")
    starts, begin = starts_of(hours, rules), beginning.minute
    able = [one for one in bedfuls if starts.possible(one)]
    unplaced = [_impossible(one, starts) for one in bedfuls if not starts.possible(one)]
    stages = _stages(able, starts, begin, effort)
    while stages is None:  # the hours end before all is placed: the last in value is left for another year
        last = max(able, key=lambda one: (one.stage, rules.rank(one), one.id))
        able.remove(last)
        unplaced.append(Unplaced(last.id, "its turn does not come within the hours", "Give more hours, or more days."))
        stages = _stages(able, starts, begin, effort)
    slots = tuple(slot for stage in stages for slot in stage.slots)
    end = _end(slots, begin)
    return Schedule(
        first=beginning.first,
        dated=beginning.dated,
        begin=begin,
        slots=slots,
        unplaced=tuple(unplaced),
        end=end,
        bound=_bound(able, stages, starts, begin),
        quick=end + sum(stage.quick - _end(stage.slots, begin) for stage in stages),
        ready=ready_of(able, slots, rules),
        by=_by(stages[-1]) if able and max(one.stage for one in able) is Stage.KIT else (),
    )


def _stages(bedfuls: Sequence[Bedful], starts: Starts, begin: int, effort: Effort) -> list[Staged] | None:
    """The schedule of every stage, one after another; ``None`` where the hours end before all is placed."""
    found: list[Staged] = []
    loaded = {name: hours.loaded for name, hours in starts.hours.items()}
    materials = {one.id: one.material for one in bedfuls}
    for stage in sorted({one.stage for one in bedfuls}):
        at = tried(starts, _end(found[-1].slots, begin)) if found else begin
        mine = [one for one in bedfuls if one.stage == stage]
        done = None if at is None else stage_of(mine, starts, at, loaded=loaded, effort=effort)
        if done is None:
            return None
        found.append(done)
        loaded |= {slot.printer: materials[slot.bedful] for slot in sorted(done.slots)}
    return found


def _bound(bedfuls: Sequence[Bedful], stages: Sequence[Staged], starts: Starts, begin: int) -> int:
    """The minute before which no schedule can end.

    The bound of a stage holds if it cannot begin earlier; where it could, its minutes are counted from then.
    """
    least = at = begin
    for number, (stage, staged) in enumerate(zip(sorted({one.stage for one in bedfuls}), stages, strict=True)):
        mine = [one for one in bedfuls if one.stage == stage]
        could = (tried(starts, least) or least) if number else begin
        least = staged.bound if could == at else bound_of(mine, starts, could)
        at = tried(starts, _end(staged.slots, begin)) or at
    return least


def _by(stage: Staged) -> tuple[tuple[str, int], ...]:
    """By when each space had to be ready."""
    return tuple(sorted(stage.by.items(), key=lambda row: (row[1], row[0])))


def _end(slots: Sequence[Slot], begin: int) -> int:
    return max((slot.end for slot in slots), default=begin)


def ready_of(bedfuls: Sequence[Bedful], slots: Sequence[Slot], rules: Rules) -> tuple[tuple[str, int], ...]:
    """When each space has all of its pieces, in order of time.

    Args:
        bedfuls: with the spaces that they have pieces for.
        slots: where they are put.
        rules: with the spaces in their order.
    """
    ends = {slot.bedful: slot.end for slot in slots}
    found = []
    for space in rules.spaces:
        mine = [ends[one.id] for one in bedfuls if space in one.spaces and one.stage is Stage.KIT]
        if mine:
            found.append((space, max(mine)))
    return tuple(sorted(found, key=lambda row: row[1]))


def _impossible(bedful: Bedful, starts: Starts) -> Unplaced:
    """Why no hours allow a bedful."""
    printers = [way.printer for way in bedful.ways if way.printer in starts.hours]
    if not printers:
        return Unplaced(bedful.id, "none of its printers has hours", "Check the printers of the room file.")
    shortest = min(starts.run(bedful, printer) for printer in printers)
    longest = max((end - first for printer in printers for first, end in starts.hours[printer].runs), default=0)
    if shortest > longest:
        reason = f"it runs {shortest / 60:.1f} h, and its printers may run {longest / 60:.1f} h without a break"
        return Unplaced(bedful.id, reason, "Let a printer run alone through the night, or split the bedful.")
    reason = "nobody is there at a time from which it could run to its end"
    return Unplaced(bedful.id, reason, "Add hours in `there`, or shorten those of `quiet`.")
