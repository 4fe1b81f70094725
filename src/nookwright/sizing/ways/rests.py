"""Long things across a pair of supports: shafts, and blades whose edge nobody touches.

In mm, before there is a pitch: sides along a rest are known, those across it are counted in lanes. The layout works out
the cells. Dowels tie the supports together; what lies between them stays free, save for the guards of blades.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.lot_sizes import sized
from nookwright.sizing.ways.clearances import capacity
from nookwright.sizing.ways.way import LongThings, PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Keep, Shape, Stance
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.sizing.lot_sizes import Terms
    from nookwright.sizing.ways.way import Limits
    from nookwright.survey.blades import BladeSizes
    from nookwright.survey.models import Lot

LANE = Fact(
    36.0, unit="mm", kind=Kind.CALCULATED, source="A thing's column and the free one beside it, at a pitch of 18."
)
LEAST_SHAFT = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Thinner things are kept in a tray.")
HELD_OVER = Fact(4.0, unit="mm", kind=Kind.CALCULATED, source="Plastic below a slot and over a blade: 1.2 and 3.")
BARE_BLADE = Fact(
    60.0,
    unit="cost",
    kind=Kind.CHOICE,
    source="A blade that lies bare: worth the plastic of any rest, 240 g; not worth leaving the blade without a place.",
)


def in_rest(lot: Lot, limits: Limits, terms: Terms) -> Way | None:
    """A rest for a whole lot; ``None`` where its things are not long, or longer than any space.

    Args:
        lot: a loaded lot.
        limits: the largest insides of the room.
        terms: what holds for all lots.
    """
    things = _long(lot, terms)
    if things is None:
        return None
    length = things.handle_length + things.length
    high = max(things.high + HELD_OVER, things.handle_high)
    if length > limits.length or high > limits.height:
        return None
    return Way(
        kind=PartKind.REST,
        stance=Stance.LYING,
        thing=ThingSize(things.across, things.length, things.high, "" if things.bladed else "y"),
        columns=things.count,
        rows=1,
        layers=1,
        pitch_x=float(LANE),
        pitch_y=length,
        inner_width=(things.count + 0.5) * LANE,
        inner_depth=length,
        stack_height=high,
        wall_height=high,
        floor=FloorStyle.SMOOTH,
        trouble=0.0,
        long=things,
    )


def bare(lot: Lot, ways: Iterable[Way]) -> tuple[Way, ...]:
    """Other ways to keep a lot that a rest is there for; of a blade they leave the edge bare.

    Args:
        lot: a loaded lot.
        ways: to keep it.
    """
    more = float(BARE_BLADE) if lot.blade else 0.0
    return tuple(replace(way, trouble=way.trouble + more) for way in ways)


def _long(lot: Lot, terms: Terms) -> LongThings | None:
    """The things of a lot as a rest takes them: blades that are measured always, shafts where they are asked for."""
    if lot.box is not None or lot.shares is not None or lot.tray != TrayWishes():
        return None
    if lot.blade is not None and lot.shape is Shape.BOX and lot.keep in (Keep.ANY, Keep.REST):
        return _blades(lot, lot.blade, terms)
    if lot.keep is not Keep.REST or lot.shape is not Shape.ROUND:
        return None
    diameter, length = (sized(lot, side, terms).limit for side in ("diameter", "height"))
    if diameter < LEAST_SHAFT or length <= diameter:
        return None
    return LongThings(capacity(lot), length, diameter, diameter, bladed=False)


def _blades(lot: Lot, blade: BladeSizes, terms: Terms) -> LongThings:
    length, *across = (sized(lot, side, terms).limit for side in ("width", "depth", "height"))
    return LongThings(
        count=capacity(lot),
        length=blade.length,
        across=blade.spine,
        high=blade.height,
        bladed=True,
        drop=blade.handle_drop,
        handle_length=max(0.0, length - blade.length),
        handle_thick=min(across),
        handle_high=max(*across, blade.height + blade.handle_drop),
    )
