from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import FillerForm, FillerSpec
from nookwright.module.choice import module_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.tall_filler import DECK, LONGEST_BRIDGE

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

MODULE = module_of(18.0, 6.0, 0.2, "")


def tall(length: float, width: float, height: float, tongues: tuple[float, ...] = ()) -> FillerSpec:
    """A tall filler."""
    return FillerSpec(length, width, tongues, form=FillerForm.TALL, height=height)


@settings(max_examples=40)
@given(length=st.floats(12, 300), width=st.floats(4, 60), layers=st.integers(13, 500))
def test_a_tall_filler_is_a_trough_upside_down(bench: Bench, length: float, width: float, layers: int) -> None:
    """One body without handles, as large as asked; its walls stand on the bed, nothing is bridged beyond 20 mm."""
    spec = tall(round(length, 1), round(width, 1), round(layers * 0.2, 1), (round(length / 2, 1),))
    part = filler(MODULE, spec)
    mesh = bench.mesh(part)
    assert (mesh.components, mesh.genus) == (1, 0)
    assert mesh.bounds == pytest.approx((0, 0, 0, spec.length, spec.width + 6, spec.height), abs=1e-3)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.01)
    for contour in bench.solid(part).slice(0.7).decompose():
        for hole in contour.to_polygons()[1:]:
            spans = hole.max(axis=0) - hole.min(axis=0)
            assert min(spans) <= LONGEST_BRIDGE + 1e-6


def test_it_is_closed_on_top_and_on_all_sides(bench: Bench, module: Module) -> None:
    """Sections near the top are full, below them there are walls of 1.2 all round."""
    solid = bench.solid(filler(module, tall(107.6, 9.0, 36.0)))
    assert solid.slice(36.0 - DECK / 2).area() == pytest.approx(107.6 * 8.8)
    section = solid.slice(20.0)
    assert len(section.offset(-0.55).decompose()) == 1
    assert section.area() < 0.5 * 107.6 * 8.8


def test_it_weighs_a_fraction_of_a_block(module: Module) -> None:
    """Less than half at 9 mm, less than a third at 20."""
    for width, share in ((9.0, 0.5), (20.0, 0.33)):
        part = filler(module, tall(198.0, width, 60.0))
        assert part.plastic.body_mm3 < share * 198.0 * width * 60.0


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (tall(100, 9, 1.6), "at least as high as the lip"),
        (tall(100, 9, 20.1), "whole number of layers"),
        (tall(100, 3, 20), "ride over"),
        (tall(100, 9, 20, (3.0,)), "clear of its ends"),
    ],
)
def test_what_cannot_be_made_is_refused(module: Module, spec: FillerSpec, words: str) -> None:
    """With the rule, the value and a remedy."""
    with pytest.raises(RecipeError, match=words):
        filler(module, spec)
