from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.module import estimates, floor
from nookwright.module.choice import Inside, judge, lots, pitches, rises, spaces, trays
from nookwright.sizing.usable import Usable
from nookwright.sizing.ways import Limits, ways_of
from nookwright.survey.layout_wishes import Weights
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.sizing.ways import Way


def test_a_row_adds_up(insides: tuple[Inside, ...], ways: tuple[tuple[Way, ...], ...]) -> None:
    """Lost and taken floor, mass and time are sums; the price weighs 24 g a dm2, 5 g an hour, 3 g a kind of part."""
    (row,) = judge((18.0,), (6.0,), layer=0.2, insides=insides, ways=ways)
    assert row.lost_dm2 == pytest.approx(row.edge_dm2 + row.inside_dm2)
    assert row.mass_g == pytest.approx(row.liner_g + row.trays_g)
    hours = (row.liner_s + row.trays_s) / 3600
    floor_g = 24 * (row.edge_dm2 + row.taken_dm2)
    assert row.price_g == pytest.approx(row.mass_g + floor_g + 4 * row.trouble + 5 * hours + 3 * row.parts)


def test_a_person_weighs_otherwise(insides: tuple[Inside, ...], ways: tuple[tuple[Way, ...], ...]) -> None:
    """Floor that does not count is not in the price; twice the plastic counts twice, with its hours."""
    usual, floorless, heavy = (
        judge((18.0,), (6.0,), layer=0.2, insides=insides, ways=ways[:1], weights=Weights(**one))[0]
        for one in ({}, {"area": 0}, {"plastic": 2})
    )
    assert floorless.price_g < usual.price_g - 20 * usual.floor_dm2
    assert heavy.price_g - usual.price_g == pytest.approx(usual.mass_g + 5 * usual.time_s / 3600)


def test_levels_are_whole_rises_below_the_clear_height(ways: tuple[tuple[Way, ...], ...]) -> None:
    """80 less 0.6 of liner and 1 of air is 78.4: 13 rises of 6 and 0.4 left, 8 of 9 and 6.4 left."""
    inside = Inside(Usable("a", 362.0, 290.0, 80.0, 0.0, ()), headroom=1.0)
    fine, coarse = judge((18.0,), (6.0, 9.0), layer=0.2, insides=(inside,), ways=ways)
    assert (fine.levels, round(fine.top, 6)) == (13, 0.4)
    assert (coarse.levels, round(coarse.top, 6)) == (8, 6.4)


def test_a_lot_without_a_home_goes_before_any_price() -> None:
    """Things of 20 need walls of 22 on a dome of 4.4: 27 at a rise of 3, but 36 at 12, under a clear height of 30."""
    low = Inside(Usable("a", 362.0, 290.0, 30.6, 0.0, ()))
    lot = Lot.model_validate({"id": "cubes", "shape": "box", "width": 20, "depth": 20, "height": 20, "count": 4})
    cubes = ways_of(lot, Limits(362.0, 30.6, 1.2, FloorStyle.SHELL))
    fine, coarse = judge((18.0,), (3.0, 12.0), layer=0.2, insides=(low,), ways=(cubes,))
    assert (fine.homeless, coarse.homeless) == (0, 1)
    assert coarse.price_g < fine.price_g
    assert fine.rank < coarse.rank


def household(count: int) -> tuple[tuple[Inside, ...], list[tuple[Way, ...]]]:
    """So many spaces, and ten lots for each."""
    insides = tuple(Inside(Usable(f"s{n}", 300.0 + 7 * n, 280.0 + 5 * n, 90.0, 6.0, ())) for n in range(count))
    limits = Limits(400.0, 90.0, 1.2, FloorStyle.SHELL)
    boxes = ({"id": f"l{n}", "shape": "box", "width": 20 + n % 61, "depth": 15 + n % 37, "height": 30, "count": 6}
             for n in range(10 * count))  # fmt: skip
    return insides, [ways_of(Lot.model_validate(box), limits) for box in boxes]


def counted(monkeypatch: pytest.MonkeyPatch, module: object, name: str) -> list[int]:
    """Calls of a function as a list that grows."""
    calls: list[int] = []
    real: Callable[..., object] = getattr(module, name)

    def call(*args: object, **kwargs: object) -> object:
        calls.append(1)
        return real(*args, **kwargs)

    monkeypatch.setattr(module, name, call)
    return calls


def test_more_lots_ask_no_closed_form_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten times the lots: one table of trays a pitch, one floor a space and pitch, and never a single tray's form."""
    insides, ways = household(6)
    tables = counted(monkeypatch, lots, "Trays")
    floors = counted(monkeypatch, spaces, "floor_of")
    single = counted(monkeypatch, estimates, "tray_plastic")
    sockets = counted(monkeypatch, trays, "socket_clearance")
    judge(pitches(), rises(0.2), layer=0.2, insides=insides, ways=ways[:6])
    few = len(sockets)
    judge(pitches(), rises(0.2), layer=0.2, insides=insides, ways=ways)
    assert len(tables) == 2 * len(pitches())
    assert len(floors) == 2 * len(pitches()) * len(insides)
    assert len(sockets) == 2 * few
    assert not single


def test_corners_of_a_space_are_looked_at_and_not_its_middle(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 400 cells only those near rounded corners are held against them."""
    looked = counted(monkeypatch, floor, "_clears")
    judge((18.0,), (6.0,), layer=0.2, insides=(Inside(Usable("a", 362.0, 362.0, 80.0, 30.0, ())),), ways=())
    assert 0 < len(looked) <= 4 * 2 * 4
