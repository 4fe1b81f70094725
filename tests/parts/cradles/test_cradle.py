from __future__ import annotations

import math
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.cradle import (
    EXAMPLE_CLEARANCE,
    Pockets,
    cradle,
    middles_along,
    pockets_of,
    staggered_pockets,
)
from nookwright.parts.model import Kind
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

WALL = 1.2


def tight(module: Module, diameter: float, columns: int, lines: int) -> tuple[int, int, Pockets]:
    """The smallest cradle for so many things of a diameter, in cells, and its pockets."""
    pitch = diameter + EXAMPLE_CLEARANCE + WALL
    cols, rows = (max(2, module.cells(count * pitch + WALL)) for count in (columns, lines))
    pocket = round(diameter + EXAMPLE_CLEARANCE, 2)
    made = pockets_of(module, cols=cols, rows=rows, diameter=pocket, columns=columns, lines=lines, pitch=pitch)
    return cols, rows, made


@pytest.mark.parametrize(
    ("diameter", "lattice", "height"), [(6.0, (1, 1), 12.0), (22.3, (2, 1), 24.0), (50.8, (3, 2), 42.0)]
)
def test_a_cradle_is_one_closed_body_without_a_hole(
    bench: Bench,
    module: Module,
    sound: Callable[..., None],
    *,
    diameter: float,
    lattice: tuple[int, int],
    height: float,
) -> None:
    """Smallest, middle and largest: pockets have floors, so no hole goes through."""
    cols, rows, pockets = tight(module, diameter, *lattice)
    part = cradle(module, cols=cols, rows=rows, height=height, pockets=pockets)
    sound(bench, part, (outer_size(cols, 18.0), outer_size(rows, 18.0), height))
    assert bench.genus(part) == 0
    assert part.kind is Kind.CRADLE


@given(
    pitch=st.sampled_from([17.0, 18.0, 22.0]),
    diameter=st.floats(6, 80),
    columns=st.integers(1, 5),
    lines=st.integers(1, 4),
)
def test_every_cradle_can_be_made(pitch: float, diameter: float, columns: int, lines: int) -> None:
    """No diameter leaves a gap between two sleeves that the recipes refuse."""
    module = module_of(pitch, 6.0, 0.2, "")
    cols, rows, pockets = tight(module, diameter, columns, lines)
    part = cradle(module, cols=cols, rows=rows, height=30, pockets=pockets)
    assert part.size == pytest.approx((outer_size(cols, pitch), outer_size(rows, pitch), 30))


@given(diameter=st.floats(6, 80), columns=st.integers(1, 5), lines=st.integers(1, 4), more=st.integers(0, 3))
def test_pockets_keep_a_wall_to_each_other_and_to_the_outside(
    diameter: float, columns: int, lines: int, more: int
) -> None:
    """From pocket to pocket at least one wall, and beside the outermost a wall and the outer wall."""
    module = module_of(18.0, 6.0, 0.2, "")
    cols, rows, _ = tight(module, diameter, columns, lines)
    pitch = diameter + EXAMPLE_CLEARANCE + WALL
    pocket = round(diameter + EXAMPLE_CLEARANCE, 2)
    made = pockets_of(module, cols=cols + more, rows=rows, diameter=pocket, columns=columns, lines=lines, pitch=pitch)
    for middles, cells in ((made.across, cols + more), (made.back, rows)):
        assert all(right - left - pocket >= WALL - 0.006 for left, right in pairwise(middles))
        assert middles[0] - pocket / 2 >= 2 * WALL - 0.006
        assert outer_size(cells, 18.0) - middles[-1] - pocket / 2 >= 2 * WALL - 0.006
    assert len(made.middles) == columns * lines


@given(length=st.floats(20, 400), count=st.integers(1, 8), pitch=st.floats(5, 50))
def test_sleeves_share_a_wall_or_stand_a_millimetre_apart(length: float, count: int, pitch: float) -> None:
    """Never a slit between: it would fill with strings."""
    if count * pitch + WALL > length:
        return
    middles = middles_along(length, count, pitch, WALL)
    assert sum(middles) / count == pytest.approx(length / 2)
    for left, right in pairwise(middles):
        gap = right - left - (pitch + WALL)  # between the outsides of two sleeves
        assert gap == pytest.approx(-WALL) or gap >= 1 - 1e-9


def test_a_pocket_is_open_above_and_flat_below(bench: Bench, module: Module) -> None:
    """A section just above the floor and one just below the rim show the pocket at its full width."""
    cols, rows, pockets = tight(module, 30.0, 1, 1)
    solid = bench.solid(cradle(module, cols=cols, rows=rows, height=24, pockets=pockets))
    x, y = pockets.middles[0]
    can = Manifold.cylinder(30, 15.38, 15.38, 256).translate([x, y, module.seat.dome])
    assert bench.shared_mm3(solid, can) < 0.001
    wider = Manifold.cylinder(30, 15.45, 15.45, 256).translate([x, y, module.seat.dome])
    assert bench.shared_mm3(solid, wider) > 0.001


@given(diameter=st.floats(6, 40), columns=st.integers(1, 3), lines=st.integers(1, 3))
def test_plastic_counts_what_sleeves_share_once(diameter: float, columns: int, lines: int) -> None:
    """Sleeves share walls with each other and with the outside; the closed form is good to two per cent."""
    module = module_of(18.0, 6.0, 0.2, "for the tests")
    cols, rows, pockets = tight(module, diameter, columns, lines)
    part = cradle(module, cols=cols, rows=rows, height=30.0, pockets=pockets)
    assert part.plastic.body_mm3 == pytest.approx(MeshKernel().mesh(part.recipe).volume_mm3, rel=0.02)


@pytest.mark.parametrize(
    ("diameter", "columns", "lines", "short"),
    [(12.0, 3, 3, True), (24.0, 4, 2, False), (24.0, 1, 3, False), (41.7, 3, 4, True)],
)
def test_staggered_pockets_make_a_sound_cradle(
    bench: Bench, module: Module, sound: Callable[..., None], *, diameter: float, columns: int, lines: int, short: bool
) -> None:
    """One closed body without a hole; a wall between any two pockets; things that fill them meet nothing."""
    pitch = diameter + WALL
    wide, deep = (columns + (0 if short else 0.5)) * pitch, (1 + (lines - 1) * 3**0.5 / 2) * pitch
    cols, rows = (max(2, module.cells(side + WALL)) for side in (wide, deep))
    made = staggered_pockets(
        module, cols=cols, rows=rows, diameter=diameter, columns=columns, lines=lines, pitch=pitch, short=short
    )
    assert len(made.middles) == columns * lines - (lines // 2 if short else 0)
    apart = [math.dist(one, other) for one, other in combinations(made.middles, 2)]
    assert min(apart) == pytest.approx(pitch, abs=1e-3)
    part = cradle(module, cols=cols, rows=rows, height=24.0, pockets=made)
    sound(bench, part, (outer_size(cols, 18.0), outer_size(rows, 18.0), 24.0))
    assert bench.genus(part) == 0
    pegs = [Manifold.cylinder(30.0, diameter / 2 - 0.02, -1.0, 64).translate([x, y, 4.5]) for x, y in made.middles]
    assert sum(bench.shared_mm3(bench.solid(part), peg) for peg in pegs) < 0.01
    assert part.plastic.body_mm3 == pytest.approx(bench.solid(part).volume(), rel=0.02)
