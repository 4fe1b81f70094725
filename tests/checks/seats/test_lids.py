"""Lids in their trays, tight and loose, measured in the files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.lids import GOES_IN, deck_gap, sliding_gap
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.module.dispensers import BOW_SHARE, KEPT, groove_depth, side_clearance
from nookwright.module.stacking import BEARING, deck_clearance
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_lid_place, deck_tray
from nookwright.parts.lids.sliding_lid import place, sliding_lid
from nookwright.parts.lids.sliding_rim import SlidingSpec
from nookwright.parts.lids.sliding_tray import sliding_tray
from nookwright.sizing.printers.household import household_of

from .conftest import at, cell

if TYPE_CHECKING:
    from collections.abc import Callable

    import manifold3d

    from nookwright.module.module import Module

    from .conftest import Bench

    Spoil = Callable[[manifold3d.Manifold], manifold3d.Manifold]

DECK = DeckSpec(5, 4, 30.0)
SLIDING = SlidingSpec(4, 6, 30.0)


def wider(by: float, size: float) -> Spoil:
    """Scaled along x about its own middle, so that its box still begins at the origin."""
    return lambda solid: solid.scale([1 + by / size, 1, 1])


def decked(lined: Bench, module: Module, more: float = 0.0) -> Bench:
    """A tray with its deck lid, the lid wider by some and still in the middle."""
    x, y, z = deck_lid_place(module, DECK)
    (ox, oy, oz) = (row[3] for row in cell(0, 0)[:3])
    bench = lined.having("low", deck_tray(module, DECK), cell(0, 0), on=("panel",))
    return bench.having(
        "lid", deck_lid(module, DECK), at(ox + x - more / 2, oy + y, oz + z), on=("low",),
        spoil=wider(more, 85.0) if more else None,
    )  # fmt: skip


def slid(lined: Bench, module: Module, more: float = 0.0) -> Bench:
    """A tray with its sliding lid, closed; the lid lies on its head in its file."""
    lid = sliding_lid(module, SLIDING)
    x, y, z = place(module, SLIDING)
    (ox, oy, oz) = (row[3] for row in cell(0, 0)[:3])
    _, depth, height = lid.size
    flipped = (1, 0, 0, ox + x - more / 2), (0, -1, 0, oy + y + depth), (0, 0, -1, oz + z + height), (0, 0, 0, 1)
    bench = lined.having("low", sliding_tray(module, SLIDING), cell(0, 0), on=("panel",))
    return bench.having("lid", lid, flipped, on=("low",), spoil=wider(more, lid.size[0]) if more else None)


def between(bench: Bench) -> tuple[np.ndarray, float]:
    """What takes the lid to the tray's axes, and the tray's depth."""
    matrices = {one.id: matrix_of(one.space_from_part) for one in bench.kit.placements}
    return np.linalg.inv(matrices["low"]) @ matrices["lid"], bench.members["low"].part.size[1]


@pytest.mark.parametrize("axis", [0, 1])
def test_the_gap_of_a_deck_lid_is_that_of_the_module(lined: Bench, module: Module, axis: int) -> None:
    """Its clearance on each side, and the ledge that bears it."""
    bench = decked(lined, module)
    found = deck_gap(bench.members["lid"], bench.members["low"], between(bench)[0], axis)
    clearance = deck_clearance(module, DECK.cols, DECK.rows)
    assert (found.left, found.right) == pytest.approx((clearance, clearance), abs=0.01)
    assert found.over == pytest.approx((float(BEARING), float(BEARING)), abs=0.07)  # just below the ledge it swells


def test_the_gap_of_a_sliding_lid_is_that_of_its_grooves(lined: Bench, module: Module) -> None:
    """Side clearance; pushed to one side the leaning wall keeps what its closed form says."""
    bench = slid(lined, module)
    matrix, depth = between(bench)
    found = sliding_gap(bench.members["lid"], bench.members["low"], matrix)
    assert (found.left, found.right) == pytest.approx((side_clearance(depth), side_clearance(depth)), abs=0.01)
    assert found.kept(0.0) == pytest.approx(float(KEPT), abs=0.01)
    assert found.kept(0.0) == pytest.approx(groove_depth(depth) - 2 * side_clearance(depth), abs=0.01)


@pytest.mark.parametrize("made", [decked, slid])
def test_lids_as_drawn_go_in_and_stay(
    lined: Bench, module: Module, made: Callable[[Bench, Module], Bench]
) -> None:  # fmt: skip
    """Nothing to say but notes."""
    assert made(lined, module).wrong() == []


@pytest.mark.parametrize("made", [decked, slid])
@pytest.mark.parametrize(("share", "found"), [(0.8, False), (1.2, True)])
def test_a_lid_that_is_too_wide_is_tight(
    lined: Bench, module: Module, made: Callable[..., Bench], share: float, found: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """Wider by more than what printers leave at their tight edge it stops; by less it does not."""
    bench = made(lined, module)
    matrix, depth = between(bench)
    look = deck_gap(bench.members["lid"], bench.members["low"], matrix, 0) if made is decked else sliding_gap(
        bench.members["lid"], bench.members["low"], matrix
    )  # fmt: skip
    bow = 0.0 if made is decked else BOW_SHARE * depth
    spare = look.gap - of_two_prints(household_of(bench.room).envelope, look.size).tight - bow - GOES_IN
    assert spare > 0
    codes = [code for _, code, _ in made(lined, module, share * spare).wrong()]
    assert ("lid-tight" in codes) is found


@pytest.mark.parametrize("made", [decked, slid])
def test_a_lid_that_is_too_narrow_falls_out(lined: Bench, module: Module, made: Callable[..., Bench]) -> None:
    """Three mm narrower it slips off its ledge, or out of its groove: a stop; a little narrower is passed."""
    assert ("stop", "lid-loose", "lid") in made(lined, module, -3.0).wrong()
    assert [code for _, code, _ in made(lined, module, -0.2).wrong() if code.startswith("lid")] == []


def test_what_is_left_is_said_in_numbers(lined: Bench, module: Module) -> None:
    """The gap, what printers take, what is left and what is asked for."""
    said = slid(lined, module, 1.5).said("lid-tight")
    assert "bowed rims" in said.text
    assert said.against is not None
    assert said.against.computed < said.against.limit == float(GOES_IN)
