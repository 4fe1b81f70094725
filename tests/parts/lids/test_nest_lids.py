from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from manifold3d import Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import outer_size
from nookwright.parts.lids.nest_lids import LidsSpec, lid_slots, lids_cells, nest_lids

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module


def fitted(module: Module, spec: LidsSpec) -> LidsSpec:
    """The lids in the fewest cells."""
    cols, rows = lids_cells(module, spec)
    return replace(spec, cols=cols, rows=rows)


SPECS = [LidsSpec(1, 1, 30.0, 72.0, 72.0, 5.0, 4, leaning) for leaning in (True, False)]


def lids(module: Module, spec: LidsSpec) -> list[Manifold]:
    """Plates in their slots: each half a millimetre behind the front of its slot, on the floor."""
    lean = 10.0 if spec.leaning else 0.0
    plate = Manifold.cube([spec.across, spec.thickness, spec.tall]).rotate([-lean, 0, 0])
    low = plate.bounding_box()[2]
    x = (outer_size(spec.cols, module.pitch) - spec.across) / 2
    return [plate.translate([x, front + 0.5, module.seat.dome - low]) for front in lid_slots(module, spec)]


@pytest.mark.parametrize("plain", SPECS, ids=["leaning", "upright"])
def test_lids_stand_in_their_slots(bench: Bench, module: Module, plain: LidsSpec) -> None:
    """Each shares nothing with the part, and stays on its cells."""
    spec = fitted(module, plain)
    part = bench.solid(nest_lids(module, spec))
    for plate in lids(module, spec):
        assert bench.shared_mm3(plate, part) < 0.001
        assert plate.bounding_box()[4] <= outer_size(spec.rows, module.pitch) + 1e-6


@pytest.mark.parametrize("plain", SPECS, ids=["leaning", "upright"])
def test_a_rib_parts_each_two_lids(bench: Bench, module: Module, plain: LidsSpec) -> None:
    """Pushed back by 2 a lid meets the rib behind it, the last one too: the rib if it leans, else the wall."""
    spec = fitted(module, plain)
    part = bench.solid(nest_lids(module, spec))
    room = outer_size(spec.rows, module.pitch)
    for number, plate in enumerate(lids(module, spec)):
        by = 2.0 if spec.leaning or number < spec.count - 1 else room - plate.bounding_box()[4] - 0.6
        assert bench.shared_mm3(plate.translate([0, by, 0.01]), part) > 0.01


@pytest.mark.parametrize("plain", SPECS, ids=["leaning", "upright"])
def test_lids_can_be_gripped_in_the_middle(bench: Bench, module: Module, plain: LidsSpec) -> None:
    """Half of the inside has no ribs."""
    spec = fitted(module, plain)
    section = bench.solid(nest_lids(module, spec)).slice(20.0)
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    half = module.inner(spec.cols) / 2
    middle = Manifold.cube([half - 0.1, depth - 2.5, 1.0]).translate([(width - half) / 2 + 0.05, 1.25, 0]).slice(0.5)
    assert (section ^ middle).area() < 1e-6


def test_what_has_no_room_is_refused(module: Module) -> None:
    """Too few cells, too low, lids without a size, each with a way out."""
    spec = fitted(module, SPECS[0])
    with pytest.raises(RecipeError, match=r"lids have room.*Give it more cells"):
        nest_lids(module, replace(spec, rows=spec.rows - 1))
    with pytest.raises(RecipeError, match=r"ribs hold a lid; found height 12, allowed: at least 18"):
        nest_lids(module, replace(spec, height=12.0))
    with pytest.raises(RecipeError, match=r"lids have a size"):
        nest_lids(module, replace(spec, thickness=0.0))
    with pytest.raises(RecipeError, match=r"lids have a size"):
        nest_lids(module, replace(spec, count=0))
