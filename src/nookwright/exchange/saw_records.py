"""Strips of wood that may be sawn instead of printed, as records of the kit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.rounding import rounded
from nookwright.exchange.saw_models import KitHoles, KitSawing, KitStrip
from nookwright.making.sawn import strips

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.sawn import Holes, Strip
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy
    from nookwright.survey.cutting_wishes import Sawing


def sawing_record(copies: Sequence[Copy], module: Module, sawing: Sawing) -> KitSawing:
    """Every strip that may be sawn.

    Args:
        copies: all that have a place.
        module: the household's module.
        sawing: what they are sawn from.
    """
    found = strips(copies, module, sawing.bar)
    return KitSawing(bar=sawing.bar, kerf=sawing.kerf, strips=tuple(_strip(one) for one in found))


def _strip(one: Strip) -> KitStrip:
    return KitStrip(
        space=one.space,
        width=rounded(one.width),
        height=rounded(one.height),
        length=rounded(one.length),
        instead_of=tuple(copy.part.name for copy in one.copies),
        holes=_holes(one.holes) if one.holes else None,
    )


def _holes(holes: Holes) -> KitHoles:
    return KitHoles(
        count=holes.count,
        diameter=holes.diameter,
        depth=holes.depth,
        first=holes.first,
        apart=holes.apart,
        from_face=holes.from_face,
    )
