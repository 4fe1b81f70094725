"""Sheets of felt, cork or card: their files, counts and names."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.build import sketch
from nookwright.documents.page import page_html
from nookwright.exchange.sheets import sheets_to_write, size_of, write_sheets
from nookwright.ground.digest import digest
from nookwright.parts.trays.divider import DividerSize
from nookwright.parts.trays.extras import Sheet, SheetUse, card_outline

from .test_dxf import read

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.parts.design import Copy

FELT = Sheet(SheetUse.INLAY, card_outline(DividerSize(80.4, 60.0, 1.0, 2.0)), 1.5)
THICK = replace(FELT, thickness=3.0)
CARD = Sheet(SheetUse.DIVIDER, card_outline(DividerSize(80.4, 20.0, 1.0, 1.0)), 0.8)


@pytest.fixture
def copies(tiny: Designed) -> list[Copy]:
    """Two trays with an inlay of felt, one of them with two dividers of card; a third with thicker felt."""
    one, two, three, *_ = tiny.copies
    return [replace(one, sheets=(FELT,)), replace(two, sheets=(FELT, CARD, CARD)), replace(three, sheets=(THICK,))]


def test_each_distinct_sheet_is_written_once_and_counted(tmp_path: Path, copies: list[Copy]) -> None:
    """By use, outline and thickness; the names say all of it, the hashes are those of the bytes."""
    found = write_sheets(tmp_path, copies)
    assert [(one.sheet, one.count) for one in found] == [(FELT, 2), (CARD, 2), (THICK, 1)]
    assert [one.dxf for one in found] == [
        "sheets/inlay_80x60x1.5_2x.dxf",
        "sheets/divider_80x20x0.8_2x.dxf",
        "sheets/inlay_80x60x3_1x.dxf",
    ]
    for one in found:
        assert digest((tmp_path / one.dxf).read_bytes()) == one.dxf_sha256
        assert digest((tmp_path / one.svg).read_bytes()) == one.svg_sha256
    assert found == sheets_to_write(copies)


def test_no_folder_is_made_for_nothing(tmp_path: Path, tiny: Designed) -> None:
    """An empty folder would be a stranger's to the next build."""
    assert write_sheets(tmp_path, tiny.copies) == ()
    assert not any(tmp_path.iterdir())


def test_the_outline_is_of_its_size(tmp_path: Path, copies: list[Copy]) -> None:
    """One closed polyline as large as the sheet, by a reader of its own; the page states the same at 1:1."""
    for one in write_sheets(tmp_path, copies):
        _, (line,) = read((tmp_path / one.dxf).read_bytes().decode())
        xs, ys, _ = zip(*line, strict=True)
        assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx(size_of(one.sheet))
        width, depth = size_of(one.sheet)
        assert re.search(rf"{width:.1f} x {depth:.1f} mm, 1:1", (tmp_path / one.svg).read_text())


def test_the_kit_says_where_sheets_go(copies: list[Copy], tiny: Designed) -> None:
    """The trays, each once; how many are needed; the size."""
    rest = tiny.copies[len(copies) :]
    kit = sketch(replace(tiny, copies=(*copies, *rest)), digest("room"))
    names = [placement.id for placement in kit.placements]
    assert [(sheet.use, sheet.count, sheet.placements) for sheet in kit.sheets] == [
        ("inlay", 2, (names[0], names[1])),
        ("divider", 2, (names[1],)),
        ("inlay", 1, (names[2],)),
    ]
    assert kit.sheets[0].size == (80.4, 60.0)


def test_the_page_lists_what_is_cut(copies: list[Copy], tiny: Designed) -> None:
    """Count, thickness, the tray's name and both files; a kit without sheets has no such section."""
    with_sheets = sketch(replace(tiny, copies=(*copies, *tiny.copies[len(copies) :])), digest("room"))
    page = page_html(with_sheets)
    assert "Sheets to cut" in page
    for sheet in with_sheets.sheets:
        assert sheet.dxf in page
        assert sheet.svg in page
    assert "Sheets to cut" not in page_html(sketch(tiny, digest("room")))
