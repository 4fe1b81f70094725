"""Whether parts are printed where the room file says, and those that are to stay whole are in one piece.

Looked at in the kit as written: what stands where, what is kept in it, what lies on which bed. Lids, dividers and name
strips follow their tray by its lot; which lot that is, the kit does not say, so of them only space and kind are looked
at. A part that is to stay whole and is too large for the printer named for it may be printed on any other.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.in_words import OURS
from nookwright.ground.findings import Against, Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.exchange.kit import Kit, KitPart, Piece
    from nookwright.survey.cutting_wishes import PrintedOn
    from nookwright.survey.models import Printer, Room

_Use = tuple[str, str, str, frozenset[str]]  # part, space, order, lots


def check_meant_for(kit: Kit, room: Room) -> tuple[Finding, ...]:
    """Check every wish of the room file for printers, and for parts in one piece.

    Args:
        kit: the kit, its references sound.
        room: whose wishes they are.
    """
    wishes, parts = room.making.printed_on, {part.id: part for part in kit.parts}
    if not wishes:
        return ()
    meant: Counter[tuple[str, str]] = Counter()
    whole: set[str] = set()
    for use in _uses(kit):
        about = [wish for wish in wishes if _is_about(wish, use, parts[use[0]])]
        named = next((wish.printer for wish in about if wish.printer is not None), None)
        kept = any(wish.whole for wish in about)
        whole |= {use[0]} if kept else set()
        if named and not (kept and not _may_lie_on(parts[use[0]], room.printer, named)):
            meant[use[0], named] += 1
    return (*_elsewhere(kit, meant), *_in_pieces(kit, whole))


def _uses(kit: Kit) -> Iterator[_Use]:
    """Everything that is printed once: in its place, or made to order."""
    lots: dict[str, set[str]] = defaultdict(set)
    for lot in kit.lots:
        for place in lot.places:
            for holder in (place.placement, *place.held_by):
                lots[holder].add(lot.id)
    for placement in kit.placements:
        yield placement.part, placement.space, "", frozenset(lots[placement.id])
    for order in kit.orders:
        for _ in range(order.count):
            yield order.part, "", order.id, frozenset()


def _is_about(wish: PrintedOn, use: _Use, part: KitPart) -> bool:
    """Whether a wish is about a use of a part: all that it names fits."""
    _, space, order, lots = use
    return (
        (wish.kind is None or wish.kind.value == part.kind)
        and (wish.space is None or wish.space == space)
        and (wish.part is None or wish.part == order)
        and (wish.lot is None or wish.lot in lots)
    )


def _may_lie_on(part: KitPart, printers: Sequence[Printer], name: str) -> bool:
    """Whether a part is sure to lie on a printer's bed in one piece; with places that stay free nothing is sure."""
    printer = next(one for one in printers if one.id == name)
    if printer.keep_out:
        return False
    bed = sorted((printer.bed_width - 2 * printer.margin, printer.bed_depth - 2 * printer.margin))
    flat = all(side <= room for side, room in zip(sorted(part.size[:2]), bed, strict=True))
    return flat and part.size[2] <= printer.bed_height


def _elsewhere(kit: Kit, meant: Counter[tuple[str, str]]) -> Iterator[Finding]:
    """Parts of which fewer are printed on a printer than are meant for it."""
    printed = Counter((bedful.printer, item.piece) for bedful in kit.bedfuls for item in bedful.items)
    for (part, printer), count in sorted(meant.items()):
        for same in _alike(kit, part):
            there = sum(printed[printer, piece.id] for piece in same)
            if there < count:
                text = f"It is meant to be printed on {printer} {_times(count)}; it is printed there {_times(there)}."
                against = Against(there, count, "1")
                yield Finding("printed-elsewhere", Severity.STOP, same[0].id, text, OURS, against)


def _times(count: int) -> str:
    """How often, in words."""
    return {0: "not at all", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _alike(kit: Kit, part: str) -> list[list[Piece]]:
    """The pieces of a part, the same piece in each of its materials."""
    found: dict[object, list[Piece]] = defaultdict(list)
    for piece in kit.pieces:
        if piece.part == part:
            found[piece.recipe, piece.part_from_piece].append(piece)
    return list(found.values())


def _in_pieces(kit: Kit, whole: set[str]) -> Iterator[Finding]:
    """Parts that are to stay whole, and are not."""
    for part in sorted(whole):
        count = len(_alike(kit, part))
        if count > 1:
            text = f"It is to stay whole and is printed in {count} pieces."
            yield Finding("not-whole", Severity.STOP, part, text, OURS, Against(count, 1, "1"))
