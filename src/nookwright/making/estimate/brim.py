"""The brim: lines round the outer contours of a first layer, so that it holds on the bed."""

from __future__ import annotations

from nookwright.making.estimate.contours import Loops, loops_of


def brim_of(outline: Loops, width: float, spacing: float) -> Loops:
    """The lines of a brim; holes get none.

    Args:
        outline: of the first layer.
        width: of the brim, mm.
        spacing: between two lines, mm.
    """
    from manifold3d import CrossSection, FillRule, JoinType

    whole = CrossSection(outline.only(outline.areas > 0).contours(), FillRule.NonZero)
    contours = []
    for number in range(max(1, round(width / spacing))):
        contours += whole.offset((number + 0.5) * spacing, JoinType.Round).to_polygons()
    return loops_of(contours)
