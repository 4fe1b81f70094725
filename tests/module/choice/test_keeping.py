from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import Dimension, Inside, ModuleRow, judge
from nookwright.module.choice.keeping import change

if TYPE_CHECKING:
    from nookwright.sizing.ways import Way


@pytest.fixture(scope="module")
def row(insides: tuple[Inside, ...], ways: tuple[tuple[Way, ...], ...]) -> ModuleRow:
    """What is printed: 18 and 6."""
    return judge((18.0,), (6.0,), layer=0.2, insides=insides, ways=ways)[0]


def better(row: ModuleRow, share: float) -> ModuleRow:
    """Another pitch that saves so much of the plastic, and nothing else."""
    saved = share * row.mass_g
    return replace(row, pitch=17.0, trays_g=row.trays_g - saved, price_g=row.price_g - saved)


@pytest.mark.parametrize(("share", "changed"), [(0.049, False), (0.051, True)])
def test_a_pitch_is_changed_for_more_than_five_percent(row: ModuleRow, share: float, *, changed: bool) -> None:
    """Of the grams in the whole household; just below, what is printed stays."""
    weighed = change(Dimension.PITCH, (better(row, share), row), 18.0)
    assert weighed.worth_it is changed
    assert weighed.chosen.pitch == (17.0 if changed else 18.0)
    assert weighed.grams_percent == pytest.approx(100 * share)
    assert ("instead of 18" if changed else "18 stays") in weighed.said


@pytest.mark.parametrize(("percent", "changed"), [(2.9, True), (3.1, False)])
def test_floor_counts_as_grams_do_and_the_share_is_the_users(row: ModuleRow, percent: float, *, changed: bool) -> None:
    """3 % of the floor, against 2.9 and 3.1 that a change must save."""
    saved = 0.03 * row.floor_dm2
    other = replace(row, pitch=17.0, edge_dm2=row.edge_dm2 - saved, price_g=row.price_g - 24 * saved)
    assert change(Dimension.PITCH, (other, row), 18.0, percent).worth_it is changed


def test_what_is_judged_worse_is_not_taken_for_one_thing_that_it_saves(row: ModuleRow) -> None:
    """A tenth less plastic, but so much more floor that its price is a gram higher: the price goes first."""
    other = replace(better(row, 0.1), taken_dm2=row.taken_dm2 + 1.0, price_g=row.price_g + 1.0)
    weighed = change(Dimension.PITCH, (other, row), 18.0)
    assert weighed.best is row
    assert not weighed.worth_it


def test_a_home_for_a_lot_is_worth_a_change(row: ModuleRow) -> None:
    """However little else it saves; and never the other way round."""
    tight = replace(row, homeless=2)
    other = replace(row, pitch=17.0)
    weighed = change(Dimension.PITCH, (other, tight), 18.0, 100.0)
    assert weighed.worth_it
    assert "2 lots more find room" in weighed.said
    assert not change(Dimension.PITCH, (row, replace(better(row, 0.5), homeless=1)), 18.0).worth_it


def test_another_pitch_makes_foreign_what_is_printed(row: ModuleRow) -> None:
    """All of it, at most, is printed again; for another rise nothing is, and the loss says so."""
    pitch = change(Dimension.PITCH, (better(row, 0.01), row), 18.0)
    assert pitch.again_g == pytest.approx(row.mass_g)
    assert f"up to {row.mass_g:.0f} g" in pitch.loss
    rise = change(Dimension.RISE, (replace(better(row, 0.01), pitch=18.0, rise=3.0), row), 6.0)
    assert rise.again_g == 0
    assert "still seats and swaps" in rise.loss


def test_nothing_is_lost_where_the_kept_one_is_best(row: ModuleRow) -> None:
    """And it says that none is better."""
    weighed = change(Dimension.PITCH, (row, replace(row, pitch=19.0, edge_dm2=9.0, price_g=row.price_g + 200)), 18.0)
    assert weighed.best is row
    assert (weighed.again_g, weighed.floor_percent, weighed.grams_percent) == (0, 0, 0)
    assert "none of those tried" in weighed.said
