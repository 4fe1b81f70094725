"""Everything that could be left out of a room, the cheapest first, and the few that are worth showing.

A saving is cheap where little is missed for each gram, not where it saves most: the rank is what it gives up, in cost
units, over its grams. Of savings that clash, only the first is among the few; each is priced by itself, so what two of
them save together may be less than their sum.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.savings.liners import Liners
from nookwright.making.savings.lots import LotParts
from nookwright.making.savings.model import LEAST_G
from nookwright.making.savings.rest import Unneeded
from nookwright.making.savings.rise import finer_rise
from nookwright.making.savings.sawn import by_saw

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.plan import Plan
    from nookwright.making.savings.model import Saving
    from nookwright.parts.design import Copy
    from nookwright.survey.models import Room

FEW = Fact(3, unit="1", kind=Kind.CHOICE, source="As many as are weighed against each other before an evening begins.")


def savings(room: Room, plan: Plan, copies: Sequence[Copy]) -> tuple[Saving, ...]:
    """All savings of a few grams and more, the cheapest first.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts.
    """
    unneeded = Unneeded(room, plan, copies)
    found = (
        *Liners(room, plan).savings(),
        *by_saw(room, plan, copies),
        *unneeded.savings(),
        *LotParts(room, plan, unneeded).savings(),
        *finer_rise(room, plan),
    )
    worth = (one for one in found if one.mass_g >= LEAST_G)
    return tuple(sorted(worth, key=lambda one: (round(one.missed_per_g, 9), -round(one.mass_g, 6), one.text)))


def cheapest(found: Sequence[Saving], count: int = int(FEW)) -> tuple[Saving, ...]:
    """The first few that can all be had.

    Args:
        found: savings, the cheapest first.
        count: how many.
    """
    kept: list[Saving] = []
    for one in found:
        if len(kept) < count and not any(one.clashes(other) for other in kept):
            kept.append(one)
    return tuple(kept)
