"""Sizes that were made to fit into each other, published by others, through our own packer and our own floors.

Sources: EN 631-1 (catering containers; footprints as makers of kitchen equipment quote them, 1/9 from memory; only
outer sizes are standard); ISO 3394:2012, abstract (packaging modules 600 x 400, 600 x 500, 550 x 366) and ISO 3676
(plan sizes of unit loads); from memory: the parts of 600 x 400, and IEC 60297-3-101 (racks: 84 units of 5.08 mm).
"""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.packing import pack
from nookwright.layout.packing.found import Footprint
from nookwright.layout.packing.strip import Strip, pack_strip
from nookwright.module.choice import Inside, judge, module_of, pitches
from nookwright.module.floor import SLACK, THINNEST_FILLER, floor_of
from nookwright.sizing.usable import Usable

TRIES = 2_000

PANS = {  # mm, the longer side first
    "2/1": (650, 530),
    "1/1": (530, 325),
    "2/3": (354, 325),
    "1/2": (325, 265),
    "1/3": (325, 176),
    "2/4": (530, 162),
    "1/4": (265, 162),
    "1/6": (176, 162),
    "1/9": (176, 108),
}
FILLINGS = {
    "1/1": (
        ("1/2", "1/2"), ("1/3", "1/3", "1/3"), ("2/3", "1/3"), ("1/4",) * 4, ("1/6",) * 6, ("1/9",) * 9,
        ("2/4", "2/4"), ("2/4", "1/4", "1/4"), ("1/2", "1/4", "1/4"), ("2/3", "1/6", "1/6"),
        ("1/3", "1/3", "1/9", "1/9", "1/9"),
    ),
    "2/1": (("1/1", "1/1"), ("1/1", "1/2", "1/4", "1/4"), ("1/9",) * 18),
}  # fmt: skip


def strip_of(width: int, items: list[tuple[int, int]]) -> Strip:
    """Footprints in a strip, after checking that none overlaps another or leaves it."""
    found = pack_strip(width, [Footprint(wide, deep, may_turn=True) for wide, deep in items], tries=TRIES, seed=1)
    lie = []
    for (wide, deep), spot in zip(items, found.spots, strict=True):
        across, along = (deep, wide) if spot.turned else (wide, deep)
        assert 0 <= spot.col <= width - across
        assert 0 <= spot.row <= found.height - along
        lie.append((spot.col, spot.row, spot.col + across, spot.row + along))
    for a, b in combinations(lie, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    return found


def share(name: str) -> float:
    """What a name says: which part of a 1/1 a pan is."""
    part, whole = name.split("/")
    return int(part) / int(whole)


@pytest.mark.parametrize(("parent", "pans"), [(parent, pans) for parent, all_of in FILLINGS.items() for pans in all_of])
def test_pans_go_into_the_place_of_the_one_that_they_are_parts_of(parent: str, pans: tuple[str, ...]) -> None:
    """In mm, by the packer: those whose parts make up the whole fill its place, with less than 3 % of it left."""
    long, short = PANS[parent]
    sizes = [PANS[pan] for pan in pans]
    assert sum(map(share, pans)) == pytest.approx(share(parent))
    assert 0 <= long * short - sum(a * b for a, b in sizes) < 0.03 * long * short
    assert strip_of(short, sizes).height <= long


def test_parts_that_make_up_a_whole_need_not_go_in() -> None:
    """A half, a third and a sixth are one by area, but 265 + 176 + 162 = 603 one behind the other."""
    long, short = PANS["1/1"]
    assert sum(map(share, ("1/2", "1/3", "1/6"))) == pytest.approx(1)
    assert strip_of(short, [PANS[pan] for pan in ("1/2", "1/3", "1/6")]).height == 603 > long


def test_one_pan_more_does_not_go_in() -> None:
    """Ten of 1/9 by their height, seven of 1/6 by their area: the packer proves that no turning helps."""
    long, short = PANS["1/1"]
    assert strip_of(short, [PANS["1/9"]] * 10).height > long
    assert strip_of(short, [PANS["1/6"]] * 7).bound > long


MODULES = (
    ((1200, 800), (600, 400), 4),
    ((1200, 1000), (600, 400), 5),
    ((1200, 1000), (600, 500), 4),
    ((1100, 1100), (550, 366), 6),
    ((600, 400), (400, 300), 2),
    ((600, 400), (300, 200), 4),
    ((600, 400), (200, 150), 8),
    ((600, 400), (600, 200), 2),
    ((600, 400), (300, 133), 6),
)


@pytest.mark.parametrize(("plan", "module", "count"), MODULES)
def test_packaging_modules_tile_the_loads_that_they_are_made_for(
    plan: tuple[int, int], module: tuple[int, int], count: int
) -> None:
    """As many as go in by area, turned where they must be (five of 600 x 400 on 1200 x 1000), and not one more."""
    assert count == plan[0] * plan[1] // (module[0] * module[1])
    assert strip_of(plan[1], [module] * count).height <= plan[0]
    assert strip_of(plan[1], [module] * (count + 1)).bound > plan[0]


def just(length: float) -> float:
    """The usable side of a space whose liner, less its play, is this long."""
    return (length + SLACK) / (1 - 0.0015)


@pytest.mark.parametrize(
    ("plan", "module", "count"), [one for one in MODULES if all(s % 50 == 0 for s in (*one[0], *one[1]))]
)
def test_a_space_of_a_published_size_is_tiled_in_cells_too(
    plan: tuple[int, int], module: tuple[int, int], count: int
) -> None:
    """A floor of cells of 50 mm, as many as the plan size has, and the same boxes on it: nothing is left."""
    floor = floor_of(Usable("a", just(plan[0]), just(plan[1]), 100.0, 0.0, ()), module_of(50.0, 6.0, 0.2, ""))
    assert (floor.cols, floor.rows) == (plan[0] // 50, plan[1] // 50)
    assert (floor.left, floor.right, floor.front, floor.back) == (0, 0, 0, 0)
    items = [(module[0] // 50, module[1] // 50)] * count
    packed = pack(floor.cols, floor.rows, floor.blocked, items, tries=TRIES, seed=1)
    assert packed.complete
    assert sum(a * b for a, b in items) == floor.cols * floor.rows


def test_a_rack_is_84_units_wide() -> None:
    """5.08 mm a unit, 426.72 mm in all: a floor at that pitch has 84 columns and nothing beside them."""
    floor = floor_of(Usable("a", just(426.72), 200.0, 100.0, 0.0, ()), module_of(5.08, 6.0, 0.2, ""))
    assert floor.cols == 84
    assert (floor.left, floor.right) == (0, 0)
    assert floor.open_x == pytest.approx(0)


@given(width=st.floats(60, 1300), pitch=st.one_of(st.sampled_from(pitches()), st.floats(12, 50)))
def test_a_width_leaves_what_is_over_from_whole_cells_and_never_a_cell(width: float, pitch: float) -> None:
    """What is not cells is the width, less its play, modulo the pitch: as fillers of 4 and more, or open below that."""
    floor = floor_of(Usable("a", width, 200.0, 100.0, 0.0, ()), module_of(pitch, 6.0, 0.2, ""))
    liner = width - 1.0 - 0.0015 * width
    rest = math.fmod(liner, pitch)
    strips = floor.left + floor.right
    assert floor.cols == pytest.approx((liner - rest) / pitch) or rest == pytest.approx(pitch)
    assert strips + floor.open_x < pitch
    assert strips + floor.open_x == pytest.approx(liner - floor.cols * pitch, abs=0.2)  # each filler down to tenths
    assert strips == 0 or min(side for side in (floor.left, floor.right) if side) >= THINNEST_FILLER
    assert (strips == 0) == (liner - floor.cols * pitch < THINNEST_FILLER)


@given(width=st.floats(100, 1300), depth=st.floats(100, 700))
def test_no_pitch_loses_a_whole_row_of_cells_at_an_edge(width: float, depth: float) -> None:
    """What the choice of the module counts as lost is less than one column and one row, play included."""
    inside = Inside(Usable("a", width, depth, 100.0, 0.0, ()))
    for row in judge(pitches(), (6.0,), layer=0.2, insides=(inside,), ways=()):
        play = 2.0 + 0.0015 * (width + depth)
        assert row.edge_dm2 * 1e4 < (row.pitch + play) * (width + depth)
