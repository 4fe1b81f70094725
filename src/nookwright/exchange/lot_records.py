"""How the sizes of a lot and of its pockets came about, as records of the kit."""

from __future__ import annotations

from collections import Counter
from statistics import mean, stdev
from typing import TYPE_CHECKING

from nookwright.exchange.kit import BodyBeside, KitBox, KitPocket, KitSize, LotPlace
from nookwright.exchange.rounding import rounded
from nookwright.parts.rests.rest_placed import handle_of
from nookwright.sizing.lot_sizes import dimensions_of, fit_of, pocket_of, sized
from nookwright.sizing.statistics.tolerance_factors import one_sided_factor
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.parts.design import Contents, Copy
    from nookwright.sizing.lot_sizes import SizedSide, Terms
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot, Room

_DIGITS = 4  # of a size: a ten-thousandth of a mm, so that rounded parts still add up


def lot_place(contents: Contents, placement: str, part: str, held_by: tuple[str, ...] = ()) -> LotPlace:
    """The things of a lot in one placed part.

    Args:
        contents: what is in it.
        placement: id of its place.
        part: id of the part.
        held_by: ids of other placements that hold them as well.
    """
    thing, box = contents.way.thing, contents.way.box
    return LotPlace(
        placement=placement,
        part=part,
        count=contents.count,
        stance=contents.way.words,
        size=(rounded(thing.width), rounded(thing.depth), rounded(thing.height)),
        round_axis=thing.round_axis,
        at=tuple((rounded(x), rounded(y), rounded(z)) for x, y, z in contents.places),
        held=contents.held,
        box=box.id if box else "",
        corner_radius=rounded(box.foot_radius) if box and not thing.round_axis else 0.0,
        held_by=held_by,
        beside=_beside(contents.way),
    )


def _beside(way: Way) -> BodyBeside | None:
    """The handle of a long thing."""
    handle = handle_of(way.long) if way.long else None
    if handle is None:
        return None
    (width, depth, height), (x, y, z) = handle.size, handle.offset
    return BodyBeside(
        size=(rounded(width), rounded(depth), rounded(height)), offset=(rounded(x), rounded(y), rounded(z))
    )


def boxes_of(room: Room, copies: Sequence[Copy]) -> tuple[KitBox, ...]:
    """The person's own boxes that are in use, and how many of them are to be bought.

    Args:
        room: as surveyed.
        copies: all copies of all parts that have a place.
    """
    used = Counter(one.way.box.id for copy in copies for one in copy.holds if one.way.box)
    found = []
    for box in room.box:
        if used[box.id]:
            buy = max(0, used[box.id] - box.owned)
            price = rounded(buy * (box.price or 0.0))
            found.append(KitBox(id=box.id, name=box.name or box.id, count=used[box.id], buy=buy, price=price))
    return tuple(found)


def sizes_of(lot: Lot, pocket: float, terms: Terms) -> tuple[KitSize, ...]:
    """Every dimension of a lot with where its limit comes from.

    Args:
        lot: a loaded lot.
        pocket: diameter of the pockets that hold it, mm; 0 where it is kept in none.
        terms: what holds for all lots.
    """
    return tuple(_size(lot, dimension, pocket, terms) for dimension in dimensions_of(lot))


def _size(lot: Lot, dimension: str, pocket: float, terms: Terms) -> KitSize:
    side = sized(lot, dimension, terms)
    return KitSize(
        dimension=dimension,
        readings=side.readings,
        published=not side.process,
        limit=round(side.limit, _DIGITS),
        confidence=round(side.confidence, _DIGITS),
        process=side.process,
        tolerance=round(side.tolerance.plus_minus, _DIGITS) if side.tolerance else 0.0,
        source=side.tolerance.source if side.tolerance else lot.standard or "every one was measured",
        samples_alone=round(_samples_alone(side, lot.count), _DIGITS),
        pocket=_pocket(lot, pocket, terms) if pocket and dimension == "diameter" else None,
    )


def _samples_alone(side: SizedSide, count: int) -> float:
    """The classical one-sided limit of a normal sample, for the share of things that a lot of so many needs."""
    if side.measured < 2 or side.tolerance is None:  # noqa: PLR2004 - one sample has no spread
        return 0.0
    factor = one_sided_factor(side.measured, side.confidence ** (1 / count), side.confidence)
    return mean(side.readings) + factor * stdev(side.readings)


def _pocket(lot: Lot, drawn: float, terms: Terms) -> KitPocket:
    size = pocket_of(lot, terms, pockets=capacity(lot))
    return KitPocket(
        fit=fit_of(lot).value,
        measured=round(size.measured, _DIGITS),
        limit=round(size.limit, _DIGITS),
        printer=round(size.printer, _DIGITS),
        clearance=round(size.clearance, _DIGITS),
        found=round(size.found, _DIGITS),
        size=round(drawn, _DIGITS),
        confidence=round(size.confidence, _DIGITS),
        calibrated=terms.errors.measured,
    )
