from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.references import dangling, uncounted
from nookwright.exchange.kit import KitFinding
from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from .conftest import Trial


def test_a_sound_kit_has_no_dangling_reference(trial: Trial) -> None:
    """Every name in it leads somewhere, every lot is counted."""
    assert dangling(trial.kit, trial.room) == ()
    assert list(uncounted(trial.kit, trial.room)) == []


@pytest.mark.parametrize(
    ("what", "name", "change"),
    [
        ("placements", "tray-1", {"part": "lost"}),
        ("placements", "tray-1", {"space": "lost"}),
        ("pieces", "half", {"part": "lost"}),
        ("pieces", "half", {"material": "lost"}),
        ("bedfuls", "bed-1", {"printer": "lost"}),
        ("bedfuls", "bed-1", {"material": "lost"}),
    ],
)
def test_a_name_that_leads_nowhere_is_found(trial: Trial, what: str, name: str, change: dict[str, Any]) -> None:
    """Each reference alone, changed to a name that is not there."""
    (finding,) = dangling(trial.having(what, name, **change).kit, trial.room)
    assert (finding.code, finding.subject) == ("reference-dangling", name)
    assert "'lost'" in finding.text


@pytest.mark.parametrize("what", ["spaces", "lots", "parts", "placements", "pieces", "bedfuls"])
def test_an_id_that_stands_twice_is_found(trial: Trial, what: str) -> None:
    """Two entries with one id make every reference to it doubtful."""
    entries = getattr(trial.kit, what)
    twice = trial.with_kit(**{what: (*entries, entries[0])})
    assert [finding.code for finding in dangling(twice.kit, twice.room)] == ["id-twice"]


def test_a_lot_of_another_room_is_found(trial: Trial) -> None:
    """A kit that keeps what the room does not have is the kit of another room."""
    changed = trial.having("lots", "dice", id="lost")
    assert [finding.code for finding in dangling(changed.kit, trial.room)] == ["reference-dangling"]


def test_things_without_a_place_are_found_unless_a_finding_says_why(trial: Trial) -> None:
    """A lot that is left out in silence is a stop; with a finding about it, it is accounted for."""
    silent = trial.having("lots", "dice", places=())
    (finding,) = uncounted(silent.kit, silent.room)
    assert (finding.code, finding.subject, finding.severity) == ("lot-count", "dice", Severity.STOP)
    assert "none lie in a place" in finding.text
    said = KitFinding(code="lot-left-out", severity=Severity.WARN, subject="dice", text="no room", remedy="make room")
    assert list(uncounted(silent.with_kit(findings=(said,)).kit, silent.room)) == []


@pytest.mark.parametrize(
    ("change", "texts"),
    [
        ({"count": 3}, ["Of its 4 things 3 lie in a place", "should hold 3 things but has places for 4"]),
        ({"count": 5}, ["Of its 4 things 5 lie in a place", "should hold 5 things but has places for 4"]),
        ({"part": "panel"}, ["is tray, not panel as its place says"]),
        ({"held": (1, 1, 1, 1)}, []),
        ({"held": (1, 1, 1, 2)}, ["should hold 4 things but has places for 5"]),
        ({"held": (2, 2)}, ["should hold 4 things but has places for 4"]),
    ],
)
def test_places_that_do_not_add_up_are_found(trial: Trial, change: dict[str, Any], texts: list[str]) -> None:
    """More or fewer things than there are, or than there are places for, or in another part than the placement's."""
    (lot,) = (lot for lot in trial.kit.lots if lot.id == "dice")
    places = (lot.places[0].model_copy(update=change),)
    changed = trial.having("lots", "dice", places=places)
    found = [finding.text for finding in uncounted(changed.kit, changed.room)]
    assert len(found) == len(texts)
    assert all(text in whole for text, whole in zip(texts, found, strict=True))
