from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from nookwright.cutting import panels
from nookwright.cutting.model import Bed, CutPart
from nookwright.cutting.panels import cut_panel
from nookwright.layout.cells import components, in_squares, sound_groups
from nookwright.layout.liner import PanelSpec, SetBack, Side, Slot, panel_spec, plan_liner
from nookwright.layout.liner_model import FLUSH
from nookwright.module.choice import module_of
from nookwright.module.floor import floor_of
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.keys import key
from nookwright.parts.liner.panel import panel
from nookwright.sizing.usable import BlockedBox, Usable

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.shapes.solids import Solid
    from nookwright.solids.mesh import MeshKernel

PITCH = 18.0
MODULE = module_of(PITCH, 6.0, 0.2, "")
BEDS = st.builds(Bed, st.floats(110, 220), st.floats(110, 220), st.just(200.0))
SMALL = Bed(110.0, 110.0, 200.0)
HOLE_ON_A_CUT = PanelSpec(9, 18, ((2, 2), (2, 3), (3, 2), (3, 3)), first_has_cone=True, slots=())
MANY_SLOTS = PanelSpec(
    23,
    5,
    (),
    first_has_cone=True,
    slots=(
        *(Slot(Side.BACK, at) for at in (2, 6, 10, 13, 17, 21)),
        *(Slot(Side.FRONT, at) for at in (5, 11, 15, 21)),
    ),
)
LONG_NOSE = PanelSpec(
    13,
    3,
    tuple((col, 0) for col in range(9)),
    first_has_cone=True,
    slots=tuple(Slot(Side.BACK, at) for at in (2, 4, 8, 11)),
)

Cell = tuple[int, int]
Placed = tuple[int, int, PanelSpec]


@st.composite
def floors(draw: st.DrawFn) -> tuple[PanelSpec, ...]:
    """The panels of a random space, with the slots of its fillers."""
    width, depth = draw(st.floats(60, 440)), draw(st.floats(60, 440))
    boxes = []
    for _ in range(draw(st.integers(0, 2))):
        x, y = draw(st.floats(0, width)), draw(st.floats(0, depth))
        wide, deep = draw(st.floats(1, 120)), draw(st.floats(1, 120))
        boxes.append(BlockedBox("a pipe", service=False, x0=x, y0=y, z0=0, x1=x + wide, y1=y + deep, z1=100))
    usable = Usable("drawer", width, depth, 100.0, 0.0, tuple(boxes))
    liner = plan_liner(floor_of(usable, MODULE), usable, PITCH, 200.0)
    return tuple(placed.spec for placed in liner.panels)


def cut(spec: PanelSpec, bed: Bed, edge: SetBack = FLUSH) -> tuple[CutPart | None, list[Placed]]:
    """A panel cut to a bed, and for each of its pieces its first cell in the panel and what it was made from."""
    made: list[PanelSpec] = []

    def watched(module: Module, one: PanelSpec) -> Part:
        made.append(one)
        return panel(module, one)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(panels, "panel", watched)
        done = cut_panel(MODULE, spec, bed)
    if done is None:
        return None, []
    specs = made[1:] or made[:1]  # the whole panel is made first
    return done, [
        (round((piece.x + edge.left) / PITCH), round((piece.y + edge.front) / PITCH), one)
        for piece, one in zip(done.pieces, specs, strict=True)
    ]


def ends_of(placed: Placed) -> list[tuple[bool, int, int, int]]:
    """The slots of a piece in the panel's cells: upright border or not, line, place along it, which way it opens."""
    col, row, spec = placed
    lines = {
        Side.LEFT: (col, -1),
        Side.RIGHT: (col + spec.cols, 1),
        Side.FRONT: (row, -1),
        Side.BACK: (row + spec.rows, 1),
    }
    return [
        (slot.side.upright, lines[slot.side][0], slot.at + (row if slot.side.upright else col), lines[slot.side][1])
        for slot in spec.slots
    ]


@settings(max_examples=40)
@given(specs=floors(), bed=BEDS)
@example(specs=(MANY_SLOTS, LONG_NOSE), bed=SMALL)
def test_every_panel_of_a_liner_can_be_cut(specs: tuple[PanelSpec, ...], bed: Bed) -> None:
    """Whatever is blocked, some cut misses the slots and leaves sound pieces."""
    assert all(cut_panel(MODULE, spec, bed) is not None for spec in specs)


@settings(max_examples=40)
@given(specs=floors(), bed=BEDS)
def test_pieces_cover_every_cell_exactly_once(specs: tuple[PanelSpec, ...], bed: Bed) -> None:
    """And each piece fits the bed, hangs together in squares of 2 x 2, and keeps the chessboard of the whole."""
    for spec in specs:
        done, placed = cut(spec, bed)
        if done is None:
            continue
        cells = Counter((col + c, row + r) for col, row, one in placed for c, r in one.cells)
        assert cells == Counter(spec.cells)
        assert sorted((col + c, row + r) for col, row, one in placed for c, r in one.cones) == sorted(spec.cones)
        for piece, (_, _, one) in zip(done.pieces, placed, strict=True):
            assert bed.holds(*piece.size)
            assert all(in_a_square(cell, set(one.cells)) for cell in one.cells)


def in_a_square(cell: Cell, there: set[Cell]) -> bool:
    """Whether a cell lies in a square of four cells that are there."""
    col, row = cell
    return any({(col + i, row + j) for i in (a, a + 1) for j in (b, b + 1)} <= there for a in (-1, 0) for b in (-1, 0))


@settings(max_examples=40)
@given(specs=floors(), bed=BEDS)
def test_keys_lie_in_slots_on_both_sides(specs: tuple[PanelSpec, ...], bed: Bed) -> None:
    """Each joint has a slot in the piece before it and in the one behind it; all other slots are the panel's own."""
    for spec in specs:
        done, placed = cut(spec, bed)
        if done is None:
            continue
        slots = Counter(end for one in placed for end in ends_of(one))
        for loose in done.keys:
            x, y = (loose.x + 0.2) / PITCH, (loose.y + 0.2) / PITCH
            assert (x, y) == pytest.approx((round(x), round(y)))
            line, at = (round(x), round(y)) if loose.along_x else (round(y), round(x))
            slots.subtract([(loose.along_x, line, at, 1), (loose.along_x, line, at, -1)])
        assert +slots == Counter(ends_of((0, 0, spec)))
        assert min(slots.values(), default=0) >= 0


@settings(max_examples=40)
@given(specs=floors(), bed=BEDS)
@example(specs=(HOLE_ON_A_CUT,), bed=SMALL)
def test_pieces_of_a_panel_are_tied_together(specs: tuple[PanelSpec, ...], bed: Bed) -> None:
    """From every piece every other one is reached over keys, unless they only touch over less than two cells."""
    for spec in specs:
        _, placed = cut(spec, bed)
        owner = {(col + c, row + r): n for n, (col, row, one) in enumerate(placed) for c, r in one.cells}
        long_borders: Counter[tuple[int, int]] = Counter()
        for (c, r), mine in owner.items():
            for near in ((c + 1, r), (c, r + 1)):
                if owner.get(near, mine) != mine:
                    long_borders[mine, owner[near]] += 1
        tied = {frozenset(pair) for pair in tied_pairs(spec, placed, owner)}
        assert {frozenset(pair) for pair, cells in long_borders.items() if cells >= 4} <= tied


def tied_pairs(spec: PanelSpec, placed: list[Placed], owner: dict[Cell, int]) -> list[tuple[int, int]]:
    """Pairs of pieces that share a key, found from their slots."""
    own = set(ends_of((0, 0, spec)))
    pairs = []
    for one in placed:
        for upright, line, at, way in ends_of(one):
            if way == 1 and (upright, line, at, way) not in own:
                before, behind = ((line - 1, at), (line, at)) if upright else ((at, line - 1), (at, line))
                pairs.append((owner[before], owner[behind]))
    return pairs


def test_a_panel_that_fits_is_not_cut(module: Module) -> None:
    """One piece, no keys, the same recipe."""
    done = cut_panel(module, PanelSpec(6, 5, (), first_has_cone=True, slots=()), Bed(110, 95, 50))
    assert done is not None
    assert [piece.recipe for piece in done.pieces] == [done.part.recipe]
    assert done.keys == ()


def test_a_cut_moves_off_a_slot(module: Module) -> None:
    """Ten cells in two: not at the fifth border, where a filler is keyed."""
    spec = PanelSpec(10, 4, (), first_has_cone=True, slots=(Slot(Side.FRONT, 5),))
    done = cut_panel(module, spec, Bed(120, 100, 50))
    assert done is not None
    assert sorted(round(piece.size[0] + 0.4) for piece in done.pieces) == [72, 108]


def test_a_piece_more_is_better_than_none(module: Module) -> None:
    """Two full shares cannot be moved; three can."""
    spec = PanelSpec(12, 4, (), first_has_cone=True, slots=(Slot(Side.FRONT, 6),))
    done = cut_panel(module, spec, Bed(108, 80, 50))
    assert done is not None
    assert len(done.pieces) == 3


def test_no_piece_under_two_cells(module: Module) -> None:
    """A bed of a single cell takes no panel."""
    assert cut_panel(module, PanelSpec(6, 5, (), first_has_cone=True, slots=()), Bed(35, 35, 50)) is None


def test_the_same_panel_is_cut_the_same(module: Module) -> None:
    """Bit by bit."""
    spec, bed = PanelSpec(14, 9, (), first_has_cone=True, slots=()), Bed(120, 100, 50)
    assert cut_panel(module, spec, bed) == cut_panel(module, spec, bed)


def test_pieces_and_keys_are_disjoint_bodies(module: Module, kernel: MeshKernel) -> None:
    """Placed in the panel they share nothing, and together they lie inside its box."""
    done = cut_panel(
        module, PanelSpec(8, 6, ((0, 0), (0, 1), (1, 0), (1, 1)), first_has_cone=True, slots=()), Bed(90, 90, 50)
    )
    assert done is not None
    assert len(done.pieces) == 4
    bodies = [solid(kernel, piece.recipe, piece.x, piece.y) for piece in done.pieces]
    loose = key(module)
    for place in done.keys:
        turned = solid(kernel, loose.recipe, -4.0, -6.0).rotate([0, 0, 90 if place.along_x else 0])
        bodies.append(turned.translate([place.x, place.y, 0]))
    for number, body in enumerate(bodies):
        for before in bodies[:number]:
            assert (body ^ before).volume() < 0.001
    together = manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add).bounding_box()
    assert together == pytest.approx((0, 0, 0, 8 * 18 - 0.4, 6 * 18 - 0.4, 3.6), abs=1e-3)


def solid(kernel: MeshKernel, recipe: Solid, x: float, y: float) -> manifold3d.Manifold:
    """A recipe as a body, moved."""
    mesh = kernel.mesh(recipe)
    raw = manifold3d.Mesh64(np.array(mesh.vertices, order="C"), np.array(mesh.triangles, dtype=np.uint64, order="C"))
    return manifold3d.Manifold(raw).translate([x, y, 0])


def test_order_of_pieces_is_row_by_row(module: Module) -> None:
    """From the front, left to right."""
    done = cut_panel(module, PanelSpec(12, 12, (), first_has_cone=True, slots=()), Bed(120, 120, 50))
    assert done is not None
    places = [(piece.y, piece.x) for piece in done.pieces]
    assert all(one < other for one, other in pairwise(places))


@settings(max_examples=40)
@given(
    specs=floors(),
    bed=BEDS,
    pattern=st.sampled_from([Pattern.EVERY_CELL, Pattern.EVERY_SECOND, Pattern.UNDER_LAYOUT]),
    start=st.tuples(st.integers(0, 1), st.integers(0, 1)),
)
def test_pieces_keep_the_cones_and_the_edge_of_the_whole(
    specs: tuple[PanelSpec, ...], bed: Bed, pattern: Pattern, start: Cell
) -> None:
    """Whatever pattern; only pieces at an outer side lie back from a cove there, and all of them lie in the whole."""
    for plain in specs:
        chosen = plain.cells[::5] if pattern is Pattern.UNDER_LAYOUT else ()
        edge = SetBack(left=1.0, back=2.5)
        spec = replace(plain, pattern=pattern, start=start, chosen=tuple(sorted(chosen)), set_back=edge)
        done, placed = cut(spec, bed, edge)
        if done is None:
            continue
        assert sorted((col + c, row + r) for col, row, one in placed for c, r in one.cones) == sorted(spec.cones)
        for piece, (col, row, one) in zip(done.pieces, placed, strict=True):
            assert one.set_back.left == (1.0 if col == 0 else 0.0)
            assert one.set_back.back == (2.5 if row + one.rows == spec.rows else 0.0)
            assert one.set_back.right == one.set_back.front == 0.0
            assert piece.x >= -1e-9
            assert piece.x + piece.size[0] <= done.part.size[0] + 1e-6
            assert piece.y + piece.size[1] <= done.part.size[1] + 1e-6


@pytest.mark.parametrize("start", [(0, 0), (1, 0), (0, 1), (1, 1)])
def test_a_cut_after_an_odd_cell_keeps_every_second_cone(start: Cell) -> None:
    """Ten cells by ten in four: the pieces behind the cuts begin with the other phase."""
    spec = PanelSpec(10, 10, (), first_has_cone=start == (0, 0), slots=(), pattern=Pattern.EVERY_SECOND, start=start)
    _, placed = cut(spec, Bed(100, 100, 50))
    assert {(col, row) for col, row, _ in placed} == {(0, 0), (5, 0), (0, 5), (5, 5)}
    assert sorted((col + c, row + r) for col, row, one in placed for c, r in one.cones) == sorted(spec.cones)


@settings(max_examples=60)
@given(gone=st.sets(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=12), bed=BEDS)
def test_no_piece_hangs_by_one_side(gone: set[Cell], bed: Bed) -> None:
    """The loss of any one common side of two cells leaves a piece in one."""
    group = max(sound_groups(in_squares({(c, r) for c in range(10) for r in range(10)} - gone)), key=len)
    _, placed = cut(panel_spec(group, ()).spec, bed)
    assert all(hangs_well(set(one.cells)) for _, _, one in placed)


def hangs_well(cells: set[Cell]) -> bool:
    """Whether no loss of one common side parts these cells."""
    sides = [((c, r), near) for c, r in cells for near in ((c + 1, r), (c, r + 1)) if near in cells]
    return all(len(components(cells, {side})) == 1 for side in sides)


def test_a_piece_that_would_hang_by_one_side_is_two() -> None:
    """A ring of two wide arms: the cut leaves in one field two blocks that share a single side of two cells."""
    missing = {(c, r) for c in range(4, 8) for r in range(3)} | {(c, r) for c in range(4) for r in range(4, 8)}
    rows = {(c, r) for c in range(8) for r in range(8)} - missing
    loop = {(c, r) for c in range(8, 10) for r in range(10)} | {(c, r) for c in range(10) for r in range(8, 10)}
    closing = {(c, r) for c in range(-2, 0) for r in range(10)} | {(c, r) for c in range(-2, 10) for r in range(-2, 0)}
    cells = {(c + 2, r + 2) for c, r in rows | loop | closing}
    (group,) = sound_groups(cells)
    _, placed = cut(panel_spec(group, ()).spec, Bed(216, 110, 50))
    assert placed
    assert all(hangs_well(set(one.cells)) for _, _, one in placed)


def test_pieces_off_a_cove_and_their_keys_are_disjoint(module: Module, kernel: MeshKernel) -> None:
    """Placed in the panel they share nothing, and together they are as large as it."""
    spec = PanelSpec(8, 6, (), first_has_cone=True, slots=(), set_back=SetBack(left=2.0, front=3.0))
    done = cut_panel(module, spec, Bed(90, 90, 50))
    assert done is not None
    bodies = [solid(kernel, piece.recipe, piece.x, piece.y) for piece in done.pieces]
    loose = key(module)
    for place in done.keys:
        turned = solid(kernel, loose.recipe, -4.0, -6.0).rotate([0, 0, 90 if place.along_x else 0])
        bodies.append(turned.translate([place.x, place.y, 0]))
    for number, body in enumerate(bodies):
        for before in bodies[:number]:
            assert (body ^ before).volume() < 0.001
    together = manifold3d.Manifold.batch_boolean(bodies, manifold3d.OpType.Add).bounding_box()
    assert together == pytest.approx((0, 0, 0, 8 * 18 - 0.4 - 2, 6 * 18 - 0.4 - 3, 3.6), abs=1e-3)
