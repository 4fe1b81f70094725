"""The ways of all lots of a room: alone, in the person's own boxes, and together in shared trays."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from nookwright.sizing.tray_needs import PLAIN, Parting
from nookwright.sizing.ways.every import ways_of
from nookwright.sizing.ways.shared import Part, shared_ways
from nookwright.survey.models import FloorStyle, Keep

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.sizing.lot_sizes import Terms
    from nookwright.sizing.tray_needs import TrayNeeds
    from nookwright.sizing.ways.way import Limits, Way
    from nookwright.survey.models import Lot, Room


_CACHE = 512  # lots that are tried with several neighbours


def hosts_of(room: Room) -> dict[str, tuple[Lot, ...]]:
    """The lots of every shared tray, by the id of the one whose tray it is, which comes first.

    Args:
        room: as surveyed.
    """
    lots = {lot.id: lot for lot in room.lot}
    found: dict[str, tuple[Lot, ...]] = {}
    for lot in room.lot:
        if lot.shares is not None:
            found[lot.shares] = (*found.get(lot.shares, (lots[lot.shares],)), lot)
    return found


def ways_of_room(
    room: Room, limits: Limits, needs: Mapping[str, TrayNeeds], terms: Terms | None = None
) -> dict[str, tuple[Way, ...]]:
    """All sensible ways to keep each lot, by its id; none for a lot in another one's tray.

    Args:
        room: as surveyed.
        limits: the largest insides of the room.
        needs: by id of a lot, what the options of its tray take; nothing for lots that are missing.
        terms: what holds for all lots; the usual when left out.
    """
    hosts = hosts_of(room)
    found: dict[str, tuple[Way, ...]] = {}
    for lot in room.lot:
        own = needs.get(lot.id, PLAIN)
        if lot.shares is not None:
            found[lot.id] = ()
        elif lot.id in hosts:
            found[lot.id] = together(hosts[lot.id], limits, own, terms)
        else:
            found[lot.id] = ways_of(lot, limits, own, terms, room.box)
    return found


def together(
    lots: Sequence[Lot], limits: Limits, needs: TrayNeeds = PLAIN, terms: Terms | None = None
) -> tuple[Way, ...]:
    """The ways of several lots in one tray, side by side from the left; empty where they do not go into one.

    Args:
        lots: the lots; the tray is the first one's.
        limits: the largest insides of the room.
        needs: what the options of that tray take.
        terms: what holds for all lots; the usual when left out.
    """
    each = replace(needs, columns=Parting(), least_width=0.0)
    alone = [_in_a_tray(lot, limits, each, terms) for lot in lots]
    if len({way.floor for ways in alone for way in ways}) > 1:
        alone = [_in_a_tray(lot, limits, each, terms, FloorStyle.SMOOTH) for lot in lots]
    parts = tuple(Part(lot.id, ways) for lot, ways in zip(lots, alone, strict=True))
    return shared_ways(parts, needs, length=limits.length, wall=limits.wall)


@lru_cache(_CACHE)
def _in_a_tray(
    lot: Lot, limits: Limits, needs: TrayNeeds, terms: Terms | None, floor: FloorStyle | None = None
) -> tuple[Way, ...]:
    """The ways of a lot in a tray of its own, with a floor that suits its neighbours too."""
    keep = lot.keep if lot.keep is Keep.LOOSE else Keep.TRAY
    asked = lot.model_copy(update={"keep": keep, "floor": floor or lot.floor, "box": None})
    return ways_of(asked, limits, needs, terms)
