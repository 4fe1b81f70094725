from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import outer_size
from nookwright.module.stacking import deck_clearance, deck_opening
from nookwright.parts.lids.deck_lid import (
    DeckSpec,
    deck_lid,
    deck_lid_place,
    deck_tray,
    ledge,
    notch_places,
)
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from manifold3d import Manifold
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SPECS = [
    DeckSpec(1, 2, 18.0),
    DeckSpec(2, 2, 18.0, first_has_cone=False),
    DeckSpec(4, 3, 30.0, smooth=True),
    DeckSpec(3, 5, 30.0, first_has_cone=False, thickness=2.0),
]


def stacked(bench: Bench, module: Module, spec: DeckSpec) -> tuple[Manifold, Manifold, Manifold]:
    """The tray, its lid in its place, and a plain tray of the same footprint on top."""
    x, y, z = deck_lid_place(module, spec)
    upper = tray(module, cols=spec.cols, rows=spec.rows, height=12.0, smooth=False)
    return (
        bench.solid(deck_tray(module, spec)),
        bench.solid(deck_lid(module, spec), x=x, y=y, z=z),
        bench.solid(upper, z=spec.height),
    )


@pytest.mark.parametrize("spec", SPECS)
def test_a_deck_lid_falls_into_the_rim_and_lifts_out(bench: Bench, module: Module, spec: DeckSpec) -> None:
    """In its place and on its way up it shares nothing; a little lower it would be in the ledge."""
    below, above, _ = stacked(bench, module, spec)
    for up in (0.0, 0.3, 1.1, 2.5):
        assert bench.shared_mm3(above.translate([0, 0, up]), below) < 0.001
    assert bench.shared_mm3(above.translate([0, 0, -0.05]), below) > 0.01


@pytest.mark.parametrize("spec", SPECS)
def test_a_deck_lid_has_its_clearance_and_lies_on_its_ledge_all_the_same(
    bench: Bench, module: Module, spec: DeckSpec
) -> None:
    """Pushed to a side it meets the rim after its clearance; the other side still lies a millimetre on its ledge."""
    below, above, _ = stacked(bench, module, spec)
    gap = deck_clearance(module, spec.cols, spec.rows)
    ring = below.slice(ledge(module, spec) - 0.001)
    shelf = max((ring.hull() - ring).decompose(), key=lambda hole: hole.area()).bounds()[
        0
    ]  # the inner edge of the ledge
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        pushed = above.translate([x * (gap - 0.02), y * (gap - 0.02), 0.1])
        assert bench.shared_mm3(pushed, below) < 0.001
        assert bench.shared_mm3(above.translate([x * (gap + 0.02), y * (gap + 0.02), 0.1]), below) > 0.001
        there = (pushed.translate([0, 0, -0.2]) ^ below).bounding_box()
        width, depth = below.bounding_box()[3:5]
        across = (there[0], width - there[3]) if x else (there[1], depth - there[4])
        assert shelf - max(across) > 1.0


@pytest.mark.parametrize("spec", SPECS)
def test_a_tray_sits_on_a_deck_lid(bench: Bench, module: Module, spec: DeckSpec) -> None:
    """On both phases it shares nothing with lid and tray below, and cannot slide by more than its sockets allow."""
    below, above, upper = stacked(bench, module, spec)
    for body in (below, above):
        assert bench.shared_mm3(upper, body) < 0.001
    for x, y in ((0.6, 0), (-0.6, 0), (0, 0.6), (0, -0.6)):
        assert bench.shared_mm3(upper.translate([x, y, 0]), above) > 0.001


@pytest.mark.parametrize("spec", SPECS)
def test_the_lid_is_flush_with_the_rim(module: Module, spec: DeckSpec) -> None:
    """A stack with lids is no higher than one without; cones stand 2.4 over the rim."""
    part = deck_lid(module, spec)
    assert ledge(module, spec) + spec.thickness == pytest.approx(spec.height)
    assert part.size[2] == pytest.approx(spec.thickness + 2.4)


@pytest.mark.parametrize("spec", SPECS)
def test_cones_stand_like_a_chessboard(bench: Bench, module: Module, spec: DeckSpec) -> None:
    """In the middles of the cells of its phase, counted from the front left one."""
    x, y, _ = deck_lid_place(module, spec)
    width, depth = bench.solid(deck_tray(module, spec)).bounding_box()[3:5]
    discs = bench.solid(deck_lid(module, spec), x=x, y=y).slice(spec.thickness + 1.0).decompose()
    found = {
        (
            round((sum(disc.bounds()[::2]) / 2 - width / 2) / 18 + spec.cols / 2 - 0.5, 3),
            round((sum(disc.bounds()[1::2]) / 2 - depth / 2) / 18 + spec.rows / 2 - 0.5, 3),
        )
        for disc in discs
    }
    odd = 0 if spec.first_has_cone else 1
    cells = ((c, r) for c in range(spec.cols) for r in range(spec.rows))
    assert found == {(c, r) for c, r in cells if (c + r) % 2 == odd}


@pytest.mark.parametrize("spec", SPECS)
def test_a_deck_lid_has_a_notch_for_a_finger(bench: Bench, module: Module, spec: DeckSpec) -> None:
    """Two, on opposite sides; each opens through the lid, and no cone stands in it."""
    places = notch_places(module, spec)
    assert len(places) == 2
    body = bench.solid(deck_lid(module, spec))
    sheet = body.slice(spec.thickness / 2)
    assert sheet.area() < sheet.hull().area() - 10
    assert len(body.slice(spec.thickness + 0.01).decompose()) == len(body.slice(spec.thickness + 2.3).decompose())


def test_a_tray_too_low_for_its_ledge_is_refused(module: Module) -> None:
    """With the height that would do, which does."""
    with pytest.raises(RecipeError, match="room for fillet and ledge; found height 6, allowed: at least 12"):
        deck_tray(module, DeckSpec(2, 2, 6.0))
    assert deck_tray(module, DeckSpec(2, 2, 12.0)).size[2] == pytest.approx(12.0)


def test_a_lid_is_whole_layers_thick(module: Module) -> None:
    """Rounded up, and its ledge as much lower; one that is no thicker than its drawn-in edge is refused."""
    spec = DeckSpec(2, 2, 18.0, thickness=1.3)
    assert deck_lid(module, spec).size[2] == pytest.approx(1.4 + 2.4)
    assert ledge(module, spec) == pytest.approx(18 - 1.4)
    with pytest.raises(RecipeError, match="thicker than its drawn-in edge"):
        deck_lid(module, DeckSpec(2, 2, 18.0, thickness=0.6))


def test_a_lid_without_a_cone_is_no_higher_than_its_plate(bench: Bench, module: Module) -> None:
    """One cell, of the other colour of the chessboard."""
    made = deck_lid(module, DeckSpec(1, 1, 30.0, first_has_cone=False))
    assert made.plastic.height == made.size[2] == bench.mesh(made).bounds[5]


@pytest.mark.parametrize(("cols", "rows"), [(2, 3), (4, 8), (12, 9)])
def test_the_opening_is_what_the_part_leaves_open(bench: Bench, module: Module, cols: int, rows: int) -> None:
    """A block as wide as it falls through the ledge of the part itself; one that is 0.1 mm wider does not."""
    made = bench.solid(deck_tray(module, DeckSpec(cols, rows, 48.0)))
    width, depth = deck_opening(module, cols, rows)
    outer = [outer_size(cells, module.pitch) for cells in (cols, rows)]
    for more, hits in (((0.0, -8.0), False), ((-8.0, 0.0), False), ((0.1, -8.0), True), ((-8.0, 0.1), True)):
        size = (width + more[0], depth + more[1])
        block = manifold3d.Manifold.cube((*size, 30.0)).translate(
            ((outer[0] - size[0]) / 2, (outer[1] - size[1]) / 2, 20.0)
        )
        assert ((made ^ block).volume() > 0.001) is hits
