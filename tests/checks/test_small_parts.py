"""What goes into the small-parts cylinder, and where that is said."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.cautions.cylinder import excess, goes_in
from nookwright.checks.cautions.small_parts import is_small, small_in_reach
from nookwright.checks.cautions.whereabouts import Whereabouts
from nookwright.checks.files import read_meshes
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.findings import Severity
from nookwright.survey.models import Lot

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.ground.findings import Finding

    from .conftest import Trial


def rod(diameter: float, length: float) -> Floats:
    """Corners of a round rod with 24 sides."""
    turn = 2 * np.pi * np.arange(24) / 24
    ring = diameter / 2 * np.column_stack([np.cos(turn), np.sin(turn)])
    return np.vstack([np.column_stack([ring, np.full(24, z)]) for z in (0.0, length)])


def block(*size: float) -> Floats:
    """Corners of a box."""
    corners: Floats = np.stack(np.meshgrid(*([0.0, side] for side in size)), axis=-1).reshape(-1, 3)
    return corners


def ball(diameter: float) -> Floats:
    """Points on a ball."""
    points = np.random.default_rng(1).normal(size=(2000, 3))
    whole: Floats = diameter / 2 * points / np.linalg.norm(points, axis=1, keepdims=True)
    return whole


@pytest.mark.parametrize(
    ("points", "small"),
    [
        (ball(31.5), True),
        (ball(32.5), False),
        (rod(31, 2), True),
        (rod(33, 2), False),  # turn it as you like, it stays that wide
        (rod(30, 25), True),
        (rod(30, 31), False),
        (rod(1, 64.0), True),  # from rim to bottom the cylinder is hypot(31.7, 57.1) = 65.3 long
        (rod(1, 66.5), False),
        (rod(10.5, 44.5), True),  # a battery AAA
        (rod(14.5, 50.5), False),  # a battery AA
        (rod(34.2, 61.5), False),
        (block(16, 16, 16), True),
        (block(22.4, 22.4, 25), True),  # a diagonal of 31.68, upright
        (block(26, 26, 26), False),
    ],
)
def test_what_goes_in(points: Floats, small: bool) -> None:  # noqa: FBT001
    """Balls, coins, rods and blocks on both sides of the figures of the standard."""
    assert goes_in(points) is small


@settings(max_examples=15, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    sides=st.tuples(st.floats(2, 60), st.floats(2, 60), st.floats(2, 60)),
    share=st.floats(0.3, 0.95),
)
def test_it_does_not_matter_how_a_body_lies_and_smaller_ones_go_in_too(
    seed: int, sides: tuple[float, float, float], share: float
) -> None:
    """Turned at random it stands out as far; and what goes in goes in when it is shrunk."""
    points = block(*sides)
    turn, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
    whole, turned = excess(points), excess(points @ turn.T)
    assert turned == pytest.approx(whole, abs=0.3)
    assert excess(points * share) <= whole + 0.05


@given(st.floats(0.5, 31), st.floats(1, 25))
def test_what_fits_upright_on_the_shallow_side_goes_in(diameter: float, length: float) -> None:
    """An oracle without any turning: as wide as the cylinder, as long as its shallow side."""
    assert goes_in(rod(diameter, length))


@given(st.floats(66, 400), st.floats(0.5, 20))
def test_what_is_longer_than_its_diagonal_never_goes_in(length: float, width: float) -> None:
    """The cylinder's longest line is 65.3."""
    assert math.hypot(31.7, 57.1) < 66
    assert not goes_in(block(length, width, width))


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot."""
    return Lot.model_validate({"id": "x", "count": 1, "mass_g": 1} | keys)


def test_things_are_taken_at_their_smallest() -> None:
    """Box, round and flat by their measures; what is poured counts as small."""
    assert is_small(lot(shape="box", width=[90, 16], depth=16, height=16), Verdicts(None))
    assert not is_small(lot(shape="box", width=90, depth=16, height=16), Verdicts(None))
    assert is_small(lot(shape="round", diameter=23.25, height=2.33), Verdicts(None))
    assert not is_small(lot(shape="flat", width=105, depth=74, thickness=0.1), Verdicts(None))
    assert is_small(lot(shape="loose", volume_ml=200), Verdicts(None))


@settings(max_examples=20, deadline=None)
@given(st.tuples(st.floats(2, 60), st.floats(2, 60), st.floats(2, 60)))
def test_what_is_too_wide_in_every_view_stands_out(sides: tuple[float, float, float]) -> None:
    """The short way to say no agrees with the long one: no box whose shorter sides have a longer diagonal goes in."""
    a, b, _ = sorted(sides)
    if math.hypot(a, b) > 31.9:
        assert not goes_in(block(*sides))


def about(trial: Trial, *, small_children: bool | None = None, children: bool = True) -> list[Finding]:
    """What is said of a kit."""
    space = trial.room.space[0].model_copy(update={"children": children})
    choices = trial.room.choices.model_copy(update={"small_children": small_children})
    where = Whereabouts(trial.kit, trial.with_room(space=(space,), choices=choices).room)
    shapes = read_meshes(trial.folder, trial.kit).shapes
    return list(small_in_reach(where, shapes, Verdicts(None)))


def test_it_is_said_of_spaces_that_children_reach(trial: Trial) -> None:
    """Dice of 12, corks of 14 x 25 and halves of the panel, 36 x 18 x 2.3, go in; trays of 35 do not."""
    (found,) = about(trial)
    assert (found.code, found.severity, found.subject) == ("small-parts-in-reach", Severity.NOTE, "left")
    assert "in it: dice, corks and the panel." in found.text
    assert about(trial, children=False) == []


def test_how_small_the_children_are_decides_how_grave_it_is(trial: Trial) -> None:
    """A warning where they are small, nothing where they are not."""
    assert [one.severity for one in about(trial, small_children=True)] == [Severity.WARN]
    assert about(trial, small_children=False) == []


def test_printed_parts_are_measured_in_their_meshes(trial: Trial) -> None:
    """A tray that is written again as a peg of 10 x 10 x 24 is small."""
    from .conftest import arrays, box

    pegs = trial.with_mesh("tray.stl", *arrays(box(10, 10, 24)))
    (found,) = about(pegs)
    assert "dice, corks, the panel and the tray" in found.text
