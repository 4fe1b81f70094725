from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from manifold3d import CrossSection, JoinType

from nookwright.making.estimate.contours import loops_of
from nookwright.making.estimate.insets import Insets

DISTANCES = (0.2, 0.43, 0.62, 0.84)


def by_kernel(section: CrossSection) -> list[tuple[float, float]]:
    """Area and length of what is left of a section, by the kernel alone."""
    left = [section.offset(-one, JoinType.Miter) for one in DISTANCES]
    return [(one.area(), loops_of(one.to_polygons()).length) for one in left]


def of(section: CrossSection, insets: Insets) -> list[tuple[float, float]]:
    """The same by parts."""
    return [(float(one.areas.sum()), one.length) for one in insets.of(loops_of(section.to_polygons()))]


@given(
    cols=st.integers(1, 4),
    rows=st.integers(1, 4),
    radius=st.sampled_from([1.5, 4.0, 6.0, 8.0, 8.6]),
    other=st.sampled_from([1.0, 0.97, 0.6]),
    hollow=st.sampled_from([0.0, 0.5, 0.9]),
    wall=st.sampled_from([0.0, 1.2, 4.0]),
    holes=st.booleans(),
)
@example(cols=3, rows=3, radius=8.6, other=1.0, hollow=0.0, wall=0.0, holes=True)
def test_by_parts_is_what_the_kernel_finds_for_the_whole(
    *, cols: int, rows: int, radius: float, other: float, hollow: float, wall: float, holes: bool
) -> None:
    """Plates with holes, islands, rings and walls round them, near and far from each other: areas and lengths agree."""
    places = [(18.0 * (col + 0.5), 18.0 * (row + 0.5)) for col in range(cols) for row in range(rows)]
    disc = CrossSection.circle(radius, 40)
    if hollow and not holes:
        disc -= CrossSection.circle(radius * hollow, 40)
    discs = disc, disc.scale((other, other))
    features = CrossSection.compose([discs[n % 2].translate(place) for n, place in enumerate(places)])
    plate = CrossSection.square((18.0 * cols, 18.0 * rows))
    if holes:
        section = plate - features
    elif wall:
        section = (plate.offset(3.0, JoinType.Miter) - plate.offset(3.0 - wall, JoinType.Miter)) + features
    else:
        section = features
    for found, expected in zip(of(section, Insets(DISTANCES)), by_kernel(section), strict=True):
        assert found == pytest.approx(expected, rel=1e-6, abs=1e-3)


def test_islands_that_are_alike_are_moved_once() -> None:
    """Forty-eight rings in a wall: the kernel moves one of them and the wall."""
    rings = CrossSection.circle(7.0, 48) - CrossSection.circle(6.0, 48)
    places = [(18.0 * col, 18.0 * row) for col in range(8) for row in range(6)]
    wall = CrossSection.square((160.0, 120.0)).translate((-16.0, -14.0))
    section = CrossSection.compose([rings.translate(one) for one in places]) + (
        wall - wall.offset(-1.2, JoinType.Miter)
    )
    insets = Insets(DISTANCES)
    insets.of(loops_of(section.to_polygons()))
    assert insets.moved == 2 * len(DISTANCES)


def test_holes_by_themselves_need_no_kernel() -> None:
    """A plate with sockets: the kernel moves its outline alone."""
    plate = CrossSection.square((144.0, 108.0))
    places = [(18.0 * col + 9, 18.0 * row + 9) for col in range(8) for row in range(6)]
    section = plate - CrossSection.compose([CrossSection.circle(5.0, 48).translate(one) for one in places])
    insets = Insets(DISTANCES)
    found = insets.of(loops_of(section.to_polygons()))
    assert insets.moved == len(DISTANCES)
    assert [one.count for one in found] == [49] * len(DISTANCES)


def test_nothing_stays_nothing() -> None:
    """An empty section has no contours to move."""
    assert all(one.count == 0 for one in Insets(DISTANCES).of(loops_of([])))
    assert np.isclose(loops_of([]).length, 0.0)
