from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.candidates import COST_PER_DM2, COST_PER_G, COST_PER_PRICE, SMALLEST_SIDE
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3, module_of, pitches
from nookwright.module.choice.lots import LEAST_SIDE, Footprints, asked
from nookwright.module.choice.prices import BOUGHT_G, FLOOR_G_DM2, TROUBLE_G
from nookwright.module.estimates import tray_plastic
from nookwright.module.part_plastic import plastic_of
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import PartKind, ThingSize, Way
from nookwright.survey.layout_wishes import OwnBox
from nookwright.survey.models import FloorStyle, Stance

if TYPE_CHECKING:
    from nookwright.module.module import Module

Room = tuple[int, int, float]
side, high = st.floats(10, 200), st.floats(8, 90)


def way(width: float, depth: float, wall: float = 20.0, stack: float = 20.0, *, trouble: float = 0.0) -> Way:
    """A way to keep a lot."""
    thing = ThingSize(width, depth, stack, "")
    floor = FloorStyle.SMOOTH if trouble > 3 else FloorStyle.SHELL
    sizes = (1, 1, 1, width, depth, width, depth, stack, wall)
    return Way(PartKind.TRAY, Stance.UPRIGHT, thing, *sizes, floor, trouble)


def price(module: Module, one: Way) -> float:
    """What a way weighs in the choice, by the closed form of one tray."""
    cols, rows = (max(2, module.cells(side)) for side in (one.inner_width, one.inner_depth))
    height = module.height(module.seat.dome + one.wall_height)
    plastic = tray_plastic(module, cols, rows, height, smooth=one.floor is FloorStyle.SMOOTH)
    floor = cols * rows * module.pitch**2 / 1e4
    return plastic.mass_g(TYPICAL_DENSITY_G_CM3) + FLOOR_G_DM2 * floor + TROUBLE_G * one.trouble


def fits(module: Module, one: Way, rooms: list[Room]) -> bool:
    """Whether some space has room for it, either way round."""
    cols, rows = sorted(max(2, module.cells(side)) for side in (one.inner_width, one.inner_depth))
    tall = max(module.height(module.seat.dome + one.wall_height), module.seat.dome + one.stack_height)
    return any(cols <= min(c, r) and rows <= max(c, r) and tall <= clear for c, r, clear in rooms)


@given(
    lots=st.lists(st.lists(st.builds(way, side, side, high, high, trouble=st.floats(0, 6)), max_size=5), max_size=5),
    rooms=st.lists(st.tuples(st.integers(0, 14), st.integers(0, 14), st.floats(10, 120)), max_size=4),
    pitch=st.sampled_from(pitches()),
)
def test_each_lot_gets_the_cheapest_way_that_has_room(lots: list[list[Way]], rooms: list[Room], pitch: float) -> None:
    """One lot after the other, one way after the other, with the closed form of a single tray: the same sums."""
    module = module_of(pitch, 6.0, 0.2, "")
    kept = Footprints(asked([tuple(lot) for lot in lots], module), module, rooms).kept(module.rise)
    possible = [[one for one in lot if fits(module, one, rooms)] for lot in lots]
    cheapest = [min(lot, key=lambda one: round(price(module, one), 6)) for lot in possible if lot]
    floor = sum(
        FLOOR_G_DM2 * max(2, module.cells(w.inner_width)) * max(2, module.cells(w.inner_depth)) for w in cheapest
    )
    assert kept.homeless == sum(not lot for lot in possible)
    assert kept.taken_dm2 * FLOOR_G_DM2 == pytest.approx(floor * pitch**2 / 1e4)
    weighed = kept.mass_g + FLOOR_G_DM2 * kept.taken_dm2 + TROUBLE_G * kept.trouble
    assert weighed == pytest.approx(sum(price(module, one) for one in cheapest))


def test_the_inside_loss_is_footprint_less_need(module: Module) -> None:
    """Things of 40 x 30 with walls of 1.2 need 42.4 x 32.4 of the 3 x 2 cells of 18."""
    kept = Footprints(asked([(way(40, 30),), ()], module), module, [(10, 10, 80.0)]).kept(6.0)
    assert kept.taken_dm2 == pytest.approx(6 * 18**2 / 1e4)
    assert kept.inside_dm2 == pytest.approx((6 * 18**2 - 42.4 * 32.4) / 1e4)
    assert (kept.footprints, kept.trays, kept.rims, kept.homeless) == (1, 1, 1, 1)


def test_dead_height_is_what_whole_rises_add(module: Module) -> None:
    """A wall of 20 on a dome of 4.4 makes 24.4: 5.6 dead at a rise of 6, 2.6 at 9 and 3."""
    lots = Footprints(asked([(way(40, 30),)], module), module, [(10, 10, 80.0)])
    assert [round(lots.kept(rise).dead, 6) for rise in (3.0, 6.0, 9.0)] == [2.6, 5.6, 2.6]


def test_turned_footprints_are_one(module: Module) -> None:
    """3 x 2 and 2 x 3 cells are the same tray; another height is another tray of the same footprint."""
    lots = [(way(40, 30),), (way(30, 40),), (way(40, 30, 40.0),)]
    kept = Footprints(asked(lots, module), module, [(10, 10, 80.0)]).kept(6.0)
    assert (kept.footprints, kept.trays, kept.rims) == (1, 2, 2)


def test_a_household_without_lots_costs_nothing(module: Module) -> None:
    """No lots, no trays, and no mean of nothing."""
    kept = Footprints(asked([], module), module, [(10, 10, 80.0)]).kept(6.0)
    assert (kept.mass_g, kept.taken_dm2, kept.dead, kept.homeless) == (0.0, 0.0, 0.0, 0)


BOX = OwnBox(id="tin", width=80.0, depth=60.0, height=70.0, mass_g=40.0, owned=1)
TIN = replace(way(72, 52, 20, 70), kind=PartKind.SHOE, box=BOX)
CRADLE = replace(
    way(3 * 31.2 + 1.2, 2 * 31.2 + 1.2, 24, 60),
    kind=PartKind.CRADLE,
    columns=3,
    rows=2,
    pitch_x=31.2,
    pitch_y=31.2,
    pocket=30.0,
    floor=FloorStyle.SMOOTH,
)
SHARED = replace(way(90, 40), compartments=(way(40, 40), way(45, 40)), lots=("a", "b"))


@pytest.mark.parametrize("special", [TIN, CRADLE, SHARED], ids=["shoe", "cradle", "shared"])
@pytest.mark.parametrize("pitch", pitches())
def test_a_part_that_is_no_plain_tray_weighs_nearly_its_own_form(special: Way, pitch: float) -> None:
    """What it has besides is taken from one pitch for all: on any pitch and rise within 5 % of the form itself."""
    reference = module_of(pitches()[0], 6.0, 0.2, "")
    wanted = asked([(special,)], reference)
    for rise in (3.0, 6.0, 12.0):
        module = module_of(pitch, rise, 0.2, "")
        kept = Footprints(wanted, module, [(30, 30, 200.0)]).kept(rise)
        cols, rows = module.cells(special.inner_width), module.cells(special.inner_depth)
        plastic = plastic_of(module, special, cols, rows, module.height(module.seat.dome + special.wall_height))
        assert kept.mass_g == pytest.approx(plastic.mass_g(TYPICAL_DENSITY_G_CM3), rel=0.05)
        if pitch == pitches()[0]:
            assert kept.mass_g == pytest.approx(plastic.mass_g(TYPICAL_DENSITY_G_CM3))


def test_a_tray_with_a_front_is_not_turned_to_fit(module: Module) -> None:
    """6 x 3 cells in a space of 4 x 10: a plain tray lies turned, one that must face the front has no room."""
    plain = way(100, 40)
    fronted = replace(plain, needs=replace(PLAIN, faces_front=True))
    assert Footprints(asked([(plain,)], module), module, [(4, 10, 80.0)]).kept(6.0).homeless == 0
    assert Footprints(asked([(fronted,)], module), module, [(4, 10, 80.0)]).kept(6.0).homeless == 1


def test_a_box_that_must_be_bought_is_priced(module: Module) -> None:
    """A box at 100 is bought only where there is no tray for the lot; one that is there is rather taken."""
    dear = replace(TIN, box=BOX.model_copy(update={"owned": 0, "price": 100.0}))
    tray = way(72, 52, 70, 70, trouble=3)
    for ways, bought, trouble in (((dear, tray), 0.0, 3.0), ((dear,), 100.0, 0.0), ((TIN, tray), 0.0, 0.0)):
        kept = Footprints(asked([ways], module), module, [(10, 10, 90.0)]).kept(6.0)
        assert (kept.bought, kept.trouble) == (bought, trouble)


def test_the_weights_are_those_of_the_layout() -> None:
    """A module is judged by what the layout will go by: grams, floor, trouble, and the narrowest tray."""
    assert pytest.approx(1 / COST_PER_G) == TROUBLE_G
    assert pytest.approx(COST_PER_DM2 / COST_PER_G) == FLOOR_G_DM2
    assert pytest.approx(COST_PER_PRICE / COST_PER_G) == BOUGHT_G
    assert SMALLEST_SIDE == LEAST_SIDE
