from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.checks.soundness import unsoundness
from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.cradles.leaning_cradle import (
    LeaningCradle,
    _fronts,
    _plates,
    examples,
    fitted,
    leaning_cradle,
    leaning_height,
)
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.parts.model import Example

MODULE = module_of(18.0, 6.0, 0.2, "")


def field(lean_deg: float, columns: int = 2, lines: int = 2) -> LeaningCradle:
    """Wells of 20 by 14 on as few cells as they need."""
    return fitted(MODULE, width=20.0, depth=14.0, columns=columns, lines=lines, lean_deg=lean_deg, height=30.0)


@pytest.mark.parametrize("example", examples(MODULE), ids=lambda example: example.part.name)
def test_every_example_is_one_closed_body(bench: Bench, sound: Callable[..., None], example: Example) -> None:
    """Wells open along their slope: no handle; plastic in closed form within two per cent."""
    sound(bench, example.part, example.part.size)
    mesh = bench.mesh(example.part)
    assert (mesh.genus, mesh.components) == (example.genus, example.components) == (0, 1)
    assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.02)


@pytest.mark.parametrize("lean_deg", [5.0, 15.0, 30.0])
@pytest.mark.parametrize("well", [(0, 0), (1, 1)])
def test_a_thing_slides_in_along_the_slope(bench: Bench, lean_deg: float, well: tuple[int, int]) -> None:
    """A box a tenth smaller than the well, turned by the lean, touches nothing; one a tenth larger does."""
    asked, lean = field(lean_deg), math.radians(lean_deg)
    solid = bench.solid(leaning_cradle(MODULE, asked))
    x = _plates(MODULE, asked)[well[0]][1]
    front = _fronts(MODULE, asked)[well[1]] + 1.2 / math.cos(lean)

    def thing(smaller: float) -> Manifold:
        box = Manifold.cube([20 - smaller, 14 - smaller, 80]).translate([smaller / 2, smaller / 2, 0])
        return box.rotate([-lean_deg, 0, 0]).translate([x, front, MODULE.seat.dome])

    above = Manifold.cube([400, 400, 60]).translate([-50, -50, MODULE.seat.dome + 0.001])
    assert bench.shared_mm3(solid, thing(0.1) ^ above) < 1e-3
    assert bench.shared_mm3(solid, thing(-0.1) ^ above) > 1.0


def test_no_board_hangs_over_more_than_it_leans(bench: Bench) -> None:
    """No face between floor and rim looks down by more than the lean, and the grid of its corners, 1e-4 in 30 mm."""
    mesh = bench.mesh(leaning_cradle(MODULE, field(30.0)))
    a, b, c = (mesh.vertices[mesh.triangles[:, n]] for n in range(3))
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    inside = np.minimum(np.minimum(a[:, 2], b[:, 2]), c[:, 2]) > MODULE.seat.dome - 0.7
    inside &= np.abs(a[:, 2] + b[:, 2] + c[:, 2]) / 3 > MODULE.seat.dome + 0.1
    assert normal[inside, 2].min() >= -math.sin(math.radians(30)) - 5e-6


@given(st.floats(20, 300), st.floats(5, 60), st.floats(0, 30))
def test_a_leaning_thing_reaches_as_high_as_its_corners(length: float, depth: float, lean_deg: float) -> None:
    """The highest corner of a turned rectangle, above its lowest."""
    lean = math.radians(lean_deg)
    corners = [(y, z) for y in (0, depth) for z in (0, length)]
    heights = [z * math.cos(lean) - y * math.sin(lean) for y, z in corners]
    assert leaning_height(length, depth, lean_deg) == pytest.approx(max(heights) - min(heights))


wells = st.builds(
    lambda width, depth, columns, lines, lean_deg, layers: fitted(
        MODULE, width=width, depth=depth, columns=columns, lines=lines, lean_deg=lean_deg, height=layers / 5
    ),
    st.floats(3, 40), st.floats(3, 40), st.integers(1, 3), st.integers(1, 3), st.floats(5, 30), st.integers(45, 160),
)  # fmt: skip


@settings(max_examples=25)
@given(wells)
def test_any_field_of_wells_is_sound(asked: LeaningCradle) -> None:
    """On the cells that it asks for: one closed body, no handle, plastic within three per cent."""
    part = leaning_cradle(MODULE, asked)
    mesh = MeshKernel().mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, 0)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"lean_deg": 30.1}, "prints without support"),
        ({"lean_deg": 4.0}, "it leans"),
        ({"lean_deg": math.nan}, "it leans"),
        ({"width": 2.0}, "can be printed"),
        ({"lines": 0}, "can be printed"),
        ({"height": 8.0}, "wells hold"),
        ({"height": 30.1}, "whole number"),
        ({"columns": 3}, "fit along x"),
        ({"lines": 4}, "fit along y"),
    ],
)
def test_what_does_not_lean_hold_or_fit_is_refused(change: dict[str, float], words: str) -> None:
    """Before any kernel sees it."""
    with pytest.raises(RecipeError, match=rf"{words}.*allowed: .*\. [A-Z]"):
        leaning_cradle(MODULE, replace(field(20.0), **change))  # type: ignore[arg-type]


def test_boards_are_cut_off_together_and_leave_no_slivers() -> None:
    """Tops that ended at the rim each by itself left flat triangles where they overlap, as in these two."""
    fine = module_of(17.5, 6.0, 0.16, "for the test")
    for asked in (
        LeaningCradle(2, 5, 24.32, 3.0, 20.0, 4, 3, 24.161947058155835),
        LeaningCradle(5, 9, 36.48, 20.133333333333336, 17.559763128337792, 3, 3, 19.0),
    ):
        mesh = MeshKernel().mesh(leaning_cradle(fine, asked).recipe)
        assert unsoundness("cradle", mesh.vertices, mesh.triangles) == ()
