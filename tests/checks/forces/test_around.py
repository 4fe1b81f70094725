from __future__ import annotations

import math

import numpy as np
import pytest
from tests.checks.forces.scene import Scene, cube, matrix

from nookwright.checks.forces.around import WALL, Around, Stop
from nookwright.checks.forces.slams import Throw
from nookwright.checks.forces.stands import Loads


def around(scene: Scene) -> Around:
    """The parts of the space as boxes."""
    kit = scene.kit()
    loads = Loads(kit, scene.surveyed(), scene.shapes)
    return Around(kit.spaces[0], loads, [one.id for one in kit.placements])


def rows() -> Scene:
    """Two trays one behind the other, 36 and 20 high, 3 apart; the space is 216.5 deep and 120 high."""
    scene = Scene()
    scene.part("tall", "tray", cube((60, 50, 36)), matrix(10, 10), mass_g=10)
    scene.part("low", "tray", cube((60, 50, 20)), matrix(10, 63), mass_g=10)
    return scene


def next_to(scene: Scene, name: str, throw: Throw, above: float) -> Stop:
    """What lies next in the way of a part."""
    found = around(scene)
    at = found.names.index(name)
    return found.next(found.low[at], found.high[at], throw, above=above, own=frozenset((name,)))


@pytest.mark.parametrize(
    ("name", "throw", "above", "stop"),
    [
        ("tall", Throw.BACK, 10, Stop("low", 3.0)),
        ("tall", Throw.BACK, 25, Stop(WALL, 156.5)),  # the other is too low
        ("tall", Throw.FRONT, 25, Stop(WALL, 10.0)),
        ("low", Throw.FRONT, 10, Stop("tall", 3.0)),
        ("low", Throw.BACK, 10, Stop(WALL, 103.5)),
        ("low", Throw.BACK, 130, Stop(WALL, math.inf)),  # higher than the space
    ],
)
def test_the_nearest_stop_that_is_high_enough_counts(name: str, throw: Throw, above: float, stop: Stop) -> None:
    """A neighbour, else the wall, else nothing."""
    found = next_to(rows(), name, throw, above)
    assert found.name == stop.name
    assert found.gap == pytest.approx(stop.gap)


def test_what_stands_beside_is_no_stop() -> None:
    """A part that shares less than 5 mm of the side would be turned, not stopped."""
    for x, name in ((66.0, WALL), (64.0, "low")):
        scene = rows()
        scene.placements[1]["space_from_part"] = matrix(x, 63)
        assert next_to(scene, "tall", Throw.BACK, 10).name == name


def test_the_tongue_of_a_strip_may_lie_under_the_panel() -> None:
    """A strip that is keyed into the panel by 6 mm is next to it all the same."""
    scene = Scene()
    scene.panel(12, 10, at=(0.25, 20.0))
    scene.part("strip", "filler", cube((200, 26, 2.6)), matrix(5, 194), mass_g=2)
    assert next_to(scene, "panel", Throw.BACK, 0.0).name == "strip"


def test_walls_that_lean_count_at_their_height() -> None:
    """10 mm in at the top, 5 at half of the height."""
    scene = rows()
    kit = scene.kit()
    ends = tuple(
        end.model_copy(update={"depth": 216.5 - lean}) for end, lean in zip(kit.spaces[0].usable, (0, 10), strict=True)
    )
    space = kit.spaces[0].model_copy(update={"usable": ends})
    found = Around(space, Loads(kit, scene.surveyed(), scene.shapes), [])
    box = np.array([10.0, 100, 0]), np.array([50.0, 150, 30])
    assert found.next(*box, Throw.BACK, above=60).gap == pytest.approx(216.5 - 5 - 150)
