from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.soundness import volume_of
from nookwright.checks.things import bodies_of_things, colliding_things, straying_things

if TYPE_CHECKING:
    from nookwright.exchange.kit import LotPlace, Size

    from .conftest import Trial


def place_of(trial: Trial, lot: str) -> LotPlace:
    """The only place of a lot."""
    (found,) = (entry.places[0] for entry in trial.kit.lots if entry.id == lot)
    return found


def with_things(trial: Trial, lot: str, *at: Size) -> Trial:
    """The trial with other places for the things of a lot."""
    return trial.having("lots", lot, places=(place_of(trial, lot).model_copy(update={"at": at}),))


def test_things_stand_where_the_kit_says(trial: Trial) -> None:
    """Four dice, two of them stacked, and two corks: boxes and volumes by hand, in the axes of the space."""
    bodies = dict(bodies_of_things(trial.kit))
    low, high = bodies["tray-1"].box
    np.testing.assert_allclose(low, [3.3, 3.3, 5.0], atol=1e-4)
    np.testing.assert_allclose(high, [28.3, 28.3, 29.0], atol=1e-4)
    assert volume_of(bodies["tray-1"].shape.corners) == pytest.approx(4 * 12**3, rel=1e-4)
    assert volume_of(bodies["tray-2"].shape.corners) == pytest.approx(2 * np.pi * 7**2 * 25, rel=0.01)
    assert len(bodies["tray-1"].shape.probes) == 3  # the stack is one
    assert (bodies["tray-1"].owner, bodies["tray-2"].owner) == ("dice", "corks")


def test_things_that_touch_do_not_collide(trial: Trial) -> None:
    """Side by side and on top of each other without a gap is a pile; the sound kit has one."""
    assert list(colliding_things(trial.kit)) == []
    assert list(colliding_things(with_things(trial, "dice", (6, 6, 4.4), (18, 6, 4.4), (6, 18, 4.4)).kit)) == []


@pytest.mark.parametrize("second", [(17.9, 6, 4.4), (6, 6, 16.3), (6, 6, 4.4), (14, 14, 10)])
def test_things_in_each_other_are_found(trial: Trial, second: Size) -> None:
    """Dice of 12 less than 12 apart on every axis, or twice in one place."""
    (finding,) = colliding_things(with_things(trial, "dice", (6, 6, 4.4), second).kit)
    assert (finding.code, finding.subject) == ("things-collide", "dice")
    assert finding.text.startswith("Two of its things in tray-1")


@pytest.mark.parametrize(("second", "collide"), [((20, 20, 0), False), ((19, 18, 0), True), ((10, 24, 0), False)])
def test_round_things_may_stand_between_each_other(trial: Trial, second: Size, collide: bool) -> None:  # noqa: FBT001
    """Corks of 14: 14.14 apart across, their boxes meet but they do not; 12.04 apart they do."""
    found = list(colliding_things(with_things(trial, "corks", (10, 10, 0), second).kit))
    assert bool(found) is collide


@pytest.mark.parametrize(
    ("place", "strays"),
    [((6, 6, 0), False), ((29.4, 29.4, 40), False), ((29.5, 9, 5), True), ((9, 5.9, 5), True), ((9, 9, -0.1), True)],
)
def test_things_beside_their_part_are_found(trial: Trial, place: Size, strays: bool) -> None:  # noqa: FBT001
    """A die of 12 over a tray of 35.4: it may stand out at the top, but not at a side or below."""
    found = list(straying_things(with_things(trial, "dice", place).kit))
    assert [finding.code for finding in found] == ["things-outside-part"] * strays


def test_a_box_with_round_corners_is_as_round_as_it_is(trial: Trial) -> None:
    """A tin of 25 x 25 x 30 with corners of 6: its volume by hand; what is square has all of its corner."""
    tin = {"size": (25.0, 25.0, 30.0), "at": ((17.7, 17.7, 4.4),), "held": (4,), "count": 4}
    volumes = []
    for radius in (0.0, 6.0):
        kit = trial.having(
            "lots", "dice", places=(place_of(trial, "dice").model_copy(update=tin | {"corner_radius": radius}),)
        )
        body = dict(bodies_of_things(kit.kit))["tray-1"]
        volumes.append(volume_of(body.shape.corners))
    assert volumes == [pytest.approx(25 * 25 * 30, rel=1e-4), pytest.approx((625 - (4 - np.pi) * 36) * 30, rel=1e-3)]
