"""What lots would take with less room to grow is what they take when the room file says so."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.layout.asks import asks_of
from nookwright.layout.less_growth import LessGrowth
from nookwright.module.choice import Decided, Inside, choose
from nookwright.sizing.lot_sizes import terms_of
from nookwright.sizing.usable import usable_of
from nookwright.sizing.ways import Limits
from nookwright.sizing.ways.household import ways_of_room

if TYPE_CHECKING:
    from nookwright.survey.models import Lot, Room


def growing(room: Room, percent: float, **keys: object) -> Room:
    """The room with so much room to grow for its first lot, of which there are a dozen."""
    lot = room.lot[0].model_copy(update={"count": 12, "grow_percent": percent, **keys})
    return room.model_copy(update={"lot": (lot, *room.lot[1:])})


def knowing(room: Room) -> LessGrowth:
    """What knows of less growth in a room."""
    usable = usable_of(room.space[0], ())
    limits = Limits(length=max(usable.width, usable.depth), height=usable.height, wall=1.68, floor=room.choices.floor)
    ways, inside = ways_of_room(room, limits, {}, terms_of(room, None)), Inside(usable, lined=True, headroom=1.0)
    module = choose(0.2, [inside], list(ways.values()), decided=Decided()).module
    return LessGrowth(room, module, limits, {}, terms_of(room, None))


def test_each_step_is_what_the_room_file_would_give(tiny_room: Room) -> None:
    """From 60 % down in fives to none; each has what that growth asks for, idle ones are left out."""
    know = knowing(growing(tiny_room, 60.0))
    lot: Lot = know.room.lot[0]
    less = know(lot.id)
    assert less is not None
    assert less.percent == 60.0
    percents = [percent for percent, _ in less.steps]
    assert percents == sorted(percents, reverse=True)
    assert set(percents) <= {5.0 * n for n in range(12)}
    assert len(percents) > 2
    assert all(one != other for (_, one), (_, other) in pairwise(less.steps))
    for percent, candidates in less.steps:
        asked = growing(tiny_room, percent)
        ways = ways_of_room(asked, know.limits, {}, know.terms)
        asks, _ = asks_of(asked, know.module, ways)
        assert candidates == next(ask.candidates for ask in asks if ask.lot == lot.id)


def test_a_fixed_set_has_no_less(tiny_room: Room) -> None:
    """Without room to grow there is nothing to leave off; a lot in a box is not spoken of."""
    fixed = knowing(growing(tiny_room, 0.0))
    less = fixed(fixed.room.lot[0].id)
    assert less is not None
    assert less.steps == ()
    boxed = growing(tiny_room, 60.0, box="crate")
    know = LessGrowth(boxed, fixed.module, fixed.limits, {}, fixed.terms)
    assert know(boxed.lot[0].id) is None
