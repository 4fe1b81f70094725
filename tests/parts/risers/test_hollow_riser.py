from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.risers.hollow_riser import Chamber, HollowSpec, chamber_mm3, hollow_riser
from nookwright.parts.risers.riser import RiserInside as Inside
from nookwright.parts.risers.riser import RiserSpec, RiserTop, cones_of, middles, riser

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SPECS = [
    HollowSpec(1, 2, 2),
    HollowSpec(3, 2, 3),
    HollowSpec(3, 5, 4, RiserTop.SMOOTH),
    HollowSpec(2, 4, 3, RiserTop.DECK),
]


@pytest.mark.parametrize("spec", SPECS)
def test_bays_hang_together_and_open_in_one_hole(bench: Bench, module: Module, spec: HollowSpec) -> None:
    """One surface, so no bay is shut in; a handle for each window beyond the first of a rib."""
    part, room = hollow_riser(module, spec), Chamber(module, spec)
    assert bench.mesh(part).components == 1
    assert bench.genus(part) == room.handles == len(room.ribs) * (len(room.windows) - 1)


@pytest.mark.parametrize("pitch", [17.0, 18.0, 22.0, 24.0])
@pytest.mark.parametrize("cols", [1, 2, 5])
def test_the_roof_is_short_bridges(pitch: float, cols: int) -> None:
    """No bay is wider than 20."""
    room = Chamber(module_of(pitch, 6.0, 0.2, ""), HollowSpec(cols, 2, 4))
    assert all(0 < stop - start <= 20 for start, stop in room.bays)


@pytest.mark.parametrize("spec", SPECS)
@pytest.mark.parametrize("pitch", [18.0, 23.0])
def test_the_chamber_has_the_volume_that_is_said(bench: Bench, spec: HollowSpec, pitch: float) -> None:
    """Up to the roof and to any level, closed form against mesh within half a percent, and against what is missing."""
    module = module_of(pitch, 6.0, 0.2, "")
    room = Chamber(module, spec)
    body = bench.made(room.solid())
    for share in (0.2, 0.5, 0.9, 1.0):
        level = room.floor + share * (room.ceiling - room.floor)
        below = body.trim_by_plane([0, 0, -1], -level) if share < 1 else body
        assert chamber_mm3(room, level) == pytest.approx(below.volume(), rel=5e-3)
    plain = RiserSpec(spec.cols, spec.rows, spec.rises, Inside.FULL, spec.top, spec.first_has_cone)
    missing = bench.mesh(riser(module, plain)).volume_mm3 - bench.mesh(hollow_riser(module, spec)).volume_mm3
    hole = sum(bench.made(cut).trim_by_plane([0, 0, -1], -room.high).volume() for cut in room.opening()[1:])
    shaft = room.hole_width * 12.0 * (room.roof - room.cap_thickness)
    assert missing == pytest.approx(body.volume() + hole + shaft, rel=1e-3)


@pytest.mark.parametrize("spec", SPECS)
def test_the_hole_lies_between_cones(module: Module, spec: HollowSpec) -> None:
    """In the deck over a cell that carries none, clear of the cones beside it."""
    room = Chamber(module, spec)
    if spec.top is RiserTop.DECK:
        assert middles(module, spec.cols, spec.rows)[room.hole_cell] not in cones_of(
            module, spec.cols, spec.rows, first_has_cone=spec.first_has_cone
        )
    x, y = room.hole_middle
    for at in cones_of(module, spec.cols, spec.rows, first_has_cone=spec.first_has_cone):
        aside = max(abs(at[0] - x) - room.hole_width / 2, abs(at[1] - y) - 6.0)
        assert spec.top is RiserTop.SMOOTH or aside > 1.2 + module.seat.cone_base


def test_what_cannot_be_hollow_is_refused(module: Module) -> None:
    """Too shallow or too low, each with a way out."""
    with pytest.raises(RecipeError, match=r"bays run over two cells.*Turn it by 90 degrees"):
        hollow_riser(module, HollowSpec(3, 1, 3))
    with pytest.raises(RecipeError, match=r"found 1 rises, allowed: at least 2"):
        hollow_riser(module, HollowSpec(3, 2, 1))
