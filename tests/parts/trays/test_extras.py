"""Loose dividers, name strips and sheets: what belongs to a tray and is made on its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.layout.liner import Side
from nookwright.parts.model import Kind
from nookwright.parts.trays.divider import DividerSize
from nookwright.parts.trays.extras import Extra, SheetUse, card_outline, extras_of, sheets_of
from nookwright.parts.trays.name_strip import Lettering
from nookwright.parts.trays.tray import tray
from nookwright.parts.trays.tray_frame import TrayFrame
from nookwright.parts.trays.tray_options import DividerKind, Dividers, LowSide, Split, TrayOptions

if TYPE_CHECKING:
    import manifold3d
    from tests.parts.conftest import Bench

    from nookwright.module.module import Module

OPTIONS = {
    "rows": TrayOptions(dividers=(Dividers(Split.ROWS, DividerKind.REMOVABLE, compartments=3),), strip_height=12.0),
    "columns": TrayOptions(dividers=(Dividers(Split.COLUMNS, DividerKind.REMOVABLE, at=(40.0, 70.0)),), inlay=2.0),
    "a strip of less than the front": TrayOptions(strip_height=14.0, strip_length=60.0),
    "a low back": TrayOptions(strip_height=10.0, low_side=LowSide(Side.BACK)),
}


def standing(bench: Bench, extra: Extra) -> manifold3d.Manifold:
    """An extra in its tray: set on its front edge, turned, the low corner of its box put where it says."""
    body = bench.made(extra.part.recipe).rotate([90.0, 0.0, 0.0]).rotate([0.0, 0.0, 90.0 * extra.quarter_turns])
    low = body.bounding_box()[:3]
    return body.translate([extra.x - low[0], extra.y - low[1], extra.z - low[2]])


@pytest.mark.parametrize("options", OPTIONS.values(), ids=OPTIONS.keys())
@pytest.mark.parametrize("lettering", Lettering)
def test_extras_stand_clear_in_their_places(
    bench: Bench, module: Module, options: TrayOptions, lettering: Lettering
) -> None:
    """They share nothing with the tray, reach the rim at most, and hardly move: a millimetre aside they meet it."""
    frame = TrayFrame(module, 6, 8, 48.0, options)
    body = bench.solid(tray(module, cols=6, rows=8, height=48.0, options=options))
    extras = extras_of(frame, "M4", lettering)
    assert extras
    for extra in extras:
        placed = standing(bench, extra)
        assert bench.shared_mm3(body, placed) < 0.001
        assert placed.bounding_box()[5] <= 48.0 + 1e-6
        if extra.part.kind is Kind.DIVIDER:  # its ends are as far from one wall as from the other
            ends = [1.0, 0.0, 0.0] if extra.quarter_turns == 0 else [0.0, 1.0, 0.0]
            for play in (0.35, -0.35):
                assert bench.shared_mm3(body, placed.translate([play * step for step in ends])) < 0.001
        along = [0.0, 1.0, 0.0] if extra.quarter_turns == 0 else [1.0, 0.0, 0.0]
        for way in (1.0, -1.0):
            assert bench.shared_mm3(body, placed.translate([way * step for step in along])) > 0.1
        assert bench.shared_mm3(body, placed.translate([0.0, 0.0, -0.5])) > 0.1


def test_a_strip_is_read_from_the_front(bench: Bench, module: Module) -> None:
    """Its letters stand towards the front, upright: the L of a name has its foot below."""
    frame = TrayFrame(module, 6, 8, 48.0, TrayOptions(strip_height=12.0))
    (strip,) = extras_of(frame, "L", Lettering.RAISED)
    letter = standing(bench, strip).split_by_plane([0.0, -1.0, 0.0], -(strip.y + 0.3))[0]
    low, high = letter.bounding_box()[:3], letter.bounding_box()[3:]
    assert high[2] - low[2] > 1.5 * (high[0] - low[0])
    lower = letter.split_by_plane([0.0, 0.0, 1.0], low[2] + 1.0)[1].bounding_box()
    upper = letter.split_by_plane([0.0, 0.0, 1.0], high[2] - 1.0)[0].bounding_box()
    assert lower[3] - lower[0] > 2 * (upper[3] - upper[0])
    assert upper[0] == pytest.approx(low[0], abs=0.2)


def test_there_are_as_many_dividers_as_slots(module: Module) -> None:
    """All alike; a tray without slots has none."""
    frame = TrayFrame(module, 6, 8, 48.0, OPTIONS["columns"])
    extras = extras_of(frame, "", Lettering.RAISED)
    assert [extra.part.kind for extra in extras] == [Kind.DIVIDER] * 2
    assert extras[0].part == extras[1].part
    assert extras_of(TrayFrame(module, 6, 8, 48.0, TrayOptions()), "", Lettering.RAISED) == ()


def test_card_is_cut_and_not_printed(module: Module) -> None:
    """One sheet for each divider, of the size that a printed one would have; an inlay is one more."""
    cards = Dividers(Split.COLUMNS, DividerKind.CARD, at=(40.0, 70.0), card=1.5)
    frame = TrayFrame(module, 6, 8, 48.0, TrayOptions(dividers=(cards,), inlay=3.0))
    assert extras_of(frame, "", Lettering.RAISED) == ()
    inlay, *rest = sheets_of(frame)
    assert (inlay.use, inlay.thickness) == (SheetUse.INLAY, 3.0)
    assert [(sheet.use, sheet.thickness) for sheet in rest] == [(SheetUse.DIVIDER, 1.5)] * 2
    width, height = rest[0].outline.bounds[2:]
    assert width == pytest.approx(frame.depth - 2 * (1.2 + 0.4))
    assert height == pytest.approx(48.0 - 7.4, abs=0.2)


def test_an_outline_of_card_has_round_corners() -> None:
    """The corners are arcs, the box is that of the divider."""
    outline = card_outline(DividerSize(80.0, 30.0, 1.0, 3.0))
    assert outline.bounds == (0.0, 0.0, 80.0, 30.0)
    assert sum(side.bulge > 0 for side in outline.sides) == 4
    assert all(side.radius == pytest.approx(3.0) for side in outline.sides if side.bulge)
