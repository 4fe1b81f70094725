"""Lettering that is too fine for a nozzle, raised and sunk, and its twin that is not."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.closing import Losses
from nookwright.checks.printable import Setting, flaws

from .conftest import arrays, box

if TYPE_CHECKING:
    import manifold3d

    from nookwright.checks.print_words import Flaw

SETTING = Setting(0.2, 0.43, Losses(slit=0.28, hole=0.49), lettered=True)


def cross(stroke: float) -> manifold3d.Manifold:
    """Two strokes that cross, 0.4 high."""
    return box(6, stroke, 0.4, at=(7, 5, 1)) + box(stroke, 6, 0.4, at=(10, 2, 1))


def pair(gap: float) -> manifold3d.Manifold:
    """Two strokes of 1 side by side, this far apart."""
    return box(6, 1, 0.4, at=(7, 4, 1)) + box(6, 1, 0.4, at=(7, 5 + gap, 1))


def look(letters: manifold3d.Manifold, *, sunk: bool = False, lettered: bool = True) -> dict[str, Flaw]:
    """What is found on a strip of 20 x 10."""
    plate = box(20, 10, 1.4) - letters if sunk else box(20, 10, 1) + letters
    setting = Setting(SETTING.layer, SETTING.line, SETTING.losses, lettered=lettered)
    return {flaw.code: flaw for flaw in flaws(*arrays(plate), setting)}


@pytest.mark.parametrize(
    ("stroke", "codes"), [(0.3, {"text-small"}), (0.35, {"text-small"}), (0.43, set()), (0.9, set())]
)
def test_raised_strokes_are_as_wide_as_a_line(stroke: float, codes: set[str]) -> None:
    """Narrower ones are left out, and are too low to count as walls."""
    assert set(look(cross(stroke))) == codes


def test_strokes_are_given_by_their_width() -> None:
    """Against the narrowest line, 0.9 of 0.43."""
    found = look(cross(0.3))["text-small"]
    assert found.measure == pytest.approx(0.3, abs=0.02)
    assert found.limit == pytest.approx(0.387)
    assert found.at[2] == pytest.approx(1.3)


@pytest.mark.parametrize(("gap", "fills"), [(0.25, True), (0.33, False)])
def test_gaps_between_strokes_stay_open(gap: float, fills: bool) -> None:  # noqa: FBT001
    """Narrower ones fill up, between raised letters and as sunk strokes."""
    assert ("text-fills" in look(pair(gap))) is fills
    assert ("text-fills" in look(cross(gap), sunk=True)) is fills


def test_only_lettering_is_looked_at_so_closely() -> None:
    """A fine ridge on top of anything else is no letter."""
    assert "text-small" not in look(cross(0.3), lettered=False)
