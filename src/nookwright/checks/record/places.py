"""Whether things stand in kit.json as their lot can: in which way, as large, with their handle, in whose box.

All that is said of room, grip and slams rests on it: a box that passes for a round thing misses its neighbours, a knife
without its handle is gripped by nobody. What this does not know: how large a heap or a pile is; and which of the ways
that a lot may be kept in was the best.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.words import HEAPED, IN_A_BOX, IN_A_DISPENSER, IN_A_REST, NESTED
from nookwright.survey.models import Keep, Shape

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.exchange.kit import Kit, KitLot, LotPlace
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Lot, Room

WRITTEN = Fact(
    0.01, unit="mm", kind=Kind.CHOICE, source="Of a side: below all that is measured, above what is rounded."
)
_ONE_BY_ONE = ("upright", "lying", "on-edge")
_ON_EDGE = "on-edge"


def check_places(kit: Kit, room: Room) -> Iterator[Finding]:
    """A finding about everything in the places of lots that cannot be, and one about sizes that are others.

    Args:
        kit: the kit, its references sound.
        room: as surveyed.
    """
    lots = {lot.id: lot for lot in room.lot}
    places = [(lot, place) for lot in kit.lots for place in lot.places]
    wrong = (one for lot, place in places for one in _place(lot, place, lots[lot.id], room))
    yield from said_once("place-otherwise", Severity.STOP, (*wrong, *_supports(kit)))
    other = (one for lot, place in places for one in _size(lot, place, lots[lot.id]))
    yield from said_once("thing-otherwise", Severity.WARN, other)


def _place(said: KitLot, place: LotPlace, lot: Lot, room: Room) -> Iterator[Wrong]:
    """One place."""
    yield from _stance(said.id, place, lot)
    yield from _box(said.id, place, lot, room)
    if len(set(place.held_by)) < len(place.held_by):
        yield Wrong(said.id, f"A support of {place.placement} is listed twice.")
    if place.stance in _ONE_BY_ONE:
        yield from _way(said.id, place, lot)
    blade = place.stance == IN_A_REST and lot.blade is not None
    if blade and place.beside is None:
        yield Wrong(said.id, "It is a blade in a rest, and kit.json has no handle beside it.")
    if place.beside and not blade:
        yield Wrong(said.id, "It has a handle by kit.json; the room file knows of none.")


def _supports(kit: Kit) -> Iterator[Wrong]:
    """Things in a rest that are not said to be held by all of its supports and guards."""
    kinds = {part.id: part.kind for part in kit.parts}
    rests: dict[tuple[str, str], set[str]] = defaultdict(set)
    for one in kit.placements:
        if kinds[one.part] == "rest":
            rests[one.space, one.label.rpartition(", ")[2]].add(one.id)
            rests[one.space, one.label].add(one.id)
    spaces = {one.id: one.space for one in kit.placements}
    for lot in kit.lots:
        for place in lot.places:
            held = {place.placement, *place.held_by}
            if place.stance == IN_A_REST and rests[spaces[place.placement], lot.name] - held:
                missing = sorted(rests[spaces[place.placement], lot.name] - held)
                yield Wrong(
                    lot.id, f"It lies in its rest, and kit.json does not say that {missing[0]} holds it as well."
                )


def _size(said: KitLot, place: LotPlace, lot: Lot) -> Iterator[Wrong]:
    """How large its things are in one place."""
    limits = {one.dimension: one.limit for one in said.sizes}
    if place.stance in _ONE_BY_ONE:
        pocket = any(one.pocket for one in said.sizes)
        yield from _upright(said.id, place, lot, limits)
        sides, read = _sides_of(lot, limits), _sides_of(lot, _read(lot))
        yield from _sides(said.id, place.size, sides, narrower=pocket, readings=read)
    elif place.stance == IN_A_REST and lot.blade:
        yield from _blade(said.id, place, lot, limits)


def _stance(name: str, place: LotPlace, lot: Lot) -> Iterator[Wrong]:
    """The way that it is kept: the one that the room file asks for, or one of those that its shape has."""
    asked = {Keep.DISPENSER: IN_A_DISPENSER, Keep.REST: IN_A_REST, Keep.LOOSE: HEAPED}.get(lot.keep, "")
    if lot.box:
        asked = IN_A_BOX
    if asked:
        yield from words(name, "It is kept", place.stance, asked)
        return
    may: list[str] = [*_ONE_BY_ONE]
    may += [HEAPED] if lot.shape in (Shape.LOOSE, Shape.ROUND, Shape.BOX) else []
    may += [NESTED] if lot.nests_by is not None else []
    may += [IN_A_REST] if lot.keep is Keep.ANY else []
    if place.stance not in may:
        yield Wrong(name, f"It is kept {place.stance!r} by kit.json, which it cannot be.")
    if lot.stands and place.stance in _ONE_BY_ONE and place.stance not in {one.value for one in lot.stands}:
        yield Wrong(name, f"It stands {place.stance} by kit.json, which the room file does not have among its ways.")


def _way(name: str, place: LotPlace, lot: Lot) -> Iterator[Wrong]:
    """Which way it lies by its shape, and whether that is how it is said to."""
    round_thing = lot.shape is Shape.ROUND
    if round_thing != bool(place.round_axis):
        yield Wrong(name, f"It is {'round' if round_thing else 'no round thing'}, and kit.json has it otherwise.")
    elif round_thing:
        yield from words(name, "It stands on its end", place.round_axis == "z", place.stance == "upright")
        across = [side for axis, side in zip("xyz", place.size, strict=True) if axis != place.round_axis]
        if abs(across[0] - across[1]) > WRITTEN:
            yield Wrong(
                name, f"It is round along {place.round_axis}, and {across[0]:g} x {across[1]:g} mm across that."
            )
    elif place.stance == _ON_EDGE and lot.shape is Shape.FLAT and abs(place.size[2] - min(place.size)) < WRITTEN:
        yield Wrong(name, "It stands on edge by kit.json, and is no higher than it is thick.")


def _upright(name: str, place: LotPlace, lot: Lot, limits: Mapping[str, float]) -> Iterator[Wrong]:
    """Its height as it stands."""
    if lot.shape is Shape.ROUND:
        along = place.size["xyz".index(place.round_axis or "z")]
        yield from figure(name, "Its length is", along, limits.get("height", along), unit="mm", off=WRITTEN)
        return
    up = {"upright": "height", "lying": "thickness" if lot.shape is Shape.FLAT else ""}.get(place.stance)
    if up and up in limits:
        what = f"It is {place.stance}, so its height there is"
        yield from figure(name, what, place.size[2], limits[up], unit="mm", off=WRITTEN)


def _sides_of(lot: Lot, sides: Mapping[str, float]) -> tuple[float, ...]:
    """The three sides of the box round a thing, by its dimensions."""
    found = list(sides.values())
    return tuple([*found, sides["diameter"]] if lot.shape is Shape.ROUND and "diameter" in sides else found)


def _read(lot: Lot) -> dict[str, float]:
    """The largest readings of a lot, by dimension."""
    keys = ("width", "depth", "diameter", "height", "thickness")
    return {key: getattr(lot, key).largest for key in keys if getattr(lot, key) is not None}


def _sides(
    name: str, size: Sequence[float], limits: Sequence[float], *, narrower: bool, readings: Sequence[float]
) -> Iterator[Wrong]:
    """Sides of a thing that are not what the lot is at most; in pockets they may be less, down to what was read."""
    if not len(size) == len(limits) == len(readings):
        return
    for side, most, least in zip(sorted(size), sorted(limits), sorted(readings), strict=True):
        nearest = min(max(side, least), most) if narrower else most
        yield from figure(name, "A side of it is", side, nearest, unit="mm", off=WRITTEN)


def _blade(name: str, place: LotPlace, lot: Lot, limits: Mapping[str, float]) -> Iterator[Wrong]:
    """A blade in its rest, with the handle that is taken hold of."""
    blade = lot.blade
    if blade is None:
        return
    yield from _sides(name, place.size, (blade.spine, blade.length, blade.height), narrower=False, readings=(0, 0, 0))
    if place.beside is None:
        return
    longest = max(limits.values(), default=0.0)
    whole = sorted(limits.values())
    handle = (*whole[:-1], longest - blade.length)
    yield from _sides(name, place.beside.size, handle, narrower=False, readings=(0, 0, 0))
    along = max(range(3), key=lambda axis: place.size[axis])
    away = (place.size[along] + place.beside.size[along]) / 2
    for axis, offset in enumerate(place.beside.offset):
        true = away if axis == along else 0.0
        said = abs(offset) if axis == along else offset
        yield from figure(
            name, f"Its handle is beside the blade by, along {'xyz'[axis]}", said, true, unit="mm", off=WRITTEN
        )


def _box(name: str, place: LotPlace, lot: Lot, room: Room) -> Iterator[Wrong]:
    """The person's own box that it is in, and the corners of that."""
    yield from words(name, "The box that it is in", place.box, lot.box or "")
    box = next((one for one in room.box if one.id == place.box), None)
    radius = box.foot_radius if box and not place.round_axis else 0.0
    yield from figure(name, "Upright corners of its box have a radius of", place.corner_radius, radius, unit="mm")
