"""Press-on lids to order, tight and loose, measured in their files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nookwright.checks.seats.press_lids import skirt
from nookwright.parts.lids.lid import PRESS, LidFit, LidSpec, lid, lid_clearance

from .conftest import at

if TYPE_CHECKING:
    import manifold3d

    from nookwright.module.module import Module

    from .conftest import Bench


def made(empty: Bench, module: Module, fit: LidFit, more: float = 0.0, *, cells: int = 4) -> Bench:
    """A lid for a tray of cells x 3, wider by some along x."""
    part = lid(module, LidSpec(cells, 3, fit))

    def wider(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid.scale([1 + more / part.size[0], 1, 1])

    return empty.having("lid", part, at(), spoil=wider if more else None)


@pytest.mark.parametrize("fit", list(LidFit))
def test_the_skirt_is_as_wide_as_its_fit_asks_for(empty: Bench, module: Module, fit: LidFit) -> None:
    """The inside of its tray less its clearance; ridges of a pressing one reach into the walls."""
    size, widest = skirt(made(empty, module, fit).members["lid"], 0)
    room = 2 * lid_clearance(module, LidSpec(4, 3, fit))
    assert module.inner(4) - size == pytest.approx(room, abs=0.01)
    assert widest - size == pytest.approx(room + 2 * PRESS if fit is LidFit.PRESS else 0.0, abs=0.01)


@pytest.mark.parametrize("fit", list(LidFit))
def test_lids_as_drawn_are_passed(empty: Bench, module: Module, fit: LidFit) -> None:
    """Each fit, nothing to say but notes."""
    assert made(empty, module, fit).wrong() == []


@pytest.mark.parametrize(
    ("fit", "more", "found"),
    [
        (LidFit.EASY, 0.15, False),
        (LidFit.EASY, 0.3, True),
        (LidFit.SNUG, 0.3, False),
        (LidFit.SNUG, 0.6, True),
    ],
)
def test_a_skirt_that_is_too_wide_is_tight(
    empty: Bench,
    module: Module,
    fit: LidFit,
    more: float,
    found: bool,  # noqa: FBT001
) -> None:
    """An easy lid must slide, a snug one may bow the walls a little."""
    wrong = made(empty, module, fit, more).wrong()
    assert wrong == ([("stop", "lid-tight", "lid")] if found else [])


@pytest.mark.parametrize(("fit", "less"), [(LidFit.SNUG, 0.5), (LidFit.PRESS, 0.4)])
def test_a_lid_that_may_fall_off_is_noted(empty: Bench, module: Module, fit: LidFit, less: float) -> None:
    """A snug one with much room, a pressing one whose ridges stand off the wall."""
    assert "lid-loose" not in [one.code for one in made(empty, module, fit).findings()]
    said = made(empty, module, fit, -less).said("lid-loose")
    assert said.severity.value == "note"
