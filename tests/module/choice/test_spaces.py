from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.liner import plan_liner
from nookwright.module.choice import Inside, module_of
from nookwright.module.choice.spaces import covered_mm2, floors_of
from nookwright.module.estimates import strip_plastic
from nookwright.module.floor import floor_of
from nookwright.parts.liner.filler import filler
from nookwright.sizing.usable import BlockedBox, Usable

if TYPE_CHECKING:
    from nookwright.module.module import Module

PLAIN = Usable("a", 367.0, 423.0, 80.0, 0.0, ())


def box(x0: float, y0: float, x1: float, y1: float) -> BlockedBox:
    """Something in the way, from the floor up."""
    return BlockedBox("a pipe", service=True, x0=x0, y0=y0, z0=0.0, x1=x1, y1=y1, z1=80.0)


@pytest.mark.parametrize("pitch", [17.0, 18.0, 22.5])
def test_the_edge_loss_is_the_floor_beside_whole_cells(pitch: float) -> None:
    """By hand: 1 mm and 0.15 % of each side are play; of the rest, whole cells; of what is left, all is lost."""
    cols, rows = int((367 - 1 - 0.0015 * 367) // pitch), int((423 - 1 - 0.0015 * 423) // pitch)
    found = floors_of((Inside(PLAIN),), module_of(pitch, 6.0, 0.2, ""))
    assert found.edge_dm2 == pytest.approx((367 * 423 - cols * rows * pitch**2) / 1e4)
    assert found.rooms == ((cols, rows, 80.0 - 0.6),)


def test_what_is_in_the_way_is_not_lost_but_the_cells_round_it_are(module: Module) -> None:
    """A pipe of exactly 2 x 2 cells, laid across the borders of cells, costs the 3 x 3 cells that it touches."""
    free = floors_of((Inside(PLAIN),), module).edge_dm2
    floor = floor_of(PLAIN, module)
    x, y = floor.x0 + 5.5 * 18, floor.y0 + 5.5 * 18
    across = Usable("a", 367.0, 423.0, 80.0, 0.0, (box(x, y, x + 36, y + 36),))
    along = Usable("a", 367.0, 423.0, 80.0, 0.0, (box(x - 9, y - 9, x + 27, y + 27),))
    assert floors_of((Inside(across),), module).edge_dm2 - free == pytest.approx(5 * 18**2 / 1e4)
    assert floors_of((Inside(along),), module).edge_dm2 == pytest.approx(free)


boxes = st.lists(st.tuples(*(st.integers(-5, 25),) * 4), max_size=5)


@given(corners=boxes)
def test_boxes_that_overlap_cover_the_floor_once(corners: list[tuple[int, int, int, int]]) -> None:
    """Against counting the unit squares of a floor of 20 x 20."""
    made = [box(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in corners]
    counted = sum(
        any(one.x0 <= x and x + 1 <= one.x1 and one.y0 <= y and y + 1 <= one.y1 for one in made)
        for x in range(20)
        for y in range(20)
    )
    assert covered_mm2(made, 20.0, 20.0) == pytest.approx(counted)


def test_a_rest_too_narrow_for_a_filler_stays_open_and_costs_no_plastic(module: Module) -> None:
    """20 cells of 18 and 3 mm beside them: floor is lost, no strip is printed there."""
    width = (20 * 18 + 3 + 1) / (1 - 0.0015)
    open_ = floors_of((Inside(Usable("a", width, 423.0, 80.0, 0.0, ())),), module)
    strips = [part for part in open_.parts if part[0] == "filler"]
    assert open_.open_dm2 == pytest.approx(3 * 23 * 18 / 1e4)
    assert {length for _, length, _ in strips} == {20 * 18}


def test_without_a_liner_there_is_no_plastic_and_no_height_is_lost(module: Module) -> None:
    """All that is left beside the cells stays open."""
    bare = floors_of((Inside(PLAIN, lined=False, headroom=1.0),), module)
    assert (bare.mass_g, bare.time_s, bare.parts) == (0.0, 0.0, frozenset())
    assert bare.rooms[0][2] == 79.0
    assert 0 < bare.open_dm2 < bare.edge_dm2


def test_a_strip_weighs_nearly_what_its_filler_does(module: Module) -> None:
    """The tongues that it leaves out, and the insets, are less than a twelfth of any filler of a drawer."""
    floor = floor_of(PLAIN, module)
    fillers = plan_liner(floor, PLAIN, 18.0, 1000.0).fillers
    assert fillers
    for placed in fillers:
        plastic = filler(module, placed.spec).plastic
        strip = strip_plastic(module, placed.spec.length, placed.spec.width)
        assert strip.body_mm3 == pytest.approx(plastic.body_mm3, rel=1 / 12)
