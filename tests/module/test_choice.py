from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import candidates, choose, judge, module_of
from nookwright.module.seat import outer_size
from nookwright.sizing.usable import Usable
from nookwright.sizing.ways import Limits, Way, ways_of
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.module.module import Module

USABLES = (Usable("a", 360.0, 288.0, 80.0, 0.0, ()), Usable("b", 540.0, 180.0, 80.0, 0.0, ()))


@pytest.fixture(scope="module")
def ways() -> tuple[tuple[Way, ...], ...]:
    """Ways to keep two lots."""
    lots = (
        {"id": "dice", "count": 10, "shape": "box", "width": 16, "depth": 16, "height": 16},
        {"id": "jars", "count": 6, "shape": "round", "diameter": 50, "height": 60},
    )
    limits = Limits(540.0, 80.0, 1.2, FloorStyle.SHELL)
    return tuple(ways_of(Lot.model_validate(lot), limits) for lot in lots)


def test_a_pitch_that_is_decided_is_kept(ways: tuple[tuple[Way, ...], ...]) -> None:
    """Even a poor one, and the table then holds it alone."""
    module, rows = choose(0.2, USABLES, ways, pitch=23.3, rise=7.0)
    assert (module.pitch, module.rise) == (23.3, 7.0)
    assert [row.pitch for row in rows] == [23.3]
    assert "as the room file says" in module.chosen


def test_a_rise_becomes_whole_layers() -> None:
    """Rounded up: 7.0 at layers of 0.3 is 7.2."""
    assert module_of(18.0, 7.0, 0.3, "").rise == pytest.approx(7.2)


def test_the_best_row_of_the_table_is_chosen(ways: tuple[tuple[Way, ...], ...]) -> None:
    """All candidates are in the table, and none loses less than the one chosen."""
    module, rows = choose(0.2, USABLES, ways)
    assert tuple(row.pitch for row in rows) == candidates()
    chosen = next(row for row in rows if row.pitch == module.pitch)
    assert chosen.lost_dm2 == min(row.lost_dm2 for row in rows)
    assert f"pitch {module.pitch:g} loses least" in module.chosen


def test_candidates_are_fine_or_coarse_and_nothing_between() -> None:
    """17 to 19 and 22 to 24, in steps of half a millimetre."""
    tried = candidates()
    assert all(17 <= pitch <= 19 or 22 <= pitch <= 24 for pitch in tried)
    assert len(tried) == 10
    assert all(low < high for low, high in pairwise(tried))


@pytest.mark.parametrize("pitch", [17.0, 18.0, 22.5])
def test_the_edge_loss_is_the_area_beside_whole_cells(pitch: float) -> None:
    """By hand: width mod pitch and depth mod pitch, over all spaces."""
    by_hand = sum(u.width * u.depth - (u.width - u.width % pitch) * (u.depth - u.depth % pitch) for u in USABLES)
    assert judge(pitch, 0.2, USABLES, ()).edge_dm2 == pytest.approx(by_hand / 1e4)


def test_a_space_of_whole_cells_loses_nothing_at_its_edges() -> None:
    """360 x 288 is 20 x 16 cells of 18."""
    assert judge(18.0, 0.2, USABLES[:1], ()).edge_dm2 == 0


def test_the_inside_loss_is_that_of_the_best_way(ways: tuple[tuple[Way, ...], ...]) -> None:
    """A lot without any way loses nothing; the others what their best tray has beyond their things and walls."""
    module = module_of(18.0, 6.0, 0.2, "")

    def loss(way: Way) -> float:
        cols, rows = cells(module, way.inner_width), cells(module, way.inner_depth)
        need = (way.inner_width + 2.4) * (way.inner_depth + 2.4)
        return outer_size(cols, 18.0) * outer_size(rows, 18.0) - need

    by_hand = sum(min(loss(way) for way in lot) for lot in ways)
    assert judge(18.0, 0.2, (), (*ways, ())).inside_dm2 == pytest.approx(by_hand / 1e4)


def cells(module: Module, inner: float) -> int:
    """Fewest cells whose tray has the room, by counting up."""
    count = 1
    while outer_size(count, module.pitch) - 2.4 < inner:
        count += 1
    return count
