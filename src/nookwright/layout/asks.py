"""Lots as the solver sees them: their candidates, and what is wished of where they go, weighed as the person says."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.candidates import candidates_of
from nookwright.layout.model import Ask, LeftOut
from nookwright.layout.problem import SPLIT
from nookwright.layout.spaces import G_PER_KG
from nookwright.module.estimates import MM_PER_M
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
    alike = _alike(room)
    asks, homeless = [], []
    for lot in room.lot:
        candidates = candidates_of(lot.id, ways[lot.id], module, things_g(lot))
        if candidates:
            asks.append(_ask(room, lot, candidates, alike.get(lot.id, ())))
        else:
            homeless.append(_no_way(lot))
    return tuple(asks), tuple(homeless)


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


def _no_way(lot: Lot) -> LeftOut:
    return LeftOut(
        lot.id,
        "In none of the ways that it may stand does it fit the inside of any space.",
        "Allow it to lie or to stand on edge, split the lot, or add a larger space.",
    )
