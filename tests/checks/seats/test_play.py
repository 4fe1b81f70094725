"""How far parts move in their seats, between neighbours, and what rattles."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nookwright.checks.seats.play import asks_for_quiet, at_corner, gaps, shift
from nookwright.exchange.kit import KitLot, LotPlace
from nookwright.parts.trays.tray import tray
from nookwright.survey.models import Lot

from .conftest import cell

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench


def lot(**keys: Any) -> Lot:  # noqa: ANN401 - any key of a lot
    """A lot of invented glasses."""
    return Lot.model_validate({"id": "glasses", "count": 2, "shape": "round", "diameter": 30, "height": 20} | keys)


def holding(bench: Bench, **keys: Any) -> Bench:  # noqa: ANN401 - any key of a lot
    """The bench with such a lot in its tray."""
    place = LotPlace(
        placement="tray", part="tray", count=2, stance="upright", size=(30, 30, 20), round_axis="z", at=((20, 20, 4.4),)
    )
    kept = KitLot(id="glasses", name="Glasses", count=2, mass_g=1, places=(place,))
    room = bench.room.model_copy(update={"lot": (lot(**keys),)})
    return replace(bench, kit=bench.kit.model_copy(update={"lots": (kept,)}), room=room)


def test_a_tray_shifts_by_its_tightest_clearance(stood: Bench) -> None:
    """The socket nearest its middle has 0.3 mm; a corner moves farther when the tray turns between its cones."""
    stand = stood.stands["tray"]
    assert shift(stand) == pytest.approx(0.3, abs=0.01)
    assert at_corner(stand) >= shift(stand)


def test_no_cone_forbids_the_play_and_one_more_step_does(stood: Bench) -> None:
    """Shifted by the play in any direction all cones are in their sockets; by a tenth more one is not."""
    stand = stood.stands["tray"]
    for angle in np.arange(0, 2 * np.pi, 0.1):
        moved = shift(stand) * np.array([np.cos(angle), np.sin(angle)])
        assert (np.hypot(*moved) <= stand.play + 1e-9).all()
        assert not (np.hypot(*(1.1 * moved)) <= stand.play + 1e-9).all()


def test_a_corner_moves_by_the_turn_that_the_cones_allow(lined: Bench, module: Module) -> None:
    """In a long tray the outermost cones allow the least: each at d from the middle a turn of its play over d."""
    bench = lined.having("tray", tray(module, cols=8, rows=2, height=24.0), cell(0, 3))
    stand = bench.stands["tray"]
    arms = np.hypot(*(stand.cones - np.array(stand.footprint.middle)).T)
    turn = float((stand.play / arms).min())
    assert at_corner(stand) == pytest.approx(turn * np.hypot(143.5, 35.4) / 2, rel=0.01)


def test_the_gap_to_a_neighbour_is_that_between_faces(lined: Bench, small: Part) -> None:
    """Side by side 0.6 mm; one that stands across a corner or far off is no neighbour."""
    bench = lined.having("a", small, cell(0, 0)).having("b", small, cell(3, 0)).having("c", small, cell(3, 2))
    found = gaps(tuple(bench.stands.values()))
    assert found is not None
    assert found == pytest.approx((0.6, 0.6), abs=0.01)
    apart = lined.having("a", small, cell(0, 0)).having("b", small, cell(4, 4))
    assert gaps(tuple(apart.stands.values())) is None


def test_the_play_of_the_kit_is_one_note(stood: Bench) -> None:
    """Kind by kind, and the corner that moves farthest."""
    said = stood.said("seat-play")
    assert "tray 0.3" in said.text
    assert said.severity.value == "note"


@pytest.mark.parametrize(
    ("keys", "quiet"),
    [
        ({}, False),
        ({"made": "moulded glass"}, True),
        ({"made": "ceramics"}, True),
        ({"made": "machined metal"}, False),
        ({"made": "machined metal", "quiet": True}, True),
        ({"made": "blown glass", "quiet": False}, False),
    ],
)
def test_quiet_is_what_the_room_says_else_glass_and_ceramics(keys: dict[str, Any], quiet: bool) -> None:  # noqa: FBT001
    """The key of the lot goes before what it is made of."""
    assert asks_for_quiet(lot(**keys)) is quiet


def test_what_asks_for_quiet_in_a_part_that_moves_is_named(stood: Bench, module: Module) -> None:
    """In a tray with 0.4 mm of play glass may clink; with 0.3 mm, or where nobody minds, nothing is said."""
    assert "rattle" not in [one.code for one in holding(stood, quiet=True).findings()]
    kit = stood.kit.model_copy(update={"parts": stood.kit.parts[:1], "placements": stood.kit.placements[:1]})
    loose = replace(stood, kit=kit).having("tray", tray(module, cols=4, rows=4, height=24.0), cell(1, 2))
    said = holding(loose, quiet=True).said("rattle")
    assert said.text.startswith("Glasses should lie quietly")
    assert "felt" in said.remedy
    assert "rattle" not in [one.code for one in holding(loose).findings()]
