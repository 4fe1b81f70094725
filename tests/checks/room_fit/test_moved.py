from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from tests.checks.room_fit.scene import Scene, box, matrix, tray, ways

from nookwright.checks.room_fit import moved
from nookwright.checks.room_fit.moved import grown_corners, lift, tightness
from nookwright.checks.room_fit.printed import Largest

if TYPE_CHECKING:
    from pathlib import Path

UP = np.array([0.0, 0.0, 40.0])


def slotted(width: float, *, at: tuple[float, float] = (0, 0), turns: int = 0) -> Scene:
    """A block with a slot of 4, and a plate of some thickness that stands in it, both turned and moved."""
    block = box(40, 40, 30) - box(4, 30, 30, at=(18, 5, 2))
    scene = Scene().put("block", block, matrix_=matrix(*at, 0, turns))
    plate = box(width, 29, 28).translate([20 - width / 2, 5.5, 2])
    return scene.put("plate", plate, matrix_=matrix(*at, 0, turns), kind="divider", on=("block",))


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_a_way_is_looked_at_once_however_the_pair_is_turned(
    turns: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A pair in the same place to each other, elsewhere and turned, is answered from what is known."""
    finds = ways(tmp_path)
    first = slotted(3.9).built()
    assert finds.free(first.by_id["plate"], UP, first.by_id["block"]) == 1
    monkeypatch.setattr(moved, "free_share", lambda *_: pytest.fail("looked again"))
    other = slotted(3.9, at=(100, 70), turns=turns).built()
    assert finds.free(other.by_id["plate"], UP, other.by_id["block"]) == 1
    assert ways(tmp_path).free(other.by_id["plate"], UP, other.by_id["block"]) == 1


@pytest.mark.parametrize(("more", "free"), [(0.09, True), (0.13, False)])
def test_what_is_larger_by_more_than_its_play_does_not_go(more: float, free: bool) -> None:  # noqa: FBT001
    """3.9 in a slot of 4: by 0.09 more it goes, by 0.13 it does not; to its length it has 1 mm."""
    space = slotted(3.9).built()
    plate, block = space.by_id["plate"], space.by_id["block"]
    finds = ways()
    assert (finds.free(plate, UP, block, more=np.array([more, 0, 0])) == 1) is free
    assert finds.free(plate, UP, block, more=np.array([0, more, 0])) == 1


def test_a_part_that_grows_keeps_its_underside() -> None:
    """20 x 10 x 5 by 0.4, 0 and 0.6: 0.2 to each side, and all of the 0.6 upwards."""
    one = Scene().put("one", box(20, 10, 5), at=(3, 4, 5)).built().by_id["one"]
    grown = grown_corners(one, np.array([0.4, 0.0, 0.6]))
    np.testing.assert_allclose(grown.min(axis=(0, 1)), [2.8, 4, 5], atol=1e-9)
    np.testing.assert_allclose(grown.max(axis=(0, 1)), [23.2, 14, 10.6], atol=1e-9)
    np.testing.assert_array_equal(grown_corners(one, np.zeros(3)), one.corners)


def test_a_plate_that_was_printed_lying_is_no_thicker() -> None:
    """On its edge its own z lies level: its thickness does not grow; its slot narrows."""
    upright = ((1, 0, 0, 0), (0, 0, -1, 1), (0, 1, 0, 0), (0, 0, 0, 1))
    one = Scene().put("one", box(60, 20, 1), matrix_=upright).built().by_id["one"]
    own = Largest(0.0, 0.16, 0.0, (0.0, 0.16, 0.0))
    holder = Largest(0.0, 0.0, 0.26, (0.0, 0.0, 0.26))
    np.testing.assert_allclose(tightness(one, own, holder), [0.16 + 0.26, 0.16, 0.26])


def test_a_lift_clears_the_highest() -> None:
    """From 5 to the rim at 30; what is lower than it already needs no lift."""
    space = (
        Scene().put("low", box(9, 9, 9), at=(0, 0, 5)).put("rim", tray(40, 40, 30)).put("flat", box(9, 9, 1)).built()
    )
    low = space.by_id["low"]
    np.testing.assert_allclose(lift(low, [space.by_id["rim"], space.by_id["flat"]]), [0, 0, 25])
    np.testing.assert_allclose(lift(low, [space.by_id["flat"]]), [0, 0, 0])
