"""Trays with a front that the packing turned, set straight again: in the same cells, with their things arranged anew.

What it does not know: a tray for which no other arrangement fits its cells stays turned.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.layout.model import Layout, Placed
    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way


def straightened(layout: Layout, ways: Mapping[str, Sequence[Way]], module: Module) -> Layout:
    """The layout with as many fronts to the front as can be.

    Args:
        layout: what is placed.
        ways: all ways to keep each lot, by its id.
        module: the household's module.
    """
    return replace(layout, placed=tuple(_straight(placed, ways, module) for placed in layout.placed))


def _straight(placed: Placed, ways: Mapping[str, Sequence[Way]], module: Module) -> Placed:
    """One part, turned back where another way fits the cells and the height that it has."""
    candidate = placed.candidate
    if candidate is None or not (placed.turned and candidate.way.needs.faces_front):
        return placed
    fitting = (way for way in ways[candidate.lot] if _fits(way, placed, module))
    best = min(fitting, key=lambda way: way.trouble, default=None)
    if best is None:
        return placed
    upright = replace(candidate, way=best, cols=placed.cols, rows=placed.rows)
    return replace(placed, turned=False, candidate=upright)


def _fits(way: Way, placed: Placed, module: Module) -> bool:
    """Whether a way fits the cells of a part without turning it, and is no higher."""
    candidate = placed.candidate
    return (
        candidate is not None
        and way.kind is candidate.way.kind
        and module.cells(way.inner_width) <= placed.cols
        and module.cells(way.inner_depth) <= placed.rows
        and module.height(module.seat.dome + way.wall_height) <= placed.height
        and module.seat.dome + way.stack_height <= candidate.tall
    )
