from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.dispensers import groove_depth, side_clearance
from nookwright.module.seat import CONE_SLOPE_DEG
from nookwright.parts.lids.lid_mechanics import jamming_length, snap_strain
from nookwright.parts.lids.sliding_lid import (
    SlidingOrder,
    closed,
    place,
    sliding_lid,
    sliding_pair,
    slot_for,
)
from nookwright.parts.lids.sliding_rim import SlidingRim, SlidingSpec, Slot
from nookwright.parts.lids.sliding_tray import sliding_tray
from nookwright.survey.dispensed import Dispensed

if TYPE_CHECKING:
    from manifold3d import Manifold
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SPECS = {
    "smallest": SlidingSpec(1, 3, 18.0),
    "middle": SlidingSpec(4, 6, 30.0, smooth=True),
    "with a slot": SlidingSpec(4, 6, 30.0, slot=Slot(30.0, 16.0, 4.0)),
}


@pytest.fixture(params=list(SPECS.values()), ids=list(SPECS))
def spec(request: pytest.FixtureRequest) -> SlidingSpec:
    """A tray with a sliding lid."""
    found: SlidingSpec = request.param
    return found


def pair(bench: Bench, module: Module, spec: SlidingSpec) -> tuple[Manifold, Manifold]:
    """The tray and its closed lid."""
    return bench.solid(sliding_tray(module, spec)), bench.made(closed(module, spec))


def test_the_lid_slides_out_without_touching(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """In steps of an eighth it shares nothing with its tray, lifted by its catch while that passes the front wall."""
    below, above = pair(bench, module, spec)
    rim = SlidingRim(module, spec)
    passing = [rim.opening * share for share in (0.2, 0.6, 1.0)]
    for out in (*(min(rim.way * eighth / 8, rim.way - 0.01) for eighth in range(9)), *passing):
        lifted = 0.41 if 0 < out < rim.opening + 2.0 else 0.0
        assert bench.shared_mm3(above.translate([0, -out, lifted]), below) < 0.001


def test_the_catch_keeps_a_closed_lid(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """Not lifted, it slides by 0.2 and meets the front wall from inside, by a face steep enough for a slam of 5 g."""
    below, above = pair(bench, module, spec)
    rim = SlidingRim(module, spec)
    assert bench.shared_mm3(above.translate([0, -0.19, 0.001]), below) < 0.001
    stopped = above.translate([0, -0.4, 0.01]) ^ below
    assert stopped.volume() > 0.01
    assert stopped.bounding_box()[4] <= rim.opening + 1e-3
    assert math.tan(math.radians(CONE_SLOPE_DEG) + math.atan(0.2)) > 2 * 5


def test_the_stop_holds_where_the_lid_would_jam(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """A little further its noses are in the front wall; there as much is guided as must be at the worst friction."""
    below, above = pair(bench, module, spec)
    rim = SlidingRim(module, spec)
    further = above.translate([0, -rim.way - 0.05, 0.02]) ^ below
    assert further.volume() > 0.01
    assert further.bounding_box()[4] <= rim.opening + 1e-3
    assert rim.guided - rim.way >= jamming_length(rim.lid_width) - 1e-6
    assert rim.way >= 0.3 * rim.depth


def test_tongues_bear_the_bending_over_the_front_wall(module: Module, spec: SlidingSpec) -> None:
    """At most 0.75 % of strain, half of what printed PLA yields at."""
    rim = SlidingRim(module, spec)
    assert snap_strain(rim.thickness, 0.8, rim.tongue) <= 0.0075


def test_the_lid_cannot_be_lifted_out(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """It has as much above it as at its sides, 0.3 or more, and no more, closed or drawn, and pushed to either side."""
    below, above = pair(bench, module, spec)
    rim = SlidingRim(module, spec)
    assert rim.clearance >= 0.3
    assert bench.shared_mm3(above.translate([0, 0, rim.clearance - 0.02]), below) < 0.001
    for out in (0.0, rim.way - 0.1):
        for aside in (0.0, rim.clearance, -rim.clearance):
            assert bench.shared_mm3(above.translate([aside, -out, rim.clearance + 0.05]), below) > 0.01


def test_the_lid_has_its_clearance_at_the_sides(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """It meets the groove's wall after it, to within the mesh's tolerance; 0.8 of it stays in the other groove."""
    below, above = pair(bench, module, spec)
    rim = SlidingRim(module, spec)
    for side in (1, -1):
        assert bench.shared_mm3(above.translate([side * (rim.clearance - 0.02), 0, 0.02]), below) < 0.001
        assert bench.shared_mm3(above.translate([side * (rim.clearance + 0.02), 0, 0.02]), below) > 0.001
    assert rim.groove - 2 * rim.clearance >= 0.8 - 1e-9


def test_clearance_and_depth_follow_the_bow_of_the_rim() -> None:
    """0.3 and 0.4 % of the length; twice that and 0.8: 2.2 at a length of 100, 2.7 at 160."""
    assert side_clearance(0) == 0.3
    assert groove_depth(100) == pytest.approx(2.2)
    assert groove_depth(160) == pytest.approx(2.7, abs=0.05)


def test_the_closed_lid_stays_on_its_cells(bench: Bench, module: Module, spec: SlidingSpec) -> None:
    """Its box lies in the tray's, below its rim, its front flush; ``place`` says where it begins."""
    below, above = pair(bench, module, spec)
    box, around = above.bounding_box(), below.bounding_box()
    assert all(inside >= outside - 1e-4 for inside, outside in zip(box[:3], around[:3], strict=True))
    assert all(inside <= outside + 1e-4 for inside, outside in zip(box[3:], around[3:], strict=True))
    assert box[:3] == pytest.approx(place(module, spec), abs=1e-4)
    assert box[1] == pytest.approx(0, abs=1e-4)


def test_the_slot_goes_through_and_its_lip_hangs_down(bench: Bench, module: Module) -> None:
    """Below the lid there is a ring 4 deep and as wide as the slot and two walls, nothing in its middle."""
    spec = SPECS["with a slot"]
    rim = SlidingRim(module, spec)
    ring = bench.made(closed(module, spec)).slice(rim.sill - 3.9)
    x0, y0, x1, y1 = ring.bounds()
    assert (x1 - x0, y1 - y0) == pytest.approx((32.4, 18.4), abs=1e-3)
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((rim.width / 2, rim.depth / 2), abs=1e-3)
    assert ring.area() < 0.3 * ring.hull().area()


@pytest.mark.parametrize("what", list(Dispensed))
def test_each_thing_dispensed_has_a_slot_that_can_be_made(module: Module, what: Dispensed) -> None:
    """In a tray of 6 x 10 cells."""
    spec = SlidingSpec(6, 10, 42.0, slot=slot_for(module, what, cols=6))
    assert sliding_lid(module, spec).parameters[-4:-1] == (
        ("slot_across", spec.slot.across), ("slot_along", spec.slot.along), ("slot_lip", spec.slot.lip),
    ) if spec.slot else False  # fmt: skip


@pytest.mark.parametrize("layer", [0.16, 0.25, 0.3])
def test_it_slides_at_every_layer(bench: Bench, layer: float) -> None:
    """Whatever the layer rounds the heights to."""
    module = module_of(22.0, 6.0, layer, "")
    spec = SlidingSpec(2, 4, module.height(30))
    below, above = pair(bench, module, spec)
    for out in (0.0, SlidingRim(module, spec).way - 0.01):
        assert bench.shared_mm3(above.translate([0, -out, 0]), below) < 0.001


@pytest.mark.parametrize(
    ("spec", "why"),
    [
        (SlidingSpec(6, 3, 30.0), "fair share of its tray before it would jam.*longer side"),
        (SlidingSpec(1, 2, 30.0), "tongue fits behind the thumb grip"),
        (SlidingSpec(3, 6, 6.0), "room for fillet, ledge and grooves.*at least 12"),
        (SlidingSpec(8, 20, 30.0), "grooves fit the inside corners.*at most 300"),
        (SlidingSpec(4, 6, 30.1), "whole number of layers"),
        (SlidingSpec(4, 6, 30.0, slot=Slot(60.0, 16.0, 4.0)), "between the two tongues"),
        (SlidingSpec(1, 4, 30.0, slot=Slot(6.0, 6.0, 4.0)), "between the two tongues"),
        (SlidingSpec(4, 6, 30.0, slot=Slot(30.0, 90.0, 4.0)), "behind the thumb grip and before the rear ledge"),
        (SlidingSpec(4, 6, 30.0, slot=Slot(30.0, 16.0, 20.0)), "lip stays well above the floor"),
    ],
)
def test_what_cannot_slide_is_refused(module: Module, spec: SlidingSpec, why: str) -> None:
    """Tray and lid alike, before any kernel sees them, with the reason and a way out."""
    for make in (sliding_tray, sliding_lid):
        with pytest.raises(RecipeError, match=why):
            make(module, spec)


def test_a_slot_can_be_asked_for_by_what_is_drawn_through_it(module: Module) -> None:
    """Sheets, bags or gloves; sizes of one's own go before; without either the lid is plain."""
    for what in Dispensed:
        spec = SlidingSpec(6, 10, 42.0, slot=slot_for(module, what, cols=6))
        wanted = sliding_tray(module, spec), sliding_lid(module, spec)
        assert sliding_pair(module, SlidingOrder(6, 10, 42.0, dispensed=what)) == wanted
    own = Slot(20.0, 12.0, 4.0)
    assert SlidingOrder(6, 10, 42.0, dispensed=Dispensed.BAGS, slot=own).spec(module).slot == own
    assert SlidingOrder(6, 10, 42.0).spec(module).slot is None
