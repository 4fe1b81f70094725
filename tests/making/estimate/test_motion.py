from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.making.estimate.contours import loops_of
from nookwright.making.estimate.motion import loops_s, move_s

if TYPE_CHECKING:
    from numpy.typing import NDArray

A, CORNER = 1500.0, 8.0


def one_s(points: NDArray[np.float64], speed: float, first: int = 0) -> float:
    """Time of a single loop."""
    loops = loops_of([points])
    return float(loops_s(loops, np.array([first]), np.array([speed]), A, CORNER)[0])


def round_of(radius: float, facets: int) -> NDArray[np.float64]:
    """A round of so many facets."""
    turn = np.linspace(0, 2 * math.pi, facets, endpoint=False)
    return radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)


def stepwise_s(points: NDArray[np.float64], speed: float, kept: NDArray[np.float64]) -> float:
    """The same time by going through the moves one after the other, forwards and backwards, as a machine does."""
    closed = np.vstack([points, points[:1]])
    length = np.hypot(*np.diff(closed, axis=0).T)
    at = np.append(kept, 0.0)
    at[0] = 0.0
    for n in range(len(length)):
        at[n + 1] = min(at[n + 1], math.sqrt(at[n] ** 2 + 2 * A * length[n]))
    for n in reversed(range(len(length))):
        at[n] = min(at[n], math.sqrt(at[n + 1] ** 2 + 2 * A * length[n]))
    time = 0.0
    for n, way in enumerate(length.tolist()):
        peak = min(speed, math.sqrt(A * way + (at[n] ** 2 + at[n + 1] ** 2) / 2))
        ways = (2 * peak**2 - at[n] ** 2 - at[n + 1] ** 2) / (2 * A)
        time += (2 * peak - at[n] - at[n + 1]) / A + max(0.0, way - ways) / peak
    return time


@given(
    corners=st.lists(st.tuples(st.integers(-400, 400), st.integers(-400, 400)), min_size=3, max_size=12, unique=True),
    speed=st.floats(5.0, 300.0),
)
def test_looking_ahead_at_once_is_looking_ahead_step_by_step(corners: list[tuple[int, int]], speed: float) -> None:
    """The running minimum gives the same time as going through all moves forwards and backwards."""
    points = np.array(corners, dtype=np.float64) / 10
    step = np.roll(points, -1, axis=0) - points
    back = np.roll(step, 1, axis=0)
    turn = np.arctan2(back[:, 0] * step[:, 1] - back[:, 1] * step[:, 0], (back * step).sum(axis=1))
    cosine = np.cos(turn / 2)
    kept = np.sqrt(np.maximum(CORNER**2 * (math.sqrt(2) - 1) * cosine / np.maximum(1 - cosine, 1e-12), 0.0))
    kept = np.minimum(kept, speed)
    assert one_s(points, speed) == pytest.approx(stepwise_s(points, speed, kept), rel=1e-6, abs=1e-6)


@given(
    corners=st.lists(st.tuples(st.integers(-400, 400), st.integers(-400, 400)), min_size=3, max_size=12, unique=True),
    speed=st.floats(5.0, 300.0),
    more=st.floats(1.0, 3.0),
)
def test_a_quicker_printer_is_never_slower_and_none_beats_its_speed(
    corners: list[tuple[int, int]], speed: float, more: float
) -> None:
    """Time falls with the speed, and is at least the length divided by it."""
    points = np.array(corners, dtype=np.float64) / 10
    length = float(np.hypot(*(np.roll(points, -1, axis=0) - points).T).sum())
    assert one_s(points, speed) >= length / speed - 1e-9
    assert one_s(points, speed * more) <= one_s(points, speed) + 1e-9


@pytest.mark.parametrize("radius", [2.0, 5.0, 40.0])
def test_facets_of_a_round_slow_nothing_down(radius: float) -> None:
    """Twice and four times as many facets take the same time, that of the arc."""
    least = max(24, math.ceil(math.pi / math.acos(1 - 0.02 / radius)))
    times = [one_s(round_of(radius, n * least), 60.0) for n in (1, 2, 4)]
    speed = min(60.0, math.sqrt(A * radius))
    assert times == pytest.approx([2 * math.pi * radius / speed + speed / A] * 3, rel=6e-3)


def test_corners_of_a_polygon_do_slow_down() -> None:
    """A large octagon is no round: its corners are passed at the speed of corners."""
    octagon = round_of(40.0, 8)
    assert one_s(octagon, 100.0) > 1.08 * one_s(round_of(40.0, 400), 100.0)


def test_a_slower_corner_speed_shows_at_each_corner() -> None:
    """A square from rest to rest by the textbook: two sides from or to rest, two between corners."""
    side, speed = 20.0, 50.0
    points = np.array([(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)])

    def side_s(enter: float, leave: float) -> float:
        ways = (2 * speed**2 - enter**2 - leave**2) / (2 * A)
        return (2 * speed - enter - leave) / A + (side - ways) / speed

    by_hand = 2 * side_s(0, CORNER) + 2 * side_s(CORNER, CORNER)
    assert one_s(points, speed) == pytest.approx(by_hand, rel=1e-9)
    assert one_s(points, speed, first=2) == pytest.approx(by_hand, rel=1e-9)


def test_loops_do_not_lend_each_other_speed() -> None:
    """Several loops at once take what they take alone."""
    shapes = [round_of(3.0, 40), np.array([(0.0, 0.0), (0.1, 0.0), (0.0, 0.1)]), round_of(20.0, 90)]
    loops = loops_of(shapes)
    together = loops_s(loops, loops.starts, np.array([40.0, 70.0, 50.0]), A, CORNER)
    alone = [one_s(shape, speed) for shape, speed in zip(shapes, (40.0, 70.0, 50.0), strict=True)]
    assert together == pytest.approx(alone, rel=1e-6)


def test_moves_between_corners() -> None:
    """With an entry and an exit speed, by the worked figures of a textbook case: 50 mm at 150 mm/s, 3000 mm/s2."""
    assert float(move_s(50.0, 150.0, 3000.0, 0.0)) == pytest.approx(50 / 150 + 150 / 3000)
    assert float(move_s(2.0, 150.0, 3000.0, 150.0)) == pytest.approx(2 / 150)
