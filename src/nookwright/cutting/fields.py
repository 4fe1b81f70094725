"""The boxes of a part that become its pieces, between cuts along straight lines and across the height."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import TYPE_CHECKING

import numpy as np

from nookwright.cutting.ends import end_of
from nookwright.cutting.places import LEAST_SHARE, Cuts
from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.shapes.regions import Rect, Region, RegionMove

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.cutting.sections import Sections
    from nookwright.parts.model import Part

Span = tuple[float, float]

LEAST_FOOTING = Fact(
    100.0, unit="mm2", kind=SourceKind.CHOICE, source="Of first layer: a piece with less does not hold on the bed."
)
_NEAR = 1e-3  # mm inside a face
_AROUND = np.ones((3, 3), dtype=np.bool_)  # walls that meet at a corner of the grid hang together


@dataclass(frozen=True)
class Field:
    """A box that becomes a piece, in the part's axes, cut or not on each side, mm."""

    x: Span
    y: Span
    z: Span
    cut_x: tuple[bool, bool]
    cut_y: tuple[bool, bool]
    cut_z: tuple[bool, bool] = (False, False)

    @property
    def box(self) -> tuple[Span, Span, Span]:
        """Its spans."""
        return self.x, self.y, self.z

    def rect(self, back: float) -> Region:
        """Its rectangle in the plan, the cut sides lying back by so much."""
        (x0, x1), (y0, y1) = (
            (low + (back if cut[0] else 0.0), high - (back if cut[1] else 0.0))
            for (low, high), cut in ((self.x, self.cut_x), (self.y, self.cut_y))
        )
        return RegionMove(Rect(x1 - x0, y1 - y0), x=x0, y=y0)

    def above(self, other: Field) -> bool:
        """Whether it lies on another one, with a cut across the height between them."""
        return self.z[0] == other.z[1] and all(
            mine[0] < theirs[1] and theirs[0] < mine[1]
            for mine, theirs in zip(self.box[:2], other.box[:2], strict=True)
        )


def fields(part: Part, cuts: Cuts) -> Iterable[Field]:
    """The boxes between the cuts, level by level, row by row.

    Args:
        part: that is cut.
        cuts: where.
    """
    width, depth, height = part.size
    across = list(pairwise((0.0, *cuts.along_x, width)))
    back = list(pairwise((0.0, *cuts.along_y, depth)))
    up = list(pairwise((0.0, *cuts.along_z, height)))
    for (z0, z1), (y0, y1), (x0, x1) in product(up, back, across):
        yield Field((x0, x1), (y0, y1), (z0, z1), (x0 > 0, x1 < width), (y0 > 0, y1 < depth), (z0 > 0, z1 < height))


def tight(sections: Sections, field: Field) -> Field | None:
    """A field drawn in to what there is in it; ``None`` where that is nothing.

    Args:
        sections: of the part.
        field: of it.
    """
    low = field.z[0] if field.cut_z[0] else sections.low[2]
    if not sections.plan(low + _NEAR, (field.x[0], field.y[0], field.x[1], field.y[1])).any():
        return None
    x = _drawn_in(sections, field, 0, field.x, field.cut_x)
    y = _drawn_in(sections, replace(field, x=x), 1, field.y, field.cut_y)
    z = _drawn_in(sections, replace(field, x=x, y=y), 2, (low, field.z[1]), (True, field.cut_z[1]))
    return replace(field, x=x, y=y, z=z)


def _drawn_in(sections: Sections, field: Field, axis: int, span: Span, cut: tuple[bool, bool]) -> Span:
    """A field's span along an axis, its ends that are no cuts drawn in."""
    low, high = (span[end] if cut[end] else end_of(sections, axis, field.box, end=end) for end in (0, 1))
    return low, high


def sound(sections: Sections, field: Field) -> bool:
    """Whether a piece is long enough, stands on the bed, and hangs together in its first layer.

    Args:
        sections: of the part.
        field: that becomes the piece.
    """
    from scipy.ndimage import label

    if min(field.x[1] - field.x[0], field.y[1] - field.y[0]) < min(
        float(LEAST_SHARE), *(high - low for low, high in zip(sections.low[:2], sections.high[:2], strict=True))
    ):
        return False
    footing = sections.plan(field.z[0] + _NEAR, (field.x[0], field.y[0], field.x[1], field.y[1]))
    _, count = label(footing, structure=_AROUND if field.cut_z[0] else None)
    return bool(count == 1 and footing.sum() >= LEAST_FOOTING)
