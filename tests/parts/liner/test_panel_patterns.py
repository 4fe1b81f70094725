from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.layout.cells import in_squares, sound_groups
from nookwright.layout.liner import PanelSpec, SetBack, Side, Slot, panel_spec
from nookwright.module.choice import module_of
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.panel import examples, panel
from nookwright.parts.liner.panel_openings import openings

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

PLAIN = PanelSpec(6, 5, (), first_has_cone=True, slots=())
MODULES = {pitch: module_of(pitch, 6.0, 0.2, "") for pitch in (17.0, 18.0, 24.0)}


@st.composite
def specs(draw: st.DrawFn) -> PanelSpec:
    """Panels of any pattern, some cells missing, slots or edges off a cove."""
    cols, rows = draw(st.integers(2, 7)), draw(st.integers(2, 7))
    gone = draw(st.sets(st.tuples(st.integers(0, cols - 1), st.integers(0, rows - 1)), max_size=5))
    groups = sound_groups(in_squares({(c, r) for c in range(cols) for r in range(rows)} - gone))
    cells = max(groups, key=len, default=((0, 0), (0, 1), (1, 0), (1, 1)))
    spec = replace(panel_spec(cells, ()).spec, pattern=draw(st.sampled_from(Pattern)))
    if spec.pattern is Pattern.UNDER_LAYOUT:
        spec = replace(spec, chosen=tuple(sorted(draw(st.sets(st.sampled_from(spec.cells), max_size=4)))))
    if spec.pattern is Pattern.EVERY_SECOND:
        spec = replace(spec, start=draw(st.tuples(st.integers(0, 1), st.integers(0, 1))))
    if draw(st.booleans()):
        return replace(spec, set_back=SetBack(*(draw(st.sampled_from((0.0, 1.0, 3.5))) for _ in Side)))
    slots = draw(st.sets(st.sampled_from(_places(spec)), max_size=2)) if _places(spec) else set()
    return replace(spec, slots=tuple(sorted(slots)))


def _places(spec: PanelSpec) -> list[Slot]:
    """Where slots may be: in the middle of a side, where both cells beside it are there."""
    there = set(spec.cells)
    middle = {side: (spec.rows if side.upright else spec.cols) // 2 for side in Side}
    cells = {
        Side.LEFT: [(0, middle[Side.LEFT] - 1), (0, middle[Side.LEFT])],
        Side.RIGHT: [(spec.cols - 1, middle[Side.RIGHT] - 1), (spec.cols - 1, middle[Side.RIGHT])],
        Side.FRONT: [(middle[Side.FRONT] - 1, 0), (middle[Side.FRONT], 0)],
        Side.BACK: [(middle[Side.BACK] - 1, spec.rows - 1), (middle[Side.BACK], spec.rows - 1)],
    }
    return [Slot(side, middle[side]) for side in Side if set(cells[side]) <= there]


@settings(max_examples=60)
@given(spec=specs(), pitch=st.sampled_from(sorted(MODULES)))
def test_every_panel_is_one_body_with_the_openings_that_were_counted(
    bench: Bench, spec: PanelSpec, pitch: float
) -> None:
    """Whatever pattern, missing cells, slots and set-backs; its box is what its cells say."""
    part = panel(MODULES[pitch], spec)
    mesh = bench.mesh(part)
    assert mesh.components == 1
    assert mesh.genus == openings(spec, pitch)
    edge = spec.set_back
    wide = spec.cols * pitch - 0.4 - edge.left - edge.right
    deep = spec.rows * pitch - 0.4 - edge.front - edge.back
    high = 3.6 if spec.cones else 0.6
    assert mesh.bounds == pytest.approx((0, 0, 0, wide, deep, high), abs=2e-3)


@settings(max_examples=40)
@given(spec=specs(), pitch=st.sampled_from(sorted(MODULES)))
def test_a_panel_weighs_what_was_forecast(bench: Bench, spec: PanelSpec, pitch: float) -> None:
    """Within 5 %, or where it is a handful of cells within 50 mm3."""
    part = panel(MODULES[pitch], spec)
    assert part.plastic.body_mm3 == pytest.approx(bench.mesh(part).volume_mm3, rel=0.05, abs=80)


@pytest.mark.parametrize("pattern", [Pattern.EVERY_CELL, Pattern.EVERY_SECOND])
def test_the_section_shows_the_cones_of_the_pattern(bench: Bench, module: Module, pattern: Pattern) -> None:
    """One disc in the middle of each cell that has a cone, none elsewhere."""
    spec = replace(PLAIN, pattern=pattern, start=(1, 0))
    discs = bench.solid(panel(module, spec)).slice(2.0).decompose()
    found = {tuple(round((disc.bounds()[i] + disc.bounds()[i + 2]) / 2 + 0.2, 3) for i in (0, 1)) for disc in discs}
    wanted = (
        {((c + 0.5) * 18, (r + 0.5) * 18) for c in (1, 3, 5) for r in (0, 2, 4)}
        if pattern is Pattern.EVERY_SECOND
        else {((c + 0.5) * 18, (r + 0.5) * 18) for c in range(6) for r in range(5)}
    )
    assert found == wanted


@settings(max_examples=25)
@given(spec=specs())
def test_straps_and_frame_are_nowhere_thinner_than_a_strap(bench: Bench, spec: PanelSpec) -> None:
    """Without slots, worn away by a little less than half a strap the sheet still hangs together."""
    section = bench.solid(panel(MODULES[18.0], replace(spec, slots=()))).slice(0.5)
    assert len(section.offset(-1.7).decompose()) == 1


@pytest.mark.parametrize("pattern", [Pattern.CHESSBOARD, Pattern.EVERY_SECOND])
def test_a_hole_has_a_frame_all_round(bench: Bench, module: Module, pattern: Pattern) -> None:
    """A ring of strap width lies around a blocked cell, even where no strap would meet it."""
    spec = replace(PLAIN, cols=7, rows=7, missing=((3, 3),), pattern=pattern)
    section = bench.solid(panel(module, spec), x=0.2, y=0.2).slice(0.5)
    hole = next(one for one in section.to_polygons() if abs(one.mean(axis=0) - 63).max() < 0.5)
    assert (hole.min(), hole.max()) == pytest.approx((54 - 0.2, 72 + 0.2), abs=0.01)
    for x, y in ((54 - 2.0, 63), (72 + 2.0, 63), (63, 54 - 2.0), (63, 72 + 2.0)):
        assert _covers(section, x, y)


def _covers(section: object, x: float, y: float) -> bool:
    """Whether a point lies in a section."""
    from manifold3d import CrossSection

    assert isinstance(section, CrossSection)
    return bool((section ^ CrossSection.square((0.02, 0.02)).translate((x, y))).area() > 0)


def test_fewer_cones_cost_less(module: Module) -> None:
    """Every cell, chessboard, every second, in this order; and only under the layout least."""
    spec = replace(PLAIN, cols=10, rows=10)
    under = replace(spec, pattern=Pattern.UNDER_LAYOUT, chosen=((0, 0), (8, 8)))
    order = [replace(spec, pattern=one) for one in (Pattern.EVERY_CELL, Pattern.CHESSBOARD, Pattern.EVERY_SECOND)]
    grams = [panel(module, one).plastic.mass_g(1.24) for one in (*order, under)]
    assert grams == sorted(grams, reverse=True)
    assert grams[3] < grams[0] / 2


@pytest.mark.parametrize(
    ("spec", "words"),
    [
        (replace(PLAIN, cols=1), "covers 2 x 2 cells"),
        (replace(PLAIN, pattern=Pattern.UNDER_LAYOUT, chosen=((6, 0),)), "cones stand on its cells"),
    ],
)
def test_what_is_no_panel_is_refused(module: Module, spec: PanelSpec, words: str) -> None:
    """Before any kernel sees it."""
    with pytest.raises(RecipeError, match=words):
        panel(module, spec)


@pytest.mark.parametrize("pitch", sorted(MODULES))
def test_the_examples_are_sound(bench: Bench, pitch: float) -> None:
    """Bodies and openings are as stated."""
    for example in examples(MODULES[pitch]):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (example.components, example.genus)
