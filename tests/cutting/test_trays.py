from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.cutting.model import Bed
from nookwright.cutting.trays import cut_tray, uncut
from nookwright.module.choice import module_of
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.solids.mesh import MeshKernel

MODULE = module_of(18.0, 6.0, 0.2, "")


def kinds(module: Module) -> tuple[tuple[Part, int, int], ...]:
    """A tray and a cradle that are longer than a small bed, with their cells."""
    pockets = pockets_of(module, cols=6, rows=4, diameter=30, columns=3, lines=2, pitch=31.2)
    return (
        (tray(module, cols=7, rows=3, height=18, smooth=False), 7, 3),
        (cradle(module, cols=6, rows=4, height=18, pockets=pockets), 6, 4),
    )


@given(cols=st.integers(1, 30), rows=st.integers(1, 20), width=st.floats(40, 300), depth=st.floats(40, 300))
def test_pieces_fit_the_bed_and_make_up_the_plan(cols: int, rows: int, width: float, depth: float) -> None:
    """Their rectangles are disjoint, 0.2 apart at each joint, and reach from edge to edge."""
    part, bed = tray(MODULE, cols=cols, rows=rows, height=30, smooth=True), Bed(width, depth, 100)
    done = cut_tray(MODULE, part, cols, rows, bed)
    assert done is not None
    assert done.part is part
    assert all(bed.holds(*piece.size) for piece in done.pieces)
    lines_x = sorted({piece.x for piece in done.pieces})
    lines_y = sorted({piece.y for piece in done.pieces})
    assert len(done.pieces) == len(lines_x) * len(lines_y)
    for lines, axis in ((lines_x, 0), (lines_y, 1)):
        sizes = [next(p.size[axis] for p in done.pieces if (p.x, p.y)[axis] == line) for line in lines]
        assert lines[0] == 0
        assert lines[-1] + sizes[-1] == pytest.approx(part.size[axis])
        assert sum(sizes) == pytest.approx(part.size[axis] - 0.2 * (len(lines) - 1))


def test_pieces_add_up_to_the_part_less_the_glue_gaps(module: Module, kernel: MeshKernel) -> None:
    """The volume of the meshes: the whole less what a slab of 0.2 takes at each joint, each piece one closed body."""
    for part, cols, rows in kinds(module):
        done = cut_tray(module, part, cols, rows, Bed(75, 80, 100))
        assert done is not None
        assert len(done.pieces) > 1
        meshes = [kernel.mesh(piece.recipe) for piece in done.pieces]
        assert all(mesh.components == 1 for mesh in meshes)
        joint = gaps_mm3(kernel, part, [piece.x for piece in done.pieces], [piece.size[0] for piece in done.pieces])
        total = sum(mesh.volume_mm3 for mesh in meshes)
        assert total == pytest.approx(kernel.mesh(part.recipe).volume_mm3 - joint, abs=1e-3)


def gaps_mm3(kernel: MeshKernel, part: Part, starts: list[float], sizes: list[float]) -> float:
    """What lies between pieces in a row, measured as sections: integrated over slabs of 0.2 across x."""
    import manifold3d
    import numpy as np

    mesh = kernel.mesh(part.recipe)
    raw = manifold3d.Mesh64(np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C"))
    solid = manifold3d.Manifold(raw)
    ends = sorted({round(start + size, 6) for start, size in zip(starts, sizes, strict=True)})[:-1]
    slabs = [manifold3d.Manifold.cube([0.2, 1e3, 1e3]).translate([end, -1.0, -1.0]) for end in ends]
    return float(sum((solid ^ slab).volume() for slab in slabs))


def test_a_part_that_fits_is_not_cut(module: Module) -> None:
    """Not even where it fits only turned."""
    part = tray(module, cols=7, rows=3, height=18, smooth=False)
    done = cut_tray(module, part, 7, 3, Bed(60, 130, 100))
    assert done == uncut(part)
    assert done.pieces[0].recipe is part.recipe


def test_a_part_that_is_too_tall_cannot_be_cut(module: Module) -> None:
    """Cutting makes it no lower."""
    part = tray(module, cols=7, rows=3, height=66, smooth=False)
    assert cut_tray(module, part, 7, 3, Bed(300, 300, 60)) is None
    assert cut_tray(module, part, 7, 3, Bed(17, 300, 100)) is None


def test_joints_lie_on_cell_borders(module: Module) -> None:
    """Where the sockets of both pieces stay whole and the liner can serve as a jig."""
    part = tray(module, cols=7, rows=3, height=18, smooth=False)
    done = cut_tray(module, part, 7, 3, Bed(80, 80, 100))
    assert done is not None
    inset = (7 * 18 - part.size[0]) / 2
    for piece in done.pieces[1:]:
        border = (piece.x + inset - 0.1) / 18
        assert border == pytest.approx(round(border))


def test_the_same_part_is_cut_the_same(module: Module) -> None:
    """And its pieces in closed form make up its plastic but for the gaps."""
    for part, cols, rows in kinds(module):
        one, other = (cut_tray(module, part, cols, rows, Bed(75, 80, 100)) for _ in range(2))
        assert one == other
        assert one is not None
        assert sum(p.plastic.body_mm3 for p in one.pieces) == pytest.approx(part.plastic.body_mm3, rel=0.01)
        assert len({piece.name for piece in one.pieces}) == len(one.pieces)
