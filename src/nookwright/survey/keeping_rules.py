"""How things are kept: bulk, nested things, heaps and shared trays whose keys contradict each other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.models import Keep, Shape, Stance
from nookwright.survey.typed import largest_length, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_NESTING = (Shape.BOX, Shape.ROUND)
_ALONG_X = ("columns", "columns_at")


def keeping_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in how lots are kept."""
    hosts = {lot.get("shares") for _, lot in typed.tables("lot") if isinstance(lot.get("shares"), str)}
    for path, lot in typed.tables("lot"):
        yield from _bulk(typed, path, lot)
        yield from _heap(typed, path, lot)
        if "nests_by" in lot:
            yield from _nested(typed, path, lot)
        if isinstance(lot.get("shares"), str) and lot.get("tray"):
            yield typed.fault(
                (*path, "tray"),
                allowed=f"no tray of its own beside shares = {show(lot['shares'])}",
                remedy=f"Give its options to {show(lot['shares'])}, whose tray it is.",
            )
        if isinstance(lot.get("id"), str) and lot["id"] in hosts:
            yield from _host(typed, path, lot)


def _bulk(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """Bulk without its volume, and a volume of what has single things."""
    bulk = lot.get("shape") == Shape.LOOSE
    if bulk and "volume_ml" not in lot:
        yield typed.fault(
            (*path, "volume_ml"),
            found="nothing",
            allowed="a volume in millilitres, more than 0",
            remedy="Add a line `volume_ml = ...` with the volume of one as it lies in a measuring jug.",
        )
    if "volume_ml" in lot and not bulk:
        yield typed.fault(
            (*path, "volume_ml"),
            allowed=f'a volume only for the shape "{Shape.LOOSE}"',
            remedy='Delete it, or say shape = "loose" and no dimensions.',
        )
    for key in ("stands", "fit", "purpose"):
        if bulk and key in lot:
            yield typed.fault((*path, key), allowed=f'no {key} for the shape "loose"', remedy="Delete it.")
    if bulk and lot.get("keep") == Keep.CRADLE:
        yield typed.fault((*path, "keep"), allowed='no cradle for the shape "loose"', remedy="Delete it.")


def _heap(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """Things that are to be poured, and to stand or to be stacked as well."""
    if lot.get("keep") != Keep.LOOSE:
        return
    if lot.get("shape") == Shape.FLAT:
        yield typed.fault((*path, "keep"), allowed="no heap of sheets", remedy="Delete it: they lie or stand on edge.")
    for key in ("stands", "nests_by", "fit", "purpose"):
        if key in lot:
            yield typed.fault(
                (*path, key), allowed=f'no {key} beside keep = "loose"', remedy=f"Delete `{key}` or `keep`."
            )


def _nested(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """Piles of what does not nest, or that grow by more than a thing is high."""
    shape, stands = lot.get("shape"), lot.get("stands")
    if shape in list(Shape) and shape not in _NESTING:
        yield typed.fault(
            (*path, "nests_by"),
            allowed="nested things of the shapes " + " and ".join(f'"{one}"' for one in _NESTING),
            remedy="Delete it, or choose another shape.",
        )
    if isinstance(stands, list) and Stance.UPRIGHT not in stands:
        yield typed.fault(
            (*path, "stands"), allowed='nested things stand "upright"', remedy="Delete `stands` or `nests_by`."
        )
    if lot.get("keep") == Keep.CRADLE:
        yield typed.fault(
            (*path, "nests_by"), allowed='no piles beside keep = "cradle"', remedy="Delete `nests_by` or `keep`."
        )
    more, high = (largest_length(typed, lot.get(key)) for key in ("nests_by", "height"))
    if more and high and more > high:
        yield typed.fault(
            (*path, "nests_by"),
            found=f"{more:g} mm",
            allowed=f"at most the height of one, {high:g} mm",
            remedy="Measure how much higher a pile of two is than one thing.",
        )


def _host(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A tray that is shared, and parted side by side for one lot alone as well."""
    tray = lot.get("tray")
    for key in _ALONG_X:
        if isinstance(tray, dict) and key in tray:
            yield typed.fault(
                (*path, "tray", key),
                allowed="no columns in a tray that other lots share",
                remedy=f"Delete `{key}`: the lots stand side by side; part them with rows.",
            )
    if lot.get("keep") in (Keep.CRADLE, Keep.REST, Keep.DISPENSER) or "box" in lot:
        key = "box" if "box" in lot else "keep"
        yield typed.fault(
            (*path, key), allowed="a tray, which other lots share", remedy=f"Delete `{key}`, or let no lot share it."
        )
