from __future__ import annotations

from tests.checks.forces.scene import Key, Scene

from nookwright.checks.forces.slams import Throw, slams_of


def slams(**space: Key) -> list[tuple[Throw, float, float]]:
    """Way, acceleration and speed of every stop of a space."""
    return [(one.throw, one.accel_g, one.speed_m_s) for one in slams_of(Scene(**space).surveyed().space[0])]


def test_a_drawer_throws_both_ways() -> None:
    """Shut to the back, opened to the front, at 5 g and 0.5 m/s."""
    assert slams() == [(Throw.BACK, 5.0, 0.5), (Throw.FRONT, 5.0, 0.5)]


def test_soft_close_brakes_only_when_it_is_shut() -> None:
    """A tenth of the slam to the back; pulled open against its stop it is as hard as before."""
    assert slams(soft_close=True) == [(Throw.BACK, 0.5, 0.5), (Throw.FRONT, 5.0, 0.5)]


def test_who_knows_the_speed_says_it() -> None:
    """The room file's goes before the usual one."""
    assert {speed for _, _, speed in slams(shut_m_s=0.8)} == {0.8}


def test_a_shelf_gets_a_knock_and_a_wall_nothing() -> None:
    """A shelf does not travel; what hangs is screwed down."""
    assert slams(kind="shelf") == [(Throw.BACK, 0.3, 0.2), (Throw.FRONT, 0.3, 0.2)]
    assert slams(kind="wall") == slams(kind="door") == slams(kind="under-shelf") == []
