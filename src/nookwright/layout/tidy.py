"""Leaving what is free in one piece: the next purchase wants a place, and a calm drawer reads better."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import stride

if TYPE_CHECKING:
    from nookwright.layout.draft import Draft

LOOKS = Fact(
    8, unit="tries", kind=Kind.CHOICE, source="The plain orders, large before small, that every packing begins with."
)


def tidy(draft: Draft) -> None:
    """Pack each space once more in the plain orders; keep it where the free cells have the shorter outline."""
    for place, inside in enumerate(draft.inside):
        here = {number: choice for number in inside if (choice := draft.chosen[number])}
        if not here:
            continue
        step, before = stride(draft.problem.grids[place].cols), draft.free[place]
        spots = draft.fill_space(place, here, int(LOOKS))
        if len(spots) < len(here):
            continue
        kept = {number: draft.spots[number] for number in here}
        draft.put(place, spots)
        if outline(draft.free[place], step) >= outline(before, step):
            draft.put(place, kept)


def outline(free: int, step: int) -> int:
    """The sides of free cells that border on cells that are not free.

    >>> outline(0b1, 9), outline(0b11, 9), outline(0, 9)
    (4, 6, 0)
    """
    beside, above = free << 1, free << step
    return (free ^ beside).bit_count() + (free ^ above).bit_count()
