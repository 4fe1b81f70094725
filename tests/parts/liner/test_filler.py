from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import FillerSpec, Lips, PanelSpec, Side, Slot
from nookwright.module.choice import module_of
from nookwright.parts.liner.filler import examples, filler
from nookwright.parts.liner.panel import panel
from nookwright.parts.model import Kind
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module


@pytest.mark.parametrize(
    "spec",
    [FillerSpec(35.6, 4.0, (17.8,)), FillerSpec(71.6, 6.3, (17.8, 53.8)), FillerSpec(215.6, 8.9, (53.8, 161.8))],
)
def test_a_filler_is_one_closed_body(
    bench: Bench, module: Module, sound: Callable[..., None], spec: FillerSpec
) -> None:
    """From the wall to the tips of its tongues 6 mm past the border, lips 2 above the panel."""
    part = filler(module, spec)
    sound(bench, part, (spec.length, spec.width + 6, 2.6))
    assert bench.genus(part) == 0
    assert part.kind is Kind.FILLER


def test_a_tongue_fits_its_slot_and_holds(bench: Bench, module: Module) -> None:
    """In the axes of the cells: free in its place and within its clearance of 0.12, held when it is pulled off."""
    liner = bench.solid(
        panel(module, PanelSpec(4, 3, (), first_has_cone=True, slots=(Slot(Side.FRONT, 2),))), x=0.2, y=0.2
    )
    part = filler(module, FillerSpec(35.6, 6.0, (17.8,)))
    there = bench.solid(part, x=2 * 18 - 17.8, y=-6.0)
    assert bench.shared_mm3(there, liner) < 0.001
    for dx, dy in ((0.1, 0), (-0.1, 0), (0, 0.1), (0, -0.1)):
        assert bench.shared_mm3(there.translate([dx, dy, 0]), liner) < 0.001
    for dx, dy in ((0.2, 0), (-0.2, 0), (0, 0.3), (0, -0.7)):
        assert bench.shared_mm3(there.translate([dx, dy, 0]), liner) > 0.001


@pytest.mark.parametrize("side", list(Side))
def test_a_tongue_fits_on_every_side(bench: Bench, module: Module, side: Side) -> None:
    """The filler is turned so that its tongue points into the panel."""
    spec = PanelSpec(4, 4, (), first_has_cone=False, slots=(Slot(side, 2),))
    liner = bench.solid(panel(module, spec), x=0.2, y=0.2)
    part = filler(module, FillerSpec(35.6, 6.0, (17.8,)))
    turns, x, y = {
        Side.FRONT: (0, 36 - 17.8, -6.0),
        Side.RIGHT: (1, 72 - 6.0, 36 - 17.8),
        Side.BACK: (2, 36 - 17.8, 72 - 6.0),
        Side.LEFT: (3, -6.0, 36 - 17.8),
    }[side]
    there = bench.solid(part, x=x, y=y, turns=turns)
    assert bench.shared_mm3(there, liner) < 0.001
    away = {Side.FRONT: (0, -1), Side.RIGHT: (1, 0), Side.BACK: (0, 1), Side.LEFT: (-1, 0)}[side]
    assert bench.shared_mm3(there.translate([*away, 0]), liner) > 0.1


def test_a_tray_beside_a_filler_stands_free_over_its_tongue(bench: Bench, module: Module) -> None:
    """The tongue is no thicker than the panel, and the lip stays beside the tray."""
    strip = bench.solid(filler(module, FillerSpec(35.6, 6.0, (17.8,))), x=0.2, y=-6.0)
    part = bench.solid(tray(module, cols=2, rows=2, height=12, smooth=True), x=0.3, y=0.3, z=0.6)
    assert bench.shared_mm3(strip, part) == 0


def test_a_lip_on_one_side_is_at_the_wall(bench: Bench, module: Module) -> None:
    """Above the strip there is one lip, from the wall to 1.2."""
    part = filler(module, FillerSpec(71.6, 8.0, (35.8,), lips=Lips.WALL))
    (lip,) = bench.solid(part).slice(1.5).decompose()
    assert lip.bounds() == pytest.approx((0, 0, 71.6, 1.2))
    assert bench.genus(part) == 0


def test_a_filler_between_two_panels_is_keyed_to_both(bench: Bench, module: Module) -> None:
    """Its tongues on both sides lie free in the slots of the panels beside it, and hold when one is pulled off."""
    slots = (Slot(Side.BACK, 2),), (Slot(Side.FRONT, 2),)
    front, back = (panel(module, PanelSpec(4, 3, (), first_has_cone=True, slots=one)) for one in slots)
    part = filler(module, FillerSpec(71.6, 7.0, (35.8,), far_tongues=(35.8,)))
    assert part.size == pytest.approx((71.6, 7.0 + 12.0, 2.6))
    strip = bench.solid(part, x=0.2, y=54 - 6.0)
    before, behind = bench.solid(front, x=0.2, y=0.2), bench.solid(back, x=0.2, y=54 + 7.0 + 0.2)
    for one, pulled in ((before, -1.0), (behind, 1.0)):
        assert bench.shared_mm3(strip, one) < 0.001
        assert bench.shared_mm3(strip, one.translate([0, pulled, 0])) > 0.1


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (FillerSpec(71.6, 3.9, (35.8,)), "ride over"),
        (FillerSpec(71.6, 6.0, (4.0,)), "clear of its ends"),
        (FillerSpec(71.6, 6.0, (30.0, 38.0)), "of each other"),
        (FillerSpec(71.6, 6.0, (30.0,), far_tongues=(70.0,)), "clear of its ends"),
    ],
)
def test_a_filler_that_would_not_hold_is_refused(module: Module, spec: FillerSpec, words: str) -> None:
    """Before any kernel sees it."""
    with pytest.raises(RecipeError, match=words):
        filler(module, spec)


@pytest.mark.parametrize("pitch", [17.0, 18.0, 24.0])
def test_the_examples_are_sound(bench: Bench, pitch: float) -> None:
    """Bodies, handles and plastic are as stated."""
    for example in examples(module_of(pitch, 6.0, 0.2, "")):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (example.components, example.genus)
        assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.01)
