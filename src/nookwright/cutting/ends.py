"""Where what a box holds of a part ends, to the grid of recipes.

A part ends where one of its leaves does: at the face of a block, or at the tip of something round. Those places are
known from the boxes of the leaves and tried from outside in, each looked at closely near the leaf that ends there. Only
where a slope is cut off is the end found by halving.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.leaves import leaves
from nookwright.cutting.sampling import inside
from nookwright.ground.tolerances import GRID
from nookwright.shapes.node import snapped

if TYPE_CHECKING:
    from nookwright.cutting.sections import Sections
    from nookwright.shapes.boxes import Box3

Span = tuple[float, float]
Box = tuple[Span, Span, Span]

_NEAR = 1e-3  # mm inside a face, where material is looked for
_BEYOND = 1e-2  # mm outside of a leaf's end, where a slope would go on
_FINE = 240  # points to each side of a leaf's box: the tip of a round of radius r is met from sqrt(500 r) on
_HALVINGS = 24  # of where a slope ends


def end_of(sections: Sections, axis: int, box: Box, *, end: int) -> float:
    """Where a part ends within a box.

    Args:
        sections: of the part.
        axis: along which it ends, 0 to 2.
        box: spans along x, y and z, mm.
        end: 0 for the low end, 1 for the high one.
    """
    sign = 1.0 if end else -1.0
    outer, inner = box[axis][end], box[axis][1 - end]
    near = [leaf for leaf, _ in leaves(sections.recipe) if _within(leaf, box)]
    places = {snapped(leaf[n]) for leaf in near for n in (axis, axis + 3)} | {outer}
    before = outer
    for place in sorted(
        (one for one in places if inner * sign < one * sign <= outer * sign), key=lambda one: -sign * one
    ):
        if place != outer and sections.meets(axis, place + sign * _BEYOND, box):
            return _halved(sections, axis, box, (before, place), sign)
        if _reaches(sections, axis, box, place - sign * _NEAR, [leaf for leaf in near if _ends(leaf, axis, place)]):
            return place
        before = place
    beyond = inner + sign * _BEYOND
    return _halved(sections, axis, box, (before, beyond), sign) if sections.meets(axis, beyond, box) else inner


def _halved(sections: Sections, axis: int, box: Box, ends: Span, sign: float) -> float:
    """Where a slope ends between a place without material and one with it."""
    empty, full = ends
    for _ in range(_HALVINGS):
        middle = (empty + full) / 2
        empty, full = (empty, middle) if sections.meets(axis, middle, box) else (middle, full)
    return snapped(math.floor(round(full / GRID * sign, 3)) * GRID * sign)


def _ends(leaf: Box3, axis: int, place: float) -> bool:
    return min(abs(leaf[axis] - place), abs(leaf[axis + 3] - place)) <= GRID


def _reaches(sections: Sections, axis: int, box: Box, place: float, near: list[Box3]) -> bool:
    """Whether a plane meets material in a box, looked at closely within some leaves."""
    return sections.meets(axis, place, box) or any(_meets_closely(sections, axis, place, box, leaf) for leaf in near)


def _meets_closely(sections: Sections, axis: int, place: float, box: Box, leaf: Box3) -> bool:
    """Whether a plane meets material within a leaf's box."""
    spans = [(max(box[n][0], leaf[n]) + GRID, min(box[n][1], leaf[n + 3]) - GRID) for n in range(3)]
    axes = [np.linspace(low, max(low, high), _FINE) for low, high in spans]
    axes[axis] = np.array([place])
    return bool(inside(sections.recipe, (axes[0], axes[1], axes[2])).any())


def _within(leaf: Box3, box: Box) -> bool:
    return all(leaf[n] < box[n][1] and leaf[n + 3] > box[n][0] for n in range(3))
