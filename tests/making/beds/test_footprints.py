from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate
from shapely.geometry import Polygon, box

from nookwright.making.beds.footprints import area_of, box_ways, outline_ways, useful
from nookwright.making.nesting.cells import Footprint


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    """A box of broken sizes with a triangle cut from a corner and a hole."""
    width, depth = draw(st.floats(6, 40)), draw(st.floats(6, 40))
    cut_x, cut_y = draw(st.floats(0.5, width - 3)), draw(st.floats(0.5, depth - 3))
    hole = draw(st.floats(0.1, 1.2))
    shell = [(0, 0), (width, 0), (width, depth - cut_y), (width - cut_x, depth), (0, depth)]
    return Polygon(shell, [[(0.5, 0.5), (0.5, 0.5 + hole), (0.5 + hole, 0.5 + hole), (0.5 + hole, 0.5)]])


@settings(max_examples=60)
@given(outline=outlines(), spacing=st.sampled_from([0.0, 1.5, 3.0]))
def test_the_cells_of_an_outline_cover_it_and_its_room_in_every_way(outline: Polygon, spacing: float) -> None:
    """Whole squares against the polygon, turned by shapely; moved right and back by the spacing it stays in them."""
    width, depth = outline.bounds[2:]
    contours = [np.array(ring.coords)[:-1] for ring in (outline.exterior, *outline.interiors)]
    for turns, way in outline_ways(contours, width, depth, spacing):
        turned = rotate(outline, 90 * turns, origin=(0, 0))
        placed = translate(turned, -turned.bounds[0], -turned.bounds[1])
        cells = [box(x, y, x + w, y + d) for x, y, w, d in way.rects]
        for dx in (0.0, spacing):
            for dy in (0.0, spacing):
                rest = translate(placed, dx, dy)
                for cell in cells:
                    rest = rest.difference(cell)
                assert rest.area < 1e-6
        sides = (depth, width) if turns % 2 else (width, depth)
        assert way.width <= sides[0] + spacing + 2
        assert way.depth <= sides[1] + spacing + 2


def test_a_box_takes_its_size_and_the_spacing_in_whole_cells() -> None:
    """Once where it is a square."""
    ((turns, way),) = box_ways(10.0, 10.0, 3.0)
    assert (turns, way.width, way.depth, way.solid) == (0, 13, 13, True)


def ring(outer: int, inner: int) -> Footprint:
    """A square with a square middle left free."""
    wall = (outer - inner) // 2
    full, open_ = (1 << outer) - 1, ((1 << inner) - 1) << wall
    return Footprint(tuple(full ^ open_ if wall <= y < wall + inner else full for y in range(outer)))


def test_a_pocket_that_nothing_fits_is_filled() -> None:
    """One that something fits stays as it is, also where only a part of that thing would be in it."""
    frame = ring(12, 6)
    assert useful(frame, [(7, 3)]).solid
    assert useful(frame, [(6, 6)]) == frame
    assert useful(frame, [(6, 5), (2, 9)]) == frame
    bent = Footprint(((1 << 10) - 1,) * 3 + (0b111,) * 7)
    assert useful(bent, [(20, 20)]) == bent
    notched = Footprint(((1 << 9) - 1, 0b111000111, (1 << 9) - 1))
    assert useful(notched, [(3, 2)]).solid


def test_area_counts_holes_out() -> None:
    """Outer contour counter-clockwise, hole clockwise."""
    outer = np.array([(0, 0), (10, 0), (10, 10), (0, 10)], np.float64)
    hole = np.array([(2, 2), (2, 5), (5, 5), (5, 2)], np.float64)
    assert area_of([outer, hole]) == 91
