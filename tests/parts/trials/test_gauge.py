"""Gauges: cheap, true to their size, and marked with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.ground.errors import RecipeError
from nookwright.ground.findings import Severity
from nookwright.module.choice import module_of
from nookwright.module.lines import lines_of
from nookwright.parts.trials.gauge import DENSEST_G_CM3, MOST_SET_G, MOST_SET_S, SET, examples, gauge
from nookwright.parts.trials.gauge_tag import GaugeSpec
from nookwright.shapes.regions import Circle
from nookwright.shapes.solids import Move, Prism

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

LAYER = 0.2
MODULE = module_of(18.0, 6.0, LAYER, "for the tests")
LINE = lines_of(MODULE.wall, 0.4, LAYER)
EXAMPLES = examples(MODULE)


@pytest.mark.parametrize("example", EXAMPLES, ids=[each.part.name for each in EXAMPLES])
def test_a_gauge_is_one_sound_body_that_prints_without_support(bench: Bench, example: object) -> None:
    """Whole, with the handles that it says, its plastic as estimated, and nothing hangs in the air."""
    part, mesh = example.part, bench.mesh(example.part)  # type: ignore[attr-defined]
    assert mesh.bounds == pytest.approx((0, 0, 0, *part.size), abs=2e-4)
    assert (mesh.components, mesh.genus) == (1, example.genus)  # type: ignore[attr-defined]
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.04)
    assert LINE is not None
    found = printability(part.name, mesh.vertices, mesh.triangles, layer=LAYER, line=LINE.width)
    assert [each for each in found if each.severity is not Severity.NOTE] == []


@settings(max_examples=60, deadline=None)
@given(st.integers(30, 2200))
def test_three_round_gauges_cost_at_most_five_grams_and_a_quarter_of_an_hour(tenths: int) -> None:
    """From the thinnest pocket to the widest, in the densest usual filament."""
    part = gauge(MODULE, GaugeSpec(tenths / 10))
    assert SET * part.plastic.mass_g(DENSEST_G_CM3) <= MOST_SET_G
    assert SET * part.plastic.time_s(LAYER) <= MOST_SET_S


@pytest.mark.parametrize("width", [8.0, 40.5, 90.3, 120.0, 180.0])
def test_a_thing_of_the_size_that_is_marked_just_goes_in(bench: Bench, width: float) -> None:
    """A cylinder a hundredth thinner shares nothing with the gauge above its foot; one a tenth thicker does."""
    part = gauge(MODULE, GaugeSpec(width))
    body, top = bench.solid(part), part.size[2]
    above = 0.6  # arcs stand on a star of this height
    middle = _middle(bench, width)
    thin, thick = (
        bench.made(Move(Prism(Circle((width + more) / 2), top - above), x=middle[0], y=middle[1], z=above))
        for more in (-0.03, 0.1)
    )
    assert bench.shared_mm3(body, thin) < 0.01
    assert bench.shared_mm3(body, thick) > 0.1


def _middle(bench: Bench, width: float) -> tuple[float, float]:
    """Middle of the pocket, from the uppermost section: that of its bounding box for rings, of the circle for arcs."""
    part = gauge(MODULE, GaugeSpec(width))
    points = [p for contour in bench.solid(part).slice(part.size[2] - 0.1).to_polygons() for p in contour]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    radius = width / 2 + MODULE.wall
    if part.name.startswith("ring"):
        return (min(xs) + max(xs)) / 2, max(ys) - radius
    return (min(xs) + max(xs)) / 2, min(ys) + radius


def test_small_gauges_are_rings_of_the_pockets_own_wall_and_the_widest_are_arcs() -> None:
    """4 mm high while that is cheap; lower above; arcs where no ring is cheap enough."""
    by_width = {width: gauge(MODULE, GaugeSpec(width)) for width in (20.0, 60.0, 100.0, 180.0)}
    assert [part.name.split()[0] for part in by_width.values()] == ["ring", "ring", "ring", "arc"]
    heights = [part.size[2] for part in by_width.values()]
    assert heights[0] == heights[1] == 4.0
    assert 2.4 <= heights[2] < 4.0


def test_gauges_that_differ_by_a_tenth_are_marked_differently() -> None:
    """The mark is what the room file asks for."""
    assert [GaugeSpec(size).mark for size in (40.4, 40.5, 8.0)] == ["40.4", "40.5", "8.0"]
    assert gauge(MODULE, GaugeSpec(40.4)).recipe.digest != gauge(MODULE, GaugeSpec(40.5)).recipe.digest


@pytest.mark.parametrize(
    "spec", [GaugeSpec(2.0), GaugeSpec(20.0, 10.0, 6.0), GaugeSpec(600.0), GaugeSpec(180.0, 120.0)]
)
def test_what_cannot_be_a_gauge_is_refused_with_its_size(spec: GaugeSpec) -> None:
    """Too small, corners larger than the side, too dear."""
    with pytest.raises(RecipeError, match=rf"{spec.width:.1f}"):
        gauge(MODULE, spec)
