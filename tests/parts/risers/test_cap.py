from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.parts.risers.cap import cap, worn
from nookwright.parts.risers.hollow_riser import Chamber, HollowSpec, hollow_riser
from nookwright.parts.risers.riser import RiserTop

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SPECS = [HollowSpec(1, 2, 2), HollowSpec(4, 3, 4), HollowSpec(2, 2, 3, RiserTop.SMOOTH)]


@pytest.mark.parametrize("spec", SPECS)
def test_a_cap_lies_flush_in_its_recess_and_lifts_out(bench: Bench, module: Module, spec: HollowSpec) -> None:
    """In its place and on its way up it shares nothing with its riser; it ends at the face that carries."""
    below, above = bench.solid(hollow_riser(module, spec)), bench.made(worn(module, spec))
    for up in (0.0, 1.0, 2.5, 5.5):
        assert bench.shared_mm3(above.translate([0, 0, up]), below) < 0.001
    assert bench.shared_mm3(above.translate([0, 0, -0.05]), below) > 0.01
    assert above.bounding_box()[5] == pytest.approx(Chamber(module, spec).high, abs=1e-4)


@pytest.mark.parametrize("spec", SPECS)
def test_a_cap_is_snug(bench: Bench, module: Module, spec: HollowSpec) -> None:
    """0.15 on each side of plate and skirt."""
    below, above = bench.solid(hollow_riser(module, spec)), bench.made(worn(module, spec))
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        assert bench.shared_mm3(above.translate([x * 0.14, y * 0.14, 0.01]), below) < 0.001
        assert bench.shared_mm3(above.translate([x * 0.16, y * 0.16, 0.01]), below) > 0.001


def test_a_cap_closes_the_hole(bench: Bench, module: Module) -> None:
    """Seen from above, riser and cap leave nothing open but the clearance, which the recess closes below."""
    spec = SPECS[1]
    room = Chamber(module, spec)
    whole = bench.solid(hollow_riser(module, spec)) + bench.made(worn(module, spec))
    seen = whole.trim_by_plane([0, 0, 1], room.ceiling).project()
    assert seen.area() == pytest.approx(seen.hull().area(), abs=0.05)


def test_a_cap_is_a_part_of_its_own(bench: Bench, module: Module) -> None:
    """Small, named by its size, without a seat; a blade finds a nick of 3 x 0.8 at the edge of its plate."""
    part = cap(module, SPECS[1])
    plate = bench.solid(part).slice(0.5)
    assert plate.area() == pytest.approx(plate.hull().area() - 3 * 0.8, abs=1e-3)
    assert part.name == "cap 16x14"
    assert not part.seated
