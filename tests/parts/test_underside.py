from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner import EDGE_INSET, PanelSpec
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    import manifold3d

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench


def seated(
    bench: Bench, module: Module, part: Part, cells: tuple[int, int], at: tuple[int, int], *, turns: int = 0
) -> manifold3d.Manifold:
    """A part in its nominal place over a panel, in the panel's axes; cells are its footprint as it lies."""
    x, y = (
        first * module.pitch + (count * module.pitch - outer_size(count, module.pitch)) / 2 - EDGE_INSET
        for first, count in zip(at, cells, strict=True)
    )
    return bench.solid(part, x=x, y=y, z=module.seat.panel, turns=turns)


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
@pytest.mark.parametrize(("cols", "rows"), [(1, 2), (2, 2), (3, 4)])
def test_sockets_line_up_with_cones_in_every_place_and_turn(
    bench: Bench, module: Module, cols: int, rows: int, turns: int
) -> None:
    """On both phases of the chessboard a seated part shares nothing with the panel, and holds within its clearance."""
    part = tray(module, cols=cols, rows=rows, height=12, smooth=False)
    liner = bench.solid(panel(module, PanelSpec(6, 5, (), first_has_cone=True, slots=())))
    cells = (rows, cols) if turns % 2 else (cols, rows)
    for at in ((0, 0), (1, 0)):
        there = seated(bench, module, part, cells, at, turns=turns)
        assert bench.shared_mm3(there, liner) < 0.001
        for dx, dy in ((0.6, 0), (-0.6, 0), (0, 0.6), (0, -0.6)):
            assert bench.shared_mm3(there.translate([dx, dy, 0]), liner) > 0.001
        assert bench.shared_mm3(there.translate([0.2, -0.2, 0]), liner) < 0.001


def test_a_cradle_sits_like_a_tray(bench: Bench, module: Module) -> None:
    """The underside is the same for all seated parts."""
    pockets = pockets_of(module, cols=3, rows=2, diameter=20, columns=2, lines=1, pitch=21.2)
    part = cradle(module, cols=3, rows=2, height=18, pockets=pockets)
    liner = bench.solid(panel(module, PanelSpec(4, 4, (), first_has_cone=False, slots=())))
    for at in ((0, 0), (1, 0)):
        assert bench.shared_mm3(seated(bench, module, part, (3, 2), at), liner) < 0.001


@pytest.mark.parametrize("layer", [0.16, 0.3, 0.6])
def test_seats_fit_at_other_layers(bench: Bench, layer: float) -> None:
    """Whatever the layer rounds the heights to."""
    module = module_of(22.0, 6.0, layer, "")
    part = tray(module, cols=2, rows=2, height=module.height(12), smooth=False)
    liner = bench.solid(panel(module, PanelSpec(3, 3, (), first_has_cone=True, slots=())))
    assert bench.shared_mm3(seated(bench, module, part, (2, 2), (0, 0)), liner) < 0.001


def test_neighbours_in_their_cells_share_nothing(bench: Bench, module: Module) -> None:
    """Two trays side by side are 0.6 apart at least."""
    part = tray(module, cols=2, rows=2, height=12, smooth=False)
    left, right = (seated(bench, module, part, (2, 2), at) for at in ((0, 0), (2, 0)))
    assert bench.shared_mm3(left, right) == 0
    assert left.min_gap(right, 2.0) == pytest.approx(0.6, abs=1e-3)


def test_the_lower_edge_is_drawn_in(bench: Bench, module: Module) -> None:
    """The first layer is 0.4 smaller all round, so that its spread stays inside the part's size."""
    solid = bench.solid(tray(module, cols=2, rows=2, height=12, smooth=False))
    for z, size in ((0.001, 35.4 - 0.8), (0.399, 35.4), (6.0, 35.4)):
        x0, _, x1, _ = solid.slice(z).bounds()
        assert x1 - x0 == pytest.approx(size, abs=0.01)


def test_large_parts_have_wider_sockets_outside(bench: Bench, module: Module) -> None:
    """A tray of 12 cells is looser at its ends than in its middle: its ends may be 0.15 % off."""
    part = tray(module, cols=12, rows=2, height=12, smooth=True)
    liner = bench.solid(panel(module, PanelSpec(12, 2, (), first_has_cone=True, slots=())))
    there = seated(bench, module, part, (12, 2), (0, 0))
    middle = 6 * module.pitch
    stretched = there.translate([-middle, 0, 0]).scale([1.0025, 1.0, 1.0]).translate([middle, 0, 0])
    assert bench.shared_mm3(stretched, liner) < 0.001


@pytest.mark.parametrize("layer", [0.08, 0.1, 0.12, 0.16, 0.2, 0.28, 0.32])
def test_the_mouth_of_a_socket_prints_at_every_layer(bench: Bench, layer: float) -> None:
    """Above the first layer, which spreads, no layer reaches out farther than it is high."""
    module = module_of(18.0, 6.0, layer, "")
    solid = bench.solid(tray(module, cols=2, rows=2, height=module.height(12), smooth=True))
    for number in range(2, int(1.0 / layer)):
        here, below = (solid.slice((step + 0.5) * layer) for step in (number, number - 1))
        assert (here - below.offset(layer + 0.012)).area() < 0.01
