from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.module.choice import Decided, Inside, choose, judge, pitches
from nookwright.module.choice.table import pitch_table, rise_table

if TYPE_CHECKING:
    from nookwright.sizing.ways import Way

    Ways = tuple[tuple[Way, ...], ...]


def test_a_module_that_is_decided_is_kept(insides: tuple[Inside, ...], ways: Ways) -> None:
    """Even a poor one; the tables then hold it alone, and nothing is weighed against it."""
    choice = choose(0.2, insides, ways, decided=Decided(pitch=23.3, rise=7.4))
    assert (choice.module.pitch, choice.module.rise) == (23.3, 7.4)
    assert [(row.pitch, row.rise) for row in (*choice.pitches, *choice.rises)] == [(23.3, 7.4)] * 2
    assert choice.changes == ()
    assert choice.module.chosen.count("as the room file says") == 2


def test_the_best_of_all_pitches_is_chosen(insides: tuple[Inside, ...], ways: Ways) -> None:
    """All candidates are in the table, none is judged better, and the reason says by what."""
    choice = choose(0.2, insides, ways)
    assert tuple(row.pitch for row in choice.pitches) == pitches()
    chosen = next(row for row in choice.pitches if row.pitch == choice.module.pitch)
    assert chosen.price_g == min(row.price_g for row in choice.pitches)
    assert f"pitch {choice.module.pitch:g} is best of 10 tried" in choice.module.chosen
    assert choice.row.pitch == choice.module.pitch


def test_the_start_of_the_rise_stays_until_another_saves_enough(insides: tuple[Inside, ...], ways: Ways) -> None:
    """6 at any share that no rise saves; without a share, the one that is judged best."""
    assert choose(0.2, insides, ways).module.rise == 6.0
    free = choose(0.2, insides, ways, decided=Decided(pitch=18.0, change_percent=-100.0))
    rows = judge((18.0,), (3.0, 6.0, 9.0, 12.0), layer=0.2, insides=insides, ways=ways)
    assert free.module.rise == min(rows, key=lambda row: row.rank).rise
    assert free.module.rise != 6.0


@pytest.mark.parametrize("kept", [18.0, 18.3, 24.0])
def test_what_is_printed_is_judged_with_the_candidates(insides: tuple[Inside, ...], ways: Ways, kept: float) -> None:
    """It stays at a high share, whatever the others save; its row is marked as the one that is there."""
    choice = choose(0.2, insides, ways, decided=Decided(kept_pitch=kept, kept_rise=9.0, change_percent=90.0))
    assert (choice.module.pitch, choice.module.rise) == (kept, 9.0)
    assert {row.pitch for row in choice.pitches} == {*pitches(), kept}
    table = pitch_table(choice)
    assert [row[-1] for row in table.rows].count("0") == 1
    assert table.rows[table.chosen][0] == f"{kept:g}"
    assert table.rows[table.chosen][-1] == "0"


def test_tables_have_a_cell_for_every_heading(insides: tuple[Inside, ...], ways: Ways) -> None:
    """And one row is the choice; where nothing is printed yet, nothing is printed again."""
    choice = choose(0.2, insides, ways)
    for table, chosen in ((pitch_table(choice), choice.module.pitch), (rise_table(choice), choice.module.rise)):
        assert all(len(row) == len(table.headings) for row in table.rows)
        assert table.rows[table.chosen][0] == f"{chosen:g}"
    assert {row[-1] for row in pitch_table(choice).rows} == {"-"}


def test_the_same_household_gives_the_same_choice(insides: tuple[Inside, ...], ways: Ways) -> None:
    """In any order of its spaces."""
    assert choose(0.2, insides, ways).module == choose(0.2, insides[::-1], ways).module


def test_a_room_without_any_floor_still_has_a_module(ways: Ways) -> None:
    """Nothing to judge by: the finest pitch, the start of the rise."""
    choice = choose(0.2, (), ways)
    assert (choice.module.pitch, choice.module.rise) == (pitches()[0], 6.0)
