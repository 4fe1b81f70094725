"""Masses that a kit states, against the room, the solids and their own sums."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.masses import HEAVIEST, LIGHTEST, check_masses
from nookwright.exchange.printing_models import BedSettings

if TYPE_CHECKING:
    from .conftest import Trial


def settings(layer: float, brim: float = 0.0) -> BedSettings:
    """What a bedful is printed with."""
    lines = {"nozzle": 0.4, "line_width": 0.42, "walls": 2, "skin_below": 3, "skin_above": 4, "infill_percent": 15.0}
    beside = {"infill": "lines", "seam": "back corner", "skirt_loops": 0, "skirt": 0.0}
    return BedSettings.model_validate({"layer": layer, "brim": brim, **lines, **beside})


def found(trial: Trial) -> list[tuple[str, str]]:
    """Severity and subject of what is said."""
    said = list(check_masses(trial.kit, trial.room))
    assert {one.code for one in said} <= {"mass-wrong"}
    return [(one.severity.value, one.subject) for one in said]


def test_true_masses_have_nothing_to_say(trial: Trial) -> None:
    """Things, pieces, parts, the space and both bedfuls of the tiny kit."""
    assert found(trial) == []


@pytest.mark.parametrize(
    ("what", "name", "changes"),
    [
        ("lots", "dice", {"mass_g": 20.2}),
        ("lots", "corks", {"mass_g": 0.0}),
        ("parts", "tray", {"mass_g": 5.1}),
        ("spaces", "left", {"mass_g": 11.9}),
        ("spaces", "left", {"load_g": 12.0}),
        ("spaces", "left", {"load_limit_g": 6000.0}),
        ("bedfuls", "bed-2", {"mass_g": 7.9}),
        ("bedfuls", "bed-2", {"mass_g": 50.0}),
    ],
)
def test_a_mass_that_is_not_true_stops(trial: Trial, what: str, name: str, changes: dict[str, Any]) -> None:
    """Each figure alone: of things, of a part, of a space and what it may carry, of a bedful less or far more."""
    assert found(trial.having(what, name, **changes)) == [("stop", name)]


@pytest.mark.parametrize(("share", "wrong"), [(0.95, True), (1.05, False)])
def test_a_piece_cannot_weigh_what_its_solid_does_not_hold(trial: Trial, share: float, wrong: bool) -> None:  # noqa: FBT001
    """Just above the most that its plastic can weigh, and just below the least."""
    (tray,) = (piece for piece in trial.kit.pieces if piece.id == "tray")
    solid_g = tray.volume_mm3 / 1000 * 1.24
    for mass_g in (HEAVIEST * solid_g / share, LIGHTEST * solid_g * share):
        said = list(check_masses(trial.having("pieces", "tray", mass_g=mass_g).kit, trial.room))
        assert (said[0].subject == "tray" and "its solid would weigh" in said[0].text) is wrong


def test_a_brim_is_weighed_with_its_piece(trial: Trial) -> None:
    """The piece may weigh more by the brim: 5 mm wide and 0.2 high, one and a half times round its box."""
    (tray,) = (piece for piece in trial.kit.pieces if piece.id == "tray")
    brim_mm3 = 0.2 * (1.5 * 2 * (tray.size[0] + tray.size[1]) * 5.0 + 25 * math.pi)
    with_brim = trial.having("bedfuls", "bed-2", settings=settings(0.2, brim=5.0))
    most_g = HEAVIEST * (tray.volume_mm3 + brim_mm3) / 1000 * 1.24
    for share, wrong in ((0.999, False), (1.001, True)):
        said = list(check_masses(with_brim.having("pieces", "tray", mass_g=share * most_g).kit, trial.room))
        assert (said[0].subject == "tray" and "its brim" in said[0].text) is wrong


@pytest.mark.parametrize(
    ("layers", "printers", "share"),
    [((0.2, 0.2), ("p", "p"), 1.0), ((0.2, 0.2), ("p", "q"), 0.8), ((0.2, 0.3), ("p", "q"), 0.5)],
)
def test_a_bedful_weighs_what_lies_on_it(
    trial: Trial, layers: tuple[float, float], printers: tuple[str, str], share: float
) -> None:
    """All of it on the same printer, a fifth less on another, half with other lines; a hundredth below that stops."""
    both = trial.having("bedfuls", "bed-1", printer=printers[0], settings=settings(layers[0]))
    (bed,) = (one for one in trial.kit.bedfuls if one.id == "bed-2")
    held_g = sum(piece.mass_g for item in bed.items for piece in trial.kit.pieces if piece.id == item.piece)
    for factor, names in ((1.001, []), (0.99, [("stop", "bed-2")])):
        more = {"printer": printers[1], "settings": settings(layers[1]), "mass_g": factor * share * held_g}
        assert found(both.having("bedfuls", "bed-2", **more)) == names


def test_the_cause_is_named_before_the_sums_that_follow_from_it(trial: Trial) -> None:
    """A piece of 90 g makes its part, its bedful and its space wrong: one finding, about the piece."""
    (said,) = check_masses(trial.having("pieces", "half", mass_g=90.0).kit, trial.room)
    assert said.subject == "half"
    assert said.text.endswith("Wrong as well: bed-1; left; and panel.")


def test_things_that_nobody_weighed_are_stated_as_nothing(trial: Trial) -> None:
    """An assumed mass is said in a finding; in kit.json it would look as if it had been read."""
    unread = trial.room.lot[0].model_copy(update={"mass_g": None})
    room = trial.with_room(lot=(unread, *trial.room.lot[1:]))
    assert found(room) == [("stop", "dice")]
    stated = room.having("lots", "dice", mass_g=0.0).having("spaces", "left", load_g=28.0)
    assert found(stated) == []
