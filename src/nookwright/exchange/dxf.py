"""Outlines for cutters and plotters as DXF: release 12, closed polylines with bulges, in millimetres.

Promise: the same outlines give the same bytes; one polyline an outline, on one layer; arcs stay arcs.
What it does not know: blocks, text, dimensions, anything in space.

Why our own: a dozen group codes are all that an outline takes, and no library then stands between it and the cutter.
Source: Autodesk, DXF Reference, the release 12 entities POLYLINE, VERTEX and SEQEND; group codes 10, 20, 42 (bulge),
70 (1: closed). The unit stands in $INSUNITS (4: millimetres), and in a comment (999) for readers that know no unit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.shapes.boxes import united

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.shapes.regions import Path

Group = tuple[int, str | int | float]

LAYER = "CUT"


def dxf(outlines: Iterable[Path]) -> str:
    """A file of these outlines, in their own places.

    Args:
        outlines: one or more, mm.

    Raises:
        ValueError: there are none.
    """
    paths = tuple(outlines)
    if not paths:
        raise ValueError("A DXF file holds one outline or more, found none.")
    groups = [*_header(paths), *_tables(), *_entities(paths), (0, "EOF")]
    return "".join(f"{code:>3}\r\n{_text(value)}\r\n" for code, value in groups)


def _header(paths: tuple[Path, ...]) -> list[Group]:
    x0, y0, x1, y1 = united(path.bounds for path in paths)
    return [
        (999, "outlines to cut, scale 1:1, units: millimetres"),
        (0, "SECTION"), (2, "HEADER"),
        (9, "$ACADVER"), (1, "AC1009"),
        (9, "$INSUNITS"), (70, 4),
        (9, "$EXTMIN"), (10, x0), (20, y0), (30, 0.0),
        (9, "$EXTMAX"), (10, x1), (20, y1), (30, 0.0),
        (0, "ENDSEC"),
    ]  # fmt: skip


def _tables() -> list[Group]:
    """The layer, and the line type that it names; readers of release 12 want both declared."""
    return [
        (0, "SECTION"), (2, "TABLES"),
        (0, "TABLE"), (2, "LTYPE"), (70, 1),
        (0, "LTYPE"), (2, "CONTINUOUS"), (70, 0), (3, "Solid line"), (72, 65), (73, 0), (40, 0.0),
        (0, "ENDTAB"),
        (0, "TABLE"), (2, "LAYER"), (70, 1),
        (0, "LAYER"), (2, LAYER), (70, 0), (62, 7), (6, "CONTINUOUS"),
        (0, "ENDTAB"),
        (0, "ENDSEC"),
    ]  # fmt: skip


def _entities(paths: tuple[Path, ...]) -> list[Group]:
    groups: list[Group] = [(0, "SECTION"), (2, "ENTITIES")]
    for path in paths:
        groups += [(0, "POLYLINE"), (8, LAYER), (66, 1), (10, 0.0), (20, 0.0), (30, 0.0), (70, 1)]
        for x, y, bulge in path.points:
            groups += [(0, "VERTEX"), (8, LAYER), (10, x), (20, y), (30, 0.0)]
            groups += [(42, bulge)] if bulge else []
        groups += [(0, "SEQEND"), (8, LAYER)]
    return [*groups, (0, "ENDSEC")]


def _text(value: str | float) -> str:
    """A value as it stands in the file; lengths to a tenth of a micron, never minus zero."""
    if isinstance(value, float):
        text = f"{value:.9f}".rstrip("0")
        return text + "0" if text.endswith(".") else text
    return str(value)
