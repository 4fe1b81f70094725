from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.printable import printability
from nookwright.ground.errors import RecipeError
from nookwright.layout.liner import Side
from nookwright.module.choice import module_of
from nookwright.module.seat import outer_size
from nookwright.parts.model import Kind
from nookwright.parts.trays.tray import examples, handles, tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import (
    DividerKind,
    Dividers,
    Front,
    Grip,
    LowSide,
    Split,
    TrayOptions,
    plain_options,
)
from nookwright.solids.mesh import MeshKernel
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.parts.conftest import Bench

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

SIZES = [(1, 2, 12.0), (2, 2, 18.0), (5, 3, 36.0), (14, 9, 66.0)]


@pytest.mark.parametrize("smooth", [False, True])
@pytest.mark.parametrize("size", SIZES)
def test_a_tray_is_one_closed_body_of_its_size(
    bench: Bench, module: Module, sound: Callable[..., None], size: tuple[int, int, float], *, smooth: bool
) -> None:
    """Smallest, middle and largest: the closed form of its box, no hole anywhere."""
    cols, rows, height = size
    part = tray(module, cols=cols, rows=rows, height=height, smooth=smooth)
    sound(bench, part, (outer_size(cols, 18.0), outer_size(rows, 18.0), height))
    assert bench.genus(part) == 0
    assert part.kind is Kind.TRAY
    assert part.seated


@pytest.mark.parametrize("layer", [0.1, 0.16, 0.25, 0.28, 0.3, 0.6])
@pytest.mark.parametrize("smooth", [False, True])
def test_trays_can_be_made_at_every_layer(bench: Bench, layer: float, *, smooth: bool) -> None:
    """Also at the coarse layer that printers of 0.2 and 0.3 have in common."""
    module = module_of(18.0, 6.0, layer, "")
    part = tray(module, cols=2, rows=3, height=module.height(30), smooth=smooth)
    assert bench.genus(part) == 0


def test_a_smooth_floor_is_flat_and_a_shell_floor_has_domes(bench: Bench, module: Module) -> None:
    """Above the smooth floor a section shows walls alone; above the shell one dome a cell, below the dome's top."""
    smooth, shell = (tray(module, cols=3, rows=2, height=30, smooth=kind) for kind in (True, False))

    def bodies(part: Part, z: float) -> int:
        return len(bench.solid(part).slice(z).decompose())

    assert (bodies(smooth, 4.5), bodies(shell, 4.3), bodies(shell, 4.5)) == (1, 1 + 6, 1)


def test_the_wall_is_as_thick_as_the_module_says(bench: Bench, module: Module) -> None:
    """The area of a section through the walls is that of a ring with rounded corners."""
    part = tray(module, cols=4, rows=3, height=30, smooth=True)
    pi = 3.14159265
    outside, inside = (71.4, 53.4, 5.0), (71.4 - 2.4, 53.4 - 2.4, 3.8)
    ring = [w * d - (4 - pi) * r * r for w, d, r in (outside, inside)]
    assert bench.solid(part).slice(20.0).area() == pytest.approx(ring[0] - ring[1], rel=1e-3)


def test_the_name_is_the_outer_size(module: Module) -> None:
    """In whole millimetres."""
    assert tray(module, cols=6, rows=8, height=48, smooth=False).name == "tray 107x143 h48"


def test_the_same_parameters_are_the_same_part(module: Module) -> None:
    """And others are another one."""
    one = tray(module, cols=2, rows=3, height=24, smooth=False)
    assert one.recipe.digest == tray(module, cols=2, rows=3, height=24, smooth=False).recipe.digest
    assert one.recipe.digest != tray(module, cols=3, rows=2, height=24, smooth=False).recipe.digest


@st.composite
def entries(draw: st.DrawFn, split: Split) -> Dividers:
    """Dividers of one way, equal or anywhere; many of them cannot be."""
    kind, below = draw(st.sampled_from(DividerKind)), draw(st.sampled_from([0.0, 3.0, 11.3]))
    if draw(st.booleans()):
        return Dividers(split, kind, compartments=draw(st.integers(2, 4)), card=0.8, below_rim=below)
    at = draw(st.lists(st.floats(12, 100), min_size=1, max_size=2))
    return Dividers(split, kind, at=tuple(sorted(at)), card=0.8, below_rim=below)


@st.composite
def options_of(draw: st.DrawFn) -> TrayOptions:
    """Any options, each left out as often as not."""
    dividers = [draw(entries(split)) for split in Split if draw(st.integers(0, 2)) == 0]
    if len(dividers) > 1 and draw(st.integers(0, 4)):
        dividers = [replace(entry, kind=DividerKind.FIXED) for entry in dividers]
    low = LowSide(draw(st.sampled_from(Side)), draw(st.floats(0.2, 0.9))) if draw(st.integers(0, 2)) == 0 else None
    return TrayOptions(
        floor=draw(st.sampled_from(FloorStyle)),
        inlay=draw(st.sampled_from([0.0, 0.0, 1.5, 3.3])),
        front=draw(st.sampled_from(Front)),
        low_side=low,
        grip=draw(st.sampled_from([Grip.NOTCH, Grip.NOTCH, Grip.NOTCH, Grip.HAND_HOLE, Grip.SPREAD, Grip.NONE])),
        dividers=tuple(dividers),
        strip_height=draw(st.sampled_from([0.0, 0.0, 8.0, 12.0, 20.3])),
        picked_by_hand=draw(st.integers(0, 4)) == 0,
    )


@settings(max_examples=200)
@given(cols=st.integers(1, 6), rows=st.integers(1, 6), rises=st.integers(2, 14), options=options_of())
def test_any_options_make_a_solid_or_are_refused(cols: int, rows: int, rises: int, options: TrayOptions) -> None:
    """One closed body of the tray's box with as many handles as hand holes, and the plastic of its closed form.

    What is refused says by which rule, what was found, what is allowed and what to do.
    """
    module, height = module_of(18.0, 6.0, 0.2, ""), 6.0 * rises
    try:
        part = tray(module, cols=cols, rows=rows, height=height, options=options)
    except RecipeError as error:
        assert REFUSAL.fullmatch(str(error))  # noqa: PT017 - either outcome is right, and each is checked
        return
    mesh = MeshKernel(0.05).mesh(part.recipe)
    assert (mesh.components, mesh.genus) == (1, handles(TrayFrame(module, cols, rows, height, options)))
    assert mesh.bounds == pytest.approx((0, 0, 0, outer_size(cols, 18), outer_size(rows, 18), height))
    assert part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)
    assert 0 <= part.plastic.sparse_mm3 < part.plastic.body_mm3


REFUSAL = re.compile(r".+: .+; found .+, allowed: .+\. [A-Z].+\.")


def test_plain_options_are_the_plain_tray(module: Module) -> None:
    """The same recipe, name and parameters, with or without saying that there are no options."""
    plain = tray(module, cols=3, rows=4, height=36, smooth=True)
    assert plain == tray(module, cols=3, rows=4, height=36, options=plain_options(smooth=True))
    assert [name for name, _ in plain.parameters] == ["cols", "floor", "height", "pitch", "rows", "wall"]


def test_names_say_what_a_tray_has(module: Module) -> None:
    """In a fixed order after the size; parameters hold all of it."""
    options = TrayOptions(
        front=Front.SWEPT, floor=FloorStyle.SMOOTH, inlay=1.5, strip_height=12.0, low_side=LowSide(Side.BACK),
        dividers=(Dividers(Split.COLUMNS, compartments=3),),
    )  # fmt: skip
    part = tray(module, cols=6, rows=8, height=48, options=options)
    assert part.name == "tray 107x143 h48 smooth inlay 1.5 swept low back 3 columns strip"
    assert len(part.parameters) == 23
    assert part.parameters == tuple(sorted(part.parameters))
    assert tray(module, cols=6, rows=8, height=48, options=TrayOptions()).name == "tray 107x143 h48 notch"


@pytest.mark.parametrize(
    ("cols", "height", "message"),
    [(0, 36.0, "whole cells"), (2, float("inf"), "height is a length"), (2, 6.0, "leaves room above")],
)
def test_footprints_and_heights_that_cannot_be_are_refused(
    module: Module, cols: int, height: float, message: str
) -> None:
    """Before any kernel sees them."""
    with pytest.raises(RecipeError, match=message):
        tray(module, cols=cols, rows=2, height=height)


def test_examples_print_without_support(bench: Bench, module: Module) -> None:
    """All but the large ones, layer by layer; each is sound, has a name of its own, and the plastic it says."""
    found = examples(module)
    assert len({example.part.name for example in found}) == len(found)
    small = [example for example in found if example.part.size[0] * example.part.size[1] < 8000]
    assert len(small) >= 8
    for example in small:
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (1, example.genus)
        assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)
        assert printability(example.part.name, mesh.vertices, mesh.triangles, layer=0.2, line=0.43) == ()
