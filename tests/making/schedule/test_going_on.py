from __future__ import annotations

from nookwright.making.records import Outcome, PrintRecord
from nookwright.making.schedule.going_on import loaded_now, still_to_print, unknown_prints
from nookwright.making.schedule.hours import Hours
from nookwright.making.schedule.model import Bedful, Way


def bedful(name: str) -> Bedful:
    return Bedful(name, "grey", (Way("one", 60, 60, 60),), 1.0, 1.0)


def record(
    name: str, outcome: Outcome = Outcome.DONE, *, when: str = "2026-03-02", material: str = "grey"
) -> PrintRecord:
    return PrintRecord(id=f"{name}-{when}", when=when, printer="one", material=material, bedful=name, outcome=outcome)


def test_what_came_out_is_not_printed_again_and_what_failed_is() -> None:
    """Also where it failed first and came out later."""
    bedfuls = (bedful("b1"), bedful("b2"), bedful("b3"))
    records = (record("b1", Outcome.FAILED), record("b2"), record("b3", Outcome.FAILED), record("b3"))
    assert [one.id for one in still_to_print(bedfuls, records)] == ["b1"]


def test_prints_of_bedfuls_that_are_not_in_the_kit_are_named() -> None:
    """They are of an earlier kit, or slips of the pen."""
    assert [one.bedful for one in unknown_prints((bedful("b1"),), (record("b1"), record("x7")))] == ["x7"]


def test_the_last_print_says_what_is_loaded_unless_the_room_does() -> None:
    """So that no change of filament is planned that is none."""
    hours = (Hours("one", (), ()), Hours("two", (), (), loaded="blue"))
    records = (record("b2", when="2026-03-04", material="blue"), record("b1", when="2026-03-02"))
    assert [one.loaded for one in loaded_now(hours, records)] == ["blue", "blue"]
    assert loaded_now(hours, ())[0].loaded == ""
