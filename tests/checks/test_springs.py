"""Sprung fillers: whether the wall can press them in by as much as they are placed with."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.assembly import bodies_by_space
from nookwright.checks.bodies import shape_of
from nookwright.checks.files import read_meshes
from nookwright.checks.room_inside import outside
from nookwright.checks.springs import check_springs, free_travel
from nookwright.exchange.stl import write_stl
from nookwright.layout.liner_model import FillerForm, FillerSpec
from nookwright.parts.liner.filler import filler

from .conftest import arrays, box, figures_of

if TYPE_CHECKING:
    import manifold3d

    from nookwright.exchange.kit import Matrix
    from nookwright.module.module import Module
    from nookwright.solids.mesh import MeshKernel

    from .conftest import Trial

TRAVEL = 1.5


def springy(gap: float = 2.0) -> manifold3d.Manifold:
    """A strip with a leaf on a post, two nubs before it, and a gap behind it."""
    strip = box(60, 3, 2.6, at=(0, TRAVEL + 1.2 + gap, 0))
    post = box(6, 1.2 + gap + 0.5, 2.6, at=(27, TRAVEL, 0))
    leaf = box(50, 1.2, 2.6, at=(5, TRAVEL, 0))
    nubs = box(2, TRAVEL + 0.5, 2.6, at=(5, 0, 0)) + box(2, TRAVEL + 0.5, 2.6, at=(53, 0, 0))
    return strip + post + leaf + nubs


def with_filler(trial: Trial, solid: manifold3d.Manifold, matrix: Matrix) -> Trial:
    """The tiny kit with a sprung filler in the drawer."""
    sha = write_stl(trial.folder / "filler.stl", *arrays(solid))
    figures = {"stl": "filler.stl", "stl_sha256": sha, **figures_of(trial.folder / "filler.stl")}
    part = trial.kit.parts[0].model_copy(update={"id": "filler", "kind": "filler", **figures})
    placement = trial.kit.placements[0].model_copy(
        update={"id": "filler-1", "part": "filler", "space_from_part": matrix, "travel": TRAVEL}
    )
    return trial.with_kit(parts=(*trial.kit.parts, part), placements=(*trial.kit.placements, placement))


@pytest.mark.parametrize(
    ("gap", "has"),
    [(2.0, 2.0), (TRAVEL + 0.1, TRAVEL + 0.1), (1.0, 1.0), (0.5, 0.5)],
)
def test_the_gap_behind_the_leaves_is_measured(gap: float, has: float) -> None:
    """Never too high, and less than two steps too low."""
    vertices, triangles = arrays(springy(gap))
    measured = free_travel(shape_of("spring", vertices, triangles), TRAVEL)
    assert has - 0.1 - 1e-9 <= measured <= has + 1e-9


def test_a_strip_without_springs_has_no_travel() -> None:
    """A block does not give way."""
    solid = box(60, 8, 2.6)
    vertices, triangles = arrays(solid)
    assert free_travel(shape_of("block", vertices, triangles), TRAVEL) == 0


@pytest.mark.parametrize(
    ("matrix", "text"),
    [
        (((1, 0, 0, 5), (0, 1, 0, -TRAVEL), (0, 0, 1, 0), (0, 0, 0, 1)), ""),
        (((1, 0, 0, 5), (0, 1, 0, -TRAVEL - 0.2), (0, 0, 1, 0), (0, 0, 0, 1)), "0.20 mm past the front"),
        (((0, -1, 0, 99 + TRAVEL), (1, 0, 0, 10), (0, 0, 1, 0), (0, 0, 0, 1)), ""),
    ],
)
def test_pressed_in_it_is_inside_or_named(trial: Trial, matrix: Matrix, text: str) -> None:
    """Its nubs may reach past the wall by the travel and no more, on whichever side it lies."""
    changed = with_filler(trial, springy(), matrix)
    bodies = bodies_by_space(changed.kit, read_meshes(changed.folder, changed.kit).shapes)["left"]
    body = next(one for one in bodies if one.owner == "filler-1")
    assert body.pressed is not None
    assert outside(changed.kit.spaces[0], body.pressed) == text


def test_a_leaf_that_meets_its_strip_too_soon_is_a_stop(trial: Trial) -> None:
    """Said once for a part, with what it has and what it needs."""
    matrix: Matrix = ((1, 0, 0, 5), (0, 1, 0, -TRAVEL), (0, 0, 1, 0), (0, 0, 0, 1))
    good, bad = (with_filler(trial, springy(gap), matrix) for gap in (2.0, 1.0))
    # The two share their file, so each is read while it stands.
    assert [one.code for one in check_springs(bad.kit, read_meshes(bad.folder, bad.kit).shapes)] == ["spring-blocked"]
    write_stl(good.folder / "filler.stl", *arrays(springy(2.0)))
    assert check_springs(good.kit, read_meshes(good.folder, good.kit).shapes) == []


@pytest.mark.parametrize(("length", "width"), [(107.6, 9.0), (160.0, 6.5)])
def test_sprung_fillers_of_ours_have_their_travel(
    kernel: MeshKernel, module: Module, length: float, width: float
) -> None:
    """And some more: what is left behind a pressed leaf for spread layers."""
    spec = FillerSpec(length, width, (length / 2,), form=FillerForm.SPRUNG, travel=TRAVEL)
    mesh = kernel.mesh(filler(module, spec).recipe)
    shape = shape_of("ours", np.asarray(mesh.vertices), np.asarray(mesh.triangles).astype(np.int64))
    assert TRAVEL + 0.3 < free_travel(shape, TRAVEL) <= TRAVEL + 0.5 + 1e-6
