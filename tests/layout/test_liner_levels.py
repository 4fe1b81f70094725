from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.layout.cells import in_squares
from nookwright.layout.liner_levels import Level, cones_under, level_cells, liner_at
from nookwright.module.choice import module_of
from nookwright.module.floor import floor_of
from nookwright.module.pattern import Pattern, has_cone
from nookwright.sizing.usable import BlockedBox, Usable

PITCH = 18.0
MODULE = module_of(PITCH, 6.0, 0.2, "")
PIPE = BlockedBox("a pipe", service=True, x0=100, y0=110, z0=0, x1=150, y1=150, z1=100)


@pytest.mark.parametrize("level", [Level.FULL, Level.SPARSE, Level.FRAME, Level.CROSS])
@pytest.mark.parametrize("blocked", [(), (PIPE,)])
def test_panels_cover_the_cells_of_their_level(level: Level, blocked: tuple[BlockedBox, ...]) -> None:
    """Just the free ones that a square of 2 x 2 of them carries."""
    usable = Usable("drawer", 330.0, 290.0, 100.0, 0.0, blocked)
    floor = floor_of(usable, MODULE)
    liner = liner_at(level, floor, usable, PITCH, 210.0)
    covered = {(p.col + c, p.row + r) for p in liner.panels for c, r in p.spec.cells}
    assert covered == in_squares(level_cells(level, floor.cols, floor.rows) - set(floor.blocked))


@pytest.mark.parametrize("level", [Level.FULL, Level.SPARSE])
def test_cones_stand_where_the_pattern_of_the_space_has_them(level: Level) -> None:
    """Every second cell both ways when sparse, whatever panel carries it."""
    usable = Usable("drawer", 330.0, 290.0, 100.0, 0.0, (PIPE,))
    liner = liner_at(level, floor_of(usable, MODULE), usable, PITCH, 210.0)
    pattern = Pattern.EVERY_SECOND if level is Level.SPARSE else Pattern.CHESSBOARD
    for placed in liner.panels:
        cones = set(placed.spec.cones)
        assert all(((c, r) in cones) is has_cone(placed.col + c, placed.row + r, pattern) for c, r in placed.spec.cells)


def test_no_liner_is_nothing() -> None:
    """Neither panels nor fillers."""
    usable = Usable("drawer", 330.0, 290.0, 100.0, 0.0, ())
    liner = liner_at(Level.NONE, floor_of(usable, MODULE), usable, PITCH, 210.0)
    assert not liner.panels
    assert not liner.fillers


@given(cols=st.integers(4, 30), rows=st.integers(4, 30))
def test_strips_are_two_cells_wide(cols: int, rows: int) -> None:
    """A frame runs along all four edges, a cross from edge to edge through the middle; both are carried everywhere."""
    frame, cross = (level_cells(level, cols, rows) for level in (Level.FRAME, Level.CROSS))
    assert len(frame) == cols * rows - max(0, cols - 4) * max(0, rows - 4)
    assert len(cross) == 2 * cols + 2 * rows - 4
    assert in_squares(frame) == frame
    assert in_squares(cross) == cross


@st.composite
def layouts(draw: st.DrawFn) -> list[tuple[int, int, int, int]]:
    """Footprints side by side in one row of the space."""
    places, col = [], 0
    for _ in range(draw(st.integers(1, 6))):
        cols, rows = draw(st.integers(1, 5)), draw(st.integers(1, 5))
        places.append((col, draw(st.integers(0, 3)), cols, rows))
        col += cols
    return places


@given(places=layouts())
def test_every_part_of_a_layout_gets_its_cones(places: list[tuple[int, int, int, int]]) -> None:
    """Two, so that it cannot turn; one under a single cell; none elsewhere."""
    carried = [(c, r) for c in range(40) for r in range(10)]
    cones = cones_under(places, carried)
    under = [
        [(c, r) for c, r in cones if col <= c < col + cols and row <= r < row + rows] for col, row, cols, rows in places
    ]
    assert [len(mine) for mine in under] == [min(2, cols * rows) for _, _, cols, rows in places]
    assert sorted(cell for mine in under for cell in mine) == sorted(cones)


@pytest.mark.parametrize("level", Level)
def test_every_level_says_what_it_keeps(level: Level) -> None:
    """In a whole sentence or two."""
    assert level.keeps[0].isupper()
    assert level.keeps.endswith(".")
