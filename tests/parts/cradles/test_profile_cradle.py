from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection, FillRule, Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.pocket import Placed
from nookwright.parts.cradles.pocket_cradle import pocket_cradle
from nookwright.parts.cradles.pocket_plan import PocketCradle
from nookwright.parts.cradles.profile_cradle import Profiled, cut_at, grown, without_undercuts

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

MODULE = module_of(18.0, 6.0, 0.2, "")
Outline = tuple[tuple[float, float], ...]
BOTTLE: Outline = ((12.0, 0.0), (16.0, 4.0), (16.0, 14.0), (6.0, 20.0), (6.0, 24.0), (9.0, 24.0), (9.0, 28.0))
KNOB: Outline = ((8.0, 0.0), (8.0, 8.0), (16.0, 8.0), (16.0, 14.0))


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """Any outline that rises, with necks, rims and ledges."""
    steps = draw(st.lists(st.tuples(st.floats(2, 30), st.sampled_from([0.0, 0.5, 3.0, 8.0])), min_size=2, max_size=6))
    heights = np.cumsum([0.0, *(rise for _, rise in steps[1:])])
    return tuple((radius, float(z)) for (radius, _), z in zip(steps, heights, strict=True))


def widest_below(body: Outline, z: float) -> float:
    """The largest radius of a body at or below a height, by trying."""
    found = [r for r, height in body if height <= z]
    for (r0, z0), (r1, z1) in pairwise(body):
        if z0 < z < z1:
            found.append(r0 + (r1 - r0) * (z - z0) / (z1 - z0))
    return max(found)


def radius_of(outline: Outline, z: float) -> float:
    """The largest radius of an outline at just that height."""
    found = [r for r, height in outline if height == z]
    found += [r0 + (r1 - r0) * (z - z0) / (z1 - z0) for (r0, z0), (r1, z1) in pairwise(outline) if z0 < z < z1]
    return max(found) if found else outline[-1][0]


@given(outlines(), st.floats(0, 40))
def test_undercuts_are_what_lies_below_wider(body: Outline, z: float) -> None:
    """At each height as wide as the body is anywhere below."""
    made = without_undercuts(body)
    z = min(z, body[-1][1])
    assert radius_of(made, z) == pytest.approx(widest_below(body, z), abs=1e-6)
    assert all(a[0] <= b[0] + 1e-9 and a[1] <= b[1] for a, b in pairwise(made))


@given(outlines(), st.floats(0.1, 2), st.floats(1, 40))
def test_a_pocket_has_the_clearance_everywhere_but_under_the_foot(body: Outline, clearance: float, z: float) -> None:
    """At a height: the body at this height and up to a clearance above, and the clearance more."""
    pocket = cut_at(grown(without_undercuts(body), clearance), z)
    wanted = widest_below(body, min(z + clearance, body[-1][1])) + clearance
    assert pocket[-1] == pytest.approx((wanted, z), abs=2e-4)
    assert pocket[0][1] == 0.0


@pytest.mark.parametrize("body", [BOTTLE, KNOB])
def test_the_body_lifts_straight_out(bench: Bench, body: Outline) -> None:
    """At every height on its way up it touches nothing; pushed aside by more than its clearance it does."""
    middle = outer_size(3, 18.0) / 2
    asked = PocketCradle(3, 3, 24.0, (Placed(Profiled(body, 0.5), middle, middle),))
    solid = bench.solid(pocket_cradle(MODULE, asked))
    points = [(0.0, 0.0), *body, (0.0, body[-1][1])]
    thing = Manifold.revolve(CrossSection([np.array(points)], FillRule.Positive), 128).translate(
        [middle, middle, 4.401]
    )
    for lift in (0.0, 0.5, 2.0, 5.0, 9.0, 15.0, 22.0):
        assert bench.shared_mm3(solid, thing.translate([0, 0, lift])) < 1e-3
    assert bench.shared_mm3(solid, thing.translate([0.56, 0, 0])) > 1e-3
    assert bench.shared_mm3(solid, thing.translate([0, 0, -0.1])) > 1.0  # it stands on the floor


@pytest.mark.parametrize(
    ("body", "clearance"),
    [
        (((8.0, 0.0),), 0.5),
        (((8.0, 1.0), (8.0, 9.0)), 0.5),
        (((8.0, 0.0), (8.0, 9.0), (4.0, 6.0)), 0.5),
        (((8.0, 0.0), (8.0, 0.0)), 0.5),
        (((8.0, 0.0), (8.0, 9.0)), -0.1),
        (((0.5, 0.0), (8.0, 9.0)), 0.5),
        (((math.nan, 0.0), (8.0, 9.0)), 0.5),
    ],
)
def test_outlines_that_are_no_body_are_refused(body: Outline, clearance: float) -> None:
    """A single point, a foot in the air, heights that fall, no height, no clearance, a point for a foot."""
    with pytest.raises(RecipeError, match="pocket: "):
        Profiled(body, clearance)
