from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.model import Kind
from nookwright.parts.racks.rack import OVERHEAD_CAUTION, Mount, RackSpec, examples, rack, rack_genus, rack_sizes
from nookwright.parts.racks.rack_strength import THICKEST, THINNEST, allowed_mpa
from nookwright.parts.racks.screws import Head

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

MODULE = module_of(18.0, 6.0, 0.2, "")
CAN = {mount: RackSpec(mount, 55.0, 100.0, 1, 350.0) for mount in Mount}
SPECS = st.builds(
    RackSpec,
    st.sampled_from(Mount),
    st.floats(12, 120).map(lambda d: round(d, 1)),
    st.floats(60, 200).map(lambda length: round(length, 1)),
    st.integers(1, 3),
    st.floats(10, 1500),
    st.sampled_from((3, 4, 5, 6)),
    st.sampled_from(Head),
)


def made(spec: RackSpec) -> bool:
    """Whether a rack is made at all."""
    try:
        rack_sizes(spec)
    except RecipeError:
        return False
    return True


@settings(max_examples=40)
@given(spec=SPECS)
def test_a_rack_is_one_body_with_a_handle_for_each_screw(bench: Bench, spec: RackSpec) -> None:
    """Or it is refused; its box starts at the origin, it is as high in print as it is long in use."""
    assume(made(spec))
    part = rack(MODULE, spec)
    mesh = bench.mesh(part)
    assert (mesh.components, mesh.genus) == (1, rack_genus(spec))
    assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=1e-3)
    assert part.size[2] == pytest.approx(rack_sizes(spec).length)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)
    assert part.kind is Kind.RACK


@given(spec=SPECS)
def test_its_walls_carry_its_load(spec: RackSpec) -> None:
    """At least 4 thick under and behind every head, stresses below what plastic carries for years."""
    assume(made(spec))
    sizes = rack_sizes(spec)
    assert THINNEST <= sizes.wall <= THICKEST
    assert sizes.plate - sizes.screw.depth >= THINNEST - 1e-9
    assert sizes.bending_mpa <= allowed_mpa() + 1e-9
    assert sizes.row.bearing_mpa <= allowed_mpa() + 1e-9
    assert sizes.row.count >= 2


@pytest.mark.parametrize("spec", CAN.values(), ids=[mount.name for mount in CAN])
def test_a_can_lies_in_it_and_can_be_lifted_out(bench: Bench, module: Module, spec: RackSpec) -> None:
    """It lies free between the lips, is stopped by them, and goes out over the lip, or upwards from a wall or door."""
    sizes, solid = rack_sizes(spec), bench.solid(rack(module, spec))
    under = spec.mount is Mount.UNDER_SHELF
    deep = sizes.radius + sizes.lip + 2.0
    x, y = (deep, sizes.land + sizes.radius + sizes.wall) if under else (sizes.plate + sizes.radius, 0.0)
    y = y if under else sizes.radius + sizes.wall
    can = Manifold.cylinder(100.0, 27.5, circular_segments=128).translate([x, y, 3.5])
    assert bench.shared_mm3(solid, can) < 0.001
    down = [1.0, 0.0, 0.0] if under else [0.0, -1.0, 0.0]
    resting = can.translate(down)
    assert bench.shared_mm3(solid, resting) < 1.0
    assert bench.shared_mm3(solid, resting.translate([0, 0, -3.0])) > 10
    assert bench.shared_mm3(solid, resting.translate([0, 0, 16.0])) > 10
    lifts = ([-sizes.lip - 0.5, 0, -40], [-sizes.lip - 0.5, 0, 40]) if under else ([0, 20, 0], [0, 80, 0])
    for lift in lifts:
        assert bench.shared_mm3(solid, can.translate(lift)) < 0.001


def test_a_door_holds_its_cans_higher_than_a_wall(bench: Bench, module: Module) -> None:
    """A can that is thrown forwards by its radius meets more of the front."""
    met = []
    for mount in (Mount.WALL, Mount.DOOR):
        sizes, solid = rack_sizes(CAN[mount]), bench.solid(rack(module, CAN[mount]))
        can = Manifold.cylinder(60.0, 27.5, circular_segments=128)
        there = can.translate([sizes.plate + sizes.radius + 20, sizes.radius + sizes.wall + 20, 20])
        met.append(bench.shared_mm3(solid, there))
    assert met[0] < met[1]


@pytest.mark.parametrize("head", Head)
def test_heads_are_sunk(bench: Bench, module: Module, head: Head) -> None:
    """Half a millimetre below the face of the plate, a head fits with play; the hole goes through."""
    spec = RackSpec(Mount.WALL, 55.0, 100.0, 1, 350.0, 4, head)
    sizes, solid = rack_sizes(spec), bench.solid(rack(module, spec))
    y = sizes.wall + 2 * sizes.radius + sizes.land / 2
    for z in sizes.screw_heights:
        shaft = Manifold.cylinder(60, 2.0, circular_segments=64).rotate([0, 90, 0]).translate([-10, y, z])
        assert bench.shared_mm3(solid, shaft) == 0
        radius = sizes.screw.head_diameter / 2
        high = 3.1 if head is Head.PAN else radius - 2.0
        low = radius if head is Head.PAN else 2.0
        body = Manifold.cylinder(high, low, radius, circular_segments=64).rotate([0, 90, 0])
        assert bench.shared_mm3(solid, body.translate([sizes.plate - 0.5 - high + 0.01, y, z])) < 0.001


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (RackSpec(Mount.WALL, 8.0, 60.0, 1, 20.0), "a diameter that a trough holds"),
        (RackSpec(Mount.WALL, 60.0, 20.0, 1, 20.0), "lie without tipping"),
        (RackSpec(Mount.WALL, 60.0, 100.0, 0, 20.0), "the count is positive"),
        (RackSpec(Mount.WALL, 60.0, 100.0, 1, -5.0), "the mass is positive"),
        (RackSpec(Mount.WALL, 110.0, 100.0, 1, 15000.0), "carries the load for years"),
        (RackSpec(Mount.WALL, 60.0, 100.0, 1, 300.0, 7), "thread is in the table"),
    ],
)
def test_what_cannot_be_made_is_refused(spec: RackSpec, words: str) -> None:
    """With the rule, the value and a remedy."""
    with pytest.raises(RecipeError, match=words):
        rack_sizes(spec)


def test_more_load_never_makes_it_thinner() -> None:
    """From one bottle to a heavy one."""
    walls = [rack_sizes(RackSpec(Mount.WALL, 80.0, 120.0, 1, float(mass))).wall for mass in (100, 3000, 5000)]
    assert walls == sorted(walls)
    assert walls[0] < walls[-1]


def test_the_caution_says_what_matters_overhead() -> None:
    """Screws, a trial load, a second look, heat."""
    for word in ("every screw", "twice the load", "after a month", "softens"):
        assert word in OVERHEAD_CAUTION


@pytest.mark.parametrize("layer", [0.2, 0.3])
def test_the_examples_are_sound(bench: Bench, layer: float) -> None:
    """Bodies and handles are as stated."""
    for example in examples(module_of(18.0, 6.0, layer, "")):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (example.components, example.genus)
