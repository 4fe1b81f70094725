"""All sensible ways to keep a lot."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.sizing.lot_sizes import Terms, drawn, pocket_of
from nookwright.sizing.things import Standing, standings_of
from nookwright.sizing.tray_needs import PLAIN, TrayNeeds
from nookwright.sizing.ways.boxed import in_box
from nookwright.sizing.ways.clearances import capacity, is_small
from nookwright.sizing.ways.dispensers import in_dispenser
from nookwright.sizing.ways.heaps import heaps, is_heaped
from nookwright.sizing.ways.prune import undominated
from nookwright.sizing.ways.rests import bare, in_rest
from nookwright.sizing.ways.rows import Kept, Sketch, in_rows, staggered
from nookwright.sizing.ways.way import Limits, PartKind, Way
from nookwright.survey.models import FloorStyle, Keep, Lot, Stance
from nookwright.survey.tray_wishes import TrayWishes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.survey.layout_wishes import OwnBox


def ways_of(
    lot: Lot,
    limits: Limits,
    needs: TrayNeeds = PLAIN,
    terms: Terms | None = None,
    boxes: Sequence[OwnBox] = (),
) -> tuple[Way, ...]:
    """All sensible ways to keep a lot within the limits, in a fixed order; empty where it fits nowhere.

    Args:
        lot: a loaded lot.
        limits: the largest insides of the room.
        needs: what the options of its tray take; a cradle has none.
        terms: what holds for all lots; the usual when left out.
        boxes: that the person has or can buy.
    """
    terms = terms or Terms()
    rest = in_rest(lot, limits, terms)
    if lot.keep is Keep.REST or rest is None:
        return (rest,) if rest else () if lot.keep is Keep.REST else _otherwise(lot, limits, needs, terms, boxes)
    return (rest, *bare(lot, _otherwise(lot, limits, needs, terms, boxes)))


def _otherwise(lot: Lot, limits: Limits, needs: TrayNeeds, terms: Terms, boxes: Sequence[OwnBox]) -> tuple[Way, ...]:
    """The ways in trays, cradles and boxes."""
    standings = standings_of(lot, terms)
    if lot.keep is Keep.DISPENSER:
        stack = in_dispenser(lot, standings, limits)
        return (stack,) if stack else ()
    boxed = [way for box in _offered(lot, boxes) if (way := in_box(lot, standings, box, limits))]
    if lot.box is not None:
        return tuple(boxed)
    if is_heaped(lot, standings):
        return (*undominated(heaps(lot, standings, limits, needs)), *boxed)
    alike: dict[tuple[PartKind, FloorStyle], list[Sketch]] = {}
    for kept in _kept(lot, standings, limits, needs, terms):
        alike.setdefault((kept.kind, kept.floor), []).extend((*in_rows(kept), *staggered(kept)))
    return (*(sketch.way for sketches in alike.values() for sketch in undominated(sketches)), *boxed)


def _offered(lot: Lot, boxes: Sequence[OwnBox]) -> Iterator[OwnBox]:
    """The boxes that a lot may go into: the one that it names, else all that are there or have a price."""
    free = lot.box is None and lot.keep is Keep.ANY and lot.tray == TrayWishes() and lot.shares is None
    for box in boxes:
        if box.id == lot.box or (free and (box.owned or box.price is not None)):
            yield box


def _kept(lot: Lot, standings: tuple[Standing, ...], limits: Limits, needs: TrayNeeds, terms: Terms) -> Iterator[Kept]:
    """The things as they may stand in printed trays and cradles."""
    for standing in standings:
        for kind in _kinds(lot, standing):
            tray = kind is PartKind.TRAY
            yield Kept(
                lot, standing if tray else _in_pocket(lot, standing, terms), kind, limits, needs if tray else PLAIN
            )


def _in_pocket(lot: Lot, standing: Standing, terms: Terms) -> Standing:
    """A thing that stands in a pocket: the pocket goes by its diameter alone, at the confidence of the room."""
    pocket = pocket_of(lot, terms, pockets=capacity(lot))
    across = round(pocket.thing, 6)
    return replace(standing, width=across, depth=across, pocket=max(drawn(pocket), math.ceil(across * 100) / 100))


def _kinds(lot: Lot, standing: Standing) -> tuple[PartKind, ...]:
    """Kinds of part that can hold a thing standing so: cradles hold round things that stand, one in each pocket."""
    if lot.nests_by is not None:
        return (PartKind.TRAY,) if standing.stance is Stance.UPRIGHT else ()
    can_cradle = standing.round_axis == "z" and not is_small(standing)
    if lot.keep is Keep.CRADLE:
        return (PartKind.CRADLE,) if standing.round_axis == "z" else ()
    if lot.keep is Keep.TRAY or lot.tray != TrayWishes() or lot.shares is not None or not can_cradle:
        return (PartKind.TRAY,)
    return (PartKind.CRADLE, PartKind.TRAY)
