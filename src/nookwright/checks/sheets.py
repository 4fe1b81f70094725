"""Whether the files of sheets to cut are those of kit.json, and their outlines of the size that it says."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from nookwright.ground.digest import digest
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from nookwright.exchange.kit import Kit, KitSheet

_REMEDY = "Build the kit again; do not change its files by hand."
_EXTENT = re.compile(r"\$EXT(MIN|MAX)\s+10\s+(\S+)\s+20\s+(\S+)")


def check_sheets(folder: Path, kit: Kit) -> Iterator[Finding]:
    """Read the files of all sheets and compare them.

    Args:
        folder: of the kit.
        kit: with the sheets.
    """
    for sheet in kit.sheets:
        for name, sha256 in ((sheet.dxf, sheet.dxf_sha256), (sheet.svg, sheet.svg_sha256)):
            try:
                data = (folder / name).read_bytes()
            except OSError as error:
                yield Finding("file-unreadable", Severity.STOP, name, f"{name}: {error.strerror}.", _REMEDY)
                continue
            if digest(data) != sha256:
                yield Finding("file-changed", Severity.STOP, name, "It is not the file of kit.json.", _REMEDY)
            if name == sheet.dxf:
                yield from _wrong_size(sheet, data.decode(errors="replace"))


def _wrong_size(sheet: KitSheet, text: str) -> Iterator[Finding]:
    """A finding where the extent that a DXF states is not the size of kit.json."""
    ends = {match[1]: (float(match[2]), float(match[3])) for match in _EXTENT.finditer(text)}
    low, high = ends.get("MIN", (0.0, 0.0)), ends.get("MAX", (0.0, 0.0))
    found = high[0] - low[0], high[1] - low[1]
    if max(abs(found[0] - sheet.size[0]), abs(found[1] - sheet.size[1])) > GRID:
        said = f"Its outline measures {found[0]:.3f} x {found[1]:.3f} mm; kit.json says {sheet.size}."
        yield Finding("size-wrong", Severity.STOP, sheet.id, said, _REMEDY)
