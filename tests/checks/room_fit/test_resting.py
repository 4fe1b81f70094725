"""Lids and dividers that hang in the air: let go, they drop."""

from __future__ import annotations

import pytest

from nookwright.checks.room_fit.resting import FELT_FOR, LIES, check_resting, fall_of

from .scene import Scene, box, tray, ways


def lidded(above: float, kind: str = "lid") -> Scene:
    """A tray of 24 with a plate above its rim."""
    scene = Scene().put("tray", tray(80, 60, 24))
    return scene.put("plate", box(80, 60, 2), at=(0, 0, 24 + above), kind=kind, on=("tray",))


@pytest.mark.parametrize("kind", ["lid", "cap", "name strip", "divider"])
@pytest.mark.parametrize(("above", "found"), [(0.0, False), (0.9 * LIES, False), (2 * LIES, True), (6.0, True)])
def test_an_insert_must_lie_on_something(above: float, kind: str, found: bool) -> None:  # noqa: FBT001
    """Up to a tenth above what it lies on; one that is higher is a stop, whatever it is."""
    said = check_resting((lidded(above, kind).built(),), ways())
    assert [(one.code, one.severity.value, one.subject) for one in said] == [("insert-hangs", "stop", "plate")] * found


@pytest.mark.parametrize("above", [0.5, 3.0])
def test_it_is_said_how_far_it_falls(above: float) -> None:
    """As far as it is above the rim."""
    (said,) = check_resting((lidded(above).built(),), ways())
    assert f"it falls by {above:.1f} mm" in said.text
    assert said.against is not None
    assert said.against.computed == pytest.approx(above, abs=0.02)


def test_what_is_far_above_all_falls_at_least_so_far() -> None:
    """It is not felt for farther than is needed to know that it is wrong."""
    (said,) = check_resting((lidded(25.0).built(),), ways())
    assert f"at least {FELT_FOR:.1f} mm" in said.text


def test_what_shares_room_is_said_elsewhere() -> None:
    """A lid in the wall of its tray does not fall, and collides."""
    space = lidded(-1.0).built()
    assert fall_of(space, space.by_id["plate"], ways()) == 0.0


def test_a_tray_is_no_insert() -> None:
    """Where trays rest is a matter of seats."""
    scene = Scene().put("tray", tray(80, 60, 24)).put("other", tray(80, 60, 24), at=(0, 0, 40), on=("tray",))
    assert check_resting((scene.built(),), ways()) == []
