from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.assembly import bodies_by_space, check_assembly
from nookwright.checks.files import read_meshes
from nookwright.checks.shared import Overlaps
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import BlockedBox
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from nookwright.exchange.kit import Matrix, Size
    from nookwright.ground.findings import Finding

    from .conftest import Trial


def found(trial: Trial) -> tuple[Finding, ...]:
    """What the assembly of a trial has to say."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    return check_assembly(trial.kit, shapes, Overlaps(Verdicts(None)), Silent())


def codes(trial: Trial) -> list[tuple[str, str]]:
    return sorted({(finding.code, finding.subject) for finding in found(trial)})


def at(x: float, y: float, z: float) -> Matrix:
    return (1, 0, 0, x), (0, 1, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


def test_a_sound_assembly_has_no_findings(trial: Trial) -> None:
    """Two panels of two pieces, two trays on their cones, six things: nothing to say."""
    bodies = bodies_by_space(trial.kit, read_meshes(trial.folder, trial.kit).shapes)
    assert len(bodies["left"]) == 2 * 2 + 2 + 2
    assert found(trial) == ()


def test_what_only_rests_never_reaches_the_kernel(trial: Trial, monkeypatch: pytest.MonkeyPatch) -> None:
    """Trays that stand on their panel with the cones in their sockets are told apart by their surfaces, in no time."""
    monkeypatch.setattr(Overlaps, "_solid", lambda *_: pytest.fail("asked the kernel"))
    assert found(trial) == ()


@pytest.mark.parametrize(
    ("where", "expected"),
    [
        (at(0.3, 0.3, 0.6), []),
        (at(0.3, 0.3, 0.5), [("parts-collide", "tray-1")]),
        (at(0.8, 0.3, 0.6), [("parts-collide", "tray-1")]),
        (at(-0.2, 43.0, 3.0), [("part-outside", "tray-1")]),
        (at(30, 43.7, 30), [("part-outside", "tray-1")]),
        (at(30, 43, 36), [("part-outside", "tray-1"), ("things-outside", "dice")]),
        (at(63, 40, 25), [("part-in-blocked", "tray-1"), ("things-in-blocked", "dice")]),
    ],
)
def test_a_tray_that_is_moved_is_caught(trial: Trial, where: Matrix, expected: list[tuple[str, str]]) -> None:
    """Sunk into the panel, onto the cones, past the left wall, the back, the clear height, into the pipe."""
    moved = trial.having("placements", "tray-1", space_from_part=where)
    assert codes(moved) == expected


def test_a_collision_says_what_and_how_much(trial: Trial) -> None:
    """Both parts and the shared volume stand in the text, and it is a stop."""
    sunk = trial.having("placements", "tray-1", space_from_part=at(0.3, 0.3, 0.5))
    first = found(sunk)[0]
    assert first.severity is Severity.STOP
    assert first.text.startswith("tray-1 and panel-1 take the same room, ")


def things_at(trial: Trial, lot: str, *places: Size) -> Trial:
    """The trial with the things of a lot elsewhere."""
    (place,) = (entry.places[0] for entry in trial.kit.lots if entry.id == lot)
    return trial.having("lots", lot, places=(place.model_copy(update={"at": places}),))


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ((9, 9, 4.4), []),
        ((7.2, 7.2, 4.4), []),
        ((7.1, 9, 4.4), [("things-in-part", "dice")]),
        ((9, 9, 4.3), [("things-in-part", "dice")]),
        ((9, 9, 46.5), [("things-outside", "dice")]),
        ((34, 9, 10), [("things-in-part", "dice")]),
    ],
)
def test_a_thing_that_does_not_fit_its_tray_is_caught(
    trial: Trial, place: Size, expected: list[tuple[str, str]]
) -> None:
    """In a corner it fits; in a wall, in the floor, past the clear height, in the next tray, it does not."""
    assert codes(things_at(trial, "dice", place)) == expected


def test_things_of_two_lots_in_one_place_are_caught(trial: Trial) -> None:
    """Dice that stand where the corks stand."""
    (place,) = (entry.places[0] for entry in trial.kit.lots if entry.id == "dice")
    moved = place.model_copy(update={"placement": "tray-2", "at": ((9, 9, 4.4),)})
    assert codes(trial.having("lots", "dice", places=(moved,))) == [("things-collide", "dice")]


def test_a_part_around_what_is_blocked_is_caught(trial: Trial) -> None:
    """A blocked box wholly inside the tray's wall, whose surfaces never meet."""
    (space,) = trial.kit.spaces
    peg = BlockedBox(reason="a peg", service=False, low=(0.6, 10, 8), high=(1.2, 11, 9))
    blocked = trial.having("spaces", "left", blocked=(*space.blocked, peg))
    assert codes(blocked) == [("part-in-blocked", "tray-1")]


def test_pieces_of_one_part_may_not_share_room(trial: Trial) -> None:
    """The back half of the panel pushed onto the front half."""
    pushed = trial.having("pieces", "half-back", part_from_piece=at(0, 17.6, 0))
    assert ("parts-collide", "panel-1") in codes(pushed)
    assert ("parts-collide", "panel-2") in codes(pushed)


def test_a_part_without_pieces_stands_for_itself(trial: Trial) -> None:
    """Where no piece is known, the file of the whole part is looked at."""
    whole = trial.with_kit(pieces=tuple(piece for piece in trial.kit.pieces if piece.part == "tray"))
    sunk = whole.having("placements", "tray-1", space_from_part=at(0.3, 0.3, 0.5))
    assert codes(whole) == []
    assert codes(sunk) == [("parts-collide", "tray-1")]


def test_a_part_in_two_materials_does_not_meet_itself(trial: Trial) -> None:
    """The same piece in another material takes the same room, once a placement."""
    pieces = trial.kit.pieces
    (tray,) = (piece for piece in pieces if piece.id == "tray")
    both = trial.with_kit(pieces=(*pieces, tray.model_copy(update={"id": "tray-b"})))
    assert found(both) == ()
