from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection

from nookwright.ground.errors import RecipeError
from nookwright.layout.filler_forms import leaf_length, travel_for
from nookwright.layout.liner import FillerForm, FillerSpec
from nookwright.module.choice import module_of
from nookwright.parts.liner.filler import filler
from nookwright.parts.liner.sprung_filler import STRAIN_LIMIT, leaf_strain, spring_force_n

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

MODULE = module_of(18.0, 6.0, 0.2, "")


def sprung(length: float, width: float, travel: float, tongues: tuple[float, ...] = ()) -> FillerSpec:
    """A sprung filler."""
    return FillerSpec(length, width, tongues, form=FillerForm.SPRUNG, travel=travel)


@given(space=st.floats(50, 1500))
def test_a_leaf_stays_under_the_strain_of_its_plastic(space: float) -> None:
    """Pressed all the way, for every travel that a space can ask for."""
    travel = travel_for(space)
    assert leaf_strain(travel) <= STRAIN_LIMIT
    assert 1.5 * 1.2 * travel / (leaf_length(travel) - 1) ** 2 == pytest.approx(leaf_strain(travel))


@given(space=st.floats(50, 1500))
def test_springs_do_not_lift_a_panel(space: float) -> None:
    """Two nubs press with less than the weight of 100 g, which is what one square dm of trays and liner weighs."""
    assert 0.1 < 2 * spring_force_n(travel_for(space), 2.6) < 1.0


@settings(max_examples=40)
@given(length=st.floats(75, 400), width=st.floats(6.6, 12), space=st.floats(100, 600))
def test_a_sprung_filler_is_one_body(bench: Bench, length: float, width: float, space: float) -> None:
    """Without handles, from the nubs to the tips of the tongues."""
    spec = sprung(round(length, 1), round(width, 1), travel_for(space), (round(length / 2, 1),))
    part = filler(MODULE, spec)
    mesh = bench.mesh(part)
    assert (mesh.components, mesh.genus) == (1, 0)
    assert mesh.bounds == pytest.approx((0, 0, 0, spec.length, spec.travel + spec.width + 6, 2.6), abs=1e-3)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.01)


def shared_mm2(section: CrossSection, box: tuple[float, float, float, float]) -> float:
    """Area that a section has in a box (x0, y0, x1, y1)."""
    x0, y0, x1, y1 = box
    return float((section ^ CrossSection.square((x1 - x0, y1 - y0)).translate((x0, y0))).area())


def test_pressed_all_the_way_it_stops_hard(bench: Bench, module: Module) -> None:
    """What a wall that comes in by the travel meets first is two nubs, at the end the flat back of leaf and post."""
    section = bench.solid(filler(module, sprung(107.6, 9.0, 1.6))).slice(1.5)
    middle, leaf = 107.6 / 2, leaf_length(1.6)
    assert shared_mm2(section, (0, 0, 107.6, 1.6)) == pytest.approx(2 * 2.0 * 1.6)
    back = 1.6 + 9.0 - 0.2
    lip = shared_mm2(section, (middle - 3, 1.6, middle + 3, back - 1.2))
    strip = 6.0 * (1.2 + 1.6 + 0.5 + 1.2)  # leaf, gap that the post fills, front lip
    assert lip == pytest.approx(strip)
    assert shared_mm2(section, (middle - 3 - leaf, 1.6, middle + 3 + leaf, 2.8)) == pytest.approx((6 + 2 * leaf) * 1.2)


def test_behind_a_leaf_there_is_more_room_than_its_travel(bench: Bench, module: Module) -> None:
    """So the leaf is never strained beyond its stop, and a spread first layer does not weld it to the strip."""
    section = bench.solid(filler(module, sprung(107.6, 9.0, 1.6))).slice(0.3)
    middle, leaf = 107.6 / 2, leaf_length(1.6)
    for x0, x1 in ((middle - 3 - leaf, middle - 3.01), (middle + 3.01, middle + 3 + leaf)):
        assert shared_mm2(section, (x0, 2.81, x1, 2.8 + 1.6 + 0.49)) == pytest.approx(0)


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (sprung(107.6, 9.0, 0.0), "springs have a travel"),
        (sprung(107.6, 5.0, 1.6), "side by side in its width"),
        (sprung(50.0, 9.0, 1.6), "as long as a spring"),
        (sprung(107.6, 9.0, 1.6, (20.0, 25.0)), "of each other"),
    ],
)
def test_what_cannot_be_made_is_refused(module: Module, spec: FillerSpec, words: str) -> None:
    """With the rule, the value and a remedy."""
    with pytest.raises(RecipeError, match=words):
        filler(module, spec)
