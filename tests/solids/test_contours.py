"""Edges put together, and faces within contours."""

from __future__ import annotations

import numpy as np
import pytest

from nookwright.solids.contours import chained, filled


def test_edges_in_any_order_make_their_contours() -> None:
    """Two triangles apart, their edges shuffled."""
    starts, ends = np.array([5, 0, 4, 1, 2, 3]), np.array([3, 1, 5, 2, 0, 4])
    assert [contour.tolist() for contour in chained(starts, ends)] == [[5, 3, 4], [0, 1, 2]]


def test_contours_that_share_a_point_use_each_edge_once() -> None:
    """Where two edges start, both are gone along, in one contour or in two."""
    starts, ends = np.array([0, 1, 2, 0, 3, 4]), np.array([1, 2, 0, 3, 4, 0])
    found = chained(starts, ends)
    edges = {(int(a), int(b)) for c in found for a, b in zip(c, np.roll(c, -1), strict=True)}
    assert edges == set(zip(starts.tolist(), ends.tolist(), strict=True))
    assert sum(map(len, found)) == len(starts)


def test_a_hole_stays_open() -> None:
    """The triangles of a square with a square hole cover what is between, all of them the right way round."""
    square = np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
    points = np.concatenate([3 * square, 1 + square])
    faces = filled(points, [np.arange(4), np.arange(4, 8)[::-1]])
    a, b, c = (points[faces[:, n]] for n in range(3))
    areas = ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2
    assert areas.min() > 0
    assert areas.sum() == pytest.approx(8)
