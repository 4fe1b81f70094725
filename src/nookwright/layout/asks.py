"""Lots as the solver sees them: their candidates, and what is wished of where they go, weighed as the person says."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.candidates import priced, ranked
from nookwright.layout.model import Ask, LeftOut
from nookwright.layout.problem import SPLIT
from nookwright.layout.sharing import merged
from nookwright.layout.spaces import G_PER_KG
from nookwright.layout.stock import within_stock
from nookwright.module.estimates import MM_PER_M
from nookwright.sizing.ways.household import hosts_of
from nookwright.survey.models import Use

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot, Room, Space

USE_WEIGHT = {
    Use.DAILY: Fact(3.0, unit="1", kind=Kind.CHOICE, source="Weight of reach for what is taken out daily."),
    Use.WEEKLY: Fact(1.0, unit="1", kind=Kind.CHOICE, source="Weight of reach for what is taken out weekly."),
    Use.RARELY: Fact(0.2, unit="1", kind=Kind.CHOICE, source="Weight of reach for what is rarely taken out."),
}
ALIKE = Fact(
    5.0, unit="cost", kind=Kind.CHOICE, source="Two lots of one group in two spaces: a sixth of belonging together."
)
LIFTED_FROM = Fact(
    900.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Heavy things are lifted from below the height of the elbow."
)
HEAVY_PER_KG_M = Fact(
    5.0,
    unit="cost/(kg m)",
    kind=Kind.CHOICE,
    source="A kilogram kept a metre too high costs as much as a reach of half a metre.",
)


def asks_of(
    room: Room, module: Module, ways: Mapping[str, Sequence[Way]]
) -> tuple[tuple[Ask, ...], tuple[LeftOut, ...]]:
    """The lots that some part could hold, and those that none could.

    Args:
        room: as surveyed.
        module: the household's module.
        ways: by id of a lot, its ways of being kept.
    """
    alike, trays = _alike(room), _trays(room)
    tray_of = {lot.id: tray for tray, lots in trays.items() for lot in lots[1:]}
    found = within_stock({tray: _priced(room, module, lots, ways[tray]) for tray, lots in trays.items()}, room.box)
    asks, homeless = [], []
    for tray, lots in trays.items():
        candidates = ranked(found[tray])
        if candidates:
            each = [_ask(room, lot, candidates, alike.get(lot.id, ())) for lot in lots]
            asks.append(merged(each, tray_of))
        else:
            homeless += [_no_way(lot, ways[tray], lots) for lot in lots]
    return tuple(asks), tuple(homeless)


def _trays(room: Room) -> dict[str, tuple[Lot, ...]]:
    """The lots of every part, by the lot that it is called after: most have one."""
    hosts = hosts_of(room)
    return {lot.id: hosts.get(lot.id, (lot,)) for lot in room.lot if lot.shares is None}


def _priced(room: Room, module: Module, lots: Sequence[Lot], ways: Sequence[Way]) -> tuple[Candidate, ...]:
    mass_g = sum(things_g(lot) for lot in lots)
    return priced(lots[0].id, ways, module, mass_g, weights=room.choices.weights)


def _ask(room: Room, lot: Lot, candidates: tuple[Candidate, ...], alike: Sequence[str]) -> Ask:
    weights = room.choices.weights
    split, apart = SPLIT * weights.together, ALIKE * weights.alike
    bonds = {**dict.fromkeys(alike, apart), **dict.fromkeys(lot.near, split)}
    leaning = ((space.id, _too_high(lot, space) * weights.heavy_low) for space in room.space)
    return Ask(
        lot=lot.id,
        candidates=candidates,
        use=USE_WEIGHT[lot.use] * weights.reach,
        bonds=tuple((other, cost) for other, cost in bonds.items() if cost > 0),
        out_of_reach=lot.out_of_reach,
        spaces=room.choices.homes.get(lot.group, ()),
        leaning=tuple((name, round(cost, 6)) for name, cost in leaning if cost > 0),
        cool=lot.keep_cool,
        dry=lot.keep_dry,
        group=lot.group,
    )


def _alike(room: Room) -> dict[str, tuple[str, ...]]:
    """By id of a lot, the next one of its group: as a chain, a group in two spaces is parted only once."""
    groups: dict[str, list[str]] = {}
    for lot in room.lot:
        if lot.group:
            groups.setdefault(lot.group, []).append(lot.id)
    return {one: (other,) for group in groups.values() for one, other in pairwise(group)}


def _too_high(lot: Lot, space: Space) -> float:
    """What it costs to keep a lot's mass in a space that is too high for it."""
    return HEAVY_PER_KG_M * things_g(lot) / G_PER_KG * max(0.0, space.floor_height - LIFTED_FROM) / MM_PER_M


def things_g(lot: Lot) -> float:
    """Mass of all things of a lot, g."""
    return (lot.mass_g or 0.0) * lot.count


def _no_way(lot: Lot, ways: Sequence[Way], lots: Sequence[Lot]) -> LeftOut:
    """A lot that no part holds, and why."""
    if lot.box and ways:
        return LeftOut(
            lot.id,
            f"It is kept in the box {lot.box}, of which there are too few, and which cannot be bought.",
            "Say how many there are (`owned`) or what one costs (`price`), or delete `box`.",
        )
    if lot.box:
        return LeftOut(
            lot.id,
            f"With its room to grow it does not go into one box {lot.box}, or the box into any space.",
            "Split the lot over several boxes, take a larger one, or give less room to grow.",
        )
    if len(lots) > 1:
        names = ", ".join(one.name or one.id for one in lots)
        return LeftOut(lot.id, f"{names} do not go into one tray.", "Let fewer of them share a tray: delete `shares`.")
    return LeftOut(
        lot.id,
        "In none of the ways that it may stand does it fit the inside of any space.",
        "Allow it to lie or to stand on edge, split the lot, or add a larger space.",
    )
