from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.sizing.usable import reading_error, usable_of
from nookwright.survey.models import Space
from nookwright.survey.readings import Readings


def space(**changes: Any) -> Space:  # noqa: ANN401 - any key of a space
    """A drawer of 300 x 200 x 80."""
    content = {"id": "a", "kind": "drawer", "width": 300, "depth": 200, "height": 80, "floor_height": 0, "load_kg": 5}
    return Space.model_validate(content | changes)


@given(floor=st.lists(st.floats(100, 900), min_size=1, max_size=4), rim=st.lists(st.floats(100, 900), max_size=4))
def test_the_smallest_reading_counts_less_its_error(floor: list[float], rim: list[float]) -> None:
    """At the floor or at the rim, whichever is smaller; half a millimetre less from three readings on, else one."""
    usable = usable_of(space(width={"floor": floor, "rim": rim}))
    error = 0.5 if len(floor) + len(rim) >= 3 else 1.0
    assert usable.width == pytest.approx(min(floor + rim) - error)
    assert usable.depth == 199


def test_more_readings_never_make_the_error_larger() -> None:
    """One, two, three, four readings of the same."""
    errors = [reading_error(Readings(floor=(300.0,) * count)) for count in (1, 2, 3, 4)]
    assert errors == [1.0, 1.0, 0.5, 0.5]


def test_a_mat_costs_height_only() -> None:
    """What stays in below the liner is taken off the clear height."""
    bare, matted = usable_of(space()), usable_of(space(mat=3))
    assert bare.height - matted.height == 3
    assert (bare.width, bare.depth) == (matted.width, matted.depth)


def test_nothing_is_left_of_a_slit() -> None:
    """Sides end at nothing, not below."""
    usable = usable_of(space(width=0.5, height=2, mat=5))
    assert (usable.width, usable.height) == (0, 0)


def test_blocked_boxes_grow_by_three_but_not_through_the_walls() -> None:
    """On all sides; no further than the walls at the front left and the floor."""
    blocked = {"reason": "pipe", "service": True, "x": 1, "y": 50, "z": 0, "width": 20, "depth": 10, "height": 30}
    box = usable_of(space(blocked=[blocked])).blocked[0]
    assert (box.x0, box.y0, box.z0) == (0, 47, 0)
    assert (box.x1, box.y1, box.z1) == (24, 63, 33)
    assert (box.reason, box.service) == ("pipe", True)


def test_a_blocked_box_without_a_height_reaches_the_top() -> None:
    """All the clear height; with a mat it is counted from the top of the mat, where parts stand."""
    blocked = {"reason": "pipe", "x": 1, "y": 50, "width": 20, "depth": 10}
    assert usable_of(space(blocked=[blocked], mat=3)).blocked[0].z1 == 76


def test_heights_of_blocked_boxes_are_counted_from_the_mat() -> None:
    """They were measured from the bare floor; parts stand on the mat."""
    pipe = {"reason": "pipe", "z": 20, "width": 10, "depth": 10, "height": 10}
    bare, matted = (usable_of(space(blocked=[pipe], mat=mat)).blocked[0] for mat in (0, 3))
    assert (bare.z0 - matted.z0, bare.z1 - matted.z1) == (3, 3)
