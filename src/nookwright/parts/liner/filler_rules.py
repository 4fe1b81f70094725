"""What all fillers have in common: how high their lips stand, and where their tongues may be."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.floor import THINNEST_FILLER
from nookwright.module.seat import whole_layers
from nookwright.parts.liner.keys import HEAD
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from nookwright.layout.liner import FillerSpec
    from nookwright.module.module import Module

LIP = Fact(2.0, unit="mm", kind=SourceKind.CALCULATED, source="A lip of 2 keeps an edge of 0.6 from riding over it.")
LIP_WIDTH = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="The same whole lines as a wall.")
BESIDE_TONGUE = Fact(
    1.0, unit="mm", kind=SourceKind.CHOICE, source="Of strip beside the wide end of a tongue, so that it has a root."
)


def lip_height(module: Module) -> float:
    """Height of a lip above the floor of the space, mm: whole layers."""
    return whole_layers(module.seat.panel + LIP, module.seat.layer)


def check_filler(spec: FillerSpec) -> None:
    """Refuse a filler that is too thin or whose tongues have no root.

    Args:
        spec: its sizes.

    Raises:
        RecipeError: thinner than any filler; a tongue over an end; two tongues in each other.
    """
    if spec.width < THINNEST_FILLER:
        refuse_part(
            "filler",
            "it is wide enough not to ride over a panel's edge",
            found=f"{spec.width:g}",
            allowed=f"at least {THINNEST_FILLER:g}",
            remedy="Leave the rest open, or put it on one side.",
        )
    half = HEAD / 2 + BESIDE_TONGUE
    for tongues in (spec.tongues, spec.far_tongues):
        ends = (-half, *sorted(tongues), spec.length + half)
        if any(after - before < 2 * half for before, after in pairwise(ends)):
            refuse_part(
                "filler",
                "tongues stand clear of its ends and of each other",
                found=f"{tongues} on a length of {spec.length:g}",
                allowed=f"{half:g} from an end, {2 * half:g} from each other",
                remedy="Make the filler longer, or give it fewer tongues.",
            )
