from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold
from tests.making.estimate.solids import box, cones, mesh_of, settings

from nookwright.making.estimate.layers import layers_of
from nookwright.making.estimate.piece import estimate


def test_an_upright_box_needs_two_sections() -> None:
    """One for all layers of the floor, one for all of the walls."""
    layers = layers_of(box(height=20.0), 0.2)
    assert layers.count == 100
    assert layers.times.tolist() == [5, 95]
    assert layers.section.tolist() == [0] * 5 + [1] * 95


def test_leaning_walls_share_a_section_by_threes() -> None:
    """A cone of 15 layers on a strip of 3: one section for the strip, five for the cone."""
    assert layers_of(cones(4), 0.2).times.tolist() == [3, 3, 3, 3, 3, 3]


def test_a_section_is_taken_in_the_middle_of_its_layers() -> None:
    """Three leaning layers at the middle of the second; an odd rest each at its own."""
    cone = mesh_of(Manifold.cylinder(1.0, 5.0, 4.0, 32))
    layers = layers_of(cone, 0.2)
    assert layers.times.tolist() == [3, 1, 1]
    assert layers.middles == pytest.approx([0.3, 0.7, 0.9])


@given(heights=st.lists(st.integers(1, 12), min_size=1, max_size=6))
def test_upright_steps_are_found_exactly(heights: list[int]) -> None:
    """A stack of ever narrower blocks: no section stands for layers of two of them."""
    tops = np.cumsum(heights)
    blocks = [Manifold.cube((40.0 - 2 * n, 30.0, 0.2 * float(top))) for n, top in enumerate(tops)]
    stack = blocks[0]
    for one in blocks[1:]:
        stack += one
    layers = layers_of(mesh_of(stack), 0.2)
    block = np.repeat(np.arange(len(heights)), heights)
    assert layers.count == len(block)
    assert len(set(zip(layers.section.tolist(), block.tolist(), strict=True))) == len(layers.middles)


@pytest.mark.parametrize("height", [0.05, 0.2, 0.29, 0.31])
def test_a_rest_that_misses_the_middle_of_a_layer_is_not_printed(height: float) -> None:
    """One layer at least."""
    assert layers_of(box(height=20.0 + height), 0.2).count == (101 if height >= 0.1 else 100) + (height > 0.3)


def test_the_sections_make_up_the_volume_of_what_leans() -> None:
    """Cones, whose layers share sections, to 0.02 %."""
    mesh = cones(6)
    assert estimate(mesh, settings()).sections_mm3 == pytest.approx(mesh.volume_mm3, rel=2e-4)
