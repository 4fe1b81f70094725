from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.module.choice import module_of
from nookwright.module.floor import CORNER_RADIUS, Axis, Floor, clears_corner, cove_inset, floor_of
from nookwright.sizing.spaces.outlines import Insets, Outline
from nookwright.sizing.usable import BlockedBox, Usable

SIDE = st.floats(40, 600)
PITCH = st.sampled_from([17.0, 18.0, 22.5])


def box(x0: float, y0: float, x1: float, y1: float) -> BlockedBox:
    """A blocked box up to the top."""
    return BlockedBox("a pipe", service=False, x0=x0, y0=y0, z0=0.0, x1=x1, y1=y1, z1=100.0)


@st.composite
def usables(draw: st.DrawFn) -> Usable:
    """Insides with rounded corners and up to three blocked boxes, some of them partly outside."""
    width, depth = draw(SIDE), draw(SIDE)
    boxes = []
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(st.floats(0, width)), draw(st.floats(0, depth))
        boxes.append(box(x, y, x + draw(st.floats(1, 120)), y + draw(st.floats(1, 120))))
    radius = draw(st.floats(0, min(width, depth) / 2))
    return Usable("drawer", width, depth, 100.0, radius, tuple(boxes))


def floor(usable: Usable, pitch: float) -> Floor:
    """The floor of an inside."""
    return floor_of(usable, module_of(pitch, 6.0, 0.2, ""))


def spans(made: Floor, pitch: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """For x and y: where the first filler begins, where the cells begin and end, where the last filler ends."""
    x1, y1 = made.x0 + made.cols * pitch, made.y0 + made.rows * pitch
    return (made.x0 - made.left, made.x0, x1, x1 + made.right), (made.y0 - made.front, made.y0, y1, y1 + made.back)


@given(length=st.floats(40, 600), pitch=PITCH)
def test_what_is_no_cell_is_less_than_a_pitch(length: float, pitch: float) -> None:
    """Cells, fillers and what stays open make up the length less its slack; together the rest is under a pitch."""
    made = floor(Usable("drawer", length, 100.0, 100.0, 0.0, ()), pitch)
    slack = 1.0 + 0.0015 * length
    rest = length - slack - made.cols * pitch
    assert 0 <= rest < pitch + 1e-6
    taken = made.left + made.right + made.open_x
    assert rest - 0.2 - 1e-6 <= taken <= rest + 1e-6


@given(usable=usables(), pitch=PITCH)
def test_liner_and_fillers_are_smaller_than_the_space(usable: Usable, pitch: float) -> None:
    """By 1 mm and 0.15 % of the length at least: heat and measuring error; half of it on each side."""
    made = floor(usable, pitch)
    for length, (first, _, _, last) in zip((usable.width, usable.depth), spans(made, pitch), strict=True):
        slack = 1.0 + 0.0015 * length
        assert last - first <= length - slack + 1e-6
        assert first >= slack / 2 - 1e-6
        assert last <= length - slack / 2 + 1e-6


@given(usable=usables(), pitch=PITCH)
def test_a_filler_is_never_thin(usable: Usable, pitch: float) -> None:
    """Each is at least 4 or not there; on two sides they are equal parts."""
    made = floor(usable, pitch)
    for side in (made.left, made.right, made.front, made.back):
        assert side == 0 or side >= 4
    assert made.left in (0, made.right)
    assert made.front in (0, made.back)
    assert made.open_x == 0 or made.left == made.right == 0
    assert 0 <= made.open_x < 4 + 1e-6


@given(usable=usables(), pitch=PITCH)
def test_blocked_cells_cover_every_blocked_box(usable: Usable, pitch: float) -> None:
    """No cell that is free shares area with a blocked box."""
    made = floor(usable, pitch)
    for col, row in set_of_free(made):
        x, y = made.x0 + col * pitch, made.y0 + row * pitch
        for one in usable.blocked:
            across = min(x + pitch, one.x1) - max(x, one.x0)
            along = min(y + pitch, one.y1) - max(y, one.y0)
            assert across <= 1e-6 or along <= 1e-6


@given(usable=usables(), pitch=PITCH)
def test_every_free_cell_is_carried_by_a_square_of_four(usable: Usable, pitch: float) -> None:
    """Each lies in some square of 2 x 2 free cells, so no panel hangs by a single strap."""
    free = set_of_free(floor(usable, pitch))
    for col, row in free:
        squares = [{(col + i, row + j) for i in (a, a + 1) for j in (b, b + 1)} for a in (-1, 0) for b in (-1, 0)]
        assert any(square <= free for square in squares)


@given(usable=usables(), pitch=PITCH)
def test_no_part_on_a_free_cell_meets_a_rounded_corner(usable: Usable, pitch: float) -> None:
    """Points round the edge of a part of one cell, its corners round, all lie inside the rounded space."""
    made = floor(replace(usable, blocked=()), pitch)
    radius = float(CORNER_RADIUS)
    for col, row in set_of_free(made):
        x, y = made.x0 + col * pitch, made.y0 + row * pitch
        for right in (0, 1):
            for back in (0, 1):
                middle = (x + (pitch - radius if right else radius), y + (pitch - radius if back else radius))
                for step in range(5):
                    angle = math.pi / 2 * step / 4
                    px = middle[0] + (1 if right else -1) * radius * math.cos(angle)
                    py = middle[1] + (1 if back else -1) * radius * math.sin(angle)
                    assert inside(usable, px, py)


@st.composite
def leaning(draw: st.DrawFn) -> Usable:
    """The same insides whose walls stand in above the floor, some of them already at their feet."""
    plain = draw(usables())
    most = min(plain.width, plain.depth) / 5
    foot = Insets(*(draw(st.sampled_from((0.0, 0.0, 2.5))) for _ in range(4)))
    top = foot.widest(Insets(*(draw(st.one_of(st.just(0.0), st.floats(0, most))) for _ in range(4))))
    walls = (Outline(0.0, foot), Outline(plain.height, top))
    return replace(plain, levels=walls, cove_radius=draw(st.sampled_from((0, 4))))


@given(usable=leaning(), pitch=PITCH, one_sided=st.sampled_from((None, Axis.X, Axis.Y)))
def test_parts_and_fillers_clear_walls_that_stand_in(usable: Usable, pitch: float, one_sided: Axis | None) -> None:
    """Cells keep off what their parts pass, however the liner slides in its slack; fillers lie between the feet."""
    made = floor_of(usable, module_of(pitch, 6.0, 0.2, ""), one_sided=one_sided)
    foot, most, own = usable.foot, usable.passed, 0.2
    sides = (
        (usable.width, (foot.left, foot.right), (most.left, most.right)),
        (usable.depth, (foot.front, foot.back), (most.front, most.back)),
    )
    for (length, (near, far), (first_in, last_in)), found in zip(sides, spans(made, pitch), strict=True):
        first, begin, end, last = found
        slack = (1.0 + 0.0015 * (length - near - far)) / 2
        if begin == end:
            continue
        assert begin - slack >= first_in - own - 1e-6
        assert end + slack <= length - last_in + own + 1e-6
        assert first - slack >= near - 1e-6
        assert last + slack <= length - far + 1e-6
    for side in (made.left, made.right, made.front, made.back):
        assert side == 0 or side >= 4


@given(usable=leaning(), pitch=PITCH)
def test_walls_that_stand_in_cost_no_more_cells_than_they_must(usable: Usable, pitch: float) -> None:
    """What is no cell is less than a pitch beyond slack, cove and what stands in."""
    made = floor(usable, pitch)
    most, cove = usable.passed, usable.cove_radius
    for length, before, after, cells in (
        (usable.width, most.left, most.right, made.cols),
        (usable.depth, most.front, most.back, made.rows),
    ):
        rest = length - 1.0 - 0.0015 * length - cells * pitch
        assert rest < pitch + max(cove, before) + max(cove, after) + 0.4


def test_fillers_share_what_is_left_as_the_walls_need_it() -> None:
    """A wall 12 mm in at the rim: 17.5 are left over, so its filler is wider than the other, and none stays open."""
    upright = Usable("drawer", 307.0, 100.0, 100.0, 0.0, ())
    leaning = replace(upright, levels=(Outline(0.0, Insets()), Outline(100.0, Insets(left=12.0))))
    equal, shared = floor(upright, 18.0), floor(leaning, 18.0)
    assert (equal.cols, equal.left, equal.right) == (16, 8.7, 8.7)
    assert (shared.cols, shared.left, shared.right, shared.open_x) == (16, 11.5, 5.6, 0.0)


@given(usable=leaning(), pitch=PITCH)
def test_no_part_meets_a_rounded_corner_of_walls_that_stand_in(usable: Usable, pitch: float) -> None:
    """The corners come in with their walls: seen from the narrowest outline, parts lie inside its rounded corners."""
    made = floor(replace(usable, blocked=(), cove_radius=0.0), pitch)
    most, radius = usable.passed, float(CORNER_RADIUS)
    narrow = replace(usable, width=usable.width - most.left - most.right, depth=usable.depth - most.front - most.back)
    for col, row in set_of_free(made):
        x, y = made.x0 + col * pitch - most.left, made.y0 + row * pitch - most.front
        reach = radius * (1 - math.sqrt(0.5))  # the middle of a part's rounded corner
        for px, py in ((x, y), (x + pitch, y), (x, y + pitch), (x + pitch, y + pitch)):
            inwards = (reach if px == x else -reach), (reach if py == y else -reach)
            assert inside(narrow, px + inwards[0], py + inwards[1])


def inside(usable: Usable, x: float, y: float) -> bool:
    """Whether a point lies inside a rounded rectangle, by its distance from the rectangle of the arcs' centres."""
    radius = usable.corner_radius
    dx = max(radius - x, x - usable.width + radius, 0.0)
    dy = max(radius - y, y - usable.depth + radius, 0.0)
    return math.hypot(dx, dy) <= radius + 1e-6


def set_of_free(made: Floor) -> set[tuple[int, int]]:
    """The cells that are not blocked."""
    return {(col, row) for col in range(made.cols) for row in range(made.rows)} - set(made.blocked)


def test_cells_beside_the_corner_cell_are_blocked_in_a_large_radius() -> None:
    """In a corner of radius 60 the cells beside the corner cell would meet it too."""
    made = floor(Usable("basin", 200.0, 200.0, 100.0, 60.0, ()), 18.0)
    assert {(0, 0), (1, 0), (0, 1)} <= set(made.blocked)
    assert (1, 1) not in made.blocked


@pytest.mark.parametrize("length", [0.0, 0.5, 12.0])
def test_a_space_without_room_has_no_cells(length: float) -> None:
    """Nothing is left of it, and nothing negative is said about it."""
    made = floor(Usable("slit", length, 100.0, 100.0, 0.0, ()), 18.0)
    assert made.cols == 0
    assert made.blocked == ()
    assert min(made.left, made.right, made.open_x) >= 0


@given(radius=st.floats(1, 80), gap=st.floats(0, 80), part=st.floats(0.5, 8))
def test_the_corner_rule_for_equal_gaps(radius: float, gap: float, part: float) -> None:
    """With the same gap f to both walls a part's corner r clears R where f >= (1 - 1/sqrt 2)(R - r)."""
    least = (1 - 1 / math.sqrt(2)) * (radius - part)
    if abs(gap - least) > 1e-6 and radius > part:
        assert clears_corner(radius, gap, gap, part) is (gap > least)


@given(radius=st.floats(0.1, 40), height=st.floats(0, 40))
def test_a_cove_is_a_quarter_circle(radius: float, height: float) -> None:
    """The point at a height lies on a circle about a middle that is one radius off wall and floor."""
    inset = cove_inset(radius, height)
    if height >= radius:
        assert inset == 0
    else:
        assert math.hypot(radius - inset, radius - height) == pytest.approx(radius)


@given(
    width=st.floats(150, 700),
    depth=st.floats(150, 700),
    cove=st.floats(0.5, 25),
    pitch=st.sampled_from([17.0, 18.0, 24.0]),
)
def test_parts_stand_clear_of_a_cove(width: float, depth: float, cove: float, pitch: float) -> None:
    """At the panel's top the outer cells begin beside it; a panel that lies back still carries its outer cones."""
    module = module_of(pitch, 6.0, 0.2, "")
    floor = floor_of(Usable("drawer", width, depth, 100.0, 0.0, (), cove), module)
    inset = cove_inset(cove, 0.6)
    assert floor.x0 >= inset
    assert floor.y0 >= inset
    assert floor.x0 + floor.cols * pitch <= width - inset + 1e-9
    assert floor.y0 + floor.rows * pitch <= depth - inset + 1e-9
    for back in (floor.set_back_x, floor.set_back_y):
        assert 0 <= back + 0.2 + 1.2 <= pitch / 2 - module.seat.cone_base + 1e-9


@given(width=st.floats(150, 700), depth=st.floats(150, 700), cove=st.floats(0.5, 25))
def test_a_cove_never_gains_cells(width: float, depth: float, cove: float) -> None:
    """Neither cells nor filler."""
    module = module_of(18.0, 6.0, 0.2, "")
    plain = floor_of(Usable("drawer", width, depth, 100.0, 0.0, ()), module)
    coved = floor_of(Usable("drawer", width, depth, 100.0, 0.0, (), cove), module)
    assert coved.cols <= plain.cols
    assert coved.rows <= plain.rows
    assert plain.set_back_x == plain.set_back_y == 0


@given(width=st.floats(150, 700), depth=st.floats(150, 700), axis=st.sampled_from(Axis))
def test_one_sided_all_that_is_left_lies_at_the_far_side(width: float, depth: float, axis: Axis) -> None:
    """One filler as wide as two, the same cells, and the other direction as it was."""
    usable, module = Usable("drawer", width, depth, 100.0, 0.0, ()), module_of(18.0, 6.0, 0.2, "")
    both, one = floor_of(usable, module), floor_of(usable, module, one_sided=axis)
    assert (one.cols, one.rows) == (both.cols, both.rows)
    sides = {
        Axis.X: (one.left, one.right, both.left + both.right),
        Axis.Y: (one.front, one.back, both.front + both.back),
    }
    near, far, before = sides[axis]
    assert near == 0
    assert before - 1e-6 <= far <= before + 0.2 + 1e-6
    kept = Axis.Y if axis is Axis.X else Axis.X
    same = {
        Axis.X: lambda made: (made.x0, made.left, made.right),
        Axis.Y: lambda made: (made.y0, made.front, made.back),
    }
    assert same[kept](one) == same[kept](both)


@given(width=st.floats(150, 700), depth=st.floats(150, 700), cove=st.floats(0.5, 25))
def test_without_a_liner_parts_clear_the_foot_of_a_cove(width: float, depth: float, cove: float) -> None:
    """They stand on the floor itself, where it reaches as far as its radius."""
    module = module_of(18.0, 6.0, 0.2, "")
    bare = floor_of(Usable("drawer", width, depth, 100.0, 0.0, (), cove), module, lined=False)
    assert min(bare.x0, width - bare.x0 - bare.cols * 18) >= cove - 1e-9
    assert min(bare.y0, depth - bare.y0 - bare.rows * 18) >= cove - 1e-9
