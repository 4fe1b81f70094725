from __future__ import annotations

import numpy as np
import pytest
from tests.checks.room_fit.scene import Scene, box, tray

from nookwright.checks.room_fit.grown import as_read, check_grown, settled
from nookwright.checks.room_fit.printed import Largest
from nookwright.ground.findings import Finding, Severity

USUAL = Largest(0.002, 0.16, 0.26)


def of(scene: Scene, largest: Largest = USUAL) -> list[Finding]:
    space = scene.built()
    return check_grown((space,), {one.part.id: largest for one in space.stood})


def wide(width: float, *, at: float = 0.0, **planned: object) -> Scene:
    """One tray across a drawer of 200 by 150, 1.5 of each side kept for readings."""
    return Scene(planned={"margins": (1.5, 1.5, 1.5)} | planned).put("tray", tray(width, 100, 20), at=(at, 20, 0))


@pytest.mark.parametrize(
    ("width", "severity"), [(199.4, None), (199.5, Severity.NOTE), (200.0, Severity.NOTE), (201.0, None)]
)
def test_a_part_that_grows_past_the_walls_is_noted(width: float, severity: Severity | None) -> None:
    """It grows by 0.4 and 0.16: 199.4 goes, 199.5 is past by 0.03 a side. Past as drawn is found elsewhere."""
    findings = of(wide(width))
    assert [one.severity for one in findings] == ([severity] if severity else [])
    assert all(one.code == "part-outside-when-large" for one in findings)


def test_past_what_was_read_is_a_warning() -> None:
    """Grown by 1 %, 2 mm, in a drawer of which 1.5 were kept for readings: more than was read."""
    (finding,) = of(wide(200.0), Largest(0.01))
    assert finding.severity is Severity.WARN
    assert finding.against is not None
    assert finding.against.computed == pytest.approx((2.0 - 1.5) / 2, abs=1e-3)


def test_prints_settle_where_there_is_room() -> None:
    """199 against the left wall: it grows by 0.56, and there is 1 mm at the right."""
    assert of(wide(199.0)) == []
    shift, (past, _) = settled(wide(199.0).built().space, np.array([[-0.5, 0, 0], [198.5, 99, 0.0]]))
    assert shift[0] == pytest.approx(0.5)
    assert past == pytest.approx(0.0)


def test_the_inside_as_it_was_read_is_wider_by_the_margins() -> None:
    """200 and 150 with 1.5 kept of each."""
    level = as_read(wide(100).built().space).usable[0]
    assert (level.width, level.depth) == (201.5, 151.5)


@pytest.mark.parametrize(("corner", "noted"), [(6.0, True), (1.0, False)])
def test_a_rounded_corner_is_met_first(corner: float, noted: bool) -> None:  # noqa: FBT001
    """A square part with 1.8 to each wall: its corner is 0.06 clear of a radius of 6, and grows by 0.25."""
    scene = Scene(planned={"margins": (1.5, 1.5, 1.5), "corner_radius": corner}, size=(103.6, 103.6))
    scene.put("square", box(100, 100, 10), at=(1.8, 1.8, 0))
    findings = of(scene)
    assert [one.severity for one in findings] == [Severity.NOTE] * noted
    assert all("a rounded corner" in one.text for one in findings)


def test_walls_that_lean_in_are_met_at_their_height() -> None:
    """2 mm narrower at the top: a low tray of 199 goes, one as high as the space does not."""
    levels = [{"z": 0.0, "width": 200, "depth": 150}, {"z": 60.0, "width": 198, "depth": 150, "x": 1.0}]
    for height, met in ((5, False), (25, True)):
        scene = Scene(planned={"usable": levels, "margins": (1.5, 1.5, 1.5)})
        assert bool(of(scene.put("tray", tray(199.0, 100, height), at=(0.5, 0, 0)))) is met


@pytest.mark.parametrize(("gap", "noted"), [(0.2, False), (0.16, True)])
def test_what_is_kept_free_is_kept_free_at_the_largest_size(gap: float, noted: bool) -> None:  # noqa: FBT001
    """A pipe beside a tray of 100: it grows by 0.1 and 0.08 to each side, about the middle of all that is there."""
    pipe = {"reason": "pipe", "service": True, "low": (150 + gap, 0, 0), "high": (180, 60, 60)}
    scene = Scene(planned={"blocked": [pipe]}).put("tray", tray(100, 100, 20), at=(50, 20, 0))
    for share, codes in ((USUAL, ["part-outside-when-large"] * noted), (Largest(), [])):
        assert [one.code for one in of(scene, share)] == codes
