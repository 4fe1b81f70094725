"""Parts that are taller than a bed, cut across their height: where, what holds them, and that they are whole again."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.cutting.cut import cut_all
from nookwright.cutting.laps import CLEAR_OF_THINGS, LAP_HEIGHT, LAP_THICK, lap_gap, spots_in
from nookwright.cutting.leaves import leaves
from nookwright.cutting.levels import level_cuts
from nookwright.cutting.model import Axis, Bed, Hold
from nookwright.cutting.pieces import cut_part, not_lower
from nookwright.cutting.sections import Sections
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.parts.cradles.cradle import cradle, pockets_of
from nookwright.parts.family import variants
from nookwright.parts.model import Kind
from nookwright.parts.risers.hollow_riser import HollowSpec, hollow_riser
from nookwright.parts.risers.riser import RiserInside, RiserSpec, riser
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_options import Grip, TrayOptions
from nookwright.parts.workshop import TraySpec, Workshop
from nookwright.solids.mesh import MeshKernel
from nookwright.survey.models import Printer

from .joining import rejoined, solid

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.cutting.holds import Fit
    from nookwright.cutting.model import CutPart, Joint
    from nookwright.module.module import Module

MODULE = module_of(18.0, 6.0, 0.2, "")
CLOSE = 1e-6  # of a part's volume: what two ways to mesh one curved face may differ by
GRID = 1e-3  # mm; laps are told to this


def levels_of(cut: CutPart) -> list[Joint]:
    """The joints across the height."""
    return [joint for joint in cut.joints if joint.axis == Axis.HEIGHT]


def assert_stacks(cut: CutPart, kernel: MeshKernel) -> None:
    """Together the pieces are the part and the laps that are named; they share nothing and lack nothing but holes."""
    joined = rejoined(cut, kernel)
    noise_mm3 = CLOSE * joined.whole.volume()
    added = joined.together - joined.whole
    for joint in cut.joints:
        for lap in joint.laps:
            low, high = np.array(lap.low) - GRID, np.array(lap.high) + GRID
            added -= manifold3d.Manifold.cube(list(high - low)).translate(list(low))
    assert added.volume() < noise_mm3
    assert joined.shared_mm3 < noise_mm3
    assert joined.box_error < 1e-6
    holes_mm3 = sum(
        len(joint.places) * 2 * joint.pin.depth * joint.pin.hole**2 for joint in cut.joints if joint.pin is not None
    )
    if all(joint.axis == Axis.HEIGHT for joint in cut.joints):
        assert (joined.whole - joined.together).volume() < noise_mm3 + holes_mm3


def assert_prints(cut: CutPart, bed: Bed, kernel: MeshKernel) -> None:
    """Each piece is one body that lies on the bed, as large as its recipe says, in whole layers."""
    for piece in cut.pieces:
        mesh = kernel.mesh(piece.recipe)
        assert mesh.components == 1
        assert bed.holds(*piece.size)
        assert np.array(mesh.vertices).min(axis=0) == pytest.approx([0, 0, 0], abs=1e-9)
        assert np.array(mesh.vertices).max(axis=0) == pytest.approx(piece.size, abs=1e-9)
        assert piece.z / 0.2 == pytest.approx(round(piece.z / 0.2), abs=1e-6)


@settings(max_examples=6)
@given(
    cols=st.integers(2, 14),
    rows=st.integers(2, 10),
    rises=st.integers(10, 30),
    grip=st.sampled_from((None, Grip.NOTCH, Grip.HAND_HOLE)),
    bed=st.builds(Bed, st.floats(120, 260), st.floats(120, 260), st.floats(50, 110)),
)
@example(cols=8, rows=6, rises=30, grip=Grip.HAND_HOLE, bed=Bed(200, 200, 100))
@example(cols=14, rows=6, rises=20, grip=None, bed=Bed(160, 160, 80))
def test_tall_trays_are_whole_again(  # noqa: PLR0917 - drawn one by one
    cols: int, rows: int, rises: int, grip: Grip | None, bed: Bed, fit: Fit
) -> None:
    """On any bed that is lower, wide enough for them or not."""
    height = 6.0 * rises
    options = TrayOptions(grip=grip) if grip and cols > 5 and rows > 5 and height > 90 else None
    part = tray(MODULE, cols=cols, rows=rows, height=height, options=options)
    done = cut_part(part, bed, fit)
    assert done is not None
    kernel = MeshKernel()
    assert_prints(done, bed, kernel)
    if height > bed.height:
        assert len(levels_of(done)) > 0
        assert_stacks(done, kernel)


def test_a_tall_tray_has_laps_inside_all_its_walls(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """One at least inside each, clear of the wall by the gap for the glue, so that the upper piece slides over them."""
    part = tray(module, cols=8, rows=6, height=120)
    done = cut_part(part, Bed(200, 200, 80), fit)
    assert done is not None
    (joint,) = done.joints
    assert joint.hold is Hold.LAPS
    assert joint.at == pytest.approx(60)
    width, depth, _ = part.size
    beside = {(lap.low[0] < 3, lap.low[1] < 3, lap.high[0] > width - 3, lap.high[1] > depth - 3) for lap in joint.laps}
    assert len(beside) == 4
    lower, upper = (solid(piece.recipe, kernel).translate([piece.x, piece.y, piece.z]) for piece in done.pieces)
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        moved = upper.translate([dx * 0.9 * lap_gap(fit), dy * 0.9 * lap_gap(fit), 0])
        assert (moved ^ lower).volume() < 1e-3
        moved = upper.translate([dx * 1.1 * lap_gap(fit), dy * 1.1 * lap_gap(fit), 0])
        assert (moved ^ lower).volume() > 0.1
    for up in (0.5, 2, 4, 8, 20):
        assert (upper.translate([0, 0, up]) ^ lower).volume() < 1e-3


def test_laps_print_as_the_rest_does(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """No overhang, no thin wall, no island, in any piece."""
    for part in (
        tray(module, cols=8, rows=6, height=120),
        tray(module, cols=10, rows=8, height=150, options=TrayOptions(grip=Grip.HAND_HOLE)),
    ):
        done = cut_part(part, Bed(200, 200, 80), fit)
        assert done is not None
        assert levels_of(done)
        for piece in done.pieces:
            mesh = kernel.mesh(piece.recipe)
            found = printability(piece.name, np.array(mesh.vertices), np.array(mesh.triangles), layer=0.2, line=0.429)
            assert {one.code for one in found} == set()


def test_a_cut_keeps_off_hand_holes(module: Module) -> None:
    """Though the middle would be more even: the walls go straight through where it is cut, and where laps are."""
    part = tray(module, cols=10, rows=8, height=150, options=TrayOptions(grip=Grip.HAND_HOLE))
    holes = [box for box, away in leaves(part.recipe) if away and box[2] > 20 and box[5] < part.size[2]]
    assert holes
    low, high = min(box[2] for box in holes), max(box[5] for box in holes)
    for bed_height in (80, 100, 120):
        cuts = level_cuts(Sections(part.recipe), bed_height, 0.2)
        assert not isinstance(cuts, str)
        assert all(at + LAP_HEIGHT <= low or at >= high for at in cuts)


def test_a_tray_a_little_too_tall_is_cut_too(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """In shares of 12 mm and more; a ring that is lower would be no more than the laps inside it."""
    part = tray(module, cols=6, rows=4, height=42)
    done = cut_part(part, Bed(300, 300, 40), fit)
    assert done is not None
    assert [piece.size[2] for piece in done.pieces] == [
        pytest.approx(joint.at + LAP_HEIGHT) for joint in done.joints
    ] + [pytest.approx(42 - joint.at) for joint in done.joints]
    assert all(12 <= joint.at <= 42 - 12 for joint in done.joints)
    assert_stacks(done, kernel)
    assert cut_part(part, Bed(300, 300, 21), fit) is None


def test_a_swept_front_is_cut_above_its_sweep_only(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """Its section changes all the way up the sweep; a bed that is lower than that takes none of its pieces."""
    swept = next(
        one.part
        for variant in variants(module)
        for one in variant.examples
        if one.size == "largest" and "swept" in one.part.name
    )
    assert "so that its shares go onto a bed of 60 mm" in str(level_cuts(Sections(swept.recipe), 60, 0.2))
    done = cut_part(swept, Bed(300, 300, 80), fit)
    assert done is not None
    (at,) = (joint.at for joint in done.joints)
    assert at >= 64
    assert_stacks(done, kernel)


def test_a_full_riser_stands_on_upright_pins(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """Cut both ways, the pins of one cut keep off those of the other."""
    part = riser(module, RiserSpec(9, 4, 10, inside=RiserInside.FULL))
    bed = Bed(100, 100, 40)
    done = cut_part(part, bed, fit)
    assert done is not None
    assert {joint.axis for joint in done.joints} == {0, Axis.HEIGHT}
    assert {joint.hold for joint in done.joints} == {Hold.PINS}
    assert_prints(done, bed, kernel)
    assert_stacks(done, kernel)
    boxes = [box for joint in done.joints for box in pin_boxes(joint)]
    for one, other in combinations(boxes, 2):
        assert (other[0] >= one[1]).any() or (one[0] >= other[1]).any()


def pin_boxes(joint: Joint) -> list[tuple[np.ndarray, np.ndarray]]:
    """The box of each hole in a joint."""
    assert joint.pin is not None
    found = []
    for first, second in joint.places:
        middle = {0: (joint.at, first, second), 1: (first, joint.at, second), 2: (first, second, joint.at)}[joint.axis]
        half = np.full(3, joint.pin.hole / 2)
        half[joint.axis] = joint.pin.depth
        found.append((np.array(middle) - half, np.array(middle) + half))
    return found


def test_what_comes_apart_or_must_stay_closed_is_refused_with_its_reason(module: Module, fit: Fit) -> None:
    """The posts of a rest between its slots, and a chamber for ballast; what is low enough needs no reason."""
    rests = [one.part for variant in variants(module) for one in variant.examples if one.part.kind is Kind.REST]
    tall = [part for part in rests if part.size[2] > 60]
    assert tall
    for part in tall:
        assert cut_part(part, Bed(300, 300, 45), fit) is None
        assert "in one piece" in not_lower(part, 45, fit)
        assert not_lower(part, 200, fit) == ""
    assert cut_part(hollow_riser(module, HollowSpec(9, 6, 10)), Bed(300, 300, 40), fit) is None


def test_a_cradle_is_cut_through_its_sleeves(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """Where they hang together, laps are inside its outer walls, not in its pockets."""
    pockets = pockets_of(module, cols=8, rows=4, diameter=24, columns=4, lines=2, pitch=33)
    part = cradle(module, cols=8, rows=4, height=72, pockets=pockets)
    done = cut_part(part, Bed(300, 300, 50), fit)
    assert done is not None
    assert_stacks(done, kernel)
    middles = [
        (part.size[0] / 2 + 33 * (n - 1.5), part.size[1] / 2 + 16.5 * side) for n in range(4) for side in (-1, 1)
    ]
    for joint in done.joints:
        for lap, (x, y) in product(joint.laps, middles):
            nearest = (min(max(x, lap.low[0]), lap.high[0]), min(max(y, lap.low[1]), lap.high[1]))
            assert np.hypot(nearest[0] - x, nearest[1] - y) > 12


def test_laps_keep_clear_of_what_stands_in_the_tray(module: Module, kernel: MeshKernel, fit: Fit) -> None:
    """A box along one wall: none there, the others as before; with boxes at all walls the faces alone are glued."""
    part = tray(module, cols=8, rows=6, height=120)
    width, depth, _ = part.size
    left = (1.4, 1.4, 20.0, depth - 1.4, 3.0)
    done = cut_part(part, Bed(200, 200, 80), fit, spots=[left])
    assert done is not None
    (joint,) = done.joints
    assert joint.hold is Hold.LAPS
    assert all(lap.low[0] >= left[2] + CLEAR_OF_THINGS - 1e-6 for lap in joint.laps)
    full = cut_part(part, Bed(200, 200, 80), fit, spots=[(1.4, 1.4, width - 1.4, depth - 1.4, 3.0)])
    assert full is not None
    assert [one.hold for one in full.joints] == [Hold.FACES]
    assert_stacks(full, kernel)
    high = cut_part(part, Bed(200, 200, 80), fit, spots=[(1.4, 1.4, width - 1.4, depth - 1.4, 70.0)])
    assert high is not None
    assert [one.hold for one in high.joints] == [Hold.LAPS]


def test_the_lots_of_all_copies_are_spots(tiny: Designed) -> None:
    """The things of a tray, wherever a copy of it stands; in the axes of the part."""
    held = next(copy for copy in tiny.copies if copy.contents)
    assert held.contents is not None
    spots = spots_in([held, replace(held, contents=None)])
    assert len(spots) == len({place[:2] for place in held.contents.places})
    width, depth, _ = held.part.size
    assert all(0 <= x0 < x1 <= width and 0 <= y0 < y1 <= depth for x0, y0, x1, y1, _ in spots)


def test_a_tall_tray_of_a_room_is_cut_where_no_printer_is_high_enough(tiny: Designed) -> None:
    """And goes whole onto a higher one, though its bed is smaller."""
    spec = TraySpec(5, 4, 90.0, smooth=False, pockets=None)
    some = next(copy for copy in tiny.copies if copy.part.seated)
    copy = replace(
        some, spec=spec, part=Workshop(tiny.plan.module).part(spec), material="white", contents=None, others=()
    )
    low = Printer(id="low", bed_width=300, bed_depth=300, bed_height=60, materials=("white",))
    high = Printer(id="high", bed_width=120, bed_depth=120, bed_height=200, materials=("white",))
    cut, (found,) = cut_all([copy], tiny.plan.module, [low])
    assert [len(part.pieces) for part in cut.values()] == [2]
    assert (found.code, found.severity) == ("part-in-pieces", Severity.NOTE)
    assert "laps" in found.text
    assert "slide the upper piece down over them" in found.remedy
    assert f"{LAP_THICK + 0.2:.1f} mm inside the walls" in found.remedy
    cut, findings = cut_all([copy], tiny.plan.module, [low, high])
    assert [len(part.pieces) for part in cut.values()] == [1]
    assert findings == ()
