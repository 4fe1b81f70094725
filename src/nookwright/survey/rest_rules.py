"""Rests: blades whose sizes contradict each other, and things that no rest holds."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.blades import LEAST_SPINE
from nookwright.survey.models import Hazard, Keep, Shape
from nookwright.survey.typed import largest_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_NOT_BESIDE = ("stands", "nests_by", "fit", "purpose", "floor", "shares", "box", "tray")
_ADD_BLADE = "Add a table [lot.blade] with length, height and spine."


def rest_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in blades and in lots that are to lie in a rest."""
    for path, lot in typed.tables("lot"):
        blade = lot.get("blade")
        if isinstance(blade, dict):
            yield from _blade(typed, path, lot)
            yield from _sizes(typed, path, lot, blade)
        if lot.get("keep") == Keep.REST:
            yield from _rest(typed, path, lot, bladed="blade" in lot)


def _blade(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """A blade that is no hazard, or of a thing that is no box."""
    if lot.get("hazard") != Hazard.BLADE:
        yield typed.fault(
            (*path, "hazard"),
            allowed='"blade", beside the table [lot.blade]',
            remedy='Add a line `hazard = "blade"` above that table.',
        )
    if "standard" in lot or lot.get("shape") not in (None, Shape.BOX):
        yield typed.fault(
            (*path, "blade"),
            found="a blade",
            allowed='a blade only of the shape "box"',
            remedy='Say shape = "box" and width, depth and height of the whole thing, its handle included.',
        )


def _sizes(typed: Typed, path: Path, lot: dict[str, Any], blade: dict[str, Any]) -> Iterator[Fault]:
    """A blade that is larger than the whole thing, or thinner than any."""
    width, depth, height = (largest_length(typed, lot.get(side)) for side in ("width", "depth", "height"))
    length, high, spine = (largest_length(typed, blade.get(side)) for side in ("length", "height", "spine"))
    if length and width and length > width:
        yield typed.fault(
            (*path, "blade", "length"),
            found=f"{length:g} mm",
            allowed=f"at most the width of the whole thing, {width:g} mm",
            remedy="Measure the blade from the heel to the tip, and the whole thing with its handle.",
        )
    if high and depth and height and high > max(depth, height):
        yield typed.fault(
            (*path, "blade", "height"),
            found=f"{high:g} mm",
            allowed=f"at most the larger of depth and height of the whole thing, {max(depth, height):g} mm",
            remedy="Measure the blade from the edge to the back, and the whole thing with its blade.",
        )
    most = min(depth, height) if depth and height else None
    if spine and (spine < LEAST_SPINE or (most and spine > most)):
        handle = f", at most the thickness of the handle, {most:g} mm" if most else ""
        yield typed.fault(
            (*path, "blade", "spine"),
            found=f"{spine:g} mm",
            allowed=f"at least {LEAST_SPINE:g} mm{handle}",
            remedy="Measure how thick the back of the blade is.",
        )


def _rest(typed: Typed, path: Path, lot: dict[str, Any], *, bladed: bool) -> Iterator[Fault]:
    """What no rest holds, and what has no meaning in one."""
    if lot.get("hazard") == Hazard.BLADE and not bladed:
        yield typed.fault(
            (*path, "blade"),
            found="nothing",
            allowed="the sizes of a blade that is to lie in a rest",
            remedy=_ADD_BLADE,
        )
    elif not bladed and lot.get("shape") in (Shape.BOX, Shape.FLAT, Shape.LOOSE):
        yield typed.fault(
            (*path, "keep"),
            allowed='in a rest only long things of the shape "round", or blades',
            remedy=f"Delete `keep`, or if it is a blade: {_ADD_BLADE[0].lower()}{_ADD_BLADE[1:]}",
        )
    for key in _NOT_BESIDE:
        if lot.get(key):
            yield typed.fault(
                (*path, key), allowed=f'no {key} beside keep = "rest"', remedy=f"Delete `{key}` or `keep`."
            )
