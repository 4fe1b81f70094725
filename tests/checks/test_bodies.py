from __future__ import annotations

import math

import numpy as np
import pytest

from nookwright.checks.bodies import Body, Sort, box_shape, boxes_shape, moved_by, rounds_shape
from nookwright.checks.soundness import unsoundness, volume_of

LOW = np.array([[0.0, 0, 0], [20, 5, 1]])
TURNED = np.array([[0.0, -1, 0, 50], [1, 0, 0, 10], [0, 0, 1, 3], [0, 0, 0, 1]])


def test_boxes_are_sound_and_where_they_should_be() -> None:
    """Two boxes of 2 x 3 x 4: closed, outside out, 24 mm3 each, with a probe on each."""
    shape = boxes_shape(LOW, LOW + np.array([2.0, 3, 4]))
    assert [finding.code for finding in unsoundness("boxes", shape.vertices, shape.triangles)] == ["mesh-in-pieces"]
    assert volume_of(shape.corners) == pytest.approx(48)
    assert len(shape.probes) == 2
    np.testing.assert_array_equal(shape.vertices.min(axis=0), [0, 0, 0])
    np.testing.assert_array_equal(shape.vertices.max(axis=0), [22, 8, 5])


@pytest.mark.parametrize(("axis", "size"), [("z", (8, 8, 30)), ("x", (30, 8, 8)), ("y", (8, 30, 8))])
def test_rounds_lie_along_their_axis(axis: str, size: tuple[float, float, float]) -> None:
    """A cylinder of diameter 8 and length 30: sound, its box exact, its volume that of the circle less the facets."""
    low = np.array([[1.0, 2, 3]])
    shape = rounds_shape(low, low + size, axis)
    assert unsoundness("round", shape.vertices, shape.triangles) == ()
    assert volume_of(shape.corners) == pytest.approx(math.pi * 16 * 30, rel=0.01)
    np.testing.assert_allclose(shape.vertices.min(axis=0), low[0])
    np.testing.assert_allclose(shape.vertices.max(axis=0), low[0] + size)


def test_a_tiny_round_is_still_round() -> None:
    """A diameter below the tolerance of a mesh gives eight sides, not an error."""
    low = np.zeros((1, 3))
    assert unsoundness("round", rounds_shape(low, low + 0.001, "z").vertices, box_shape((0, 0, 0), (1, 1, 1)).triangles)
    assert len(rounds_shape(low, low + 0.001, "z").vertices) == 16


def test_a_body_is_turned_and_moved() -> None:
    """A box of 2 x 3 x 4, turned by a quarter and moved: its place in the space is that of a sketch."""
    body = Body("b", Sort.PART, box_shape((0, 0, 0), (2, 3, 4)), TURNED)
    np.testing.assert_allclose(body.box, [[47, 10, 3], [50, 12, 7]])
    np.testing.assert_allclose(moved_by(TURNED, np.array([2.0, 3, 4])), [47, 12, 7])


def test_the_key_tells_shapes_apart() -> None:
    """The same boxes have the same key, others another."""
    assert box_shape((0, 0, 0), (1, 2, 3)).key == box_shape((0, 0, 0), (1, 2, 3)).key
    assert box_shape((0, 0, 0), (1, 2, 3)).key != box_shape((0, 0, 0), (1, 2, 3.0001)).key
