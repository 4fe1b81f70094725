from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner import PanelSpec, Side, Slot
from nookwright.parts.liner.keys import CLEARANCE, key, slot_land, tongue
from nookwright.parts.liner.panel import panel
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module


def test_a_key_is_one_closed_body(bench: Bench, module: Module, sound: Callable[..., None]) -> None:
    """8 wide, 12 long, as thick as the panel."""
    part = key(module)
    sound(bench, part, (8, 12, 0.6))
    assert bench.genus(part) == 0
    assert part.kind is Kind.KEY


@pytest.mark.parametrize("along_x", [True, False])
def test_a_key_ties_two_panels(bench: Bench, module: Module, *, along_x: bool) -> None:
    """Free in its place and within its clearance; two panels with it cannot be pulled apart by half a millimetre."""
    sides = (Side.RIGHT, Side.LEFT) if along_x else (Side.BACK, Side.FRONT)
    one, other = (panel(module, PanelSpec(4, 4, (), first_has_cone=True, slots=(Slot(side, 2),))) for side in sides)
    beyond = (72.0, 0.0) if along_x else (0.0, 72.0)
    here = bench.solid(one, x=0.2, y=0.2)
    there = bench.solid(other, x=beyond[0] + 0.2, y=beyond[1] + 0.2)
    x, y = (72 - 6, 36 - 4) if along_x else (36 - 4, 72 - 6)
    loose = bench.solid(key(module), x=x, y=y, turns=1 if along_x else 0)
    assert bench.shared_mm3(here, there) == 0
    for dx, dy in ((0, 0), (0.1, 0), (-0.1, 0), (0, 0.1), (0, -0.1)):
        moved = loose.translate([dx, dy, 0])
        assert bench.shared_mm3(moved, here) < 0.001
        assert bench.shared_mm3(moved, there) < 0.001
    pulled = there.translate([1.2 if along_x else 0, 0 if along_x else 1.2, 0])
    middle = loose.translate([0.6 if along_x else 0, 0 if along_x else 0.6, 0])
    assert bench.shared_mm3(middle, here) > 0.001
    assert bench.shared_mm3(middle, pulled) > 0.001


def test_a_slot_is_a_tongue_and_its_clearance() -> None:
    """At the border a slot is wider than a tongue by the clearance on each side, and deeper by it."""
    slim, wide = tongue(0.0), tongue(0.0, CLEARANCE)
    assert slim.bounds == (-4, 0, 4, 6)
    x0, _, x1, y1 = wide.bounds
    assert y1 == pytest.approx(6 + 0.12)
    assert x1 == -x0 == pytest.approx(4 + 0.12 + 0.25 * 0.12)
    assert 0.10 <= CLEARANCE <= 0.15


def test_a_slot_has_full_plate_around_it() -> None:
    """3 mm beside and behind it."""
    assert slot_land() == (14, 9)
