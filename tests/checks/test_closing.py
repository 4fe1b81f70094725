"""Holes and slits on both sides of what a printer takes off insides."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.checks.closing import NO_LOSSES, Losses, closed_in, losses_of
from nookwright.checks.printable import Setting, flaws

from .conftest import arrays, box

if TYPE_CHECKING:
    from collections.abc import Callable

LOSSES = Losses(slit=0.28, hole=0.49)


def drilled(diameter: float, *, depth: float = 9) -> manifold3d.Manifold:
    """A plate of 3 with a hole."""
    hole = manifold3d.Manifold.cylinder(depth, diameter / 2, diameter / 2, 48).translate([10, 10, -1])
    return box(20, 20, 3) - hole


def slotted(width: float, *, at: float = 5) -> manifold3d.Manifold:
    """A plate of 3 with a slit of 10."""
    return box(20, 20, 3) - box(10, width, 9, at=(at, 10, -1))


def blind() -> manifold3d.Manifold:
    """A scratch in the underside that is only one layer deep."""
    return box(20, 20, 3) - box(10, 0.2, 0.25, at=(5, 10, -0.05))


@pytest.mark.parametrize(
    ("shape", "closes"),
    [
        (lambda: drilled(0.45), True),
        (lambda: drilled(0.55), False),
        (lambda: drilled(4), False),
        (lambda: slotted(0.25), True),
        (lambda: slotted(0.33), False),
        (lambda: slotted(0.25, at=15), True),  # open at the edge
        (blind, False),
    ],
)
def test_what_is_narrower_than_the_loss_closes(shape: Callable[[], manifold3d.Manifold], closes: bool) -> None:  # noqa: FBT001
    """A hole loses more than a slit, so each has its own limit."""
    found = flaws(*arrays(shape()), Setting(0.2, 0.43, LOSSES))
    assert [one.code for one in found] == (["hole-closes"] if closes else [])


def test_the_figure_is_the_width() -> None:
    """Against what the printer may take off, at the place of the hole."""
    (found,) = flaws(*arrays(drilled(0.4)), Setting(0.2, 0.43, LOSSES))
    assert found.measure == pytest.approx(0.4, abs=0.02)
    assert found.limit == LOSSES.hole
    assert found.at[:2] == pytest.approx((10, 10), abs=0.1)


def test_a_printer_that_takes_nothing_off_closes_nothing() -> None:
    """Whatever the gap."""
    assert flaws(*arrays(slotted(0.1)), Setting(0.2, 0.43, NO_LOSSES)) == ()


@settings(max_examples=20, deadline=None)
@given(width=st.floats(0.1, 1.0), turn=st.floats(0, 180))
def test_a_slit_closes_at_its_width_in_any_direction(width: float, turn: float) -> None:
    """Two hundredths of play, which are the noise of a section."""
    section = manifold3d.CrossSection.square((20, 20)) - manifold3d.CrossSection.square((10, width)).translate((5, 8))
    found = list(closed_in(section.rotate(turn), LOSSES, 0.43))
    if width < LOSSES.slit - 0.02:
        assert len(found) == 1
    if width > LOSSES.slit + 0.02:
        assert found == []


def test_the_usual_losses_are_the_far_end_of_what_printers_do() -> None:
    """0.15 off a slit and as much more off a small hole, each known to 0.08: 95 of 100 take off no more."""
    usual = losses_of(None)
    assert usual.slit == pytest.approx(0.15 + 1.645 * 0.08, abs=1e-3)
    assert usual.hole == pytest.approx(0.30 + 1.645 * 0.08 * 2**0.5, abs=1e-3)
