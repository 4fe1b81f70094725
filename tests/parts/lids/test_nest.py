from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from manifold3d import CrossSection, Manifold

from nookwright.ground.errors import RecipeError
from nookwright.module.seat import outer_size
from nookwright.parts.lids.nest import Nested, NestSpec, nest, nest_cells

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

THINGS = {
    "bowls": Nested(60.0, 0.0, 0.0, 12.0, 55.0, 9.0, 5),
    "boxes": Nested(70.0, 50.0, 8.0, 6.0, 40.0, 7.0, 4),
    "beakers": Nested(50.0, 0.0, 0.0, 0.5, 40.0, 6.0, 3),
}


def stack(nested: Nested) -> list[Manifold]:
    """The bodies in each other, full, standing on z = 0 about their middle."""
    if nested.depth == 0:
        foot = CrossSection.circle(nested.width / 2, 256)
    else:
        inner = [nested.width - 2 * nested.radius, nested.depth - 2 * nested.radius]
        foot = CrossSection.square(inner, center=True).offset(nested.radius, circular_segments=256)
    scale = [1 + 2 * nested.flare / size for size in (nested.width, nested.depth or nested.width)]
    body = Manifold.extrude(foot, nested.height, scale_top=scale)
    return [body.translate([0, 0, n * nested.pitch]) for n in range(nested.count)]


@pytest.mark.parametrize("height", [24.0, 60.0])
@pytest.mark.parametrize("nested", THINGS.values(), ids=THINGS.keys())
def test_the_stack_drops_in(bench: Bench, module: Module, nested: Nested, height: float) -> None:
    """All bodies, in place and lifted, share nothing with the sleeve; the lowest stands on its floor."""
    cols, rows = nest_cells(module, nested)
    part = bench.solid(nest(module, NestSpec(nested, cols, rows, height)))
    x, y = outer_size(cols, module.pitch) / 2, outer_size(rows, module.pitch) / 2
    for body in stack(nested):
        for up in (0.0, 3.0, 15.0):
            assert bench.shared_mm3(body.translate([x, y, module.seat.dome + up]), part) < 0.001
    assert bench.shared_mm3(stack(nested)[0].translate([x, y, module.seat.dome - 0.05]), part) > 0.01


@pytest.mark.parametrize("nested", [THINGS["bowls"], THINGS["boxes"]], ids=["bowls", "boxes"])
def test_fins_keep_the_foot_in_the_middle(bench: Bench, module: Module, nested: Nested) -> None:
    """Though the sleeve is as wide as the rim, a body alone moves no further than its clearance of 0.8 at its foot."""
    cols, rows = nest_cells(module, nested)
    part = bench.solid(nest(module, NestSpec(nested, cols, rows, 30.0)))
    x, y = outer_size(cols, module.pitch) / 2, outer_size(rows, module.pitch) / 2
    body = stack(nested)[0].translate([x, y, module.seat.dome + 0.01])
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        assert bench.shared_mm3(body.translate([dx * 0.75, dy * 0.75, 0]), part) < 0.001
        assert bench.shared_mm3(body.translate([dx * 0.9, dy * 0.9, 0]), part) > 0.001


def test_the_stack_is_one_body_and_a_pitch_for_each_further_one() -> None:
    """Five bowls of 55 that add 9 each are 91 high."""
    nested = THINGS["bowls"]
    assert nested.stack_height == 55 + 4 * 9
    assert stack(nested)[-1].bounding_box()[5] == pytest.approx(nested.stack_height)
    assert math.isclose(Nested(60.0, 0.0, 0.0, 12.0, 55.0, 9.0, 1).stack_height, 55)


def test_the_fewest_cells_are_enough_and_no_more(module: Module) -> None:
    """One less is refused, and so is a sleeve that holds nothing."""
    nested = THINGS["boxes"]
    cols, rows = nest_cells(module, nested)
    nest(module, NestSpec(nested, cols, rows, 30.0))
    with pytest.raises(RecipeError, match=rf"sleeve stays on its cells.*allowed: {cols} x {rows}"):
        nest(module, NestSpec(nested, cols - 1, rows, 30.0))
    with pytest.raises(RecipeError, match=r"holds the lowest body; found height 12, allowed: at least 18"):
        nest(module, NestSpec(nested, cols, rows, 12.0))


@pytest.mark.parametrize(
    "sizes",
    [(0.0, 0.0, 0.0, 1.0, 9.0, 2.0, 2), (50.0, 0.0, 0.0, 1.0, 9.0, 10.0, 2), (50.0, 0.0, 0.0, 1.0, 9.0, 2.0, 0)],
)
def test_what_does_not_nest_is_refused(sizes: tuple[float, float, float, float, float, float, int]) -> None:
    """No size, a pitch above the height, none of them."""
    with pytest.raises(RecipeError, match=r"they go into each other.*Measure one body"):
        Nested(*sizes)
