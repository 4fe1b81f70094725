"""What all fillers have in common: how wide they are at least, and where their tongues may be."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.floor import THINNEST_FILLER
from nookwright.parts.liner.keys import HEAD
from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from nookwright.layout.liner import FillerSpec

BESIDE_TONGUE = Fact(
    1.0, unit="mm", kind=SourceKind.CHOICE, source="Of strip beside the wide end of a tongue, so that it has a root."
)


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
