"""Spaces as the solver sees them."""

from __future__ import annotations

import pytest

from nookwright.layout.spaces import reached_by_children
from nookwright.survey.models import Choices, Space, SpaceKind


def space(**keys: object) -> Space:
    """A drawer 800 mm up that children can reach."""
    fields: dict[str, object] = {
        "id": "s",
        "kind": SpaceKind.DRAWER,
        "width": 300.0,
        "depth": 400.0,
        "height": 80.0,
        "floor_height": 800.0,
        "load_kg": 10.0,
        "children": True,
    }
    return Space.model_validate(fields | keys)


@pytest.mark.parametrize(
    ("keys", "reach", "reached"),
    [
        ({}, None, True),
        ({}, 800.0, True),
        ({}, 799.0, False),
        ({"locked": True}, None, False),
        ({"children": False}, 2000.0, False),
    ],
)
def test_children_get_in_unless_it_is_locked_or_too_high(
    keys: dict[str, object], reach: float | None, *, reached: bool
) -> None:
    """Only a space that says so, is not locked and is no higher than they reach."""
    assert reached_by_children(space(**keys), Choices(children_reach=reach)) is reached
