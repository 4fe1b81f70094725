"""A box of the room file as a shoe takes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.parts.shoes.shoe import Owned
from nookwright.sizing.ways.boxed import is_round

if TYPE_CHECKING:
    from nookwright.survey.layout_wishes import OwnBox


def owned_of(box: OwnBox) -> Owned:
    """The foot of a box.

    Args:
        box: as the room file has it.
    """
    if is_round(box):
        return Owned(box.width)
    return Owned(box.width, box.depth, min(box.foot_radius, box.width / 2, box.depth / 2))
