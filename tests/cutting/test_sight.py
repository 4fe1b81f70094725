"""Seams go where they are seen least."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.model import Bed
from nookwright.cutting.places import Places
from nookwright.cutting.sections import Sections
from nookwright.cutting.sight import BESIDE, IN_FRONT, Sight, sight_of
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.module.module import Module
    from nookwright.parts.design import Copy


@pytest.fixture
def lone(tiny: Designed, module: Module) -> Copy:
    """A square tray, alone in its drawer."""
    some = next(copy for copy in tiny.copies if copy.part.seated)
    return replace(some, part=tray(module, cols=9, rows=9, height=36), x=20.0, y=100.0, z=0.6, quarter_turns=0)


def cuts_of(copy: Copy, sight: Sight) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where the tray is cut in two, either way."""
    places = Places(copy.part, Sections(copy.part.recipe), sight)
    found = places.cuts(Bed(170, 100, 100), 0.0)
    assert found is not None
    return found.along_x, found.along_y


@pytest.mark.parametrize(
    ("turns", "sight"),
    [
        (0, Sight((1.0, 0.0), (0.0, 1.0))),
        (1, Sight((0.0, 1.0), (1.0, 0.0))),
        (2, Sight((1.0, 0.0), (0.0, -1.0))),
        (3, Sight((0.0, 1.0), (-1.0, 0.0))),
    ],
)
def test_the_front_of_a_turned_tray_is_another_of_its_sides(lone: Copy, turns: int, sight: Sight) -> None:
    """And so is its back: quarter by quarter."""
    assert sight_of([replace(lone, quarter_turns=turns)], [lone]) == sight


def test_a_neighbour_as_high_hides_a_seam(lone: Copy) -> None:
    """Right before most of the front; not a lower one, a narrow one, one apart or one in another drawer."""
    width, depth, _ = lone.size
    before = replace(lone, y=lone.y - depth - 0.6)
    assert sight_of([lone], [lone, before]).seams == (0.0, 0.0)
    for other in (
        replace(before, z=before.z - 1),
        replace(before, x=before.x + width / 2),
        replace(before, y=before.y - BESIDE),
        replace(before, space="another"),
        replace(lone, y=lone.y + depth + 0.6),
    ):
        assert sight_of([lone], [lone, other]).seams == (1.0, 0.0)


def test_what_stands_several_times_is_seen_as_the_mean(lone: Copy) -> None:
    """One copy turned, one not: both sides are seen by half, and neither back counts for all. Orders count as drawn."""
    assert sight_of([lone, replace(lone, quarter_turns=1)], []) == Sight((0.5, 0.5), (0.5, 0.5))
    assert sight_of([replace(lone, space="", quarter_turns=1)], []) == IN_FRONT


def test_of_equal_cuts_the_one_at_the_back_is_taken(lone: Copy) -> None:
    """Nine cells have no middle border; the seam in the sides lies a cell nearer the back, however the tray stands."""
    _, (at,) = cuts_of(lone, sight_of([lone], []))
    assert at > lone.part.size[1] / 2
    _, (at,) = cuts_of(lone, sight_of([replace(lone, quarter_turns=2)], []))
    assert at < lone.part.size[1] / 2
    (at,), _ = cuts_of(lone, sight_of([replace(lone, quarter_turns=1)], []))
    assert at > lone.part.size[0] / 2
    (at,), _ = cuts_of(lone, sight_of([replace(lone, quarter_turns=3)], []))
    assert at < lone.part.size[0] / 2
