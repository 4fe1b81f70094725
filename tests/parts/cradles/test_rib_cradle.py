from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.rib_cradle import (
    RibPocket,
    examples,
    leaf_thickness,
    rib_cradle,
    rib_cradle_height,
    rib_pocket_diameter,
)
from nookwright.parts.lids.lid_mechanics import snap_length, snap_strain
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.parts.model import Example, Part

MODULE = module_of(18.0, 6.0, 0.2, "")
THICK = leaf_thickness(MODULE)
MIDDLE = outer_size(3, 18.0) / 2


def pocket(smallest: float, largest: float, more: float = 0.0) -> RibPocket:
    """A pocket in the middle of three cells by three, as narrow as it may be and so much more."""
    return RibPocket(smallest, largest, rib_pocket_diameter(MODULE, smallest, largest) + more, MIDDLE, MIDDLE)


def cradle_of(one: RibPocket) -> Part:
    """The lowest cradle that it may have, in whole rises."""
    return rib_cradle(MODULE, cols=3, rows=3, height=MODULE.height(rib_cradle_height(MODULE, one)), pockets=(one,))


@pytest.mark.parametrize("example", examples(MODULE), ids=lambda example: example.part.name)
def test_every_example_is_one_closed_body(bench: Bench, sound: Callable[..., None], example: Example) -> None:
    """Leaves hang by their roots alone: no handle; plastic in closed form within two per cent."""
    sound(bench, example.part, example.part.size)
    mesh = bench.mesh(example.part)
    assert (mesh.genus, mesh.components) == (example.genus, example.components) == (0, 1)
    assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.02)


def test_three_leaves_touch_every_body_and_nothing_else_does(bench: Bench) -> None:
    """A body of the leaves' rest passes; one a little wider meets three leaves, the same of each."""
    one = pocket(24.0, 24.8)
    solid, rest = bench.solid(cradle_of(one)), 24.0 / 2 - 0.2
    floor = MODULE.seat.dome + 0.01
    free = Manifold.cylinder(60, rest - 0.01, rest - 0.01, 512).translate([MIDDLE, MIDDLE, floor])
    assert bench.shared_mm3(solid, free) < 1e-3
    touching = Manifold.cylinder(60, rest + 0.05, rest + 0.05, 512).translate([MIDDLE, MIDDLE, floor])
    touched = [bit for bit in (solid ^ touching).decompose() if bit.volume() > 1e-4]
    bits = [bit.volume() for bit in touched]
    assert len(bits) == 3
    assert bits == pytest.approx([bits[0]] * 3, rel=0.02)
    boxes = [bit.bounding_box() for bit in touched]
    middles = [(sum(box[n] + box[n + 3] for box in boxes) / 6) for n in (0, 1)]
    assert middles == pytest.approx([MIDDLE, MIDDLE], abs=0.1)  # spread evenly, they push to the middle


def test_leaves_hang_free_of_the_floor_and_of_the_sleeve(bench: Bench) -> None:
    """A ring beside the sleeve is empty below their lower edge; behind each end there is room for all its give."""
    one = pocket(24.0, 24.8)
    solid = bench.solid(cradle_of(one))
    wall, floor = one.diameter / 2, MODULE.seat.dome
    ring = Manifold.cylinder(0.5, wall - 0.05, wall - 0.05, 256).translate([MIDDLE, MIDDLE, floor + 0.02])
    assert bench.shared_mm3(solid, ring) < 1e-3
    behind = one.rest + THICK
    room = Manifold.cube([0.2, wall - 0.1 - behind, 60]).translate([MIDDLE, MIDDLE + behind + 0.01, floor + 0.01])
    assert wall - behind >= one.give + 0.4 - 1e-9
    assert bench.shared_mm3(solid, room) < 1e-3


def test_the_lower_edge_of_a_leaf_rises_at_45_degrees(bench: Bench) -> None:
    """Where a leaf touches, it begins as high above its root as it is long; the root is one slit above the floor."""
    one = pocket(24.0, 24.8)
    solid = bench.solid(cradle_of(one))
    z = MODULE.seat.dome + 0.6 + one.length
    probe = Manifold.cube([0.1, THICK, 0.2]).translate([MIDDLE - 0.05, MIDDLE + one.rest, 0])
    assert bench.shared_mm3(solid, probe.translate([0, 0, z + 0.3])) == pytest.approx(probe.volume(), rel=0.05)
    assert bench.shared_mm3(solid, probe.translate([0, 0, z - 0.6])) < 1e-4


@given(smallest=st.floats(6, 80), more=st.floats(0, 5))
def test_the_narrowest_pocket_keeps_the_strain_and_a_narrower_one_does_not(smallest: float, more: float) -> None:
    """1.5 h Y / L^2 at the largest body is at most 0.75 %, and two tenths narrower it is more, or the leaf jams."""
    one = pocket(smallest, smallest + more)
    assert snap_strain(THICK, one.give, one.length) <= 0.0075 + 1e-12
    assert one.diameter / 2 >= one.largest / 2 + THICK + 0.4 - 1e-9
    less = pocket(smallest, smallest + more, -0.2)
    assert snap_strain(THICK, less.give, less.length) > 0.0075 or less.diameter / 2 < less.largest / 2 + THICK + 0.4


@given(st.floats(0.4, 2), st.floats(0.05, 4))
def test_the_leaf_of_a_strain_has_that_strain(thick: float, give: float) -> None:
    """Length and strain are each other's inverse."""
    assert snap_strain(thick, give, snap_length(thick, give, 0.006)) == pytest.approx(0.006)


@settings(max_examples=15)
@given(st.floats(6, 26), st.floats(0, 1.5), st.floats(0, 3), st.floats(-1, 1))
def test_any_pocket_with_ribs_is_refused_or_sound(smallest: float, more: float, wider: float, off: float) -> None:
    """One closed body without a handle; wherever the pocket lies, as wide as it may be."""
    base = pocket(smallest, smallest + more, wider)
    one = RibPocket(base.smallest, base.largest, base.diameter, MIDDLE + off, MIDDLE - off / 2)
    if one.diameter / 2 + 1.2 > MODULE.inner(3) / 2 - abs(off):
        with pytest.raises(RecipeError, match="leaves a wall"):
            cradle_of(one)
        return
    part = cradle_of(one)
    mesh = MeshKernel().mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, 0)
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.03)


@pytest.mark.parametrize(
    ("one", "height", "words"),
    [
        (pocket(20.0, 22.0, -0.3), 60.0, "strain"),
        (RibPocket(22.0, 20.0, 40.0, MIDDLE, MIDDLE), 60.0, "no larger"),
        (RibPocket(5.0, 5.2, 12.0, MIDDLE, MIDDLE), 60.0, "no larger"),
        (RibPocket(math.nan, 20.0, 40.0, MIDDLE, MIDDLE), 60.0, "no larger"),
        (pocket(20.0, 20.5), 18.0, "high enough"),
    ],
)
def test_leaves_that_would_break_or_jam_are_refused(one: RibPocket, height: float, words: str) -> None:
    """With the pocket, or the height, that would do."""
    with pytest.raises(RecipeError, match=rf"{words}.*allowed: .*\. [A-Z]"):
        rib_cradle(MODULE, cols=3, rows=3, height=height, pockets=(one,))
