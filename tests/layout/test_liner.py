from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.cells import in_squares
from nookwright.layout.liner import (
    EDGE_INSET,
    Liner,
    PlacedFiller,
    Side,
    components,
    key_borders,
    panel_spec,
    plan_liner,
)
from nookwright.module.choice import module_of
from nookwright.module.floor import Floor, clears_corner, floor_of
from nookwright.module.pattern import Pattern, has_cone
from nookwright.sizing.usable import BlockedBox, Usable

PITCH = 18.0
MODULE = module_of(PITCH, 6.0, 0.2, "")
LONGEST = 210.0

Box = tuple[float, float, float, float]


@st.composite
def usables(draw: st.DrawFn) -> Usable:
    """Insides with rounded corners and up to three blocked boxes, some of them at the walls."""
    width, depth = draw(st.floats(40, 600)), draw(st.floats(40, 600))
    boxes = []
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(st.floats(0, width)), draw(st.floats(0, depth))
        wide, deep = draw(st.floats(1, 120)), draw(st.floats(1, 120))
        boxes.append(BlockedBox("a pipe", service=False, x0=x, y0=y, z0=0, x1=x + wide, y1=y + deep, z1=100))
    radius = draw(st.one_of(st.just(0.0), st.floats(0, min(width, depth) / 2)))
    return Usable("drawer", width, depth, 100.0, radius, tuple(boxes))


def planned(usable: Usable) -> tuple[Floor, Liner]:
    """The floor of an inside, and its liner."""
    floor = floor_of(usable, MODULE)
    return floor, plan_liner(floor, usable, PITCH, LONGEST)


def strip(placed: PlacedFiller, floor: Floor) -> Box:
    """A filler without its tongues, in the space's axes: from the front left corner to the back right one."""
    start, end, deep = placed.start, placed.start + placed.spec.length, placed.spec.width - EDGE_INSET
    x1, y1 = floor.x0 + floor.cols * PITCH, floor.y0 + floor.rows * PITCH
    return {
        Side.LEFT: (floor.x0 - floor.left, start, floor.x0 - floor.left + deep, end),
        Side.RIGHT: (x1 + floor.right - deep, start, x1 + floor.right, end),
        Side.FRONT: (start, floor.y0 - floor.front, end, floor.y0 - floor.front + deep),
        Side.BACK: (start, y1 + floor.back - deep, end, y1 + floor.back),
    }[placed.side]


@given(usable=usables())
def test_panels_cover_every_free_cell_exactly_once(usable: Usable) -> None:
    """And no other."""
    floor, liner = planned(usable)
    covered = Counter((p.col + c, p.row + r) for p in liner.panels for c, r in p.spec.cells)
    free = {(c, r) for c in range(floor.cols) for r in range(floor.rows)} - set(floor.blocked)
    assert covered == Counter(free)


@given(usable=usables())
def test_cones_stand_where_the_chessboard_of_the_space_has_them(usable: Usable) -> None:
    """Whatever panel carries it, a free cell has a cone by its place in the space alone."""
    _, liner = planned(usable)
    for placed in liner.panels:
        cones = set(placed.spec.cones)
        assert all(((c, r) in cones) is has_cone(placed.col + c, placed.row + r) for c, r in placed.spec.cells)


@given(usable=usables())
def test_fillers_enter_no_blocked_box_and_leave_no_space(usable: Usable) -> None:
    """They share no area with a box, and their corners lie inside the rounded walls, to a hundredth."""
    floor, liner = planned(usable)
    for placed in liner.fillers:
        x0, y0, x1, y1 = strip(placed, floor)
        for box in usable.blocked:
            assert min(x1, box.x1) - max(x0, box.x0) <= 1e-6 or min(y1, box.y1) - max(y0, box.y0) <= 1e-6
        for x, y in ((x0, y0), (x1, y0), (x0, y1), (x1, y1)):
            dx = max(usable.corner_radius - min(x, usable.width - x), 0.0)
            dy = max(usable.corner_radius - min(y, usable.depth - y), 0.0)
            assert min(x, y, usable.width - x, usable.depth - y) >= 0
            assert dx == 0 or dy == 0 or math.hypot(dx, dy) <= usable.corner_radius + 0.01


@given(usable=usables(), cove=st.floats(0, 1))
def test_fillers_clear_rounded_corners_at_their_largest(usable: Usable, cove: float) -> None:
    """Grown by all the play of the liner, 0.5 mm and 0.75 per mille at each end, they still lie inside the corners."""
    usable = replace(usable, cove_radius=cove * min(usable.corner_radius, usable.width / 4, usable.depth / 4))
    floor, liner = planned(usable)
    middle = (usable.width / 2, usable.depth / 2)
    grown = [1 + (0.5 + 0.00075 * side) / (side / 2) for side in (usable.width, usable.depth)]
    radius = usable.corner_radius - usable.cove_radius
    for placed in liner.fillers:
        x0, y0, x1, y1 = strip(placed, floor)
        for corner in ((x0, y0), (x1, y0), (x0, y1), (x1, y1)):
            x, y = (at + (one - at) * share for one, at, share in zip(corner, middle, grown, strict=True))
            near_x, near_y = min(x, usable.width - x), min(y, usable.depth - y)
            dx, dy = (max(usable.corner_radius - near, 0.0) for near in (near_x, near_y))
            assert min(near_x, near_y) >= usable.cove_radius - 1e-6
            assert dx == 0 or dy == 0 or math.hypot(dx, dy) <= radius + 0.01


@given(usable=usables())
def test_fillers_meet_neither_each_other_nor_a_panel(usable: Usable) -> None:
    """Strips are disjoint, and lie beside the cells."""
    floor, liner = planned(usable)
    strips = [strip(placed, floor) for placed in liner.fillers]
    strips.append((floor.x0, floor.y0, floor.x0 + floor.cols * PITCH, floor.y0 + floor.rows * PITCH))
    for number, (x0, y0, x1, y1) in enumerate(strips):
        for u0, v0, u1, v1 in strips[:number]:
            assert min(x1, u1) - max(x0, u0) <= 1e-6 or min(y1, v1) - max(y0, v0) <= 1e-6


@given(usable=usables())
def test_tongues_lie_in_slots(usable: Usable) -> None:
    """Along each side the tongues of the fillers and the slots of the panels are at the same places of the space."""
    floor, liner = planned(usable)
    tongues = sorted((placed.side, along) for placed in liner.fillers for along in along_side(placed))
    slots = sorted(
        (slot.side, (floor.y0 if slot.side.upright else floor.x0) + (first + slot.at) * PITCH)
        for placed in liner.panels
        for slot in placed.spec.slots
        for first in [placed.row if slot.side.upright else placed.col]
    )
    assert [side for side, _ in tongues] == [side for side, _ in slots]
    assert [at for _, at in tongues] == pytest.approx([at for _, at in slots])


def along_side(placed: PlacedFiller) -> list[float]:
    """Where a filler's tongues are along its side: it is turned so that they point away from the wall."""
    against = placed.side in (Side.BACK, Side.LEFT)
    spec = placed.spec
    return [placed.start + (spec.length - at if against else at) for at in spec.tongues]


@given(usable=usables())
def test_a_filler_is_held_and_can_be_printed(usable: Usable) -> None:
    """Each has a tongue well inside its ends, is at least 4 wide and no longer than the bed."""
    _, liner = planned(usable)
    for placed in liner.fillers:
        spec = placed.spec
        assert spec.tongues
        assert min(spec.tongues) >= 8
        assert max(spec.tongues) <= spec.length - 8
        assert spec.width >= 4
        assert spec.length <= LONGEST


@given(usable=usables())
def test_slots_lie_at_free_cells_of_the_edge(usable: Usable) -> None:
    """Both cells beside a slot belong to its panel."""
    _, liner = planned(usable)
    for placed in liner.panels:
        spec, there = placed.spec, set(placed.spec.cells)
        for slot in spec.slots:
            for at in (slot.at - 1, slot.at):
                cell = {
                    Side.LEFT: (0, at),
                    Side.RIGHT: (spec.cols - 1, at),
                    Side.FRONT: (at, 0),
                    Side.BACK: (at, spec.rows - 1),
                }[slot.side]
                assert cell in there


@given(usable=usables(), factor=st.integers(2, 3))
def test_every_filler_side_with_two_free_cells_has_a_filler(usable: Usable, factor: int) -> None:
    """In an empty rectangular space every side whose filler has a width is lined from end to end."""
    plain = Usable("drawer", usable.width * factor, usable.depth, 100.0, 0.0, ())
    floor, liner = planned(plain)
    if floor.cols < 2 or floor.rows < 2:
        return
    wide = {Side.LEFT: floor.left, Side.RIGHT: floor.right, Side.FRONT: floor.front, Side.BACK: floor.back}
    for side, width in wide.items():
        mine = [placed.spec.length for placed in liner.fillers if placed.side is side]
        cells = floor.rows if side.upright else floor.cols
        assert sum(mine) == pytest.approx(cells * PITCH if width else 0, abs=0.61 * max(1, len(mine)))


def test_equal_sides_get_equal_fillers() -> None:
    """Left and right, front and back of a plain space are copies of one part."""
    _, liner = planned(Usable("drawer", 372.0, 300.0, 100.0, 0.0, ()))
    assert len({placed.spec for placed in liner.fillers}) == 2
    assert {placed.side for placed in liner.fillers} == set(Side)


def test_a_space_in_two_parts_has_two_panels() -> None:
    """A wall of pipes across it parts the liner."""
    wall = BlockedBox("pipes", service=True, x0=100, y0=0, z0=0, x1=130, y1=300, z1=100)
    _, liner = planned(Usable("drawer", 300.0, 200.0, 100.0, 0.0, (wall,)))
    assert len(liner.panels) == 2


@given(first=st.integers(0, 20), cells=st.integers(1, 40))
def test_keys_are_inside_their_run(first: int, cells: int) -> None:
    """None for one cell, one for a short run, two that lie like mirror images for a long one."""
    borders = key_borders(first, first + cells - 1)
    assert len(borders) == (0 if cells < 2 else 1 if cells < 4 else 2)
    assert all(first < border < first + cells for border in borders)
    if len(borders) == 2:
        assert borders[0] - first == first + cells - borders[1]
        assert borders[0] < borders[1]


@given(cells=st.sets(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=1))
def test_components_are_the_cells_that_hang_together(cells: set[tuple[int, int]]) -> None:
    """Every cell is in one group; no two groups have cells side by side; a group is reached from any of its cells."""
    groups = components(cells)
    assert sorted(cell for group in groups for cell in group) == sorted(cells)
    owner = {cell: number for number, group in enumerate(groups) for cell in group}
    for (col, row), number in owner.items():
        assert all(owner.get(near, number) == number for near in ((col + 1, row), (col, row + 1)))
    for group in groups:
        reached, edge = {group[0]}, [group[0]]
        while edge:
            col, row = edge.pop()
            near = {(col + 1, row), (col - 1, row), (col, row + 1), (col, row - 1)} & set(group) - reached
            reached |= near
            edge += near
        assert reached == set(group)


@given(cells=st.sets(st.tuples(st.integers(3, 9), st.integers(2, 8)), min_size=1))
def test_a_panel_in_its_own_axes_covers_the_same_cells(cells: set[tuple[int, int]]) -> None:
    """Put back at its place it covers what it was made of."""
    placed = panel_spec(tuple(sorted(cells)), ())
    assert {(placed.col + c, placed.row + r) for c, r in placed.spec.cells} == cells


@given(usable=usables(), pattern=st.sampled_from([Pattern.EVERY_CELL, Pattern.EVERY_SECOND]))
def test_other_patterns_stand_by_the_place_in_the_space(usable: Usable, pattern: Pattern) -> None:
    """As with the chessboard, a free cell has a cone by its place in the space alone."""
    floor = floor_of(usable, MODULE)
    for placed in plan_liner(floor, usable, PITCH, LONGEST, pattern=pattern).panels:
        cones = set(placed.spec.cones)
        assert all(((c, r) in cones) is has_cone(placed.col + c, placed.row + r, pattern) for c, r in placed.spec.cells)


@given(blocked=st.sets(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=20))
def test_no_panel_hangs_by_one_side(blocked: set[tuple[int, int]]) -> None:
    """Every cell of it lies in a square of 2 x 2, and the loss of any one common side leaves it in one piece."""
    usable = Usable("drawer", 146.0, 146.0, 100.0, 0.0, ())
    floor = floor_of(usable, MODULE)
    cells = {(c, r) for c in range(8) for r in range(8)}
    bad = cells - in_squares(cells - blocked)
    liner = plan_liner(replace(floor, blocked=tuple(sorted(bad))), usable, PITCH, LONGEST)
    assert sum(len(placed.spec.cells) for placed in liner.panels) == len(cells - bad)
    assert all(hangs_well(set(placed.spec.cells)) for placed in liner.panels)


def hangs_well(cells: set[tuple[int, int]]) -> bool:
    """Whether cells lie in squares of 2 x 2 and no loss of one common side parts them."""
    sides = [((c, r), near) for c, r in cells for near in ((c + 1, r), (c, r + 1)) if near in cells]
    return in_squares(cells) == cells and all(len(components(cells, {side})) == 1 for side in sides)


def test_two_squares_on_one_side_are_two_panels() -> None:
    """A drawer whose free cells are two stamps that hang together by one tooth."""
    usable = Usable("drawer", 146.0, 146.0, 100.0, 0.0, ())
    free = {(c, r) for c in range(4) for r in range(4)} | {(c, r) for c in range(4, 8) for r in range(3, 7)}
    bad = {(c, r) for c in range(8) for r in range(8)} - free
    liner = plan_liner(replace(floor_of(usable, MODULE), blocked=tuple(sorted(bad))), usable, PITCH, LONGEST)
    assert [len(placed.spec.cells) for placed in liner.panels] == [16, 16]


@given(usable=usables(), cove=st.floats(1, 25))
def test_nothing_of_the_liner_lies_in_a_cove(usable: Usable, cove: float) -> None:
    """At the floor a cove reaches its radius inwards; panels and fillers lie beside it, in the middle of their play."""
    coved = replace(usable, corner_radius=0.0, cove_radius=min(cove, usable.width / 4, usable.depth / 4))
    floor = floor_of(coved, MODULE)
    liner = plan_liner(floor, coved, PITCH, LONGEST)
    boxes = [strip(placed, floor) for placed in liner.fillers]
    for placed in liner.panels:
        edge, spec = placed.spec.set_back, placed.spec
        x0, y0 = floor.x0 + placed.col * PITCH + edge.left, floor.y0 + placed.row * PITCH + edge.front
        x1, y1 = (floor.x0 + (placed.col + spec.cols) * PITCH, floor.y0 + (placed.row + spec.rows) * PITCH)
        boxes.append((x0, y0, x1 - edge.right, y1 - edge.back))
    for x0, y0, x1, y1 in boxes:
        near = min(x0, y0, coved.width - x1, coved.depth - y1)
        assert near >= coved.cove_radius - 1e-6


@given(usable=usables())
def test_panels_clear_the_rounded_corners(usable: Usable) -> None:
    """A panel's corners are round like those of parts, and lie inside the rounded walls wherever a cell is free."""
    floor, liner = planned(usable)
    for placed in liner.panels:
        there = set(placed.spec.cells)
        for c, r in there:
            x, y = floor.x0 + (placed.col + c) * PITCH, floor.y0 + (placed.row + r) * PITCH
            gap_x, gap_y = min(x, usable.width - x - PITCH), min(y, usable.depth - y - PITCH)
            assert clears_corner(usable.corner_radius, gap_x + EDGE_INSET, gap_y + EDGE_INSET, 5.0)
