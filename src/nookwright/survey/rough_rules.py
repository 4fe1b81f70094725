"""Rough sizes: keys of lots that contradict ``rough = true``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.survey.lot_rules import SIZES
from nookwright.survey.origins import Measured

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed

_REMEDY = "Delete `rough` once its sizes are measured; keep it for sizes to 5 mm, of one thing."


def rough_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every lot that is said to be rough and measured at once."""
    for path, lot in typed.tables("lot"):
        if lot.get("rough") is True:
            yield from _measured(typed, path, lot)


def _measured(typed: Typed, path: Path, lot: dict[str, Any]) -> Iterator[Fault]:
    sizes = [key for key in SIZES if key in lot]
    if "standard" in lot and not sizes:
        allowed = "no rough beside a standard that states every dimension"
        yield typed.fault((*path, "rough"), allowed=allowed, remedy="Delete `rough`: the limits of the standard hold.")
    if lot.get("measured") == Measured.ALL:
        yield typed.fault((*path, "measured"), allowed="no measured things beside rough = true", remedy=_REMEDY)
    if "instrument" in lot:
        yield typed.fault((*path, "instrument"), allowed="no instrument beside rough = true", remedy=_REMEDY)
    for key in sizes:
        if isinstance(lot[key], list) and len(lot[key]) > 1:
            yield typed.fault((*path, key), allowed="one size beside rough = true", remedy=_REMEDY)
