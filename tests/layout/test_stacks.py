"""Two levels: within the clear height, over no load, the rarer used one below, nothing else touched."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.layout.filling import Means
from nookwright.layout.model import Candidate, CostPart, Layout, LeftOut, Placed
from nookwright.layout.stacks import about_stacks, lidded, stacked
from nookwright.sizing.ways import Arrangement, PartKind, ThingSize
from nookwright.survey.models import FloorStyle, Hazard
from nookwright.survey.tray_wishes import TrayDefaults

if TYPE_CHECKING:
    from tests.layout.conftest import Make

    from nookwright.layout.model import Ask, Grid
    from nookwright.module.module import Module
    from nookwright.survey.models import Room


@pytest.fixture(scope="session")
def means(module: Module) -> Means:
    """Shell floors, any bed."""
    return Means(module, FloorStyle.SHELL)


def lot(make: Make, name: str, cols: int, rows: int, *, use: float = 1.0, things: float = 20.0, height: float = 30.0,
        near: tuple[str, ...] = (), kind: PartKind = PartKind.TRAY) -> Ask:  # fmt: skip
    """A lot with one candidate, its things so high."""
    one = make.candidate(name, cols, rows, kind=kind, height=height, tall=max(height, 4.4 + things))
    one = replace(one, way=replace(one.way, stack_height=things))
    return replace(make.ask(name, near=near, use=use), candidates=(one,))


def standing(asks: tuple[Ask, ...], placed: dict[str, tuple[int, int]], space: str = "s") -> Layout:
    """A layout in which some lots stand at a column and row and the others are left out."""
    parts = []
    for ask in asks:
        if ask.lot in placed:
            one = ask.candidates[0]
            parts.append(Placed(space, *placed[ask.lot], one.cols, one.rows, turned=False, candidate=one,
                                height=one.height))  # fmt: skip
    left = tuple(LeftOut(ask.lot, "no room left", "add a space") for ask in asks if ask.lot not in placed)
    cost = (CostPart("footprint", 2.0), CostPart("open", 40.0))
    return Layout(tuple(parts), left, cost, 41.0, 1 / 41, proven=True, by_clock=False, seed=1, iterations=0)


def levels(layout: Layout) -> list[tuple[str, int, float]]:
    """Lot, level and height above the liner of what stands in a stack."""
    return [
        (one.candidate.lot, one.level, one.raised)
        for one in layout.placed
        if one.candidate and (one.decked or one.level)
    ]


def test_a_lot_without_a_place_stands_on_a_tray_that_is_used_less(make: Make, means: Means) -> None:
    """The lower tray is made 30 high for things of 20: dome 4.4, swelling 2.4, lid 1.2, in rises of 6."""
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "often", 4, 3, use=3.0))
    before = standing(asks, {"rare": (2, 1)})
    after = stacked(before, (make.grid("s", 8, 8),), asks, means, lids={"rare", "often"})
    assert levels(after) == [("rare", 0, 0.0), ("often", 1, 30.0)]
    assert after.left_out == ()
    lower, upper = after.placed
    assert (lower.height, lower.decked) == (30.0, True)
    assert (upper.col, upper.row, upper.cols, upper.rows) == (2, 1, 4, 3)
    assert [part.name for part in after.cost] == ["footprint", "open", "stacks"]
    assert sum(part.value for part in after.cost) > 42
    assert after.gap == pytest.approx(after.counted / 41 - 1)


def test_what_is_used_more_goes_above_though_it_was_there_first(make: Make, means: Means) -> None:
    """The lot that came goes below."""
    asks = (lot(make, "often", 4, 3, use=3.0), lot(make, "rare", 4, 3, use=0.2))
    after = stacked(standing(asks, {"often": (0, 0)}), (make.grid("s", 8, 8),), asks, means, lids={"rare", "often"})
    assert levels(after) == [("rare", 0, 0.0), ("often", 1, 30.0)]


def test_the_clear_height_is_kept_with_the_reserve(make: Make, means: Means) -> None:
    """30 + 30 and 0.6 + 0.18 of reserve: at 60.8 it stands, at 60.7 it stays out."""
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "often", 4, 3))
    before = standing(asks, {"rare": (0, 0)})
    for height, stands in ((60.8, True), (60.7, False)):
        after = stacked(before, (make.grid("s", 8, 8, height=height),), asks, means, lids={"rare"})
        assert (after != before) is stands


@pytest.mark.parametrize(
    ("deep", "apart", "lies", "stands"),
    [(30.8, 31.8, Arrangement.ROWS, True), (30.9, 32.4, Arrangement.ROWS, False), (30.9, 32.4, Arrangement.HEAP, True)],
)
def test_things_come_out_past_the_ledge(
    make: Make, means: Means, deep: float, apart: float, lies: Arrangement, *, stands: bool
) -> None:
    """Four cells of 18 leave 69 inside and 64.26 between ledges of 2.37 (2, 0.3 and 0.07); two rows, and 1 mm.

    31.8 + 30.8 + 1 is 63.6 and passes; 32.4 + 30.9 + 1 does not; a heap is picked up bit by bit.
    """
    rare = lot(make, "rare", 4, 4, use=0.2)
    (one,) = rare.candidates
    thing = ThingSize(20.0, deep, 20.0, "")
    way = replace(one.way, thing=thing, rows=2, pitch_y=apart, arrangement=lies)
    asks = (replace(rare, candidates=(replace(one, way=way),)), lot(make, "often", 4, 4, use=3.0))
    after = stacked(standing(asks, {"rare": (0, 0)}), (make.grid("s", 8, 8),), asks, means, lids={"rare"})
    assert bool(levels(after)) is stands


def test_things_above_count_as_high_as_they_stand(make: Make, means: Means) -> None:
    """Things of 50 in a tray of 30 above one of 30: 84.4 and the reserve."""
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "tall", 4, 3, things=50.0))
    before = standing(asks, {"rare": (0, 0)})
    assert stacked(before, (make.grid("s", 8, 8, height=86.0),), asks, means, lids={"rare"}) != before
    assert stacked(before, (make.grid("s", 8, 8, height=85.0),), asks, means, lids={"rare"}) == before


def test_the_load_is_kept_with_the_lid(make: Make, means: Means) -> None:
    """100 g a part: a space that carries 202 has no room for the lid."""
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "often", 4, 3))
    before = standing(asks, {"rare": (0, 0)})
    assert stacked(before, (make.grid("s", 8, 8, load_g=202.0),), asks, means, lids={"rare"}) == before
    assert stacked(before, (make.grid("s", 8, 8, load_g=215.0),), asks, means, lids={"rare"}) != before


def test_the_upper_tray_grows_to_the_lower_one_and_turns(make: Make, means: Means) -> None:
    """3 x 4 turned onto 5 x 3; 2 x 2 would be more than half larger and stays out."""
    asks = (lot(make, "rare", 5, 3, use=0.2), lot(make, "turned", 3, 4), lot(make, "small", 2, 2))
    after = stacked(standing(asks, {"rare": (0, 0)}), (make.grid("s", 8, 8),), asks, means, lids={"rare"})
    upper = after.placed[-1]
    assert (upper.cols, upper.rows, upper.turned) == (5, 3, True)
    assert [left.lot for left in after.left_out] == ["small"]


def test_no_lid_goes_on_what_must_stay_open(make: Make, means: Means) -> None:
    """A cradle, a tray with options, something pinned; and never three levels."""
    grid = (make.grid("s", 8, 8),)
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "often", 4, 3), lot(make, "third", 4, 3))
    before = standing(asks, {"rare": (0, 0)})
    assert stacked(before, grid, asks, means, lids={"often"}) == before
    cradles = (lot(make, "rare", 4, 3, use=0.2, kind=PartKind.CRADLE), asks[1])
    held = standing(cradles, {"rare": (0, 0)})
    assert stacked(held, grid, cradles, means, lids={"rare"}) == held
    still = replace(before, placed=(replace(before.placed[0], pinned=True),))
    assert stacked(still, grid, asks, means, lids={"rare"}) == still
    assert [left.lot for left in stacked(before, grid, asks, means, lids={"rare", "often"}).left_out] == ["third"]


def test_hard_rules_hold_for_what_is_stacked(make: Make, means: Means) -> None:
    """Children's reach and the opening, above as on the floor."""
    asks = (lot(make, "rare", 4, 3, use=0.2), replace(lot(make, "pills", 4, 3), out_of_reach=True))
    before = standing(asks, {"rare": (0, 0)})
    assert stacked(before, (make.grid("s", 8, 8, children=True),), asks, means, lids={"rare"}) == before
    narrow = (make.grid("s", 8, 8, opening=(50.0, 25.0)),)
    asks = (asks[0], lot(make, "often", 4, 3))
    assert stacked(before, narrow, asks, means, lids={"rare"}) == before


def test_a_lot_goes_where_its_neighbour_is(make: Make, means: Means) -> None:
    """Two places that cost the same but for the lot that it wishes to be with."""
    grids = (make.grid("a", 8, 8), make.grid("b", 8, 8))
    asks = (lot(make, "one", 4, 3), lot(make, "other", 4, 3), lot(make, "friend", 2, 2),
            lot(make, "came", 4, 3, near=("friend",)))  # fmt: skip
    in_a = standing(asks[:1], {"one": (0, 0)}, "a")
    in_b = standing(asks[1:3], {"other": (0, 0), "friend": (6, 6)}, "b")
    before = replace(in_a, placed=(*in_a.placed, *in_b.placed), left_out=(LeftOut("came", "", ""),))
    after = stacked(before, grids, asks, means, lids={"one", "other"})
    assert {one.space for one in after.placed if one.level} == {"b"}


def test_a_stack_is_told(make: Make, means: Means) -> None:
    """What stands on what, and how large."""
    asks = (lot(make, "rare", 4, 3, use=0.2), lot(make, "often", 4, 3))
    after = stacked(standing(asks, {"rare": (0, 0)}), (make.grid("s", 8, 8),), asks, means, lids={"rare"})
    (finding,) = about_stacks(after, 18.0)
    assert (finding.subject, "rare (71 x 53 mm)" in finding.text) == ("often", True)


def test_lids_go_on_plain_trays_only(tiny_room: Room) -> None:
    """A lot with a wish for its tray, or a blade, stays open; a wish for all trays keeps all of them open."""
    lots = {one.id for one in tiny_room.lot}
    assert lidded(tiny_room) == lots
    first = tiny_room.lot[0]
    wished = first.model_copy(update={"tray": first.tray.model_copy(update={"columns": 2})})
    assert lidded(tiny_room.model_copy(update={"lot": (wished, *tiny_room.lot[1:])})) == lots - {first.id}
    blade = first.model_copy(update={"hazard": Hazard.BLADE})
    assert lidded(tiny_room.model_copy(update={"lot": (blade, *tiny_room.lot[1:])})) == lots - {first.id}
    choices = tiny_room.choices.model_copy(update={"tray": TrayDefaults(inlay=2.0)})
    assert lidded(tiny_room.model_copy(update={"choices": choices})) == frozenset()


LOT = st.tuples(st.integers(2, 5), st.integers(2, 5), st.sampled_from((0.2, 1.0, 3.0)), st.floats(5, 40))


@settings(max_examples=80, deadline=None)
@given(st.lists(LOT, min_size=2, max_size=8), st.floats(40, 120), st.floats(200, 1200))
def test_stacks_keep_every_promise(
    make: Make, means: Means, lots: list[tuple[int, int, float, float]], height: float, load_g: float
) -> None:
    """Heights added up anew lie within the clear height, loads within the load; no lot is lost; twice the same."""
    asks = tuple(
        lot(make, f"l{n}", c, r, use=use, things=things, height=means.module.height(things + 6))
        for n, (c, r, use, things) in enumerate(lots)
    )
    grid = make.grid("s", 10, 10, height=height, load_g=load_g)
    half = {ask.lot: (0, 5) if n else (0, 0) for n, ask in enumerate(asks[:2])}
    before = standing(asks, half)
    before = replace(before, placed=tuple(one for one in before.placed if one.height <= height))
    left = [ask.lot for ask in asks if ask.lot not in {o.candidate.lot for o in before.placed if o.candidate}]
    before = replace(before, left_out=tuple(LeftOut(name, "", "") for name in left))
    lids = {ask.lot for ask in asks}
    after = stacked(before, (grid,), asks, means, lids=lids)
    assert stacked(before, (grid,), asks, means, lids=lids) == after
    names = [one.candidate.lot for one in after.placed if one.candidate] + [one.lot for one in after.left_out]
    assert sorted(names) == sorted(ask.lot for ask in asks)
    if sum(means.mass_g(one) for one in before.placed) <= load_g:
        assert sum(means.mass_g(one) for one in after.placed) <= load_g
    check_stacks(after, grid, asks)


def check_stacks(after: Layout, grid: Grid, asks: tuple[Ask, ...]) -> None:
    """Every upper part stands on a lid of its own size, with room for the things below and above it."""
    use = {ask.lot: ask.use for ask in asks}
    uppers = [one for one in after.placed if one.level]
    assert len(uppers) == sum(one.decked for one in after.placed)
    for upper in uppers:
        (lower,) = [one for one in after.placed if one.decked and (one.col, one.row) == (upper.col, upper.row)]
        below, above = lower.candidate, upper.candidate
        assert isinstance(below, Candidate)
        assert isinstance(above, Candidate)
        assert (lower.cols, lower.rows) == (upper.cols, upper.rows)
        assert use[below.lot] <= use[above.lot]
        assert lower.height == upper.raised
        assert 4.4 + below.way.stack_height + 1.2 + 2.2 <= lower.height
        top = lower.height + max(upper.height, above.tall)
        assert top + 2 * 0.3 + 0.003 * top <= grid.height
