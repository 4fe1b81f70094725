"""What must hold of every lid, riser, shoe and nest: of the examples at their sizes, and of random parameters."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.module.lines import lines_of
from nookwright.parts.lids import deck_lid, lid, nest, nest_lids, sliding_lid, sliding_rim, sliding_tray
from nookwright.parts.risers import cap, drawer_riser, hollow_riser, riser
from nookwright.parts.shoes import shoe, shoe_corners
from nookwright.solids.mesh import MeshKernel

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.module.module import Module
    from nookwright.parts.model import Example, Part

    from .conftest import Bench

MODULES = (lid, deck_lid, sliding_lid, riser, hollow_riser, cap, drawer_riser, shoe, shoe_corners, nest, nest_lids)
EXAMPLES = [
    pytest.param(example, id=f"{example.size} {example.part.name}")
    for made in MODULES
    for example in made.examples(module_of(18.0, 6.0, 0.2, "for the tests"))
]
SMALLER = [param for param in EXAMPLES if "largest" not in str(param.id)]


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_is_one_closed_body(bench: Bench, sound: Callable[..., None], example: Example) -> None:
    """Its box as its recipe says, its handles as its formula says, its plastic in closed form to 5 %."""
    part = example.part
    sound(bench, part, part.size)
    assert bench.genus(part) == example.genus
    assert part.plastic.body_mm3 == pytest.approx(bench.mesh(part).volume_mm3, rel=0.05)
    assert 0 <= part.plastic.sparse_mm3 < part.plastic.body_mm3
    assert part.plastic.height == pytest.approx(part.size[2])
    assert example.size in {"smallest", "middle", "largest"}


@pytest.mark.parametrize("example", SMALLER)
def test_an_example_prints_without_support(bench: Bench, example: Example) -> None:
    """As its recipe lies: no overhang, no long bridge, no island in the air, no thin wall; it holds on the bed."""
    found = lines_of(1.2, 0.4, 0.2)
    assert found is not None
    mesh = bench.mesh(example.part)
    findings = printability(
        example.part.name, np.array(mesh.vertices), np.array(mesh.triangles), layer=0.2, line=found.width
    )
    assert findings == ()


def test_a_lid_that_is_not_on_its_head_would_not_print(bench: Bench, module: Module) -> None:
    """The check sees what the orientation is for: the plate of a lid as it is worn hangs in the air."""
    from nookwright.parts.lids.lid import LidSpec

    mesh = bench.kernel.mesh(lid.worn(module, lid.lid(module, LidSpec(3, 3)), 7.0))
    findings = printability("lid", np.array(mesh.vertices), np.array(mesh.triangles), layer=0.2, line=0.43)
    assert findings


modules = st.builds(
    lambda pitch, layer: module_of(pitch, 6.0, layer, ""),
    st.sampled_from([17.0, 18.0, 19.0, 22.0, 24.0]),
    st.sampled_from([0.1, 0.2, 0.25, 0.3, 0.6]),
)
few, some = st.integers(1, 3), st.integers(1, 5)
flags = st.booleans()


def heights(module: Module) -> st.SearchStrategy[float]:
    """Whole rises."""
    return st.integers(1, 6).map(lambda rises: round(rises * module.rise, 6))


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Any length between two."""
    return st.floats(low, high, allow_nan=False)


def _lids(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    yield lid.lid(module, lid.LidSpec(draw(few), draw(some), draw(st.sampled_from(lid.LidFit))))


def _decks(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    thickness = draw(st.integers(1, 20)) * module.seat.layer
    spec = deck_lid.DeckSpec(draw(few), draw(some), draw(heights(module)), draw(flags), draw(flags), thickness)
    yield deck_lid.deck_lid(module, spec)
    yield deck_lid.deck_tray(module, spec)


def _sliding(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    lip = draw(st.integers(1, 30)) * module.seat.layer
    slot = sliding_rim.Slot(draw(lengths(3, 40)), draw(lengths(3, 40)), lip) if draw(flags) else None
    spec = sliding_rim.SlidingSpec(draw(few), draw(st.integers(3, 7)), draw(heights(module)), draw(flags), slot)
    yield sliding_lid.sliding_lid(module, spec)
    yield sliding_tray.sliding_tray(module, spec)


def _risers(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    inside, top = draw(st.sampled_from(riser.RiserInside)), draw(st.sampled_from(riser.RiserTop))
    yield riser.riser(module, riser.RiserSpec(draw(few), draw(few), draw(some), inside, top, draw(flags)))


def _hollow(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    top = draw(st.sampled_from(riser.RiserTop))
    spec = hollow_riser.HollowSpec(draw(few), draw(some), draw(some), top, draw(flags))
    yield hollow_riser.hollow_riser(module, spec)
    yield cap.cap(module, spec)


def _drawers(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    spec = drawer_riser.DrawerSpec(draw(some), draw(few), draw(some), draw(flags))
    for make in (drawer_riser.drawer_riser, drawer_riser.drawer_roof, drawer_riser.little_drawer):
        yield make(module, spec)


def _shoes(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    width, depth = draw(lengths(5, 80)), draw(st.just(0.0) | lengths(5, 80))
    radius = draw(lengths(0, 1)) * min(width, depth) / 2
    owned = shoe.Owned(width, depth, radius, draw(lengths(-0.3, 0.3)), draw(lengths(0, 3)), draw(lengths(0, 5)))
    high, floor = draw(heights(module)), draw(st.sampled_from(shoe.ShoeFloor))
    cols, rows = shoe.shoe_cells(module, owned, high)
    spec = shoe.ShoeSpec(owned, cols, rows, high, floor)
    yield shoe.shoe(module, spec)
    yield from shoe_corners.shoe_corners(module, shoe_corners.CornerSpec(spec, draw(few)))


def _nests(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    width, depth = draw(lengths(5, 70)), draw(st.just(0.0) | lengths(5, 70))
    radius = draw(lengths(0, 1)) * min(width, depth) / 2
    nested = nest.Nested(
        width, depth, radius, draw(lengths(0, 12)), draw(lengths(8, 60)), draw(lengths(1, 8)), draw(some)
    )
    yield nest.nest(module, nest.NestSpec(nested, *nest.nest_cells(module, nested), draw(heights(module))))


def _nest_lids(draw: st.DrawFn, module: Module) -> Iterator[Part]:
    sizes = (
        draw(heights(module)),
        draw(lengths(5, 70)),
        draw(lengths(5, 70)),
        draw(lengths(0.5, 9)),
        draw(some),
        draw(flags),
    )
    cols, rows = nest_lids.lids_cells(module, nest_lids.LidsSpec(1, 1, *sizes))
    yield nest_lids.nest_lids(module, nest_lids.LidsSpec(cols, rows, *sizes))


FAMILIES = (_lids, _decks, _sliding, _risers, _hollow, _drawers, _shoes, _nests, _nest_lids)


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.__name__.strip("_"))
def test_random_parameters_make_a_part_or_a_clear_refusal(family: Callable[..., Iterator[Part]]) -> None:
    """Never a broken mesh: one closed body in the box of its recipe, or a message with rule, value, limit, remedy."""
    made: list[str] = []

    @settings(max_examples=12)
    @given(st.data(), modules)
    def hold(data: st.DataObject, module: Module) -> None:
        parts, said = _made(family(data.draw, module))
        for part in parts:
            mesh = MeshKernel().mesh(part.recipe)
            assert mesh.components == 1
            assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=2e-4)
            assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)
            made.append(part.name)
        assert not said or all(word in said for word in (": ", "; found ", ", allowed: "))
        assert not said or said.endswith(".")

    hold()
    assert made


def _made(parts: Iterator[Part]) -> tuple[list[Part], str]:
    """The parts up to a refusal, and what the refusal says."""
    found: list[Part] = []
    try:
        for part in parts:
            found.append(part)  # noqa: PERF402 - those before a refusal are kept
    except RecipeError as refused:
        return found, str(refused)
    return found, ""


@pytest.mark.parametrize("pitch", [17.0, 19.0, 22.0, 24.0])
@pytest.mark.parametrize("layer", [0.1, 0.16, 0.25, 0.28, 0.3, 0.6])
def test_there_are_examples_for_every_household(pitch: float, layer: float) -> None:
    """None is refused, whatever pitch and layer were chosen."""
    module = module_of(pitch, 6.0, layer, "")
    assert all(len(made.examples(module)) >= 3 for made in MODULES)
