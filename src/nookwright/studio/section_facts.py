"""What is worth knowing of a part besides its dimensions: grams and hours, pockets to spare, what its tray has.

What it does not know: dimensions that are drawn; those stand in ``section_dimensions``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from nookwright.documents import words
from nookwright.studio.section_reasons import WHY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, KitLot, KitPart

_TRAY: Final = (("floor", "Floor"), ("front", "Front"), ("grip", "Taken by"))


def facts_of(kit: Kit, part: KitPart, lot: KitLot | None) -> Iterator[tuple[str, str]]:
    """Names and words.

    Args:
        kit: that the part is of.
        part: any.
        lot: that it holds, if any.
    """
    placed = sum(one.part == part.id for one in kit.placements)
    count = placed + sum(one.count for one in kit.orders if one.part == part.id)
    yield "How many", str(count)
    yield "Each", f"{words.grams(part.mass_g)}, {words.duration(part.time_s)}"
    if part.kind == "tray":
        yield from _of_tray(part)
    if lot is not None:
        things = sum(place.count for place in lot.places)
        yield "Holds", f"{things} of {lot.count}" if things != lot.count else f"all {things}"
    pockets = pockets_of(part)
    if pockets and lot is not None:
        yield "Pockets", _pockets(pockets * placed, sum(place.count for place in lot.places))
    if part.kind in WHY and placed:
        yield "Why so", WHY[part.kind]


def pockets_of(part: KitPart) -> int:
    """How many pockets a cradle has; 0 for anything else.

    Args:
        part: any.
    """
    across, along = part.parameters.get("pockets_x"), part.parameters.get("pockets_y")
    if not isinstance(across, tuple) or not isinstance(along, tuple):
        return 0
    short = len(along) // 2 if part.parameters.get("moved_short") is True else 0  # every other row has one less
    return len(across) * len(along) - short


def _pockets(pockets: int, things: int) -> str:
    """How many, and how many of them are to spare."""
    spare = pockets - things
    if spare <= 0:
        return str(pockets)
    be = "is" if spare == 1 else "are"
    return f"{pockets}, of which {spare} {be} to spare: pockets stand in full rows"


def _of_tray(part: KitPart) -> Iterator[tuple[str, str]]:
    """Its floor, front and grip, and the sides that a hand takes it by."""
    given = part.parameters
    for key, name in _TRAY:
        value = given.get(key)
        if isinstance(value, str) and value:
            sides = str(given.get("grip_sides", "")).replace(" ", " and ") if key == "grip" else ""
            reason = str(given.get("grip_reason", "")) if key == "grip" else ""
            yield name, "; ".join(one for one in (f"{value}, {sides}" if sides else value, reason) if one)
    wall = given.get("wall")
    if isinstance(wall, float):
        yield "Wall", f"{wall:g} mm"
