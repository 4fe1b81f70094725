from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from manifold3d import CrossSection, Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import outer_size
from nookwright.parts.shoes.shoe import Owned, ShoeFloor, ShoeSpec, opening_of, shoe, shoe_cells

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

HIGH = 24.0
THINGS = {
    "a box": Owned(60.0, 41.0, 3.0),
    "a jar": Owned(50.0, foot_inset=3.0, foot_height=5.0),
    "a tin that widens": Owned(66.0, 44.0, 8.0, taper=0.08),
    "a jar that narrows": Owned(50.0, taper=-0.05),
}


def outline(owned: Owned, by: float) -> CrossSection:
    """The outline of a thing grown by a length, about its middle."""
    if owned.depth == 0:
        return CrossSection.circle(owned.width / 2 + by, 256)
    square = CrossSection.square([owned.width - 2 * owned.radius, owned.depth - 2 * owned.radius], center=True)
    return square.offset(owned.radius + by, circular_segments=256)


def thing(owned: Owned, height: float) -> Manifold:
    """A thing as its owner measured it, standing on z = 0 about its middle: the foot, and the body above it."""
    top = outline(owned, 0.0).bounds()
    scale = [1 + 2 * owned.taper * height / (top[axis + 2] - top[axis]) for axis in (0, 1)]
    body = Manifold.extrude(outline(owned, 0.0), height, scale_top=scale)
    if not owned.foot_height:
        return body
    foot = Manifold.extrude(outline(owned, -owned.foot_inset), owned.foot_height)
    return foot + body.trim_by_plane([0, 0, 1], owned.foot_height)


def placed(module: Module, owned: Owned, cells: tuple[int, int]) -> Manifold:
    """A thing in the middle of its shoe, on its floor."""
    x, y = (outer_size(count, module.pitch) / 2 for count in cells)
    return thing(owned, 60.0).translate([x, y, module.seat.dome])


@pytest.mark.parametrize("owned", THINGS.values(), ids=THINGS.keys())
def test_the_thing_drops_in(bench: Bench, module: Module, owned: Owned) -> None:
    """In its place and on its way down it shares nothing with its shoe; lower it would be in the floor."""
    cells = shoe_cells(module, owned, HIGH)
    part = bench.solid(shoe(module, ShoeSpec(owned, *cells, HIGH)))
    body = placed(module, owned, cells)
    for up in (0.0, 2.0, 10.0, 20.0):
        assert bench.shared_mm3(body.translate([0, 0, up]), part) < 0.001
    assert bench.shared_mm3(body.translate([0, 0, -0.05]), part) > 0.01


@pytest.mark.parametrize("owned", THINGS.values(), ids=THINGS.keys())
def test_the_thing_has_half_a_millimetre_on_each_side(bench: Bench, module: Module, owned: Owned) -> None:
    """It meets the sleeve after it, to within a few hundredths where both curve."""
    cells = shoe_cells(module, owned, HIGH)
    part = bench.solid(shoe(module, ShoeSpec(owned, *cells, HIGH)))
    body = placed(module, owned, cells).translate([0, 0, 0.01])
    for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        assert bench.shared_mm3(body.translate([x * 0.47, y * 0.47, 0]), part) < 0.001
        assert bench.shared_mm3(body.translate([x * 0.53, y * 0.53, 0]), part) > 0.001


@pytest.mark.parametrize("owned", THINGS.values(), ids=THINGS.keys())
def test_the_mouth_is_chamfered(bench: Bench, module: Module, owned: Owned) -> None:
    """At the rim the pocket is wider by 1.2 on each side than where the chamfer begins; a wall is left all round."""
    cells = shoe_cells(module, owned, HIGH)
    body = bench.solid(shoe(module, ShoeSpec(owned, *cells, HIGH)))

    def hole(z: float) -> float:
        ring = body.slice(z)
        filled = CrossSection([max(ring.to_polygons(), key=len)]) if ring.num_contour() == 1 else ring
        inner = [x for x in ring.decompose()[0].to_polygons() if CrossSection([x[::-1]]).area() > 0][-1]
        assert not filled.is_empty()
        x0, _, x1, _ = CrossSection([inner[::-1]]).bounds()
        return float(x1 - x0)

    assert hole(HIGH - 0.001) - hole(HIGH - 1.199) == pytest.approx(2.4, abs=0.02)


def test_an_open_floor_carries_the_foot_all_round(bench: Bench, module: Module) -> None:
    """The rim of the foot, 2 wide, lies on the floor; the opening runs along cells, all around it have sockets."""
    for owned in (Owned(110.0, 90.0, 6.0), Owned(100.0)):
        cols, rows = shoe_cells(module, owned, HIGH)
        spec = ShoeSpec(owned, cols, rows, HIGH, ShoeFloor.OPEN)
        body = bench.solid(shoe(module, spec))
        foot = outline(owned, 0.0) - outline(owned, -2.0)
        x, y = outer_size(cols, module.pitch) / 2, outer_size(rows, module.pitch) / 2
        assert (foot.translate([x, y]) - body.slice(module.seat.dome - 0.1)).area() < 0.01
        ring, size = opening_of(module, spec)
        assert size == pytest.approx(((cols - 2 * ring) * 18, (rows - 2 * ring) * 18))
        sockets = sum(bench_area(contour) < 0 for contour in body.slice(2.0).to_polygons()) - 1
        assert sockets == cols * rows - (cols - 2 * ring) * (rows - 2 * ring) >= 4
        assert bench.mesh(shoe(module, spec)).genus == 1


def bench_area(points: object) -> float:
    """Signed area of a contour."""
    import numpy as np

    xs, ys = np.asarray(points)[:, 0], np.asarray(points)[:, 1]
    return float((xs * np.roll(ys, -1) - np.roll(xs, -1) * ys).sum()) / 2


def test_the_fewest_cells_are_enough_and_no_more(module: Module) -> None:
    """One less in either direction is refused."""
    owned = THINGS["a box"]
    cols, rows = shoe_cells(module, owned, HIGH)
    shoe(module, ShoeSpec(owned, cols, rows, HIGH))
    for fewer in ((cols - 1, rows), (cols, rows - 1)):
        with pytest.raises(RecipeError, match=f"sleeve stays on its cells.*allowed: {cols} x {rows} or more"):
            shoe(module, ShoeSpec(owned, *fewer, HIGH))


@pytest.mark.parametrize(
    ("spec", "why"),
    [
        (ShoeSpec(Owned(40.0), 3, 3, 12.0), "holds the thing above its foot; found height 12, allowed: at least 18"),
        (ShoeSpec(Owned(40.0, foot_height=9.0), 3, 3, 24.0), "at least 30"),
        (
            ShoeSpec(Owned(30.0, foot_inset=8.0), 3, 3, 24.0, ShoeFloor.OPEN),
            "foot lies on the floor all round.*smooth floor",
        ),
        (ShoeSpec(Owned(14.0), 2, 2, 24.0, ShoeFloor.OPEN), "foot lies on the floor all round"),
    ],
)
def test_what_holds_nothing_is_refused(module: Module, spec: ShoeSpec, why: str) -> None:
    """With the reason and a way out."""
    with pytest.raises(RecipeError, match=why):
        shoe(module, spec)


@pytest.mark.parametrize(
    "sizes", [{"width": 0.0}, {"width": 20.0, "depth": 10.0, "radius": 6.0}, {"width": 20.0, "taper": 0.9},
              {"width": 20.0, "foot_inset": 10.0}],
)  # fmt: skip
def test_a_thing_that_cannot_be_is_refused(sizes: dict[str, float]) -> None:
    """Before anything is made of it."""
    with pytest.raises(RecipeError, match="Measure it again"):
        Owned(**sizes)
