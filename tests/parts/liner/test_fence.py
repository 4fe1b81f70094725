from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import PanelSpec
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.liner.fence import End, FenceSpec, examples, fence, fence_run
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

MODULES = {pitch: module_of(pitch, 6.0, 0.2, "") for pitch in (14.0, 15.5, 17.0, 18.0, 24.0)}


@settings(max_examples=40)
@given(
    cells=st.integers(2, 14),
    layers=st.integers(60, 300),
    ends=st.tuples(st.sampled_from((End.PLAIN, End.SLOT)), st.sampled_from((End.PLAIN, End.TONGUE))),
    pitch=st.sampled_from(sorted(MODULES)),
)
def test_a_fence_is_one_body(bench: Bench, cells: int, layers: int, ends: tuple[End, End], pitch: float) -> None:
    """Without handles, one cell wide, as long as its cells, and its tongue."""
    spec = FenceSpec(cells, round(layers * 0.2, 1), *ends)
    part = fence(MODULES[pitch], spec)
    mesh = bench.mesh(part)
    assert (mesh.components, mesh.genus) == (1, 0)
    length = outer_size(cells, pitch)
    reach = (cells * pitch - length) / 2 + 3.2 if ends[1] is End.TONGUE else 0.0
    assert mesh.bounds == pytest.approx((0, 0, 0, length + reach, outer_size(1, pitch), spec.height), abs=1e-3)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)
    assert part.seated


def test_a_fence_sits_on_the_liner_turned_or_not(bench: Bench, module: Module) -> None:
    """Free of all cones in its place, held when it is pushed sideways."""
    liner = bench.solid(panel(module, PanelSpec(8, 3, (), first_has_cone=True, slots=())), x=0.2, y=0.2)
    part = fence(module, FenceSpec(6, 12.0))
    for turns in (0, 2):
        there = bench.solid(part, x=18 + 0.3, y=18 + 0.3, z=0.6, turns=turns)
        assert bench.shared_mm3(there, liner) < 0.001
        assert bench.shared_mm3(there.translate([0, 1.0, 0]), liner) > 0.1


def test_two_fences_hold_each_other(bench: Bench, module: Module) -> None:
    """Set down from above the tongue lies free in the slot; pulled apart by a millimetre it holds."""
    one, other = fence_run(9, 5, 12.0)
    first = bench.solid(fence(module, one), x=0.3, y=0.3)
    second = bench.solid(fence(module, other), x=one.cells * 18 + 0.3, y=0.3)
    for up in (0.0, 2.0, 4.0):
        assert bench.shared_mm3(first, second.translate([0, 0, up])) < 0.001
    assert bench.shared_mm3(first, second.translate([1.0, 0, 0])) > 0.1


def test_it_keeps_a_tray_and_leaves_its_cells(bench: Bench, module: Module) -> None:
    """A tray in the next cells stands free; pushed by 2 mm it meets the wall."""
    guard = bench.solid(fence(module, FenceSpec(4, 12.0)), x=0.3, y=0.3)
    beside = bench.solid(tray(module, cols=4, rows=2, height=30, smooth=False), x=0.3, y=18.3)
    assert bench.shared_mm3(guard, beside) == 0
    assert bench.shared_mm3(guard, beside.translate([0, -2.0, 0])) > 10


def test_a_fence_weighs_little(module: Module) -> None:
    """Two thirds of a tray of the same cells and height, and less."""
    part = fence(module, FenceSpec(8, 18.0))
    same = tray(module, cols=8, rows=1, height=18.0, smooth=False)
    assert part.plastic.body_mm3 < 0.67 * same.plastic.body_mm3


@given(cells=st.integers(2, 60), longest=st.integers(3, 20))
def test_a_run_is_made_of_fences_that_fit_the_bed(cells: int, longest: int) -> None:
    """Their cells add up, the ends of the run are plain, each joint is a tongue in a slot."""
    run = fence_run(cells, longest, 12.0)
    assert sum(one.cells for one in run) == cells
    assert all(2 <= one.cells <= longest for one in run)
    assert run[0].left is run[-1].right is End.PLAIN
    assert all(one.right is End.TONGUE for one in run[:-1])
    assert all(one.left is End.SLOT for one in run[1:])


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (FenceSpec(1, 12.0), "long enough to meet a cone"),
        (FenceSpec(4, 6.0), "above its own sockets"),
        (FenceSpec(4, 12.1), "whole number of layers"),
        (FenceSpec(4, 12.0, left=End.TONGUE), "slots on the left"),
        (FenceSpec(4, 12.0, right=End.SLOT), "tongues are on the right"),
    ],
)
def test_what_cannot_be_made_is_refused(module: Module, spec: FenceSpec, words: str) -> None:
    """With the rule, the value and a remedy."""
    with pytest.raises(RecipeError, match=words):
        fence(module, spec)


@pytest.mark.parametrize("layer", [0.1, 0.25, 0.3, 0.6])
def test_the_examples_are_sound_at_every_layer(bench: Bench, layer: float) -> None:
    """Bodies and handles are as stated."""
    for example in examples(module_of(18.0, 6.0, layer, "")):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (example.components, example.genus)
