from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.model import Kind
from nookwright.parts.rests.rest import bore, bore_mm2, genus_of, rest
from nookwright.parts.rests.rest_examples import examples
from nookwright.parts.rests.rest_plan import Holes, Rest, dowel_height
from nookwright.parts.rests.rest_slots import BladeSlot, Slot, USlot, VSlot
from nookwright.parts.rests.rest_span import STEEL, WOOD, Dowel, DowelStuff
from nookwright.shapes.solids import Prism
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.parts.model import Example

MODULE = module_of(18.0, 6.0, 0.2, "")
WIDTH, DEPTH = outer_size(5, 18.0), outer_size(1, 18.0)


@pytest.mark.parametrize("example", examples(MODULE), ids=lambda example: f"{example.size} {example.part.name}")
def test_every_example_is_one_closed_body(bench: Bench, sound: Callable[..., None], example: Example) -> None:
    """Box from the origin, a handle for each hole that goes through, plastic in closed form within one per cent."""
    sound(bench, example.part, example.part.size)
    mesh = bench.mesh(example.part)
    assert (mesh.genus, mesh.components) == (example.genus, example.components)
    assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.01)
    assert example.part.kind is Kind.REST
    assert example.part.seated


@pytest.mark.parametrize("cover", [False, True])
def test_a_blade_stands_in_its_slot_and_is_nowhere_free(bench: Bench, *, cover: bool) -> None:
    """A sheet of its size touches nothing, and plastic stands on both sides of it up to 3 mm above its back."""
    slot = BladeSlot(45.0, 2.0, 30.0)
    asked = Rest(5, 1, 18.0 if cover else 42.0, (slot,), cover=cover)
    part = rest(MODULE, asked)
    solid = bench.solid(part)
    edge = slot.bottom(0.0, MODULE.seat.dome, 0.2)
    blade = Manifold.cube([2.0, 100, 30.0]).translate([44.0, -40, edge + 0.001])
    assert bench.shared_mm3(solid, blade) < 1e-3
    assert bench.shared_mm3(solid, blade.translate([0, 0, -0.1])) > 1.0
    beside = Manifold.cube([0.1, 1.0, 0.1]).translate([0, DEPTH / 2, edge + 30.0 + 1.5])
    for x in (45.0 - 1.4 - 0.2, 45.0 + 1.4 + 0.1):
        assert bench.shared_mm3(solid, beside.translate([x, 0, 0])) == pytest.approx(beside.volume(), rel=1e-3)
    assert part.size[2] >= edge + 30.0 + 3.0


def test_a_handle_hangs_free_of_the_cones(bench: Bench) -> None:
    """The edge lies so high that a handle which reaches below it clears the cones by a millimetre."""
    slot = BladeSlot(45.0, 2.0, 30.0, handle_drop=14.0)
    edge = slot.bottom(0.0, MODULE.seat.dome, 0.2)
    assert edge - 14.0 >= MODULE.seat.cone_height + 1.0 - 1e-9
    solid = bench.solid(rest(MODULE, Rest(5, 1, 54.0, (slot,))))
    below = Manifold.cube([2.0, 5.0, 1.0]).translate([44.0, 5.0, edge - 1.01])
    assert bench.shared_mm3(solid, below) == pytest.approx(10.0)


@pytest.mark.parametrize(("slot", "sunk"), [(VSlot(45.0, 20.0), 0.5), (USlot(45.0, 20.0, 0.75), 0.75)])
def test_a_round_tool_lies_as_deep_as_it_should(bench: Bench, slot: Slot, sunk: float) -> None:
    """A bar whose given share is below the rim touches nothing; one that lies a little deeper does."""
    solid = bench.solid(rest(MODULE, Rest(5, 1, 30.0, (slot,))))
    middle = 30.0 + 10.0 - sunk * 20.0 + (0.4 if isinstance(slot, USlot) else 0.0)
    bar = Manifold.cylinder(100, 9.98, 9.98, 256).rotate([90, 0, 0]).translate([45.0, 60.0, middle])
    assert bench.shared_mm3(solid, bar) < 1e-3
    assert bench.shared_mm3(solid, bar.translate([0, 0, -1.0])) > 1.0


@pytest.mark.parametrize("holes", list(Holes))
def test_a_dowel_goes_in_where_the_hole_opens(bench: Bench, holes: Holes) -> None:
    """From an open end it goes in to 3 mm before the other face, or right through."""
    dowel = Dowel(8.0)
    slots = (BladeSlot(20.0, 2.0, 15.0), BladeSlot(70.0, 2.0, 15.0))
    solid = bench.solid(rest(MODULE, Rest(5, 2, 30.0, slots, dowel, (45.0,), holes)))
    deep = outer_size(2, 18.0)
    long = deep - 3.02
    bar = Manifold.cylinder(long, 4.0, 4.0, 128).rotate([-90, 0, 0]).translate([45.0, 0, dowel_height(MODULE, dowel)])
    front, back = (bench.shared_mm3(solid, bar.translate([0, y, 0])) < 1e-3 for y in (-0.01, deep - long + 0.01))
    assert (front, back) == {Holes.THROUGH: (True, True), Holes.FRONT: (True, False), Holes.BACK: (False, True)}[holes]


def test_the_roof_of_a_bore_rises_at_45_degrees() -> None:
    """Its mesh has no face above the middle that is flatter than 45 degrees, but for a flat of 0.83 of the radius."""
    mesh = MeshKernel(0.001).mesh(Prism(bore(8.0), 10.0))
    assert mesh.volume_mm3 == pytest.approx(10 * bore_mm2(8.0), rel=5e-4)
    x0, y0, _, x1, y1, _ = mesh.bounds
    assert (x0, y0, x1, y1) == pytest.approx((-4, -4, 4, 4), abs=1e-3)
    top = mesh.vertices[mesh.vertices[:, 1] > 4 - 1e-4]
    assert top[:, 0].max() - top[:, 0].min() == pytest.approx(2 * 4 * (math.sqrt(2) - 1), abs=2e-3)


slots = st.one_of(
    st.builds(lambda t, h, d: BladeSlot(0.0, t, h, d), st.floats(0.3, 4), st.floats(3, 60), st.floats(0, 20)),
    st.builds(lambda d: VSlot(0.0, d), st.floats(3, 30)),
    st.builds(lambda d, s: USlot(0.0, d, s), st.floats(3, 30), st.floats(0.5, 1)),
)
dowels = st.one_of(
    st.none(),
    st.sampled_from(WOOD).map(Dowel),
    st.sampled_from(STEEL).map(lambda size: Dowel(size, DowelStuff.STEEL)),
)


@st.composite
def rests(draw: st.DrawFn) -> Rest:
    """Slots of any kind spread over the width, dowels about half-way between the first two."""
    cols, found = draw(st.integers(2, 8)), draw(st.lists(slots, min_size=1, max_size=3))
    step, dowel = outer_size(cols, 18.0) / len(found), draw(dowels)
    placed = tuple(replace(slot, x=(number + 0.5) * step) for number, slot in enumerate(found))
    at = (step + draw(st.floats(-4, 4)),) if dowel and len(placed) > 1 else ()
    return Rest(
        cols, draw(st.integers(1, 2)), draw(st.integers(40, 300)) / 5, placed, dowel if at else None, at,
        draw(st.sampled_from(list(Holes))), cover=draw(st.booleans()),
    )  # fmt: skip


@settings(max_examples=60)
@given(rests())
def test_any_rest_is_refused_or_sound(asked: Rest) -> None:
    """One closed body with the handles of its holes, its box and its plastic as foretold."""
    try:
        part = rest(MODULE, asked)
    except RecipeError:
        return
    mesh = MeshKernel().mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, genus_of(asked))
    assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=2e-4)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.02)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (Rest(5, 1, 30.0, ()), "has slots"),
        (Rest(5, 1, 30.1, (VSlot(45.0, 10.0),)), "whole number"),
        (Rest(5, 1, 30.0, (BladeSlot(45.0, 2.0, 30.0),)), "no blade is free"),
        (Rest(5, 1, 6.0, (BladeSlot(45.0, 2.0, 30.0),), cover=True), "holds the edge"),
        (Rest(5, 1, 12.0, (VSlot(45.0, 20.0),), cover=True), "is held"),
        (Rest(5, 1, 30.0, (BladeSlot(45.0, 0.1, 10.0),)), "thickness and a height"),
        (Rest(5, 1, 30.0, (BladeSlot(45.0, 2.0, 10.0, -1.0),)), "thickness and a height"),
        (Rest(5, 1, 30.0, (VSlot(45.0, 2.0),)), "can be gripped"),
        (Rest(5, 1, 30.0, (USlot(45.0, 12.0, 0.4),)), "half of its tool"),
        (Rest(5, 1, 30.0, (VSlot(11.0, 10.0),)), "beside the outer"),
        (Rest(5, 1, 30.0, (VSlot(30.0, 10.0), VSlot(45.0, 10.0))), "between slots"),
        (Rest(5, 1, 30.0, (VSlot(45.0, 10.0),), Dowel(8.0)), "around every dowel"),
        (Rest(5, 1, 30.0, (BladeSlot(45.0, 2.0, 15.0),), Dowel(8.0), (45.0,)), "around every dowel"),
        (Rest(5, 1, 30.0, (VSlot(45.0, 10.0),), Dowel(8.0), (5.0,)), "around every dowel"),
        (Rest(5, 1, 12.0, (USlot(70.0, 4.0),), Dowel(8.0), (20.0,)), "around every dowel"),
        (Rest(5, 1, 30.0, (VSlot(70.0, 10.0),), Dowel(10.0), (20.0,), Holes.BACK), "two diameters"),
        (Rest(5, 1, 30.0, (VSlot(45.0, 10.0),), None, (20.0,)), "have a dowel"),
    ],
)
def test_what_is_unsafe_or_impossible_is_refused(asked: Rest, words: str) -> None:
    """Before any kernel sees it: the rule, what is allowed, what to do."""
    with pytest.raises(RecipeError, match=rf"{words}.*allowed: .*\. [A-Z]"):
        rest(MODULE, asked)
