from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.triangles import deeper_than, depths

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats

Point = tuple[Fraction, Fraction, Fraction]
TRIANGLE = st.lists(st.tuples(*[st.integers(-6, 6)] * 3), min_size=3, max_size=3, unique=True)


def minus(a: Point, b: Point) -> Point:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def cross(a: Point, b: Point) -> Point:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def dot(a: Point, b: Point) -> Fraction:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def pierces(start: Point, end: Point, corners: list[Point]) -> bool:
    """Whether a segment passes through the inside of a triangle, in exact arithmetic."""
    a, b, c = corners
    normal = cross(minus(b, a), minus(c, a))
    above, below = dot(normal, minus(start, a)), dot(normal, minus(end, a))
    if above * below >= 0:
        return False
    share = above / (above - below)
    along = minus(end, start)
    point = (start[0] + share * along[0], start[1] + share * along[1], start[2] + share * along[2])
    sides = [dot(normal, cross(minus(q, p), minus(point, p))) for p, q in ((a, b), (b, c), (c, a))]
    return all(side > 0 for side in sides)


def really_cross(some: list[Point], others: list[Point]) -> bool:
    """Whether an edge of one passes through the inside of the other, in exact arithmetic."""
    edges = ((0, 1), (1, 2), (2, 0))
    return any(pierces(one[i], one[j], other) for one, other in ((some, others), (others, some)) for i, j in edges)


def exact(corners: list[tuple[int, int, int]] | Floats) -> list[Point]:
    """Corners as fractions."""
    return [(Fraction(x), Fraction(y), Fraction(z)) for x, y, z in np.asarray(corners).tolist()]


# No drawn edge or face is parallel to this: moved along it a little, an edge through an edge becomes a proper pass.
ASIDE = np.array([1.0, 0.618033988, 0.414213562]) * 1e-6


@given(TRIANGLE, TRIANGLE)
def test_a_pair_is_deep_if_and_only_if_it_crosses(
    some: list[tuple[int, int, int]], others: list[tuple[int, int, int]]
) -> None:
    """On whole numbers, where nothing is nearly so, a depth above noise is the same as crossing in exact arithmetic."""
    first, second = np.array([some], dtype=float), np.array([others], dtype=float)
    if float(depths(first, second)[0]) > 1e-9:
        assert really_cross(exact(first[0] + ASIDE), exact(second[0]))
    else:
        assert not really_cross(exact(first[0]), exact(second[0]))


@given(TRIANGLE, TRIANGLE, st.integers(0, 10_000))
def test_the_depth_is_the_shortest_way_apart(
    some: list[tuple[int, int, int]], others: list[tuple[int, int, int]], seed: int
) -> None:
    """Laid through each other's middle and moved by nine tenths of the depth, any way, two triangles still cross."""
    first, second = np.array([some], dtype=float), np.array([others], dtype=float)
    second += first.mean(axis=1) - second.mean(axis=1)
    depth = float(depths(first, second)[0])
    directions = np.random.default_rng(seed).normal(size=(30, 3))
    directions /= np.linalg.norm(directions, axis=1)[:, None]
    left = depths(first + 0.9 * depth * directions[:, None], np.repeat(second, 30, axis=0))
    assert (left >= 0.0999 * depth - 1e-9).all()


@pytest.mark.parametrize(
    ("name", "some", "others", "depth"),
    [
        ("a spike through a face", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[2, 2, -1], [3, 2, 4], [2, 3, 4]], 1.0),
        ("a shared vertex", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[0, 0, 0], [-9, 0, 4], [0, -9, 4]], 0.0),
        ("a shared edge, steep", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[0, 0, 0], [9, 0, 0], [0, 9, 7]], 0.0),
        ("a vertex on a face", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[2, 2, 0], [3, 2, 4], [2, 3, 4]], 0.0),
        ("one plane, over each other", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[1, 1, 0], [8, 1, 0], [1, 8, 0]], 0.0),
        ("one plane, apart", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[10, 0, 0], [19, 0, 0], [10, 9, 0]], -1.0),
        (
            "one plane, told apart by one side only",
            [[0, 8, 0], [-1, 10, 0], [2, 6, 0]],
            [[-2, 0, 0], [8, 10, 0], [8, 5, 0]],
            -(2**0.5),
        ),
        ("the same twice", [[0, 0, 0], [9, 0, 0], [0, 9, 5]], [[0, 0, 0], [9, 0, 0], [0, 9, 5]], 0.0),
        ("one above the other", [[0, 0, 0], [9, 0, 0], [0, 9, 0]], [[0, 0, 2], [9, 0, 2], [0, 9, 2]], -2.0),
    ],
)
def test_known_depths(name: str, some: list[list[float]], others: list[list[float]], depth: float) -> None:
    """Depths that can be read off a sketch, in both orders; negative ones are the gap."""
    first, second = np.array([some], dtype=float), np.array([others], dtype=float)
    for pair in ((first, second), (second, first)):
        assert float(depths(*pair)[0]) == pytest.approx(depth, abs=1e-12), name


def test_a_triangle_without_area_is_a_segment() -> None:
    """A segment through a face crosses it, one that ends on it does not."""
    face = np.array([[[0.0, 0, 0], [9, 0, 0], [0, 9, 0]]] * 2)
    segments = np.array([[[2.0, 2, -1], [2, 2, 0], [2, 2, 4]], [[2, 2, 0], [2, 2, 1], [2, 2, 4]]])
    assert deeper_than(1e-3, face, segments).tolist() == [0]


@given(st.integers(0, 10_000))
def test_noise_does_not_make_neighbours_cross(seed: int) -> None:
    """Two triangles that share a vertex, however thin, stay below the limit when rounded to 32 bits."""
    random = np.random.default_rng(seed)
    size = 10 ** random.uniform(-2, 2.5, size=4)
    apex = random.uniform(0, 300, 3)
    ways = random.normal(size=(4, 3)) * size[:, None]
    ways[:2, 2], ways[2:, 2] = np.abs(ways[:2, 2]), -np.abs(ways[2:, 2])  # one above, the other below a plane
    corners = np.array([[apex, apex + ways[0], apex + ways[1]], [apex, apex + ways[2], apex + ways[3]]])
    rounded = corners.astype(np.float32).astype(np.float64)
    assert float(depths(rounded[:1], rounded[1:])[0]) < 1e-3 / 5
