from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.ground.errors import RecipeError
from nookwright.module.choice import module_of
from nookwright.parts.model import Kind
from nookwright.parts.trays.name_strip import (
    Lettering,
    NameStrip,
    examples,
    name_strip,
    slot_of,
    strip_depth,
    strip_of,
    text_height,
)
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, Split, TrayOptions
from nookwright.shapes.regions import text_width
from nookwright.sizing.printers.errors import Error, unmeasured

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

OPTIONS = TrayOptions(strip_height=12.0)


@pytest.mark.parametrize("lettering", list(Lettering))
def test_a_strip_slides_in_from_above_and_is_held(bench: Bench, module: Module, lettering: Lettering) -> None:
    """In its place and all the way up it meets nothing; forwards its ends meet the lips, down it meets the sill."""
    frame = TrayFrame(module, 4, 3, 36.0, OPTIONS)
    home = bench.solid(tray(module, cols=4, rows=3, height=36, options=OPTIONS))
    plate = bench.solid(name_strip(module, strip_of(frame, "M4 x 8", lettering))).rotate([90, 0, 0])
    x0, _, z0, x1, _, _ = plate.bounding_box()
    there = plate.translate([(71.4 - x1 - x0) / 2, 1.2 + 1.0 + 0.15, 24.01 - z0])
    for step in range(0, 14, 2):
        assert bench.shared_mm3(home, there.translate([0.0, 0.0, float(step)])) < 0.001
    for side in (-0.15, 0.15):
        assert bench.shared_mm3(home, there.translate([side, 0, 0])) < 0.001
    for way in ([0, -0.3, 0], [0, 0.3, 0], [0.3, 0, 0], [-0.3, 0, 0], [0, 0, -0.1]):
        assert bench.shared_mm3(home, there.translate(way)) > 0.01
    for half in home.split_by_plane([1, 0, 0], 71.4 / 2):  # each end has its lip, 2 wide less the play
        assert bench.shared_mm3(half, there.translate([0, -0.3, 0])) == pytest.approx(1.74 * 0.15 * 12, rel=0.1)


@pytest.mark.parametrize("cols", range(2, 13))
def test_a_strip_goes_in_however_printers_err(module: Module, cols: int) -> None:
    """From two unmeasured printers, strip too large, place too narrow; pushed to one end it stays behind its lips."""
    printer, far = unmeasured(), 0.002 / 0.0014  # standard uncertainties to one side: 0.2 % of scale
    frame = TrayFrame(module, cols, 3, 36.0, TrayOptions(strip_height=12.0, picked_by_hand=False))
    (x0, x1), strip = slot_of(frame), strip_of(frame)
    bias = printer.value(Error.OUTSIDE) - printer.value(Error.INSIDE)
    spread = math.hypot(
        *(far * printer.uncertainty(error) for error in (Error.OUTSIDE, Error.INSIDE)), *2 * (0.002 * strip.width,)
    )
    play = x1 - x0 - strip.width
    assert bias + spread < play
    assert 2.0 - play >= 1.0
    narrower = far * printer.uncertainty(Error.INSIDE) - printer.value(Error.INSIDE)
    assert strip_depth(0.2) - 1.2 - 1.0 > narrower  # behind it: wall and strip of five layers taken off


def test_the_tray_keeps_its_outer_size(bench: Bench, module: Module) -> None:
    """With its strip in, nothing stands over the tray's box: neighbours and seats stay clear."""
    home = bench.solid(tray(module, cols=4, rows=3, height=36, options=OPTIONS))
    strip = bench.solid(name_strip(module, strip_of(TrayFrame(module, 4, 3, 36.0, OPTIONS), "M4 x 8"))).rotate(
        [90, 0, 0]
    )
    x0, _, z0, x1, y1, _ = strip.bounding_box()
    both = home + strip.translate([(71.4 - x1 - x0) / 2, 1.2 + 1.0 + 0.3 - y1, 24 - z0])
    assert both.bounding_box() == pytest.approx((0, 0, 0, 71.4, 53.4, 36))


def test_names_are_features(bench: Bench, module: Module) -> None:
    """The faces of the text are called so, raised or inlaid, and only they."""
    for strip in (NameStrip(60.0, 12.0, "Bits"), NameStrip(60.0, 12.0, "Bits", Lettering.INLAID)):
        mesh = bench.mesh(name_strip(module, strip))
        (feature,) = mesh.features
        assert feature.name == "text"
        top = mesh.vertices[mesh.triangles[feature.first : feature.first + feature.count].ravel()]
        assert top[:, 2].max() == pytest.approx(1.4 if strip.lettering is Lettering.RAISED else 1.0)
        assert top[:, 0].min() > 2
        assert top[:, 0].max() < 58
    assert not bench.mesh(name_strip(module, NameStrip(60.0, 12.0))).features


def test_inlaid_text_is_flush(bench: Bench, module: Module) -> None:
    """An inlaid strip is the blank one to the last cubic millimetre."""
    blank = bench.mesh(name_strip(module, NameStrip(60.0, 12.0)))
    inlaid = bench.mesh(name_strip(module, NameStrip(60.0, 12.0, "Bits & bobs", Lettering.INLAID)))
    assert inlaid.bounds == blank.bounds
    assert inlaid.volume_mm3 == pytest.approx(blank.volume_mm3, rel=1e-6)


@given(text=st.text("abcMNÖ 0123456789x-", min_size=1, max_size=14).filter(str.strip), width=st.floats(16, 120))
def test_text_fits_or_is_refused(text: str, width: float) -> None:
    """Never wider than the window with a margin, never smaller than prints, at most a little over half the strip."""
    strip = NameStrip(width, 12.0, text)
    room = round((width + 0.4) / 0.998, 3) - 4 - 2  # its place is 0.4 and 0.2 % longer, the lips are 2 wide
    if text_width(text, 4.3, 0.86) > room:
        with pytest.raises(RecipeError, match="the text fits in letters that print"):
            text_height(strip)
        return
    high = text_height(strip)
    assert 4.3 <= high <= 6.6
    assert text_width(text, high, max(0.86, round(high / 7, 2))) <= room + 1e-9


@pytest.mark.parametrize("layer", [0.16, 0.2, 0.25, 0.3])
def test_strips_are_whole_layers(layer: float) -> None:
    """Plate and relief."""
    module = module_of(18.0, 6.0, layer, "")
    for lettering in Lettering:
        high = name_strip(module, NameStrip(60.0, 12.0, "M4", lettering)).size[2]
        assert high / layer == pytest.approx(round(high / layer))


def test_examples_are_sound(bench: Bench, module: Module) -> None:
    """One closed body without a hole, the plastic within five per cent."""
    for example in examples(module):
        mesh = bench.mesh(example.part)
        assert (mesh.components, mesh.genus) == (1, example.genus)
        assert example.part.plastic.body_mm3 == pytest.approx(mesh.volume_mm3, rel=0.05)
        assert example.part.kind is Kind.NAME_STRIP


@pytest.mark.parametrize(
    ("cols", "options", "message"),
    [
        (1, TrayOptions(strip_height=12.0, picked_by_hand=False), "a name can be read"),
        (4, TrayOptions(strip_height=7.0), "a name can be read"),
        (4, TrayOptions(strip_height=32.0), r"above what things lie on; found 32\.0, allowed: at most 31\.6"),
        (
            4,
            TrayOptions(strip_height=12.0, dividers=(Dividers(Split.COLUMNS, DividerKind.CARD, at=(35.0,), card=1.0),)),
            "no other use; found slots",
        ),
    ],
)
def test_strips_that_cannot_be_are_refused(module: Module, cols: int, options: TrayOptions, message: str) -> None:
    """Too short, too low, too high, or the front is in use."""
    with pytest.raises(RecipeError, match=message):
        tray(module, cols=cols, rows=3, height=36, options=options)


@pytest.mark.parametrize(("text", "message"), [("  ", "its text says something"), ("M4\n", "its letters can be drawn")])
def test_texts_that_cannot_be_drawn_are_refused_with_a_remedy(module: Module, text: str, message: str) -> None:
    """Blanks alone, and letters that we do not have."""
    with pytest.raises(RecipeError, match=rf"name strip: {message}; found .+, allowed: .+\. .+\."):
        name_strip(module, NameStrip(60.0, 12.0, text))
