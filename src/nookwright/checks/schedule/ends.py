"""Whether the schedule says rightly when it begins and ends, and when each space is complete.

Copies of a piece are alike, so those on the first beds go to the spaces that come first. What this does not know: which
copies of a part that is printed in several materials stand where; such a space may be complete at any of their times.
"""

from __future__ import annotations

from collections import defaultdict, deque
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import WRITTEN, Wrong, between, figure, words
from nookwright.ground.times import MINUTE_S, read_clock

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room


def wrong_ends(kit: Kit, room: Room) -> Iterator[Wrong]:
    """When it begins and ends, how much shorter it could be, when each space is complete, and which files tell of it.

    Args:
        kit: with a schedule, all that it names known.
        room: with the spaces in their order.
    """
    plan = kit.printing
    ends = [slot.end_s for slot in plan.slots]
    last = max(ends, default=plan.begin_s)
    first = min((slot.change_s for slot in plan.slots), default=plan.begin_s)
    yield from figure("printing", "The last print ends at", plan.end_s, last, unit="s")
    yield from between("printing", "The schedule begins at", plan.begin_s, 0.0, first, unit="s")
    if plan.begin_s not in (0.0, _start_s(room)):  # a day later where prints were noted since, from its midnight
        yield from figure("printing", "The schedule begins at", plan.begin_s, _start_s(room), unit="s")
    yield from between("printing", "No schedule ends before", plan.bound_s, plan.begin_s, last, unit="s")
    share = (plan.end_s - plan.bound_s) / (plan.end_s - plan.begin_s) if plan.end_s > plan.begin_s else 0.0
    yield from figure("printing", "It could be shorter by a share of", plan.gap, share, off=WRITTEN)
    for what, said, there in (
        ("a chart", plan.chart, bool(ends)),
        ("a loading list", plan.loading_list, bool(ends)),
        ("a calendar", plan.calendar, bool(ends and plan.first)),
    ):
        yield from words("printing", f"The schedule has {what}", bool(said), there)
    yield from words("printing", "The schedule has dates", bool(plan.first), room.making.start is not None)
    yield from _ready(kit, room)


def _start_s(room: Room) -> float:
    """When the printing is to begin, s from midnight of that day."""
    clock = (room.making.start or "").partition(" ")[2]
    return float(read_clock(clock) * MINUTE_S) if clock else 0.0


def _ready(kit: Kit, room: Room) -> Iterator[Wrong]:
    """When each space is complete."""
    sure, perhaps = _served(kit, room)
    said = {one.space: one.at_s for one in kit.printing.ready}
    listed = sorted(one.space for one in kit.printing.ready)
    yield from words("printing", "Spaces that get complete", listed, sorted(said.keys() & perhaps | sure.keys()))
    for space, at_s in said.items():
        if space in perhaps:
            least = sure.get(space, min(perhaps[space]))
            yield from between(space, "It is complete at", at_s, least, max(perhaps[space]), unit="s")
    times = [one.at_s for one in kit.printing.ready]
    if times != sorted(times):
        yield Wrong("printing", "Spaces are not listed in the order in which they are complete.")


def _served(kit: Kit, room: Room) -> tuple[dict[str, float], dict[str, list[float]]]:
    """By space: the end of the last print that is sure to be for it, and the ends of all that may be."""
    ends = {slot.bedful: slot.end_s for slot in kit.printing.slots}
    waiting = _waiting(kit, room)
    sure: dict[str, float] = {}
    perhaps: dict[str, list[float]] = defaultdict(list)
    for bedful in kit.bedfuls:
        for item in bedful.items:
            spaces, known = waiting[item.piece]
            mine = [spaces.popleft()] if known and spaces else [] if known else list(spaces)
            for space in mine:
                if space and bedful.id in ends:
                    perhaps[space].append(ends[bedful.id])
                    if known:
                        sure[space] = max(sure.get(space, 0.0), ends[bedful.id])
    return sure, perhaps


def _waiting(kit: Kit, room: Room) -> dict[str, tuple[deque[str], bool]]:
    """By piece: the spaces that wait for its copies, in their order, and whether they are known for sure."""
    order = {space.id: number for number, space in enumerate(room.space)}
    spaces: dict[str, list[str]] = defaultdict(list)
    for placement in kit.placements:
        spaces[placement.part].append(placement.space)
    for order_ in kit.orders:
        spaces[order_.part] += [""] * order_.count
    materials: dict[str, set[str]] = defaultdict(set)
    for piece in kit.pieces:
        materials[piece.part].add(piece.material)
    return {
        piece.id: (
            deque(sorted(spaces[piece.part], key=lambda one: order.get(one, len(order)))),
            len(materials[piece.part]) == 1,
        )
        for piece in kit.pieces
    }
