from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold
from tests.making.estimate.solids import block, box, cones, mesh_of, peg, settings

from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.piece import estimate
from nookwright.survey.printer_profile import Pattern

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.solids.triangles import Mesh

SHAPES = (block, box, peg, lambda: cones(5))


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("pattern", list(Pattern))
def test_nothing_is_lost_at_full_infill(shape: Callable[[], Mesh], pattern: Pattern) -> None:
    """All that is laid and the empty strips along outer contours are the sections."""
    found = estimate(shape(), settings(infill=pattern.value, infill_percent=100))
    assert found.plastic_mm3 + found.missing_mm3 == pytest.approx(found.sections_mm3, rel=1e-9)
    assert min(found.laid_mm3.values()) >= 0
    assert min(found.spent_s.values()) >= 0


def test_half_the_infill_is_half_the_plastic_inside() -> None:
    """Walls and skins stay as they are."""
    whole, half = (estimate(block(height=10.0), settings(infill_percent=one)) for one in (100, 50))
    assert half.laid_mm3[Laid.INFILL] == pytest.approx(whole.laid_mm3[Laid.INFILL] / 2)
    assert half.laid_mm3[Laid.INFILL] > 1000
    for kind in (Laid.OUTER, Laid.INNER, Laid.SKIN):
        assert half.laid_mm3[kind] == whole.laid_mm3[kind]
    assert half.time_s < whole.time_s


def test_skins_close_a_block_above_and_below() -> None:
    """Three solid layers below, five above, of thirty; a thinner block is solid throughout."""
    found, plain = (estimate(block(height=6.0), settings(infill_percent=one)) for one in (20, 100))
    inside = (plain.laid_mm3[Laid.INFILL] + plain.laid_mm3[Laid.SKIN]) / 30
    assert found.laid_mm3[Laid.SKIN] == pytest.approx(8 * inside)
    assert found.laid_mm3[Laid.INFILL] == pytest.approx(22 * inside * 0.2)
    assert estimate(block(height=1.6), settings()).laid_mm3[Laid.INFILL] == 0


def test_a_step_is_closed_from_above_and_from_below() -> None:
    """What lies under the edge of a step is solid for five layers, though the block goes on beside it."""
    low = Manifold.cube((60.0, 40.0, 8.0))
    stepped = estimate(mesh_of(low + Manifold.cube((30.0, 40.0, 16.0))), settings(infill_percent=0))
    plain = estimate(mesh_of(Manifold.cube((30.0, 40.0, 16.0))), settings(infill_percent=0))
    ledge = estimate(mesh_of(Manifold.cube((30.0, 40.0, 8.0))), settings(infill_percent=0))
    more = stepped.laid_mm3[Laid.SKIN] - plain.laid_mm3[Laid.SKIN]
    assert more == pytest.approx(ledge.laid_mm3[Laid.SKIN], rel=0.1)


def test_every_cone_is_an_island() -> None:
    """One retraction for each way from cone to cone in each of their fifteen layers, and some for their fill."""
    few, many = (estimate(cones(count), settings()) for count in (4, 12))
    assert many.retractions - few.retractions >= 15 * 8
    assert many.spent_s[Spent.TRAVEL] > 2 * few.spent_s[Spent.TRAVEL]


def test_a_small_piece_waits_for_its_layers() -> None:
    """Each layer of a thin peg takes the least time of a layer."""
    found = estimate(peg(radius=2.0, height=4.0), settings(least_layer_s=10))
    assert found.time_s == pytest.approx(20 * 10)
    assert found.time_in_company_s < found.time_s / 2


def test_a_brim_goes_round_the_outside_alone() -> None:
    """Of a block with a hole through it: about the outline times the width, in one layer, none in the hole."""
    holed = mesh_of(Manifold.cube((40.0, 30.0, 6.0)) - Manifold.cube((20.0, 16.0, 8.0)).translate((10.0, 7.0, -1.0)))
    plain, brimmed = (estimate(holed, settings(brim=one)) for one in (0, 4))
    assert plain.laid_mm3[Laid.BRIM] == 0
    assert brimmed.laid_mm3[Laid.BRIM] == pytest.approx(0.2 * (140 * 4 + 3.14 * 16), rel=0.06)
    assert brimmed.spent_s[Spent.BRIM] > 0
    assert brimmed.first_mm2 == plain.first_mm2


def test_the_first_layer_is_slower() -> None:
    """It takes longer than the second, which is the same."""
    found = estimate(block(), settings())
    assert found.layer_s[0] > 1.5 * found.layer_s[1]


@given(width=st.floats(5, 80), depth=st.floats(5, 80), height=st.floats(0.4, 8), wall=st.integers(1, 4))
def test_any_block_keeps_its_plastic(width: float, depth: float, height: float, wall: int) -> None:
    """Whatever its size and walls, at full infill, and the time of its kinds is its time."""
    found = estimate(block(width, depth, height), settings(infill_percent=100, walls=wall))
    assert found.plastic_mm3 + found.missing_mm3 == pytest.approx(found.sections_mm3, rel=1e-9)
    apart = found.spent_s[Spent.LAYER_CHANGE] + found.spent_s[Spent.WAITING]
    assert sum(found.layer_s) + apart == pytest.approx(found.time_s)


def test_a_tall_box_is_no_more_work_than_a_low_one() -> None:
    """Sections and moved contours are counted: ten times the layers, the same work."""
    low, tall = (estimate(box(height=one), settings()) for one in (20.0, 200.0))
    assert (tall.layers, tall.sections, tall.offsets) == (1000, low.sections, low.offsets)
    assert low.sections == 2


def test_the_same_piece_gives_the_same_figures() -> None:
    """To the last bit."""
    assert estimate(cones(7), settings()) == estimate(cones(7), settings())
