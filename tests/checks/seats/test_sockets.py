"""Sockets against the module: each fault of one is found with its code, the twin just inside is not."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import pytest

from nookwright.checks.seats.sockets import EXACT
from nookwright.module.seat import CONE_SLOPE_DEG, draw_of
from nookwright.parts.liner.fence import End, FenceSpec, fence
from nookwright.parts.shoes.shoe import Owned, ShoeFloor, ShoeSpec, shoe, shoe_cells
from nookwright.parts.trays.bent_plan import Missing
from nookwright.parts.trays.bent_tray import bent_tray
from nookwright.parts.trays.tray import tray

from .conftest import at, cell, cylinder

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench

    Spoil = Callable[[manifold3d.Manifold], manifold3d.Manifold]

SMALL = (26.7, 17.7)  # the middle of a tray of 3 x 2 cells
FIRST = (SMALL[0] - 18, SMALL[1] - 9)  # its front left socket; 20.1 from the middle, so its clearance is 0.4


def bored(by: float, *, move: float = 0.0, slope_deg: float = 75.0, depth: float = 3.4) -> Spoil:
    """The first socket filled and bored anew, wider by some and somewhere else."""

    def spoil(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        plug = cylinder(0, 4.2, 7.0, 7.0, FIRST)
        wide, draw = 2.9 + by, 1 / math.tan(math.radians(slope_deg))
        place = (FIRST[0] + move, FIRST[1])
        lead = cylinder(0, 0.546, wide + 0.4, wide - 0.546 * draw, place)
        below = cylinder(-1, 0, wide + 0.4, wide + 0.4, place)
        bore = cylinder(0, depth, wide, wide - depth * draw, place)
        return solid + plug - (lead + bore + below)

    return spoil


def codes(bench: Bench, part: Part, spoil: Spoil | None = None) -> list[tuple[str, str, str]]:
    """What is wrong with a part by itself."""
    return bench.having("tray", part, cell(1, 2), spoil=spoil).wrong()


def test_sound_sockets_are_passed(empty: Bench, small: Part) -> None:
    """As drawn, and one bored anew in the same way."""
    assert codes(empty, small) == [("stop", "part-not-engaged", "tray")]  # there is no liner yet
    assert codes(empty, small, bored(0.0)) == [("stop", "part-not-engaged", "tray")]


@pytest.mark.parametrize(
    ("spoil", "code"),
    [
        (bored(-2 * EXACT), "socket-tight"),
        (bored(2 * EXACT), "socket-wide"),
        (bored(0.0, move=2 * EXACT), "socket-shifted"),
        (bored(0.0, move=3.0), "socket-shifted"),
        (bored(0.0, depth=3.4 - 2 * EXACT), "socket-shallow"),
        (bored(0.0, slope_deg=80.0), "socket-slope"),
        (bored(0.0, slope_deg=70.0), "socket-slope"),
    ],
)
def test_a_socket_that_is_not_the_seats_stops(stood: Bench, small: Part, spoil: Spoil, code: str) -> None:
    """Twice the limit too narrow, too wide, aside, too shallow; five degrees too steep or too flat."""
    assert ("stop", code, "tray") in codes(lined_of(stood), small, spoil)


@pytest.mark.parametrize("spoil", [bored(-0.5 * EXACT), bored(0.5 * EXACT), bored(0.0, move=0.5 * EXACT)])
def test_just_inside_its_limits_a_socket_is_passed(stood: Bench, small: Part, spoil: Spoil) -> None:
    """Half of the limit too narrow, too wide, or aside."""
    assert codes(lined_of(stood), small, spoil) == []


def lined_of(stood: Bench) -> Bench:
    """The bench without its tray."""
    kit = stood.kit.model_copy(update={"parts": stood.kit.parts[:1], "placements": stood.kit.placements[:1]})
    return type(stood)(kit, stood.room, stood.shapes, stood.kernel)


def test_a_closed_socket_is_missing(lined: Bench, small: Part) -> None:
    """Filled up, a cone would lift the tray there: the part, and its place."""

    def fill(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid + cylinder(0, 4.2, 5.0, 5.0, FIRST)

    bench = lined.having("tray", small, cell(1, 2), spoil=fill)
    assert ("stop", "socket-missing", "tray") in bench.wrong()
    first = f"the first {FIRST[0]:.1f} mm from its left and {FIRST[1]:.1f} mm from its front"
    assert first in bench.said("socket-missing").text


def test_a_part_without_any_socket_is_found(lined: Bench, small: Part) -> None:
    """A plain block of its size: every cell lacks its socket, and it stands on the cones."""

    def block(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return manifold3d.Manifold.cube(list(solid.bounding_box()[3:]))

    found = codes(lined, small, block)
    assert found == [("stop", "socket-missing", "tray"), ("stop", "part-on-cones", "tray")]


def test_a_socket_without_its_lead_in_is_found(lined: Bench, small: Part) -> None:
    """A first layer that spreads would close on the cone."""

    def straight(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        plug = cylinder(0, 4.2, 7.0, 7.0, FIRST)
        bore = cylinder(-1, 3.4, 2.9 + draw_of(1.0), 2.9 - draw_of(3.4), FIRST)
        return solid + plug - bore

    assert codes(lined, small, straight) == [("stop", "socket-lead-in", "tray")]


def test_a_pin_in_an_open_cell_is_tight(empty: Bench, module: Module) -> None:
    """A shoe with an open floor needs no sockets there; what reaches into a cone's place is found."""
    owned = Owned(120.0, 120.0)
    cols, rows = shoe_cells(module, owned, 24.0)
    frame = shoe(module, ShoeSpec(owned, cols, rows, 24.0, ShoeFloor.OPEN))
    whole = [one for one in empty.having("shoe", frame, at()).wrong() if one[1].startswith("socket")]
    assert whole == []

    def rib(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        low = solid.bounding_box()
        return solid + manifold3d.Manifold.cube([low[3] - 2, 3.0, 2.0]).translate([1, low[4] / 2 - 9 + 2.6, 0])

    spoiled = [one[1] for one in empty.having("shoe", frame, at(), spoil=rib).wrong() if one[1].startswith("socket")]
    assert spoiled == ["socket-tight"]


@pytest.mark.parametrize("cells", [2, 6])
def test_parts_that_are_no_rectangles_are_passed(empty: Bench, module: Module, cells: int) -> None:
    """A fence with a tongue past its last cell, a tray bent round a corner."""
    parts = [
        fence(module, FenceSpec(cells, 24.0, End.SLOT, End.TONGUE)),
        bent_tray(module, cols=cells, rows=cells, missing=Missing(cells // 2, cells // 2, cells // 2, cells // 2),
                  height=24.0, picked_by_hand=False),
    ]  # fmt: skip
    for number, part in enumerate(parts):
        bench = empty.having(f"part-{number}", part, at())
        assert [one for one in bench.wrong() if one[1].startswith("socket")] == []


def test_the_growth_of_clearances_is_that_of_the_household(lined: Bench, module: Module) -> None:
    """A part that was made for a measured printer does not go onto the liner of one that is not."""
    from dataclasses import replace

    measured = replace(module, seat=replace(module.seat, growth=0.0025))
    part = tray(measured, cols=6, rows=5, height=24.0)
    bench = lined.having("tray", part, cell(0, 0))
    assert ("stop", "socket-tight", "tray") in bench.wrong()
    assert "it should have 0.6 mm" in bench.said("socket-tight").text


def test_our_slope_is_inside_the_limits_of_itself() -> None:
    """A degree and less is passed, five are not, as the window of 73 to 78 asks for."""
    assert draw_of(1.0) == pytest.approx(1 / math.tan(math.radians(CONE_SLOPE_DEG)))
