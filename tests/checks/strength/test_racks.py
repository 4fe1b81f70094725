"""Racks that hang over heads, as our own family makes them and made thinner."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.checks.conftest import box, moved
from tests.checks.strength.conftest import NOTHING, shape

from nookwright.checks.strength.racks import OVERHEAD, check_racks, trough_of
from nookwright.checks.strength.withdrawal import withdrawal_n_mm
from nookwright.ground.findings import Severity
from nookwright.parts.racks import rack as racks
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from tests.checks.strength.conftest import Bench

    from nookwright.module.module import Module

LYING = ((0, 0, 1, 0), (0, 1, 0, 0), (-1, 0, 0, 100), (0, 0, 0, 1))  # its layers lie across the trough


def sling(wall: float, radius: float = 30.0, length: float = 100.0, plate: float = 6.0) -> manifold3d.Manifold:
    """A trough of one thickness below a plate with flanges, as it is printed: standing on its end."""
    whole, around = 2 * (radius + wall) + 40, radius + wall
    disc = manifold3d.Manifold.cylinder(length, around, around, 128).translate([radius + 6, whole / 2, 0])
    legs = box(radius + 6, 2 * around, length, at=(0, whole / 2 - around, 0))
    hollow = manifold3d.Manifold.cylinder(length + 2, radius, radius, 128).translate([radius + 6, whole / 2, -1])
    open_top = box(radius + 7, 2 * radius, length + 2, at=(-1, whole / 2 - radius, -1))
    return box(plate, whole, length) + disc + legs - hollow - open_top


def ordered(bench: Bench, solid: manifold3d.Manifold, **parameters: Any) -> Bench:  # noqa: ANN401 - of a part
    """A rack made to order, and what is to lie in it."""
    known = {
        "mount": "under a shelf",
        "diameter": 58.0,
        "count": 2,
        "mass_g": 1500.0,
        "screw": "4 DIN 7997",
        "screws": 4,
    }
    printed = parameters.pop("printed", moved())
    return bench.part("rack", "rack", solid, parameters=known | parameters, printed=printed).ordered("rack")


def codes(bench: Bench) -> dict[str, Severity]:
    """What is found, with its severity."""
    return {one.code: one.severity for one in check_racks(bench.carried, bench.shapes, NOTHING)}


@settings(max_examples=8)
@given(wall=st.floats(1.0, 5.5), radius=st.floats(15, 60))
def test_a_trough_is_read_off_at_its_thinnest(wall: float, radius: float) -> None:
    """To the step at which it is looked for; flange and lips are thicker and hold more."""
    found = trough_of(shape(sling(wall, radius)), 2 * radius - 2, NOTHING)
    assert found.wall == pytest.approx(wall, abs=0.06)
    assert found.radius == pytest.approx(radius + found.wall / 2, abs=0.1)
    assert found.length == pytest.approx(100)


def test_flanges_are_part_of_the_profile() -> None:
    """A trough of 4.0 below flanges of 2.0 is as thin as these."""
    assert trough_of(shape(sling(4.0, plate=2.0)), 58.0, NOTHING).wall == pytest.approx(2.0, abs=0.06)


def test_our_own_racks_hold(bench: Bench, module: Module) -> None:
    """Each mount at each size of the family, with what it was made for: nothing but the words for the site."""
    kernel = MeshKernel()
    for example in racks.examples(module):
        mesh = kernel.mesh(example.part.recipe)
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(np.array(mesh.vertices, np.float64), np.array(mesh.triangles, np.uint64))
        )
        assert codes(ordered(bench, solid, **dict(example.part.parameters))) == {"rack-on-site": Severity.NOTE}


@pytest.mark.parametrize(("wall", "thin"), [(2.2, False), (1.1, True)])
def test_a_rack_too_thin_is_never_hung_up(bench: Bench, wall: float, thin: bool) -> None:  # noqa: FBT001
    """3 kg in a sling: half the thickness has four times the stress. It says how thick it must be."""
    ready = ordered(bench, sling(wall))
    found = {one.code: one for one in check_racks(ready.carried, ready.shapes, NOTHING)}
    assert ("rack-thin" in found) is thin
    if thin:
        one = found["rack-thin"]
        assert one.severity is Severity.STOP
        assert one.subject == "my-rack"
        assert one.against is not None
        assert one.against.computed > one.against.limit == pytest.approx(23.2 / OVERHEAD, abs=1e-3)
        need = float(one.text.split("That asks for ")[1].split(" mm")[0])
        assert wall < need < 2.2
        assert "rack-thin" not in codes(ordered(bench, sling(need + 0.15)))


def test_a_rack_in_two_halves_is_no_rack(bench: Bench) -> None:
    """Cut along its bottom: no trough is found, and that stops the print."""
    halves = sling(3.0) - box(10, 1.0, 120, at=(62, 52.5, -10))
    assert codes(ordered(bench, halves))["rack-thin"] is Severity.STOP


def test_layers_across_a_trough_bear_less(bench: Bench) -> None:
    """The same rack, printed on its back: what holds along its layers does not across them."""
    on_end, lying = ordered(bench, sling(2.4)), ordered(bench, sling(2.4), printed=LYING)
    assert "rack-thin" not in codes(on_end)
    assert "rack-thin" in codes(lying)
    (one,) = [one for one in check_racks(lying.carried, lying.shapes, NOTHING) if one.code == "rack-thin"]
    assert "across its layers" in one.text


def test_a_bracket_bears_three_times_what_a_sling_does(bench: Bench) -> None:
    """The same section on a wall is a cantilever: pi times the moment."""
    assert "rack-thin" not in codes(ordered(bench, sling(2.4)))
    assert "rack-thin" in codes(ordered(bench, sling(2.4), mount="on a wall", plate=6.0))


def test_every_rack_says_what_its_screws_hold_and_who_must_judge(bench: Bench) -> None:
    """Twice the weight by the screws, thread in softwood, how warm, and that somebody must look at wall and fixings."""
    (one,) = check_racks(ordered(bench, sling(4.0)).carried, ordered(bench, sling(4.0)).shapes, NOTHING)
    assert one.code == "rack-on-site"
    pull = 2 * (3000 + 50) / 1000 * 9.80665 / 4
    assert f"each of its 4 screws with up to {pull:.0f} N" in one.text
    assert f"{withdrawal_n_mm(4):.1f} N for each mm of thread" in one.text
    assert "warmer than 45 degrees" in one.text
    assert "must be judged on site by someone who knows" in one.text


def test_a_rack_that_is_no_order_has_no_place(bench: Bench) -> None:
    """Only what is made to order is hung up."""
    ready = bench.part("rack", "rack", sling(1.0), parameters={"mass_g": 9000.0, "count": 1, "diameter": 58.0})
    assert check_racks(ready.carried, ready.shapes, NOTHING) == ()
