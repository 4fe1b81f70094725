from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.forces.scene import cube, matrix, mesh, rod

from nookwright.checks.bodies import matrix_of
from nookwright.checks.forces.masses import NOTHING, Mass, box_mass, mesh_mass, round_mass, together

SIDE = st.floats(1.0, 300.0)
FAR = st.floats(-500.0, 500.0)


def same(one: Mass, other: Mass) -> None:
    """Two bodies weigh the same, in the same place, spread alike."""
    assert one.mass_g == pytest.approx(other.mass_g)
    assert one.centre == pytest.approx(other.centre, abs=1e-6)
    scale = float(np.abs(other.spread).max()) + 1e-9
    assert np.abs(one.spread - other.spread).max() < 1e-6 * scale


@given(size=st.tuples(SIDE, SIDE, SIDE), at=st.tuples(FAR, FAR, FAR))
def test_a_mesh_of_a_box_weighs_as_the_box(size: tuple[float, float, float], at: tuple[float, float, float]) -> None:
    """Centre and spread by integrals over its triangles and in closed form, wherever it stands."""
    corners = mesh(cube(size, at), "box").corners
    middle = np.array(at) + np.array(size) / 2
    same(mesh_mass(corners, 70.0), box_mass(middle, size, 70.0))


@given(size=st.tuples(SIDE, SIDE, SIDE), cut=st.floats(0.1, 0.9), turned=st.booleans(), at=st.tuples(FAR, FAR, FAR))
def test_two_halves_are_the_whole_wherever_they_are_moved(
    size: tuple[float, float, float],
    cut: float,
    turned: bool,  # noqa: FBT001 - drawn
    at: tuple[float, float, float],
) -> None:
    """A box sawn across, its parts moved and put together, is the box that was moved."""
    width, depth, height = size
    left = box_mass(np.array([width * cut, depth, height]) / 2, (width * cut, depth, height), 90 * cut)
    rest = width * (1 - cut)
    right = box_mass(np.array([width * cut + rest / 2, depth / 2, height / 2]), (rest, depth, height), 90 * (1 - cut))
    place = matrix_of(matrix(*at, turned=turned))
    whole = box_mass(np.array(size) / 2, size, 90.0).moved(place)
    same(together([left.moved(place), right.moved(place)]), whole)


@pytest.mark.parametrize(("axis", "turn"), [("z", (0, 1, 2)), ("x", (2, 0, 1)), ("y", (1, 2, 0))])
def test_a_cylinder_spreads_as_its_mesh(axis: str, turn: tuple[int, int, int]) -> None:
    """A rod of 48 sides against the closed form, to a hundredth, along each axis."""
    corners = mesh(rod(80.0, 20.0, 20.0, (0, 0, 0)), "rod").corners[:, :, turn]
    sizes = [40.0, 40.0, 80.0]
    size = sizes[turn[0]], sizes[turn[1]], sizes[turn[2]]
    found = mesh_mass(corners, 10.0)
    expected = round_mass(np.zeros(3), size, axis, 10.0)
    assert np.diag(found.spread) == pytest.approx(np.diag(expected.spread), rel=0.01)


def test_nothing_is_nothing() -> None:
    """No bodies, and bodies without mass, weigh nothing."""
    assert together([]) is NOTHING
    assert together([NOTHING, box_mass(np.zeros(3), (1, 1, 1), 0.0)]) is NOTHING


def test_inertia_about_x_is_that_of_a_plate_on_edge() -> None:
    """For a box it is m (d^2 + h^2) / 12, about the line along x through its middle."""
    assert box_mass(np.zeros(3), (5, 30, 40), 12.0).about_x == pytest.approx(30**2 + 40**2)
