from __future__ import annotations

import networkx as nx  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.cells import components, holes, in_squares, sound_groups

Cell = tuple[int, int]
CELLS = st.sets(st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=1)


def graph(cells: set[Cell]) -> nx.Graph[Cell]:
    """Cells as nodes, their common sides as edges."""
    drawn: nx.Graph[Cell] = nx.Graph()
    drawn.add_nodes_from(cells)
    drawn.add_edges_from(((c, r), near) for c, r in cells for near in ((c + 1, r), (c, r + 1)) if near in cells)
    return drawn


@given(cells=CELLS)
def test_no_group_hangs_by_a_single_side(cells: set[Cell]) -> None:
    """Of the cells in squares every one is in one group, in a square of it; no loss of one side parts a group."""
    carried = in_squares(cells)
    groups = sound_groups(carried)
    assert sorted(cell for group in groups for cell in group) == sorted(carried)
    for group in groups:
        assert in_squares(group) == set(group)
        drawn = graph(set(group))
        assert nx.is_connected(drawn)
        assert not nx.has_bridges(drawn)


@given(cells=CELLS)
def test_cells_are_parted_only_at_single_sides(cells: set[Cell]) -> None:
    """Two groups that lie side by side meet in a border whose loss parts the whole."""
    carried = in_squares(cells)
    owner = {cell: number for number, group in enumerate(sound_groups(carried)) for cell in group}
    bridges = {frozenset(edge) for edge in nx.bridges(graph(carried))}
    for one, other in graph(carried).edges:
        assert (owner[one] != owner[other]) is (frozenset((one, other)) in bridges)


def test_two_squares_that_meet_in_one_side_are_two_panels() -> None:
    """Like two stamps on a perforation of one tooth."""
    one = {(0, 0), (1, 0), (0, 1), (1, 1)}
    other = {(2, 1), (3, 1), (2, 2), (3, 2)}
    assert len(components(one | other)) == 1
    assert [set(group) for group in sound_groups(one | other)] == [one, other]


@given(cells=CELLS)
def test_holes_are_what_is_enclosed(cells: set[Cell]) -> None:
    """Missing cells are in a hole just when they do not reach the outside, corners counted as ways."""
    missing = {(c, r) for c in range(9) for r in range(9)} - cells
    outside = {(c, r) for c in range(-1, 10) for r in range(-1, 10)} - cells
    near: nx.Graph[Cell] = nx.Graph()
    near.add_nodes_from(outside)
    near.add_edges_from(
        ((c, r), other)
        for c, r in outside
        for other in ((c + 1, r), (c, r + 1), (c + 1, r + 1), (c + 1, r - 1))
        if other in outside
    )
    enclosed = [part for part in nx.connected_components(near) if (-1, -1) not in part]
    assert sorted(sorted(part) for part in enclosed) == sorted(list(hole) for hole in holes(9, 9, missing))
