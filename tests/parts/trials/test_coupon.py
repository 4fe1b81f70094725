"""The coupon is what its features say, is light and quick, and fits a small bed."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest

from nookwright.parts.trials.coupon import HEIGHT, coupon
from nookwright.sizing.printers.coupon import Face, Feature, features, pegs
from nookwright.solids.mesh import build
from nookwright.survey.origins import CouponForm as Form

if TYPE_CHECKING:
    from numpy.typing import NDArray

LAYER = 0.2
PLA_G_CM3 = 1.24
FACETS = 0.02  # mm that a polygon of many sides may differ from a round hole or peg
NEAR_PEG = 3.4  # mm about a peg's middle, less than half way to the next


def section(form: Form, z: float) -> list[NDArray[np.float64]]:
    """Outlines of a level section, about the middle of the cross."""
    mesh = build(coupon(form, LAYER).recipe)
    raw = manifold3d.Mesh64(np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C"))
    half = mesh.bounds[3] / 2
    return [np.asarray(ring) - half for ring in manifold3d.Manifold(raw).slice(z).to_polygons()]


def measured(feature: Feature, outlines: list[NDArray[np.float64]]) -> float:
    """What a caliper finds in a section."""
    along = np.array(feature.along)
    if len(feature.at) > 1:
        corners = np.concatenate(outlines)
        one, other = (corners[np.hypot(*(corners - place).T) < NEAR_PEG] @ along for place in map(np.array, feature.at))
        return float(other.max() - one.min())
    return sum(to_edge(np.array(feature.at[0]), side * along, outlines) for side in (-1, 1))


def to_edge(start: NDArray[np.float64], along: NDArray[np.float64], outlines: list[NDArray[np.float64]]) -> float:
    """Distance from a point to the first edge in a direction."""
    found = []
    for ring in outlines:
        for a, b in pairwise([*ring, ring[0]]):
            edge = b - a
            across = along[0] * edge[1] - along[1] * edge[0]
            if across:
                back = a - start
                far = (back[0] * edge[1] - back[1] * edge[0]) / across
                share = (back[0] * along[1] - back[1] * along[0]) / across
                if far > 0 and 0 <= share <= 1:
                    found.append(float(far))
    return min(found)


@pytest.mark.parametrize("form", Form)
def test_a_caliper_finds_every_feature_at_its_nominal_size(form: Form) -> None:
    """In the mesh, half way up, and the foot in the first layer; so sheet, readings and part cannot differ."""
    middle, first = section(form, HEIGHT / 2), section(form, LAYER / 2)
    for feature in features(form):
        outlines = first if feature.face is Face.FOOT else middle
        assert measured(feature, outlines) == pytest.approx(feature.nominal, abs=FACETS), feature.id


@pytest.mark.parametrize("form", Form)
def test_the_first_layer_keeps_clear_of_what_is_read_from_above(form: Form) -> None:
    """Pegs are drawn in at the bed, slots and holes are wider, by at least 0.4 to each side."""
    first = section(form, LAYER / 2)
    for feature in features(form):
        if len(feature.at) > 1:
            assert measured(feature, first) < feature.nominal - 0.8, feature.id
        elif feature.face in {Face.INSIDE, Face.HOLE}:
            assert measured(feature, first) > feature.nominal + 0.8, feature.id


def test_the_short_coupon_is_light_quick_and_small() -> None:
    """At most 25 g and 1.5 h, on a bed of 180 with margins of 5; the long one on a bed of 210."""
    short, long = coupon(Form.SHORT, LAYER), coupon(Form.LONG, LAYER)
    assert short.plastic.mass_g(PLA_G_CM3) <= 25
    assert short.plastic.time_s(LAYER) <= 1.5 * 3600
    assert max(short.size) <= 180 - 2 * 5
    assert max(long.size) <= 210 - 2 * 5


@pytest.mark.parametrize(("form", "reach"), [(Form.SHORT, 150), (Form.LONG, 200)])
def test_its_caliper_reaches_over_everything(form: Form, reach: float) -> None:
    """Nothing is longer than the caliper that a form is meant for, less 1 mm of excess."""
    assert max(feature.nominal for feature in features(form)) <= reach - 1


@pytest.mark.parametrize("form", Form)
def test_the_jaw_finds_one_peg_alone(form: Form) -> None:
    """A jaw of 4 mm that lies on a peg across any reading touches no other peg."""
    every = np.array(pegs(form))
    for feature in features(form):
        for place in feature.at if len(feature.at) > 1 else ():
            beside = np.abs((every - place) @ np.array([-feature.along[1], feature.along[0]]))
            outward = (every - place) @ np.array(feature.along) * (-1 if place == feature.at[0] else 1)
            others = (np.hypot(*(every - place).T) > 0.1) & (outward > -1)
            assert (beside[others] - 2.5 >= 2.0 - 1e-9).all(), feature.id


@pytest.mark.parametrize("layer", [0.12, 0.2, 0.28, 0.3])
def test_heights_are_whole_layers(layer: float) -> None:
    """At the layer height of its printer."""
    height = coupon(Form.SHORT, layer).size[2]
    assert math.isclose(height / layer, round(height / layer), abs_tol=1e-6)
