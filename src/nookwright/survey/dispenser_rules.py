"""Dispensers: things that cannot be drawn through a slot, and keys that have no meaning in one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.models import Keep, Shape
from nookwright.survey.own_sizes import typed_size

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_DRAWN = (Shape.FLAT, Shape.BOX)
_NOT_BESIDE = ("stands", "nests_by", "fit", "purpose", "floor", "hazard", "shares", "box", "tray")


def dispenser_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every contradiction in lots that are to be drawn one by one."""
    for path, lot in typed.tables("lot"):
        if lot.get("keep") == Keep.DISPENSER:
            yield from _dispenser(typed, path, lot)
        elif "dispenses" in lot:
            yield typed.fault(
                (*path, "dispenses"),
                allowed='dispenses only beside keep = "dispenser"',
                remedy='Delete it, or say keep = "dispenser".',
            )


def _dispenser(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    """What is neither flat nor a pack, and what has no meaning in a dispenser."""
    shape, standard = lot.get("shape"), lot.get("standard")
    size = typed_size(standard, typed) if isinstance(standard, str) else None
    shape = size.shape if size else shape
    if shape in list(Shape) and shape not in _DRAWN:
        yield typed.fault(
            (*path, "keep"),
            allowed='in a dispenser only sheets, shape = "flat", or soft packs, shape = "box"',
            remedy="Delete `keep`, or give the size of the pack.",
        )
    for key in _NOT_BESIDE:
        if lot.get(key):
            yield typed.fault(
                (*path, key), allowed=f'no {key} beside keep = "dispenser"', remedy=f"Delete `{key}` or `keep`."
            )
