from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from manifold3d import CrossSection, Manifold

from nookwright.ground.errors import RecipeError
from nookwright.parts.shoes.shoe import Owned, ShoeSpec, shoe_cells
from nookwright.parts.shoes.shoe_corners import CornerSpec, shoe_corners

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

HIGH = 24.0


def four(bench: Bench, module: Module, spec: CornerSpec) -> list[Manifold]:
    """The four pieces on the cells of their frame, as the module's text says."""
    one, other = shoe_corners(module, spec)
    right, back = ((n - spec.cells) * module.pitch + 0.3 for n in (spec.frame.cols, spec.frame.rows))
    return [
        bench.solid(one, x=0.3, y=0.3),
        bench.solid(other, x=right, y=0.3, turns=1),
        bench.solid(one, x=right, y=back, turns=2),
        bench.solid(other, x=0.3, y=back, turns=3),
    ]


@pytest.mark.parametrize("owned", [Owned(68.0, 82.0, 3.0), Owned(90.0, 66.0, 6.0, taper=0.03)])
def test_a_box_stands_between_four_corners(bench: Bench, module: Module, owned: Owned) -> None:
    """In the middle of the frame's cells it shares nothing with them, and meets each of them half a millimetre away."""
    cols, rows = shoe_cells(module, owned, HIGH)
    pieces = four(bench, module, CornerSpec(ShoeSpec(owned, cols, rows, HIGH)))
    inner = [owned.width - 2 * owned.radius, owned.depth - 2 * owned.radius]
    base = CrossSection.square(inner, center=True).offset(owned.radius, circular_segments=256)
    more = [1 + 2 * owned.taper * 50 / size for size in (owned.width, owned.depth)]
    box = Manifold.extrude(base, 50.0, scale_top=more).translate([cols * 9.0, rows * 9.0, module.seat.dome])
    for piece in pieces:
        assert bench.shared_mm3(box, piece) < 0.001
        assert bench.shared_mm3(box.translate([0, 0, -0.05]), piece) > 1.0
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        near = box.translate([x * 0.47, y * 0.47, 0.01])
        assert all(bench.shared_mm3(near, piece) < 0.001 for piece in pieces)
        met = box.translate([x * 0.53, y * 0.53, 0.01])
        assert sum(bench.shared_mm3(met, piece) > 0.001 for piece in pieces) == 2


def test_pieces_keep_to_their_cells(bench: Bench, module: Module) -> None:
    """Neighbours are apart, and each is as large as a part of its cells."""
    owned = Owned(68.0, 82.0, 3.0)
    cols, rows = shoe_cells(module, owned, HIGH)
    spec = CornerSpec(ShoeSpec(owned, cols, rows, HIGH))
    pieces = four(bench, module, spec)
    for at, piece in enumerate(pieces):
        x0, y0, _, x1, y1, _ = piece.bounding_box()
        assert (x1 - x0, y1 - y0) == pytest.approx((35.4, 35.4), abs=1e-3)
        assert all(bench.shared_mm3(piece, other) == 0 for other in pieces[at + 1 :])


@pytest.mark.parametrize(
    ("owned", "cells", "why"),
    [
        (Owned(68.0), 2, "four corners hold a box.*Take a frame"),
        (Owned(68.0, 82.0, 3.0), 3, "leave each other room; found 3 cells each, allowed: at most 2"),
        (Owned(68.0, 82.0, 3.0), 1, "sleeve stays on its cells and the box lies on them"),
    ],
)
def test_what_does_not_hold_is_refused(module: Module, owned: Owned, cells: int, why: str) -> None:
    """With the reason and a way out."""
    cols, rows = shoe_cells(module, owned, HIGH)
    with pytest.raises(RecipeError, match=why):
        shoe_corners(module, CornerSpec(ShoeSpec(owned, cols, rows, HIGH), cells))
