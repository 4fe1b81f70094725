from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest

from nookwright.ground.errors import RecipeError
from nookwright.parts.trays.bent_plan import BentPlan, Missing
from nookwright.parts.trays.bent_tray import bent_tray
from nookwright.parts.trays.inlay import bent_inlay_outline, inlay_outline, inlay_outlines
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Front, Split, TrayOptions
from nookwright.shapes.solids import Move, Prism
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module
    from nookwright.shapes.regions import Path


def sheet(bench: Bench, outline: Path, thick: float) -> manifold3d.Manifold:
    """An inlay as a body."""
    mesh = bench.kernel.mesh(Move(Prism(outline, thick)))
    raw = manifold3d.Mesh64(mesh.vertices.copy(), mesh.triangles.astype("uint64"))
    return manifold3d.Manifold(raw)


def test_an_inlay_is_two_smaller_all_round(module: Module) -> None:
    """6 x 8 cells are 105 x 141 inside; the corners of 3.8 become 1.8."""
    outline = inlay_outline(module, 6, 8)
    assert outline.bounds == pytest.approx((0, 0, 101, 137))
    assert {round(side.radius, 3) for side in outline.sides if side.bulge} == {1.8}
    assert len(outline.sides) == 8


@pytest.mark.parametrize("floor", list(FloorStyle))
def test_it_lies_in_its_tray_and_counts_in_the_height(bench: Bench, module: Module, floor: FloorStyle) -> None:
    """On domes it has play to the walls; on a smooth floor it ends where the roll begins."""
    options = TrayOptions(floor=floor, inlay=2.0)
    home = bench.solid(tray(module, cols=6, rows=4, height=36, options=options))
    smooth = floor is FloorStyle.SMOOTH
    off = 3.0 if smooth else 2.0
    felt = sheet(bench, inlay_outline(module, 6, 4, smooth=smooth), 2.0).translate([1.2 + off, 1.2 + off, 4.401])
    play = 0.0 if smooth else 1.9
    for dx, dy in ((0.0, 0.0), (play, 0.0), (-play, 0.0), (0.0, play), (0.0, -play)):
        assert bench.shared_mm3(home, felt.translate([dx, dy, 0.0])) < 0.001
    assert bench.shared_mm3(home, felt.translate([off + 0.1, 0.0, 0.0])) > 0.1
    assert TrayFrame(module, 6, 4, 36.0, options).rest_height == pytest.approx(6.4)
    with pytest.raises(RecipeError, match="counts floor and inlay"):
        tray(module, cols=6, rows=4, height=12, options=TrayOptions(floor=floor, inlay=6.0))


def test_each_compartment_has_its_own(module: Module) -> None:
    """Between fixed dividers; loose ones stand in one sheet's slots, so that has none."""
    fixed = (Dividers(Split.COLUMNS, compartments=3), Dividers(Split.ROWS, compartments=2))
    loose = (Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=2),)
    several = inlay_outlines(TrayFrame(module, 6, 8, 48.0, TrayOptions(dividers=fixed, inlay=1.5)))
    one = inlay_outlines(TrayFrame(module, 6, 8, 48.0, TrayOptions(dividers=loose, inlay=1.5)))
    assert [tuple(round(n, 2) for n in outline.bounds) for outline in several] == [(0, 0, 30.2, 65.9)] * 6
    assert [outline.bounds for outline in one] == [inlay_outline(module, 6, 8).bounds]


def test_it_ends_behind_a_swept_front(bench: Bench, module: Module) -> None:
    """Only the front ones are shorter, and they miss the curve."""
    options = TrayOptions(front=Front.SWEPT, inlay=2.0, dividers=(Dividers(Split.ROWS, compartments=2),))
    frame = TrayFrame(module, 6, 8, 48.0, options)
    front, back = inlay_outlines(frame)
    assert front.bounds[3] < back.bounds[3]
    home = bench.solid(tray(module, cols=6, rows=8, height=48, options=options))
    end = 1.2 + (141 - 1.2) / 2 - 2
    felt = sheet(bench, front, 2.0).translate([3.2, end - front.bounds[3], 4.401])
    assert bench.shared_mm3(home, felt) < 0.001
    assert bench.shared_mm3(home, felt.translate([0, -14, 0])) > 0.001


@pytest.mark.parametrize("missing", [Missing(3, 3, 3, 2), Missing(0, 1, 2, 2)])
def test_a_bent_tray_has_a_bent_inlay(bench: Bench, module: Module, missing: Missing) -> None:
    """It lies 2 off the walls all round, along the bite too."""
    plan = BentPlan(module, 6, 5, missing)
    home = bench.solid(bent_tray(module, cols=6, rows=5, missing=missing, height=36, picked_by_hand=False))
    felt = sheet(bench, bent_inlay_outline(plan), 2.0).translate([0, 0, 4.401])
    assert bench.shared_mm3(home, felt) < 0.001
    assert home.min_gap(felt.translate([0, 0, 10]), 5.0) == pytest.approx(2.0, abs=0.01)


def test_a_strip_of_felt_is_refused(module: Module) -> None:
    """A tray of one cell is 15 inside; 11 are left. Of compartments of 11, seven."""
    assert inlay_outline(module, 1, 2).bounds[2] == pytest.approx(11)
    narrow = TrayOptions(dividers=(Dividers(Split.COLUMNS, at=(13.0,)),), picked_by_hand=False, inlay=1.0)
    with pytest.raises(RecipeError, match=r"worth cutting; found 7\.2"):
        inlay_outlines(TrayFrame(module, 4, 2, 24.0, narrow))
