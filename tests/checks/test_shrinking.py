"""Corners that lift while a piece cools: by plastic, size, height and what lies on the bed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import manifold3d
import numpy as np
import pytest

from nookwright.checks.print_words import finding
from nookwright.checks.printable import Setting, flaws
from nookwright.checks.sections import Sections
from nookwright.checks.shrinking import BORNE, LEAST_HOLD, MOST_HOLD, corner_of, shrinkage_of
from nookwright.checks.strength.plastics import TABLE
from nookwright.ground.findings import Severity
from nookwright.survey.plastic_sheet import PlasticKind

from .conftest import arrays, box

if TYPE_CHECKING:
    from nookwright.checks.shrinking import Corner

PLA, ABS = (shrinkage_of(TABLE[kind]) for kind in (PlasticKind.PLA, PlasticKind.ABS))


def corner(solid: manifold3d.Manifold, shrinkage: float = PLA) -> Corner | None:
    """The corner of a solid, its lowest and a middle layer looked at."""
    sections = Sections(*arrays(solid), 0.2)
    sections.at(0)
    sections.at(sections.count // 2)
    return corner_of(sections, shrinkage)


def severity(solid: manifold3d.Manifold, shrinkage: float) -> Severity | None:
    """How bad it is, if it is found."""
    found = flaws(*arrays(solid), Setting(0.2, 0.43, shrinkage=shrinkage))
    return next((finding("x", one).severity for one in found if one.code == "corners-lift"), None)


def test_a_block_goes_by_its_shrinkage_times_half_its_diagonal() -> None:
    """And bears what a corner of a block does, whatever its corner's angle."""
    found = corner(box(150, 80, 20))
    assert found is not None
    assert found.goes == pytest.approx(PLA * math.hypot(75, 40))
    assert found.bears == pytest.approx(BORNE, rel=1e-6)


@pytest.mark.parametrize(
    ("side", "height", "shrinkage", "expected"),
    [
        (265, 20, PLA, None),  # a diagonal of 375
        (285, 20, PLA, Severity.NOTE),
        (120, 20, ABS, None),
        (140, 20, ABS, Severity.NOTE),
        (285, 20, ABS, Severity.WARN),
        (285, 4, ABS, None),  # limp
        (285, 20, shrinkage_of(TABLE[PlasticKind.TPU]), None),  # soft
    ],
)
def test_it_depends_on_size_height_and_plastic(
    side: float, height: float, shrinkage: float, expected: Severity | None
) -> None:
    """Large and hard ones lift; far beyond the limit it is a warning."""
    assert severity(box(side, side, height), shrinkage) is expected


def test_what_holds_is_weighed_against_what_pulls() -> None:
    """A tray on its whole floor bears more than a block, a block on feet less, within limits."""
    tray = box(200, 150, 40) - box(197.6, 147.6, 40, at=(1.2, 1.2, 1))
    feet = [box(4, 4, 2, at=(x, y, 0)) for x in (0, 196) for y in (0, 146)]
    table = manifold3d.Manifold.batch_boolean([box(200, 150, 20, at=(0, 0, 1)), *feet], manifold3d.OpType.Add)
    broad, slender = corner(tray), corner(table)
    assert broad is not None
    assert slender is not None
    assert broad.bears == pytest.approx(BORNE * MOST_HOLD)
    assert BORNE * LEAST_HOLD <= slender.bears < 0.6 * BORNE


def test_the_corner_is_where_it_is() -> None:
    """The one that is farthest from the middle: of a drop, its tip."""
    outline = np.array([(0.0, 0.0), (60, -30), (200, 0), (60, 30)])
    found = corner(manifold3d.CrossSection([outline]).extrude(20))
    assert found is not None
    assert found.at == pytest.approx((200, 0), abs=0.01)
