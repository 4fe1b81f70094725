"""Furniture that is named and not there, drawers that are none, pulls at what is not drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.survey.models import Keep, SpaceKind
from nookwright.survey.typed import MISSING, listed, nearest, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.typed import Typed

_OF_DRAWERS = ("soft_close", "shut_m_s")


def furniture_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault in what is said of furniture, of how drawers run, and of pulls."""
    known = typed.ids("furniture")
    for path, space in typed.tables("space"):
        name = space.get("furniture")
        if isinstance(name, str) and name not in known:
            close = nearest(name, known)
            yield typed.fault(
                (*path, "furniture"),
                allowed=f"the id of a [[furniture]]: {listed(known)}" if known else "the id of a [[furniture]]",
                remedy=f"Write {show(close)} instead."
                if close
                else f"Add a table [[furniture]] with id = {show(name)}.",
            )
        kind = space.get("kind")
        for key in _OF_DRAWERS:
            if key in space and kind in list(SpaceKind) and kind != SpaceKind.DRAWER:
                yield typed.fault(
                    (*path, key), allowed=f"{key} only for a drawer", remedy='Delete it, or say kind = "drawer".'
                )
    for path, lot in typed.tables("lot"):
        if lot.get("pull", MISSING) is not MISSING and lot.get("keep") != Keep.DISPENSER:
            yield typed.fault(
                (*path, "pull"),
                allowed='a pull only beside keep = "dispenser"',
                remedy='Delete it, or say keep = "dispenser".',
            )
