"""Whether things, boxes and orders stand in kit.json as the room file has them: as large, and all there.

Everything that is said of room round things rests on how large kit.json has them: a thing there is no smaller, in any
of its turns, than the largest that was measured. What is heaped, nested or long enough for a rest is recorded as a pile
or in parts, and not looked at. A dispenser needs its lid, and every order its part. What this does not know: how much
larger than the largest reading a thing may be; that is a matter of statistics.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.in_words import called, outers_unlike
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID
from nookwright.sizing.lot_sizes import dimensions_of
from nookwright.sizing.ways.words import IN_A_DISPENSER

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, LotPlace
    from nookwright.survey.models import Lot, Room

_ONE_BY_ONE = frozenset({"upright", "lying", "on-edge", IN_A_DISPENSER})
_REMEDY = "Build the kit again; if it stays, this is a fault of the tool: please report it with the room file."


def check_things(kit: Kit, room: Room) -> Iterator[Finding]:
    """Things and boxes that are smaller in kit.json than they were measured, dispensers without a lid, lost orders.

    Args:
        kit: the kit, with the findings of the stages before.
        room: as surveyed.
    """
    lots = {lot.id: lot for lot in room.lot}
    for lot in kit.lots:
        small = next((place for place in lot.places if _smaller(place, lots[lot.id], room)), None)
        if small is not None:
            what, true = _measured(small, lots[lot.id], room)
            read, said = outers_unlike(true, small.size)
            text = f"{what} measures {read} by the room file; kit.json reckons with {said}."
            yield Finding("thing-smaller", Severity.STOP, lot.id, text, _REMEDY)
    yield from _lidless(kit)
    yield from _lost(kit, room)


def _measured(place: LotPlace, lot: Lot, room: Room) -> tuple[str, tuple[float, ...]]:
    """What stands in a place, in words, and its sides at the largest that were measured, mm; none where unknown."""
    if place.box:
        box = next((one for one in room.box if one.id == place.box), None)
        return f"Its box {place.box}", (box.width, box.depth, box.height) if box else ()
    sides = {side: float(getattr(lot, side).largest) for side in dimensions_of(lot)}
    if "diameter" in sides:
        sides["across"] = sides["diameter"]
    return "The largest of its things", tuple(sides.values())


def _smaller(place: LotPlace, lot: Lot, room: Room) -> bool:
    """Whether what is in a place is smaller than it was measured, however it is turned."""
    _, true = _measured(place, lot, room)
    if len(true) != len(place.size) or not (place.box or (place.stance in _ONE_BY_ONE and not place.beside)):
        return False
    return any(said < read - GRID for said, read in zip(sorted(place.size), sorted(true), strict=True))


def _lidless(kit: Kit) -> Iterator[Finding]:
    """Dispensers that nothing lies on: things are drawn through the slot of a lid."""
    lids = {part.id for part in kit.parts if part.kind == "lid"}
    covered = {name for one in kit.placements if one.part in lids for name in one.stands_on}
    names = {one.id: called(one) for one in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            if place.stance == IN_A_DISPENSER and place.placement not in covered:
                text = f"It is drawn from {names[place.placement]}, and no lid lies on that."
                yield Finding("lid-missing", Severity.STOP, lot.id, text, _REMEDY)


def _lost(kit: Kit, room: Room) -> Iterator[Finding]:
    """Orders without a part, and no finding that says why."""
    made = {order.id for order in kit.orders}
    said = {finding.subject for finding in kit.findings}
    for order in room.part:
        if order.id not in made | said:
            text = f"The room file orders it ({order.kind}), kit.json does not have it, and nothing says why."
            yield Finding("order-lost", Severity.STOP, order.id, text, _REMEDY)
