"""Whether the sums at the end of kit.json are those of what stands before them: parts, grams, hours, spools, prices.

Who decides whether to print at all, or what to buy, reads these and nothing else. Each is worked out once more from
pieces, bedfuls and places, and from what the room file says of materials and boxes. What this does not know: whether a
piece takes as long as it says; the sum of its part and the schedule have the same figure.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.copies import bounds_by_space, sums_of_pieces
from nookwright.checks.record.claims import between, figure, said_once, words
from nookwright.checks.weights import G_PER_KG
from nookwright.ground.findings import Severity
from nookwright.module.estimates import MM2_PER_DM2
from nookwright.sizing.usable import usable_of
from nookwright.survey.models import NO_FLOOR

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.record.claims import Wrong
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


def check_totals(kit: Kit, room: Room) -> Iterator[Finding]:
    """Sums of the whole kit, of its materials, parts, spaces and boxes that are not what they come to.

    Args:
        kit: the kit, its references sound.
        room: with materials and boxes.
    """
    times = sums_of_pieces(kit, lambda piece: piece.time_s)
    yield from said_once("time-wrong", Severity.STOP, (*_parts(kit, times), *_spaces(kit, times)))
    sums = (*_materials(kit, room), *_boxes(kit, room), *_counts(kit, room), *_sums(kit, room))
    yield from said_once("total-wrong", Severity.STOP, sums)


def _parts(kit: Kit, times: Mapping[str, tuple[float, ...]]) -> Iterator[Wrong]:
    """Parts that do not take as long as their pieces do."""
    for part in kit.parts:
        if part.id in times:
            nearest = min(times[part.id], key=lambda time_s: abs(time_s - part.time_s))
            yield from figure(part.id, "To print it takes", part.time_s, nearest, unit="s")


def _spaces(kit: Kit, times: Mapping[str, tuple[float, ...]]) -> Iterator[Wrong]:
    """Spaces whose prints do not take as long as the parts that stand there; one in several materials may be any."""
    stand = bounds_by_space(kit, times, lambda part: part.time_s)
    for space in kit.spaces:
        yield from between(space.id, "To print what stands in it takes", space.time_s, *stand[space.id], unit="s")


def _materials(kit: Kit, room: Room) -> Iterator[Wrong]:
    """What is needed of each material, what that costs, and how many spools hold it."""
    grams: dict[str, float] = defaultdict(float)
    for piece in kit.pieces:
        grams[piece.material] += piece.mass_g * piece.count
    yield from words("kit", "Materials", tuple(one.id for one in kit.materials), tuple(one.id for one in room.material))
    surveyed = {one.id: one for one in room.material}
    for said in kit.materials:
        if said.id in surveyed:
            read, mass_g = surveyed[said.id], grams[said.id]
            yield from figure(said.id, "All prints of it weigh", said.mass_g, mass_g, unit="g")
            yield from figure(said.id, "They cost", said.price, mass_g / G_PER_KG * read.price_per_kg)
            yield from figure(said.id, "Spools that hold it", said.spools, math.ceil(round(mass_g / read.spool_g, 6)))


def _boxes(kit: Kit, room: Room) -> Iterator[Wrong]:
    """The person's own boxes: all that are in use, each once, with what is to be bought."""
    used = Counter(place.box for lot in kit.lots for place in lot.places if place.box)
    listed = [one.id for one in kit.boxes]
    yield from words("kit", "Own boxes in use", sorted(listed), sorted(used))
    surveyed = {one.id: one for one in room.box}
    for said in kit.boxes:
        if said.id in surveyed:
            read = surveyed[said.id]
            buy = max(0, used[said.id] - read.owned)
            yield from figure(said.id, "Boxes of this kind in use", said.count, used[said.id])
            yield from figure(said.id, "Boxes to buy", said.buy, buy)
            yield from figure(said.id, "They cost", said.price, buy * (read.price or 0.0))


def _counts(kit: Kit, room: Room) -> Iterator[Wrong]:
    """How many there are of everything."""
    said = kit.totals
    whole = sum(sum(place.count for place in lot.places) > 0 for lot in kit.lots)
    for what, stated, true in (
        ("Spaces that are fitted out", said.spaces, len({one.space for one in kit.placements})),
        ("Lots of the room", said.lots, len(room.lot)),
        ("Lots that have a place", said.lots_placed, whole),
        ("Different parts", said.parts, len(kit.parts)),
        ("Pieces to print", said.pieces, sum(piece.count for piece in kit.pieces)),
        ("Loads of a bed", said.bedfuls, len(kit.bedfuls)),
    ):
        yield from figure("kit", what, stated, true)


def _sums(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Grams, hours, floor and price of the whole kit."""
    said, price = kit.totals, {one.id: one.price_per_kg / G_PER_KG for one in room.material}
    mass_g = sum(piece.mass_g * piece.count for piece in kit.pieces)
    cost = sum(piece.mass_g * piece.count * price[piece.material] for piece in kit.pieces if piece.material in price)
    yield from figure("kit", "All prints weigh", said.mass_g, mass_g, unit="g")
    yield from figure("kit", "All prints take", said.time_s, sum(one.time_s for one in kit.bedfuls), unit="s")
    yield from figure("kit", "All prints cost", said.price, cost)
    yield from figure("kit", "The floor that is fitted out is", said.area_dm2, _floor_dm2(kit, room), unit="dm2")
    a_dm2 = said.mass_g / said.area_dm2 if said.area_dm2 else 0.0
    yield from figure("kit", "Prints by that floor weigh", said.g_per_dm2, a_dm2, unit="g/dm2")


def _floor_dm2(kit: Kit, room: Room) -> float:
    """Floor of all spaces that are fitted out, dm2, as it comes out of their readings."""
    used = {one.space for one in kit.placements}
    floors = [
        usable_of(space, room.found)
        for space in room.space
        if space.id in used and space.kind not in NO_FLOOR and not space.kept_free
    ]
    return sum(floor.width * floor.depth for floor in floors) / MM2_PER_DM2
