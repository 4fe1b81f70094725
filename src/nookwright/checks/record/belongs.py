"""Whether a tray has in the kit all that the room file wishes for it: loose dividers, name strip, inlay, caps.

A tray with slots and no divider, or an inlay that nobody cuts, is only found out when it is filled. What the room file
asks for is held against what stands on each tray, and against the sheets. What this does not know: wishes that could
not be met, where a finding says so; and how an inlay is cut round dividers.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.copies import needed
from nookwright.checks.in_words import called
from nookwright.checks.record.claims import Wrong, between, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.words import IN_A_DISPENSER
from nookwright.survey.tray_wishes import DividerWish, StripWish, settled

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.exchange.kit import Kit, KitPart, KitSheet, Placement
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Lot, Room
    from nookwright.survey.tray_wishes import TrayWishes

COVERS = Fact(0.5, unit="1", kind=Kind.CHOICE, source="Of a tray's outline that its inlays cover at least.")
_INLAY, _DIVIDER = "inlay", "divider"


def check_belongs(kit: Kit, room: Room) -> Iterator[Finding]:
    """One finding about everything that belongs to a part and is not there, or there too often.

    Args:
        kit: the kit, its references sound.
        room: with the wishes for each tray.
    """
    parts = {part.id: part for part in kit.parts}
    over: dict[str, list[KitPart]] = defaultdict(list)
    for placed in kit.placements:
        for carrier in placed.stands_on:
            over[carrier].append(parts[placed.part])
    placed_lots = {lot.id for lot in kit.lots if lot.places}
    guests = Counter(lot.shares for lot in room.lot if lot.shares and lot.id in placed_lots)
    wrong = [
        *(
            one
            for tray, lot, wishes in _trays(kit, room, parts)
            for one in _tray(tray, lot, wishes, kit, over[tray.id], guests=guests[lot.id])
        ),
        *_sheets(kit, parts),
        *_caps(kit, parts),
    ]
    yield from said_once("belonging-missing", Severity.STOP, wrong)


def _trays(kit: Kit, room: Room, parts: Mapping[str, KitPart]) -> Iterator[tuple[Placement, Lot, TrayWishes]]:
    """Every tray in its place, with the lot whose tray it is and what that wishes for it."""
    lots, placed = {lot.id: lot for lot in room.lot}, {one.id: one for one in kit.placements}
    said = {finding.subject for finding in kit.findings}
    for lot in kit.lots:
        read = lots[lot.id]
        if read.shares or lot.id in said:
            continue
        for place in lot.places:
            drawn = place.stance == IN_A_DISPENSER  # under a lid: what is wished for every tray is not for it
            if parts[place.part].kind == "tray" and not drawn:
                yield placed[place.placement], read, settled(read.tray, room.choices.tray)


def _tray(
    tray: Placement, lot: Lot, wishes: TrayWishes, kit: Kit, over: Sequence[KitPart], *, guests: int
) -> Iterator[Wrong]:
    """What one tray wishes for; between lots that share it stands a divider as well."""
    name = called(tray)
    if (wishes.divided or guests) and wishes.dividers in (DividerWish.REMOVABLE, DividerWish.CARD):
        printed = sum(part.kind == _DIVIDER for part in over)
        wanted = _dividers(wishes) + guests
        if wishes.dividers is DividerWish.REMOVABLE:
            yield from figure(tray.id, f"Loose dividers of {name}", printed, wanted)
        elif not any(sheet.use == _DIVIDER and tray.id in sheet.placements for sheet in kit.sheets):
            yield Wrong(tray.id, f"{name} is to have dividers of card, and no sheet is cut for them.")
    if wishes.strip not in (None, StripWish.NONE):
        strips = [part for part in over if part.kind == "name strip"]
        yield from figure(tray.id, f"Name strips of {name}", len(strips), 1)
        lettered = wishes.strip in (StripWish.PRINTED, StripWish.INLAID)
        text = (wishes.text or lot.name or lot.id) if lettered else ""
        for part in strips:
            yield from words(tray.id, f"On the name strip of {name} stands", part.parameters.get("text", ""), text)
    if wishes.inlay:
        cut = [sheet for sheet in kit.sheets if sheet.use == _INLAY and tray.id in sheet.placements]
        if not cut:
            yield Wrong(tray.id, f"{name} is to have an inlay of {wishes.inlay:g} mm, and no sheet is cut for it.")
        for sheet in cut:
            yield from figure(sheet.id, f"The inlay of {name} is thick", sheet.thickness, wishes.inlay, unit="mm")


def _dividers(wishes: TrayWishes) -> int:
    """How many dividers a tray has."""
    counted = sum(count - 1 for count in (wishes.columns, wishes.rows) if count)
    return counted + len(wishes.columns_at) + len(wishes.rows_at)


def _sheets(kit: Kit, parts: Mapping[str, KitPart]) -> Iterator[Wrong]:
    """Sheets for trays that have none, twice for one, or of another number than those cover."""
    placed = {one.id: one for one in kit.placements}
    ordered = {order.part for order in kit.orders}
    covered: dict[str, float] = defaultdict(float)
    for sheet in kit.sheets:
        if sheet.use not in (_INLAY, _DIVIDER):
            yield Wrong(sheet.id, f"It is for {sheet.use!r}, which no sheet is for.")
        if len(set(sheet.placements)) < len(sheet.placements):
            yield Wrong(sheet.id, "A tray of it is listed twice.")
        holders = [parts[placed[one].part] for one in sheet.placements]
        if any(part.id in ordered for part in holders) or not holders:
            continue  # those to order have theirs as well
        if sheet.count % len(holders):
            yield Wrong(
                sheet.id, f"{sheet.count} of it are cut for {len(holders)} trays, which is no whole number for each."
            )
        for name in sheet.placements:
            covered[name] += sheet.size[0] * sheet.size[1] * sheet.count / len(holders) if sheet.use == _INLAY else 0.0
        yield from _named(sheet)
    for name, mm2 in covered.items():
        if mm2:
            outer = parts[placed[name].part].size[0] * parts[placed[name].part].size[1]
            yield from between(name, "Its inlays cover together", mm2, COVERS * outer, outer, unit="mm2")


def _named(sheet: KitSheet) -> Iterator[Wrong]:
    """A sheet whose file says another number."""
    if not sheet.dxf.endswith(f"_{sheet.count}x.dxf") or not sheet.svg.endswith(f"_{sheet.count}x.svg"):
        yield Wrong(sheet.id, f"{sheet.count} of it are needed by kit.json; its files are {sheet.dxf} and {sheet.svg}.")


def _caps(kit: Kit, parts: Mapping[str, KitPart]) -> Iterator[Wrong]:
    """Hollow risers without a cap: what is filled in runs out."""
    count = needed(kit)
    hollow = sum(number for part, number in count.items() if parts[part].parameters.get("inside") == "hollow")
    caps = sum(number for part, number in count.items() if parts[part].kind == "cap")
    if caps < hollow:
        yield from figure("kit", "Caps for its hollow risers", caps, hollow)
