"""Own boxes are few: each is offered to those lots that gain most by it, never to more than there are or can be bought.

What is offered at most as often as it is there cannot be used too often, whatever the solver does.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.layout.candidates import COST_PER_PRICE

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.model import Candidate, Layout
    from nookwright.survey.layout_wishes import OwnBox
    from nookwright.survey.models import Room


def within_stock(
    found: Mapping[str, tuple[Candidate, ...]], boxes: Sequence[OwnBox]
) -> dict[str, tuple[Candidate, ...]]:
    """The candidates without boxes that are not there and cannot be bought.

    Lots that can be kept in nothing else come first, in their order; then those that save most. Those that come after
    the boxes that are there pay for theirs.

    Args:
        found: by id of a lot, its candidates with their whole cost.
        boxes: that the person has or can buy.
    """
    kept = {lot: list(candidates) for lot, candidates in found.items()}
    for box in boxes:
        for turn, lot in enumerate(_by_gain(kept, box)):
            if turn < box.owned:
                continue
            others = [one for one in kept[lot] if not _is(one, box)]
            bought = [_bought(one, box) for one in kept[lot] if _is(one, box) and box.price is not None]
            kept[lot] = others + bought
    return {lot: tuple(candidates) for lot, candidates in kept.items()}


def _is(one: Candidate, box: OwnBox) -> bool:
    return one.way.box is not None and one.way.box.id == box.id


def _by_gain(found: Mapping[str, Sequence[Candidate]], box: OwnBox) -> list[str]:
    """The lots that a box is offered to, those that need or gain it most first."""
    rows = []
    for number, (lot, candidates) in enumerate(found.items()):
        mine = min((one.cost for one in candidates if _is(one, box)), default=None)
        if mine is not None:
            other = min((one.cost for one in candidates if not _is(one, box)), default=None)
            rows.append((other is not None, 0.0 if other is None else round(mine - other, 6), number, lot))
    return [lot for *_, lot in sorted(rows)]


def _bought(one: Candidate, box: OwnBox) -> Candidate:
    """A candidate that pays for its box, which it may have taken for one that is there."""
    price = box.price or 0.0
    return replace(one, price=price, cost=one.cost + COST_PER_PRICE * (price - one.price))


def about_boxes(room: Room, layout: Layout) -> tuple[Finding, ...]:
    """What has to be bought before the kit is of use, and boxes that lots ask for and that are not there.

    Args:
        room: as surveyed.
        layout: what goes where.
    """
    used = Counter(one.candidate.way.box.id for one in layout.placed if one.candidate and one.candidate.way.box)
    found = []
    for box in room.box:
        buy = used[box.id] - box.owned
        if buy > 0:
            text = f"{used[box.id]} of the box {box.name or box.id} are used and {box.owned} are there: buy {buy} more"
            cost = f", {buy * (box.price or 0.0):g} in all." if box.price else "."
            remedy = "Buy them before the shoes are printed, or give the lots another way to be kept."
            found.append(Finding("boxes-to-buy", Severity.NOTE, box.id, text + cost, remedy))
    return tuple(found)
