"""Loose keys of the panels' joints, as copies of one small part."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.parts.liner.keys import key

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.cutting.model import CutPart
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy


def loose_keys(copies: Sequence[Copy], cut: Mapping[str, CutPart], module: Module) -> tuple[Copy, ...]:
    """A copy of the key for every joint of every cut panel.

    Args:
        copies: all copies of all parts.
        cut: every distinct part and its pieces, by the digest of its recipe.
        module: the household's module.
    """
    part = key(module)
    wide, long, _ = part.size
    found = []
    for copy in copies:
        for place in cut[copy.part.recipe.digest].keys:
            across, back = (long, wide) if place.along_x else (wide, long)
            found.append(
                replace(
                    copy,
                    part=part,
                    label="key",
                    x=copy.x + place.x - across / 2,
                    y=copy.y + place.y - back / 2,
                    quarter_turns=1 if place.along_x else 0,
                )
            )
    return tuple(found)
