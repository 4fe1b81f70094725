from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.model import Kind
from nookwright.parts.trays.divider import (
    DividerSize,
    compartments,
    divider,
    end_play,
    examples,
    loose_divider,
    middles_of,
    rib_reach,
    stand_of,
)
from nookwright.parts.trays.inlay import inlay_outlines
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Grip, Split, TrayOptions
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

SMOOTH = FloorStyle.SMOOTH


def with_dividers(*entries: Dividers, floor: FloorStyle = FloorStyle.SHELL, inlay: float = 0.0) -> TrayOptions:
    """A tray with these dividers, not picked from by hand."""
    return TrayOptions(dividers=entries, floor=floor, inlay=inlay, picked_by_hand=False)


@given(
    cells=st.integers(4, 28), count=st.integers(2, 5), split=st.sampled_from(Split), kind=st.sampled_from(DividerKind)
)
def test_equal_compartments_are_equal_and_fill_the_tray(
    cells: int, count: int, split: Split, kind: DividerKind
) -> None:
    """As wide as each other; with the dividers between them they add up to the inside."""
    entry = Dividers(split, kind, compartments=count, card=0.8)
    frame = TrayFrame(module_of(18.0, 6.0, 0.2, ""), cells, cells, 48.0, with_dividers(entry))
    spans = compartments(frame)[0 if split is Split.COLUMNS else 1]
    widths = [end - start for start, end in spans]
    assert len(spans) == count
    assert widths == pytest.approx([widths[0]] * count, abs=1e-3)
    thick = {DividerKind.FIXED: 1.2, DividerKind.REMOVABLE: 1.2, DividerKind.CARD: 0.8}[kind]
    assert all(after[0] - before[1] == pytest.approx(thick, abs=1e-3) for before, after in pairwise(spans))
    assert sum(widths) + (count - 1) * thick == pytest.approx(frame.width - 2.4, abs=1e-3)


def test_fixed_dividers_stand_where_they_are_wanted(bench: Bench, module: Module) -> None:
    """A level section shows a wall of 1.2 there, and as many holes as compartments."""
    entry = Dividers(Split.COLUMNS, at=(40.0, 72.0))
    part = tray(module, cols=6, rows=4, height=48, options=with_dividers(entry))
    assert bench.openings(part, 30.0) == 3
    section = bench.solid(part).slice(30.0)
    for x, there in ((39.5, True), (40.5, True), (39.3, False), (40.7, False), (72.5, True), (72.7, False)):
        spot = manifold3d.CrossSection.square([0.1, 0.1], center=True).translate([x, 30.0])
        assert ((section ^ spot).area() > 0.005) is there
    assert bench.openings(tray(module, cols=6, rows=4, height=48, options=with_dividers()), 30.0) == 1


def test_crossing_dividers_make_a_grid_and_lower_ones_end_lower(bench: Bench, module: Module) -> None:
    """Three columns and two rows are six compartments; over the lower rows the three columns are left, then one."""
    columns = Dividers(Split.COLUMNS, compartments=3, below_rim=3.0)
    rows = Dividers(Split.ROWS, compartments=2, below_rim=10.0)
    options = TrayOptions(dividers=(columns, rows), floor=SMOOTH, grip=Grip.NONE)
    part = tray(module, cols=6, rows=8, height=48, options=options)
    assert [bench.openings(part, z) for z in (20.0, 37.9, 38.1)] == [6, 6, 3]
    assert bench.genus(part) == 0
    flat = bench.solid(part).slice(46.0).area()
    assert flat < bench.solid(part).slice(42.0).area()


@pytest.mark.parametrize("split", list(Split))
@pytest.mark.parametrize(("floor", "inlay"), [(FloorStyle.SHELL, 0.0), (FloorStyle.SHELL, 2.1), (SMOOTH, 0.0)])
def test_a_removable_divider_drops_into_its_slot(
    bench: Bench, module: Module, split: Split, floor: FloorStyle, inlay: float
) -> None:
    """Standing in its place it meets nothing, within its play; lower, further along or askew it does."""
    entry = Dividers(split, DividerKind.REMOVABLE, compartments=2, below_rim=2.0)
    options = with_dividers(entry, floor=floor, inlay=inlay)
    frame = TrayFrame(module, 5, 5, 42.0, options)
    home = bench.solid(tray(module, cols=5, rows=5, height=42, options=options))
    size = loose_divider(frame)
    assert size is not None
    plate = bench.solid(divider(module, size)).rotate([90, 0, 0])
    (at,) = middles_of(frame, entry)
    standing = plate.translate([1.2 + 0.4, at + 0.6, stand_of(frame)])
    if split is Split.COLUMNS:
        standing = plate.rotate([0, 0, 90]).translate([at - 0.6, 1.2 + 0.4, stand_of(frame)])
    assert standing.bounding_box()[5] == pytest.approx(40.0)
    along, across = ([0.35, 0, 0], [0, 0.15, 0]) if split is Split.ROWS else ([0, 0.35, 0], [0.15, 0, 0])
    lift = standing.translate([0, 0, 0.01])
    for way in (along, across):
        assert bench.shared_mm3(home, lift.translate(way)) < 0.001
        assert bench.shared_mm3(home, lift.translate([-step for step in way])) < 0.001
    for way in ([2 * step for step in along], [2 * step for step in across], [0, 0, -0.1]):
        assert bench.shared_mm3(home, lift.translate(way)) > 0.001


def test_floor_clearance_is_stated(module: Module) -> None:
    """On a shell floor a divider rests level with the domes, 3.4 over the floor between them; on a smooth one on it."""
    for floor, inlay, clearance in ((FloorStyle.SHELL, 0.0, 3.4), (FloorStyle.SHELL, 1.9, 5.4), (SMOOTH, 0.0, 0.0)):
        options = with_dividers(Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=2), floor=floor, inlay=inlay)
        found = dict(tray(module, cols=5, rows=5, height=42, options=options).parameters)
        assert found["rows_floor_clearance"] == pytest.approx(clearance)
        assert found["rows_kind"] == "removable"


def test_a_card_stands_in_a_slot_of_its_own_thickness(bench: Bench, module: Module) -> None:
    """Its slot is 0.3 wider than the card."""
    entry = Dividers(Split.ROWS, DividerKind.CARD, at=(40.0,), card=0.8)
    solid = bench.solid(tray(module, cols=5, rows=5, height=42, options=with_dividers(entry)))
    ribs = solid.slice(30.0)
    for wide, meets in ((1.08, False), (1.12, True)):
        card = manifold3d.CrossSection.square([1.5, wide], center=True).translate([1.2 + 0.77, 40.0])
        assert ((ribs ^ card).area() > 0) is meets


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (
            TrayOptions(dividers=(Dividers(Split.COLUMNS, compartments=4),)),
            r"found 25\.35, allowed: at least 28.*by hand",
        ),
        (with_dividers(Dividers(Split.COLUMNS, compartments=10)), "at least 10. Leave a divider out"),
        (with_dividers(Dividers(Split.COLUMNS)), "given positions, or make equal"),
        (with_dividers(Dividers(Split.COLUMNS, compartments=1)), "two compartments or more"),
        (with_dividers(Dividers(Split.COLUMNS, compartments=2, at=(50.0,))), "one of the two"),
        (with_dividers(Dividers(Split.COLUMNS, at=(70.0, 40.0))), "positions of dividers ascend"),
        (with_dividers(Dividers(Split.COLUMNS, at=(108.0,))), "a compartment is wide enough inside"),
        (with_dividers(Dividers(Split.COLUMNS, at=(20.0,)), Dividers(Split.COLUMNS, at=(50.0,))), "one entry"),
        (
            with_dividers(
                Dividers(Split.COLUMNS, at=(50.0,)), Dividers(Split.ROWS, DividerKind.CARD, at=(50.0,), card=1)
            ),
            "dividers that cross are fixed",
        ),
        (with_dividers(Dividers(Split.ROWS, DividerKind.CARD, at=(50.0,))), "has a thickness; found 0"),
        (with_dividers(Dividers(Split.ROWS, at=(50.0,), below_rim=40.0)), "stand up from the floor"),
    ],
)
def test_dividers_that_cannot_be_are_refused(module: Module, options: TrayOptions, message: str) -> None:
    """By name, with what is allowed."""
    with pytest.raises(RecipeError, match=message):
        tray(module, cols=6, rows=8, height=48, options=options)


def test_a_divider_is_a_plate(bench: Bench, module: Module) -> None:
    """Its name is its size as it stands; its plastic is that of the mesh."""
    for example in examples(module):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (1, 0)
        assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=1e-3)
    part = divider(module, DividerSize(104.2, 30.0, 1.2, 1.0))
    assert (part.name, part.kind) == ("divider 104x30", Kind.DIVIDER)
    with pytest.raises(RecipeError, match="whole number of layers"):
        divider(module, DividerSize(104.2, 30.0, 1.1, 1.0))
    with pytest.raises(RecipeError, match="parts something"):
        divider(module, DividerSize(104.2, 4.0, 1.2, 1.0))


@pytest.mark.parametrize("radius", [-0.1, 10.1])
def test_corners_that_do_not_fit_a_divider_are_refused_in_its_own_words(module: Module, radius: float) -> None:
    """Not in those of the rectangle that it is drawn from."""
    with pytest.raises(RecipeError, match=r"divider: its corners fit .* allowed: 0 to 10\. "):
        divider(module, DividerSize(60.0, 20.0, 1.2, radius))
    assert divider(module, DividerSize(60.0, 20.0, 1.2, 10.0)).size == (60.0, 20.0, 1.2)


@pytest.mark.parametrize("thickness", [0.0, -1.0, float("nan")])
def test_a_divider_of_no_thickness_is_refused_in_its_own_words(module: Module, thickness: float) -> None:
    """One layer is the least, and the refusal says so."""
    with pytest.raises(RecipeError, match=r"divider: it has a thickness.*0\.2 or more"):
        divider(module, DividerSize(80.0, 30.0, thickness, 1.0))


def test_corners_half_a_grid_step_too_round_are_refused_in_its_own_words(module: Module) -> None:
    """Recipes lie on a grid of 0.0001; half of an odd height does not."""
    with pytest.raises(RecipeError, match="divider: its corners fit its shorter side"):
        divider(module, DividerSize(80.0, 6.0993, 1.2, 3.04965))
    assert divider(module, DividerSize(80.0, 6.0993, 1.2, 3.0496)).plastic.body_mm3 > 0


@pytest.mark.parametrize("cells", [6, 10, 24])
def test_ribs_grow_with_their_divider_and_stay_clear_of_the_inlay(module: Module, cells: int) -> None:
    """Along a long tray dividers have more play and deeper ribs; the sheet on its floor ends before them."""
    entry = Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=2)
    frame = TrayFrame(module, cells, 6, 42.0, with_dividers(entry, inlay=2.1))
    size = loose_divider(frame)
    assert size is not None
    assert size.length == pytest.approx(module.inner(cells) - 2 * end_play(frame))
    (outline,) = inlay_outlines(frame)
    beside = (module.inner(cells) - outline.bounds[2]) / 2
    assert beside >= rib_reach(frame) + 0.19
    assert (end_play(frame) > 0.4) is (rib_reach(frame) > 1.8) is (cells == 24)
