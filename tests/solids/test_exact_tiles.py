"""Flat solids made tile by tile."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.shapes.regions import Circle, Rect, RegionDifference, RegionMove, RegionRepeat
from nookwright.shapes.solids import Bowl, Difference, Move, Named, Prism, Repeat, Revolution, Solid, Taper, Tip, Union
from nookwright.solids import exact_tiles
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import ExactKernel, ExactSolid, exact
from nookwright.solids.exact_outlines import ExactOutlines
from nookwright.solids.exact_tiles import tiles
from nookwright.solids.mesh import build
from nookwright.solids.occt import parts_of

CELL = 10.0
CONE = Taper(Circle(2), 3, 1)


def sheet(cols: int, rows: int) -> Solid:
    """A sheet with a hole at every corner of four cells, its rim stepped in below, and a cone on every cell."""
    inner = [(CELL * col, CELL * row) for col, row in product(range(1, cols), range(1, rows))]
    middles = tuple((CELL * (col + 0.5), CELL * (row + 0.5)) for col, row in product(range(cols), range(rows)))
    flat = Rect(CELL * cols, CELL * rows, 3)
    holes = (RegionRepeat(Circle(2.5), tuple(inner)),) if inner else ()
    rim = RegionDifference(
        RegionMove(Rect(CELL * cols + 2, CELL * rows + 2), x=-1, y=-1),
        (RegionMove(Rect(CELL * cols - 1, CELL * rows - 1), x=0.5, y=0.5),),
    )
    plate = Difference(Prism(RegionDifference(flat, holes), 2), (Move(Prism(rim, 1.5), z=-1),))
    return Union((plate, Move(Repeat(Named(CONE, "cone"), middles), z=1)))


def tiled(solid: Solid) -> tuple[Solid, ...]:
    """The tiles of a solid."""
    return tiles(solid, ExactOutlines().holds)


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tiles already for what is small."""
    monkeypatch.setattr(exact_tiles, "WORTH_TILES", 1)
    monkeypatch.setattr(exact_tiles, "TILE", CELL)


def test_a_solid_in_tiles_is_the_solid_made_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """Volume, surface, box, handles, and as many faces: no seam is left between two tiles."""
    solid = sheet(17, 9)
    in_tiles = exact(solid)
    assert len(tiled(solid)) == 2
    monkeypatch.setattr(exact_tiles, "WORTH_TILES", 10**6)
    whole = exact(solid)
    assert tiled(solid) == ()
    assert in_tiles.valid
    assert (in_tiles.components, in_tiles.genus) == (whole.components, whole.genus) == (1, 16 * 8)
    assert in_tiles.volume_mm3 == pytest.approx(whole.volume_mm3, rel=1e-10)
    assert in_tiles.area_mm2 == pytest.approx(whole.area_mm2, rel=1e-10)
    assert in_tiles.bounds == pytest.approx(whole.bounds, abs=1e-6)
    assert len(parts_of(in_tiles.shape, "FACE")) == len(parts_of(whole.shape, "FACE"))


@pytest.mark.usefixtures("small")
@pytest.mark.parametrize(
    "placed",
    [
        Move(sheet(4, 3), 7, -5, 2, 1),
        Move(Named(sheet(4, 3), "sheet"), quarter_turns=2),
        Named(Move(Move(sheet(3, 2), 1, 2, 3, 3), -40, 0.5, quarter_turns=3), "sheet"),
        Repeat(sheet(2, 2), ((0, 0), (20, 0), (10, 30))),
        Difference(sheet(3, 3), (Move(sheet(2, 2), 4.25, 5.75, 0.5, 1),)),
        Union((Prism(Rect(30, 30), 1), Move(Repeat(Revolution(((0, 0), (2, 0), (0, 2))), ((5, 5), (25, 25))), z=0.5))),
    ],
)
def test_tiles_follow_every_node(placed: Solid) -> None:
    """Moved, turned, named, repeated, cut out: glued, they are what the mesh kernel makes."""
    assert len(tiled(placed)) > 1
    found = exact(placed)
    assert found.valid
    assert disagreement(build(placed), found) == ""
    assert found.bounds == pytest.approx(placed.bounds, abs=1e-6)


@settings(max_examples=15)
@given(st.integers(1, 5), st.integers(1, 4), st.integers(0, 3), st.integers(-300, 300), st.integers(-300, 300))
def test_tiles_together_have_the_volume(cols: int, rows: int, turns: int, x: int, y: int) -> None:
    """Wherever a sheet lies: nothing is lost, nothing is there twice."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(exact_tiles, "WORTH_TILES", 1)
        patch.setattr(exact_tiles, "TILE", CELL)
        solid = Move(sheet(cols, rows), x / 7, y / 7, quarter_turns=turns)
        parts = tiled(solid)
    assert len(parts) > 1 or max(cols, rows) < 3  # the only line between two cells is nearer to an end than a tile
    kernel = ExactKernel()
    volume_mm3 = sum(kernel.solid(part).volume_mm3 for part in parts or (solid,))
    assert volume_mm3 == pytest.approx(kernel.solid(solid).volume_mm3, rel=1e-9)


@pytest.mark.usefixtures("small")
@pytest.mark.parametrize(
    "solid",
    [
        Union((sheet(3, 2), Tip(Prism(Rect(4, 4), 2), "x"))),
        Union((sheet(3, 2), Bowl(30, 20, 3, 2, 9))),
        Prism(Rect(90, 90), 2),
        sheet(1, 1),
    ],
)
def test_what_cannot_be_cut_into_prisms_is_made_whole(solid: Solid) -> None:
    """A node that tips, a bowl over all, nothing round, a single cell."""
    assert tiled(solid) == ()
    assert exact(solid).valid


def test_faces_that_joining_spoils_stay_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where surface or handles are others after it, the solid keeps its seams."""
    solid = sheet(17, 9)
    plain = exact(solid)
    monkeypatch.setattr(ExactSolid, "area_mm2", property(lambda self: float(len(parts_of(self.shape, "FACE")))))
    kept = exact(solid)
    assert len(parts_of(kept.shape, "FACE")) > len(parts_of(plain.shape, "FACE"))
    assert kept.volume_mm3 == pytest.approx(plain.volume_mm3)
