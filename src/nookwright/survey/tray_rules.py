"""Keys of ``[lot.tray]`` and ``[choices.tray]`` that contradict each other, the lot, or what holds it.

Like the other rules between keys they read the file as typed, and pass over values of the wrong type.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from nookwright.survey.models import Keep
from nookwright.survey.tray_wishes import DividerWish, FrontWish, StripWish

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_LOOSE = (DividerWish.REMOVABLE, DividerWish.CARD)
_LETTERED = (StripWish.PRINTED, StripWish.INLAID)
_PARTINGS = ("columns", "rows", "columns_at", "rows_at")


def tray_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in the wishes for trays."""
    room = typed.at(("choices", "tray"))
    defaults: dict[str, Any] = room if isinstance(room, dict) else {}
    yield from _strip(typed, ("choices", "tray"), defaults, defaults)
    hosts = {lot.get("shares") for _, lot in typed.tables("lot") if isinstance(lot.get("shares"), str)}
    for path, lot in typed.tables("lot"):
        tray = lot.get("tray")
        if not isinstance(tray, dict):
            continue
        here: Path = (*path, "tray")
        shared = isinstance(lot.get("id"), str) and lot["id"] in hosts  # a divider parts it between its lots
        wishes = {**defaults, **tray}
        if lot.get("keep") == Keep.CRADLE:
            yield typed.fault(
                here, found='wishes for a tray beside keep = "cradle"', allowed="no table of the tray for such a lot",
                remedy='Delete the table, or write keep = "tray".',
            )  # fmt: skip
        yield from _strip(typed, here, tray, wishes)
        yield from _dividers(typed, here, tray, shared=shared)
        yield from _front(typed, here, tray, wishes, shared=shared)
        yield from _positions(typed, here, tray)
        yield from _more_than_things(typed, here, tray, lot)


def _strip(typed: Typed, path: Path, tray: dict[str, Any], wishes: dict[str, Any]) -> Iterator[Fault]:
    """What belongs to a strip or a low front and has none; a strip in a low front."""
    strip, low = wishes.get("strip", StripWish.NONE), wishes.get("front") == FrontWish.LOW
    if "text" in tray and strip not in _LETTERED:
        yield typed.fault(
            (*path, "text"), allowed='a text where the strip is "printed" or "inlaid"',
            remedy='Add strip = "printed", or delete the text.',
        )  # fmt: skip
    if "strip_height" in tray and strip == StripWish.NONE:
        yield typed.fault(
            (*path, "strip_height"), allowed="a height where there is a strip",
            remedy='Add strip = "printed", or delete it.',
        )  # fmt: skip
    if "low_share" in tray and not low:
        yield typed.fault(
            (*path, "low_share"), allowed='a share where the front is "low"',
            remedy='Add front = "low", or delete it.',
        )  # fmt: skip
    if low and strip != StripWish.NONE and {"strip", "front"} & set(tray):
        key = "strip" if "strip" in tray else "front"
        yield typed.fault((*path, key), allowed="a strip in a plain or swept front", remedy="Leave out one of the two.")


def _dividers(typed: Typed, path: Path, tray: dict[str, Any], *, shared: bool) -> Iterator[Fault]:
    """What belongs to dividers and has none; the same said twice; loose ones that cross."""
    for one, other in (("columns", "columns_at"), ("rows", "rows_at")):
        if one in tray and other in tray:
            yield typed.fault((*path, other), allowed=f"either `{one}` or `{other}`", remedy="Delete one of the two.")
    kind, divided = tray.get("dividers", DividerWish.FIXED), shared or any(key in tray for key in _PARTINGS)
    for key in ("dividers", "below_rim"):
        if key in tray and not divided:
            yield typed.fault(
                (*path, key), allowed="it where the tray is divided",
                remedy="Add `columns = ...` or `rows = ...`, let another lot share it, or delete it.",
            )  # fmt: skip
    if "card" in tray and kind != DividerWish.CARD:
        yield typed.fault(
            (*path, "card"), allowed='a thickness for dividers = "card"',
            remedy='Add dividers = "card", or delete it.',
        )  # fmt: skip
    if kind == DividerWish.CARD and "card" not in tray:
        yield typed.fault(
            (*path, "dividers"), allowed="dividers of card with their thickness",
            remedy="Add a line `card = ...` with the thickness of the card.",
        )  # fmt: skip
    if kind in _LOOSE and (shared or _across(tray)) and any(key in tray for key in ("rows", "rows_at")):
        yield typed.fault(
            (*path, "dividers"), allowed='"fixed" where columns and rows cross',
            remedy="Make them fixed, or leave out columns or rows.",
        )  # fmt: skip


def _across(tray: dict[str, Any]) -> bool:
    """Whether dividers end at the front and the back."""
    return "columns" in tray or "columns_at" in tray


def _front(typed: Typed, path: Path, tray: dict[str, Any], wishes: dict[str, Any], *, shared: bool) -> Iterator[Fault]:
    """Loose dividers that would need slots in a front that has another use."""
    if tray.get("dividers") not in _LOOSE or not (shared or _across(tray)):
        return
    uses = {
        "a swept front": wishes.get("front") == FrontWish.SWEPT,
        "a low front": wishes.get("front") == FrontWish.LOW,
        "a name strip": wishes.get("strip", StripWish.NONE) != StripWish.NONE,
    }
    for use in (words for words, there in uses.items() if there):
        yield typed.fault(
            (*path, "dividers"), found=f"loose dividers between columns and {use}",
            allowed='"fixed" columns, or rows: the front has no room for slots then',
            remedy="Make the dividers fixed, divide into rows, or make the front plain.",
        )  # fmt: skip


def _positions(typed: Typed, path: Path, tray: dict[str, Any]) -> Iterator[Fault]:
    """Positions out of order."""
    for key in ("columns_at", "rows_at"):
        listed = tray.get(key)
        numbers = listed if isinstance(listed, list) else []
        if all(isinstance(one, int | float) for one in numbers) and any(a >= b for a, b in pairwise(numbers)):
            yield typed.fault((*path, key), allowed="positions that ascend", remedy="Put them in order, each once.")


def _more_than_things(typed: Typed, path: Path, tray: dict[str, Any], lot: dict[str, Any]) -> Iterator[Fault]:
    """More compartments than things to keep in them."""
    counts = {key: tray[key] for key in ("columns", "rows") if isinstance(tray.get(key), int)}
    things = lot.get("count")
    if counts and isinstance(things, int) and math.prod(counts.values()) > things > 0:
        yield typed.fault(
            (*path, next(iter(counts))), found=f"{math.prod(counts.values())} compartments",
            allowed=f"at most one for each of the {things} things", remedy="Make fewer compartments.",
        )  # fmt: skip
