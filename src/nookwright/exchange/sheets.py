"""Sheets of felt, cork or card that are cut by hand or by a cutter: for each distinct one a DXF and a 1:1 page.

A file's name says what it is for, its size in mm and thickness, and how many are needed:
``sheets/inlay_83x67x1.5_2x.dxf``.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.exchange.cut_sheet import cut_sheet
from nookwright.exchange.dxf import dxf
from nookwright.ground.digest import digest
from nookwright.making.jobs import unique

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from nookwright.parts.design import Copy
    from nookwright.parts.trays.extras import Sheet

FOLDER = "sheets"


@dataclass(frozen=True)
class WrittenSheet:
    """A distinct sheet and its files.

    Attributes:
        sheet: what it is.
        count: how many are needed.
        dxf, dxf_sha256: for a cutter.
        svg, svg_sha256: to print on paper at 1:1.
    """

    sheet: Sheet
    count: int
    dxf: str
    dxf_sha256: str
    svg: str
    svg_sha256: str


def sheets_to_write(copies: Iterable[Copy]) -> tuple[WrittenSheet, ...]:
    """Every distinct sheet, in the order of the copies, with the names and hashes that its files will have.

    Args:
        copies: all copies of all parts.
    """
    needed = Counter(sheet for copy in copies for sheet in copy.sheets)
    stems = unique([_stem(sheet) for sheet in needed])
    return tuple(
        WrittenSheet(
            sheet=sheet,
            count=count,
            dxf=f"{FOLDER}/{stem}_{count}x.dxf",
            dxf_sha256=digest(_dxf(sheet)),
            svg=f"{FOLDER}/{stem}_{count}x.svg",
            svg_sha256=digest(_svg(sheet, count)),
        )
        for (sheet, count), stem in zip(needed.items(), stems, strict=True)
    )


def write_sheets(folder: Path, copies: Iterable[Copy]) -> tuple[WrittenSheet, ...]:
    """Write the files of every distinct sheet.

    Args:
        folder: of the kit.
        copies: all copies of all parts.
    """
    found = sheets_to_write(copies)
    if found:
        (folder / FOLDER).mkdir(exist_ok=True)
    for one in found:
        (folder / one.dxf).write_bytes(_dxf(one.sheet).encode())
        (folder / one.svg).write_bytes(_svg(one.sheet, one.count).encode())
    return found


def size_of(sheet: Sheet) -> tuple[float, float]:
    """Width and depth of a sheet, mm."""
    x0, y0, x1, y1 = sheet.outline.bounds
    return x1 - x0, y1 - y0


def _stem(sheet: Sheet) -> str:
    width, depth = size_of(sheet)
    return f"{sheet.use}_{width:.0f}x{depth:.0f}x{sheet.thickness:g}"


def _dxf(sheet: Sheet) -> str:
    return dxf((sheet.outline,))


def _svg(sheet: Sheet, count: int) -> str:
    return cut_sheet((sheet.outline,), title=f"{sheet.use}, {sheet.thickness:g} mm thick, {count} of this")
