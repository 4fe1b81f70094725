from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.cautions.check import check_cautions
from nookwright.checks.held import covered, tipping_things
from nookwright.checks.things import bodies_of_things, colliding_things, straying_things
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import BodyBeside
from nookwright.ground.findings import Severity
from nookwright.survey.models import Hazard

if TYPE_CHECKING:
    from nookwright.exchange.kit import LotPlace, Size

    from .conftest import Trial

BLADE = (2.0, 66.0, 15.0)  # over two trays of 35.4 x 35.4 x 24 that stand one behind the other


def across(trial: Trial, *, at: Size = (17.7, 34.0, 5.0), size: Size = BLADE, gap: float = 0.6) -> Trial:
    """The dice as one blade that lies across both trays, the second of them behind the first."""
    behind = ((1.0, 0.0, 0.0, 0.3), (0.0, 1.0, 0.0, 0.3 + 35.4 + gap), (0.0, 0.0, 1.0, 0.6), (0.0, 0.0, 0.0, 1.0))
    (place,) = next(lot for lot in trial.kit.lots if lot.id == "dice").places
    lying = place.model_copy(update={"at": (at,), "size": size, "held_by": ("tray-2",), "count": 1})
    return trial.having("lots", "dice", places=(lying,)).having("placements", "tray-2", space_from_part=behind)


def place_of(trial: Trial) -> LotPlace:
    """The only place of the dice."""
    (place,) = next(lot for lot in trial.kit.lots if lot.id == "dice").places
    return place


@pytest.mark.parametrize(
    ("at", "size", "gap", "sunk"),
    [
        ((17.7, 34.0, 5.0), BLADE, 0.6, True),
        ((17.7, 34.0, 5.0), BLADE, 4.2, False),  # a finger goes between the two
        ((17.7, 34.0, 5.0), (2.0, 76.0, 15.0), 0.6, False),  # heel and tip stick out
        ((17.7, 41.0, 5.0), BLADE, 0.6, False),  # the tip sticks out
        ((17.7, 34.0, 7.5), BLADE, 0.6, False),  # its back is 1.5 below the rim
        ((0.5, 34.0, 5.0), BLADE, 0.6, False),  # beside the trays
    ],
)
def test_a_blade_is_covered_from_end_to_end_or_it_is_a_stop(
    trial: Trial,
    at: Size,
    size: Size,
    gap: float,
    sunk: bool,  # noqa: FBT001 - a column of the table
) -> None:
    """Two boxes with a slit between them; no slit wider than 4, nothing beyond, 2 below the rim."""
    lying = across(trial, at=at, size=size, gap=gap)
    assert covered(lying.kit, place_of(lying)) is sunk
    lots = tuple(lot.model_copy(update={"hazard": Hazard.BLADE}) if lot.id == "dice" else lot for lot in trial.room.lot)
    room = trial.room.model_copy(update={"lot": lots})
    findings = check_cautions(lying.having("parts", "tray", kind="rest").kit, room, {}, Verdicts(None))
    stops = [one.code for one in findings if one.severity is Severity.STOP]
    assert stops == ([] if sunk else ["blade-bare"])


@pytest.mark.parametrize(("y", "tips"), [(2.0, False), (-1.0, True), (69.0, False), (73.0, True)])
def test_a_thing_whose_middle_is_beyond_its_supports_tips(trial: Trial, y: float, tips: bool) -> None:  # noqa: FBT001
    """From the front of the first to the back of the second, 71.4; ends may stick out."""
    lying = across(trial, at=(17.7, y, 5.0))
    assert [one.code for one in tipping_things(lying.kit)] == (["things-tip"] if tips else [])
    assert list(straying_things(lying.kit)) == []


def test_holders_are_looked_at_in_the_axes_of_the_first(trial: Trial) -> None:
    """The same two parts turned by a quarter as a whole hold the same."""
    lying = across(trial)
    kit = lying.kit
    for name in ("tray-1", "tray-2"):
        (row_x, row_y, row_z, last) = next(one for one in kit.placements if one.id == name).space_from_part
        turned = (tuple(-value for value in row_y), row_x, row_z, last)
        lying = lying.having("placements", name, space_from_part=turned)
    assert covered(lying.kit, place_of(lying))


def test_handles_are_bodies_too(trial: Trial) -> None:
    """Beside the things, as large as is said; two that meet collide."""
    lying = across(trial)
    handle = BodyBeside(size=(20.0, 40.0, 12.0), offset=(0.0, -53.0, 1.0))
    place = place_of(lying).model_copy(update={"beside": handle})
    shown = lying.having("lots", "dice", places=(place,))
    bodies = [body for _, body in bodies_of_things(shown.kit) if body.owner == "dice"]
    assert len(bodies) == 2
    low, high = bodies[1].box
    assert high - low == pytest.approx([20, 40, 12], abs=1e-4)
    assert high[1] == pytest.approx(0.3 + 34 - 53 + 20, abs=1e-4)
    two = place.model_copy(update={"at": ((17.7, 34.0, 5.0), (27.7, 34.0, 5.0))})
    assert [one.code for one in colliding_things(shown.having("lots", "dice", places=(two,)).kit)] == ["things-collide"]
