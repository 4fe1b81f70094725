from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from nookwright.cutting.holds import (
    FILAMENT_SPREAD,
    PINS_APART,
    TONGUES_APART,
    fit_of,
    joint_of,
)
from nookwright.cutting.model import Hold
from nookwright.parts.risers.riser import RiserInside, RiserSpec, riser
from nookwright.parts.trays.tray import tray
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Move, Prism, Union
from nookwright.sizing.fits.chain import CLEARANCE
from nookwright.sizing.printers.errors import ERRORS, Error, unmeasured
from nookwright.survey.origins import FitClass

if TYPE_CHECKING:
    from nookwright.cutting.holds import Fit
    from nookwright.module.module import Module


def test_a_pin_goes_into_the_hole_of_nearly_every_printer() -> None:
    """The hole is the thickest pin, the close fit and what holes of that size lose on 95 of 100 printers."""
    dowel, thread = fit_of(unmeasured(), layer=0.2, filament=1.75).pins
    small = 1 - (1.75 + FILAMENT_SPREAD) / 12
    mean, sd = -0.15 - 0.15 * small, (0.08**2 + (0.08 * small) ** 2 + 0.02**2) ** 0.5
    needed = 1.75 + FILAMENT_SPREAD + CLEARANCE[FitClass.CLOSE] - mean + 1.645 * sd
    assert needed <= thread.hole < needed + 0.06
    assert (thread.name, thread.length) == ("1.75 mm filament", 15)
    assert dowel.hole > dowel.diameter + 0.5
    assert dowel.length == 29


def test_a_measured_printer_gets_closer_joints() -> None:
    """Without bias and doubt a dovetail has the least clearance, and a hole little more than its pin."""
    zero = tuple(tuple(0.0 for _ in ERRORS) for _ in ERRORS)
    sure = replace(unmeasured(), mean=tuple(0.0 for _ in ERRORS), covariance=zero, scatter=0.01)
    exact, usual = (fit_of(one, layer=0.2, filament=2.85) for one in (sure, unmeasured()))
    assert exact.tongue == pytest.approx(0.1)
    assert exact.pins[1].hole < usual.pins[1].hole
    assert usual.tongue > exact.tongue
    assert usual.pins[1].name == "2.85 mm filament"
    assert Error.INSIDE in ERRORS


def test_dovetails_lie_between_sockets_and_apart(module: Module, fit: Fit) -> None:
    """On borders of cells, none nearer to another than two cells, and the joint may stay dry on the liner."""
    part = tray(module, cols=12, rows=6, height=36, smooth=False)
    marks = [part.size[1] / 2 + (n - 3) * 18 for n in range(1, 6)]
    joint = joint_of(part.recipe, fit, axis=0, at=part.size[0] / 2, span=(0, part.size[1]), marks=marks, seated=True)
    places = [along for along, _ in joint.places]
    assert joint.hold is Hold.TONGUES
    assert joint.dry
    assert set(places) <= set(marks)
    assert len(places) == 3
    assert all(b - a >= TONGUES_APART - 1e-6 for a, b in pairwise(places))


def test_a_dovetail_needs_a_plate_of_one_thickness(fit: Fit) -> None:
    """Not where a wall stands on it, a step is near, or it is thicker than slides down easily."""
    plate = Prism(Rect(100, 60), 2)
    walled = Union((plate, Move(Prism(Rect(1.2, 60), 20), x=53)))
    stepped = Union((plate, Move(Prism(Rect(40, 60), 4), x=57)))
    thick = Prism(Rect(100, 60), 8)
    for recipe, hold in ((plate, True), (walled, False), (stepped, False), (thick, False)):
        joint = joint_of(recipe, fit, axis=0, at=50, span=(0, 60), marks=[30.0], seated=False)
        assert (joint.hold is Hold.TONGUES) is hold
        assert not joint.dry


def test_pins_hold_what_is_thick(module: Module, fit: Fit) -> None:
    """In a full riser they are dowels at half its height, at least a cell apart; in a plate as thin as a pin, none."""
    part = riser(module, RiserSpec(8, 5, 5, inside=RiserInside.FULL))
    joint = joint_of(part.recipe, fit, axis=0, at=part.size[0] / 2, span=(0, part.size[1]), seated=True)
    assert joint.hold is Hold.PINS
    assert joint.pin == fit.pins[0]
    assert 2 <= len(joint.places) <= 4
    assert all(b - a >= PINS_APART - 1e-6 for (a, _), (b, _) in pairwise(joint.places))
    low = Prism(Rect(100, 60), 3)
    assert joint_of(low, fit, axis=1, at=30, span=(0, 100), seated=False).hold is Hold.FACES
    slab = joint_of(Prism(Rect(100, 60), 6), fit, axis=1, at=30, span=(0, 100), seated=False)
    assert slab.pin == fit.pins[1]
