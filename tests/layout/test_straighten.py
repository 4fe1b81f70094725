"""Fronts that the packing turned, set straight again."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.layout.model import Layout, Placed
from nookwright.layout.straighten import straightened
from nookwright.sizing.tray_needs import TrayNeeds
from nookwright.sizing.ways import Limits, ways_of
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.module.module import Module

    from .conftest import Make

LIMITS = Limits(length=300.0, height=60.0, wall=1.2, floor=FloorStyle.SHELL)


def layout_of(placed: Placed) -> Layout:
    """A layout of one part."""
    return Layout((placed,), (), (), 0.0, 0.0, proven=True, by_clock=False, seed=0, iterations=0)


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize("count", [12, 1])
def test_a_front_is_turned_back_where_another_way_fits(make: Make, module: Module, count: int, order: int) -> None:
    """Twelve dice lie three by four as well as four by three; one long box lies one way only."""
    straight = count > 1
    sides = {"width": 16, "depth": 16, "height": 16} if straight else {"width": 110, "depth": 20, "height": 16}
    lot = Lot.model_validate(
        {"id": "a", "shape": "box", "count": count, "stands": ["upright"], "grow_percent": 0} | sides
    )
    ways = ways_of(lot, LIMITS, TrayNeeds(faces_front=True))
    way = max(ways, key=lambda one: (one.layers == 1, one.columns == 4, one.columns))
    cols, rows = module.cells(way.inner_width), module.cells(way.inner_depth)
    candidate = replace(
        make.candidate("a", cols, rows), way=way, height=module.height(4.4 + way.wall_height), tall=60.0
    )
    placed = Placed("drawer", 1, 2, rows, cols, turned=True, candidate=candidate, height=candidate.height)
    (found,) = straightened(layout_of(placed), {"a": ways[::order]}, module).placed
    assert found.turned is not straight
    assert (found.col, found.row, found.cols, found.rows, found.height) == (1, 2, rows, cols, candidate.height)
    assert found.candidate is not None
    if straight:
        best = found.candidate.way
        assert module.cells(best.inner_width) <= found.cols
        assert module.cells(best.inner_depth) <= found.rows
        assert (found.candidate.cols, found.candidate.rows) == (found.cols, found.rows)
        assert best.columns * best.rows * best.layers >= count


def test_trays_without_a_front_stay_as_they_lie(make: Make, module: Module) -> None:
    """Turned or not."""
    placed = Placed("drawer", 0, 0, 3, 4, turned=True, candidate=make.candidate("a", 4, 3), height=48.0)
    assert straightened(layout_of(placed), {"a": ()}, module) == layout_of(placed)
