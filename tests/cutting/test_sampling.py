from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.cutting.sampling import inside
from nookwright.parts.family import examples
from nookwright.parts.model import Kind
from nookwright.shapes.regions import Circle, Offset, Path, Polygon, Rect, Stroke
from nookwright.shapes.solids import Bowl, Move, Prism, Repeat, Revolution, Taper, Tip
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.shapes.solids import Solid

SHAPES = (
    Prism(Rect(20, 10, 3), 5),
    Prism(Path(((0, 0, 0.3), (20, 0, -0.4), (20, 15, 1.0), (0, 15, 0.0))), 4),
    Prism(Stroke(0, 0, 12, 4, 3, bulge=0.6), 2),
    Prism(Offset(Polygon(((0, 0), (20, 0), (20, 12), (0, 12))), -2), 2),
    Taper(Rect(20, 12, 4), 6, 3),
    Taper(Circle(6), 8, -2),
    Bowl(30, 20, 5, 4, 12),
    Revolution(((2, 0), (7, 0), (5, 6), (2, 6))),
    Move(Prism(Polygon(((0, 0), (10, 0), (0, 6))), 4), x=3, y=-2, z=1, quarter_turns=1),
    Move(Prism(Polygon(((0, 0), (10, 0), (0, 6))), 4), quarter_turns=3),
    Tip(Prism(Polygon(((0, 0), (10, 0), (0, 6))), 4), "x"),
    Tip(Prism(Polygon(((0, 0), (10, 0), (0, 6))), 4), "y"),
    Repeat(Taper(Circle(3), 4, 1), ((0, 0), (9, 2), (4, 8))),
)


def told_by_the_kernel(solid: Solid, kernel: MeshKernel, points: np.ndarray) -> np.ndarray:
    """Which points lie inside the mesh: those with an odd number of faces straight above."""
    mesh = kernel.mesh(solid)
    corners = np.array(mesh.vertices)[np.array(mesh.triangles)]
    found = np.zeros(len(points), dtype=bool)
    for number, point in enumerate(points):
        near = corners - point
        after = np.roll(near, -1, axis=1)
        turn = near[:, :, 0] * after[:, :, 1] - near[:, :, 1] * after[:, :, 0]
        passes = (turn > 0).all(axis=1) | (turn < 0).all(axis=1)
        weights = np.roll(turn[passes], -1, axis=1)
        heights = (weights * near[passes][:, :, 2]).sum(axis=1) / weights.sum(axis=1)
        found[number] = (heights > 0).sum() % 2
    return found


@pytest.mark.parametrize("solid", SHAPES, ids=lambda solid: solid.kind)
def test_what_is_inside_agrees_with_the_mesh(solid: Solid) -> None:
    """Every formula, turn and tip, against the mesh kernel; only points within its tolerance of a face may differ."""
    box = np.array(solid.bounds)
    axes = tuple(np.linspace(box[n] - 0.5, box[n + 3] + 0.5, 13 + n) + 0.0137 for n in range(3))
    points = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    told = inside(solid, (axes[0], axes[1], axes[2])).ravel()
    assert told.any()
    assert np.mean(told != told_by_the_kernel(solid, MeshKernel(1e-3), points)) < 0.004


def test_what_is_inside_agrees_with_the_mesh_for_the_whole_family(module: Module, kernel: MeshKernel) -> None:
    """Of every kind that is ever cut, its middle size, at random points: at most one of 150 lies too near a face."""
    chance = np.random.default_rng(7)
    for example in examples(module):
        part = example.part
        if example.size == "middle" and part.kind is not Kind.PANEL:
            points = chance.uniform(part.recipe.bounds[:3], part.recipe.bounds[3:], (150, 3))
            told = [bool(inside(part.recipe, tuple(point[:, None])).item()) for point in points]
            assert (np.array(told) != told_by_the_kernel(part.recipe, kernel, points)).sum() <= 1, part.name
