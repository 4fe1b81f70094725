"""Whether parts are held: cones in sockets, cones under floors, one cone and nothing beside, bowed floors, stacks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.seats.standing import hang_at
from nookwright.checks.seats.turning import MOST_DEG, turning_deg
from nookwright.exchange.kit import UsableAt
from nookwright.layout.liner_model import PanelSpec
from nookwright.module.pattern import Pattern
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_lid_place, deck_tray
from nookwright.parts.liner.panel import panel
from nookwright.parts.risers.riser import RiserSpec, riser
from nookwright.parts.trays.tray import tray

from .conftest import PITCH, SIDE, at, cell

if TYPE_CHECKING:
    import manifold3d

    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench


def codes(bench: Bench) -> list[str]:
    """The codes of all that is no note."""
    return [code for _, code, _ in bench.wrong()]


def test_every_cone_under_a_tray_is_in_a_socket(stood: Bench) -> None:
    """Three of six cells have one; each is in by its whole height, with the clearance of its ring to play."""
    stand = stood.stands["tray"]
    assert len(stand.cones) == 3
    assert stand.in_socket == pytest.approx(3.0, abs=1e-3)
    assert sorted(stand.play) == pytest.approx([0.3, 0.4, 0.4], abs=0.01)
    assert codes(stood) == []


@pytest.mark.parametrize("turns", range(4))
def test_turned_it_stands_as_well(lined: Bench, small: Part, turns: int) -> None:
    """By any quarter: the sockets are about its middle."""
    wide, deep = (PITCH * 3 - 0.6, PITCH * 2 - 0.6)
    width, depth = (wide, deep) if turns % 2 == 0 else (deep, wide)
    x, y = 1.3 + PITCH, 1.3 + 2 * PITCH
    corner = [(x, y), (x + width, y), (x + width, y + depth), (x, y + depth)][turns]
    bench = lined.having("tray", small, at(*corner, 0.6, turns), on=("panel",))
    assert codes(bench) == []
    assert len(bench.stands["tray"].cones) == 3


@pytest.mark.parametrize(
    ("where", "found"),
    [
        (at(1.3 + 1.5 * PITCH, 1.3 + 2 * PITCH, 0.6), ["part-on-cones"]),
        (at(1.3 + 1.5 * PITCH, 1.3 + 2.5 * PITCH, 0.6), ["part-on-cones"]),
        (at(1.3 + PITCH + 0.29, 1.3 + 2 * PITCH, 0.6), []),
        (at(1.3 + PITCH + 0.35, 1.3 + 2 * PITCH, 0.6), ["part-on-cones"]),
        (at(1.3 + PITCH, 1.3 + 2 * PITCH, 0.69), []),
        (at(1.3 + PITCH, 1.3 + 2 * PITCH, 0.71), ["part-raised"]),
        (at(1.3 + PITCH, 1.3 + 2 * PITCH, 40.0), ["part-raised"]),
    ],
)
def test_a_tray_that_is_moved_is_found(
    lined: Bench, small: Part, where: tuple[tuple[float, ...], ...], found: list[str]
) -> None:
    """Half a cell aside, just inside and past its clearance; hardly raised, a tenth too high, in the air."""
    assert codes(lined.having("tray", small, where, on=("panel",))) == found  # type: ignore[arg-type]


def test_what_stands_on_cones_is_said(lined: Bench, small: Part) -> None:
    """How many cones, and where the first one meets the part."""
    said = lined.having("tray", small, at(1.3 + 1.5 * PITCH, 1.3 + 2 * PITCH, 0.6)).said("part-on-cones")
    assert said.text.startswith("2 cones under it meet its underside")
    assert said.subject == "tray"


def test_without_a_full_liner_parts_may_stand_on_no_cone(empty: Bench, small: Part) -> None:
    """Wall to wall, or beside a cross, that is the choice of the room; on a full liner it is a fault."""
    bare = empty.having("tray", small, cell(1, 2))
    assert codes(bare.with_liner("none", "like a chessboard")) == []
    assert codes(bare.with_liner("cross", "like a chessboard")) == []
    assert codes(bare) == ["part-not-engaged"]


def test_a_part_that_is_too_narrow_for_its_pattern_is_warned_of(empty: Bench, module: Module) -> None:
    """Cones in every second cell may miss a tray of 1 x 2 cells; the pattern says so, and so does the finding."""
    spec = PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=(), pattern=Pattern.EVERY_SECOND)
    bench = empty.with_liner("sparse", Pattern.EVERY_SECOND.value).having("panel", panel(module, spec), at(1.2, 1.2))
    narrow = bench.having("tray", tray(module, cols=2, rows=1, height=24.0), cell(2, 1))
    assert narrow.wrong() == [("warn", "part-not-engaged", "tray")]


def test_on_one_cone_a_part_needs_a_neighbour(lined: Bench, module: Module) -> None:
    """In the middle of a drawer and in a corner it turns until it meets the next cones; beside a tray it does not."""
    pair = tray(module, cols=2, rows=1, height=24.0)
    alone = lined.having("pair", pair, cell(3, 3))
    assert alone.wrong() == [("warn", "part-turns", "pair")]
    assert "before it meets anything" in alone.said("part-turns").text
    beside = alone.having("front", tray(module, cols=4, rows=2, height=24.0), cell(2, 1))
    assert beside.wrong() == []
    assert lined.having("pair", pair, cell(0, 0)).wrong() == [("warn", "part-turns", "pair")]


def test_on_the_only_cone_of_a_panel_a_part_turns_freely(empty: Bench, module: Module) -> None:
    """Nothing stops it, so nothing may be printed; a liner of strips never promised more, and warns."""
    spec = PanelSpec(SIDE, SIDE, (), first_has_cone=False, slots=(), pattern=Pattern.UNDER_LAYOUT, chosen=((3, 3),))
    lean = empty.with_liner("full", Pattern.UNDER_LAYOUT.value).having("panel", panel(module, spec), at(1.2, 1.2))
    alone = lean.having("pair", tray(module, cols=2, rows=1, height=24.0), cell(3, 3))
    assert alone.wrong() == [("stop", "part-turns", "pair")]
    assert "nothing beside" in alone.said("part-turns").text
    assert alone.with_liner("frame", Pattern.UNDER_LAYOUT.value).wrong() == [("warn", "part-turns", "pair")]


def test_a_tray_on_a_deck_lid_stands_on_its_cones(lined: Bench, module: Module, small: Part) -> None:
    """The cones of the lid, not those of the panel far below; a lid without its cones holds nothing."""
    spec = DeckSpec(3, 2, 24.0)
    x, y, z = deck_lid_place(module, spec)
    (ox, oy, oz) = (row[3] for row in cell(1, 2)[:3])
    stack = lined.having("low", deck_tray(module, spec), cell(1, 2), on=("panel",))
    stack = stack.having("lid", deck_lid(module, spec), at(ox + x, oy + y, oz + z), on=("low",))
    high = stack.having("high", small, at(ox, oy, oz + 24.0), on=("lid",))
    assert codes(high) == []
    assert len(high.stands["high"].cones) == 3
    assert not high.stands["high"].on_floor
    assert high.stands["high"].in_socket == pytest.approx(2.4, abs=0.01)

    def flat(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid.trim_by_plane([0, 0, -1], -1.2)

    bare = lined.having("low", deck_tray(module, spec), cell(1, 2), on=("panel",))
    bare = bare.having("lid", deck_lid(module, spec), at(ox + x, oy + y, oz + z), on=("low",), spoil=flat)
    bare = bare.having("high", small, at(ox, oy, oz + 24.0), on=("lid",))
    assert set(codes(bare)) == {"cone-missing", "part-not-engaged"}


def test_a_tray_on_a_riser_stands_on_its_cones(lined: Bench, module: Module, small: Part) -> None:
    """Risers count as liners for what stands on them."""
    bench = lined.having("riser", riser(module, RiserSpec(3, 2, 2)), cell(1, 2))
    ox, oy = cell(1, 2)[0][3], cell(1, 2)[1][3]
    assert codes(bench.having("tray", small, at(ox, oy, 12.6), on=("riser",))) == []


@given(half=st.floats(5, 70), bow=st.floats(0.1, 8))
def test_a_stiff_part_hangs_in_the_middle_of_a_hollow(half: float, bow: float) -> None:
    """By the bow times the square of its length over the floor's (a paraboloid); not at all at its corners."""
    from types import SimpleNamespace

    space = SimpleNamespace(bow=bow, usable=(UsableAt(z=0, width=150.0, depth=150.0),))
    middle, corner = np.zeros((1, 2)), np.full((1, 2), half)
    sides = np.array([half, half])
    assert hang_at(space, middle, sides)[0] == pytest.approx(min(bow, 2 * bow * (2 * half / 150) ** 2))  # type: ignore[arg-type]
    assert hang_at(space, corner, sides)[0] == pytest.approx(0.0, abs=1e-12)  # type: ignore[arg-type]
    bulge = SimpleNamespace(bow=-bow, usable=space.usable)
    assert hang_at(bulge, middle, sides)[0] == 0  # type: ignore[arg-type]
    assert hang_at(bulge, corner, sides)[0] == pytest.approx(min(bow, 2 * bow * (2 * half / 150) ** 2))  # type: ignore[arg-type]


@pytest.mark.parametrize(("sag", "length", "hangs"), [(2, 200, 0.4), (3, 200, 0.6), (5, 200, 1.0), (5, 400, 4.0)])
def test_hanging_agrees_with_the_radius_of_the_floor(sag: float, length: float, hangs: float) -> None:
    """A sag over 450 mm is a radius of 450^2 / (8 sag); under a tray L long the middle hangs by L^2 / (8 R)."""
    from types import SimpleNamespace

    space = SimpleNamespace(bow=sag, usable=(UsableAt(z=0, width=450.0, depth=1e9),))
    found = hang_at(space, np.zeros((1, 2)), np.array([length / 2, 1.0]))[0]  # type: ignore[arg-type]
    assert found == pytest.approx(length**2 / (8 * 450**2 / (8 * sag)))
    assert found == pytest.approx(hangs, abs=0.06)


def test_a_bowed_floor_takes_engagement_off(empty: Bench, module: Module) -> None:
    """The part, how far its worst cone is in, and how many hold it, stand in a note; too deep a bow lets go."""
    spec = PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=())
    lined = empty.having("panel", panel(module, spec), at(1.2, 1.2))
    long = lined.having("tray", tray(module, cols=6, rows=2, height=24.0), cell(0, 3))
    assert [one.code for one in long.findings() if one.code == "seat-bowed"] == []
    bowed = long.in_space(bow=2.0)
    said = bowed.said("seat-bowed")
    assert said.against is not None
    # Its cones nearest the middle are 9 mm off it both ways: 2 * 4 ((54^2 - 9^2) + (18^2 - 9^2)) / 146^2 less than 3.
    assert said.against.computed == pytest.approx(3 - 2 * 4 * ((54**2 - 81) + (18**2 - 81)) / 146**2, abs=0.01)
    longer = lined.having("tray", tray(module, cols=8, rows=2, height=24.0), cell(0, 3))
    worst = longer.in_space(bow=-4.0).stands["tray"]
    assert worst.in_socket.min() == 0
    assert worst.holds.any()


@pytest.mark.parametrize("gap", [0.6, 1.2, 3.0])
def test_a_square_between_walls_turns_by_its_gap(gap: float) -> None:
    """A square of side a between two walls at a gap g on both sides touches where a (cos t + sin t) = a + 2 g."""
    side = 20.0
    corners = np.array([(0, 0), (side, 0), (side, side), (0, side)], dtype=float)
    own = corners, np.roll(corners, -1, axis=0)
    walls = np.array([(-gap, -99.0), (side + gap, -99.0)]), np.array([(-gap, 99.0), (side + gap, 99.0)])
    found = turning_deg(own, [walls], np.array([side / 2, side / 2]))
    expected = np.degrees(np.arcsin(min(1.0, (side + 2 * gap) / (side * np.sqrt(2)))) - np.pi / 4)
    assert found == pytest.approx(expected, abs=0.5)
    assert found <= expected


def test_alone_it_turns_as_far_as_is_looked() -> None:
    """Nothing beside it, or nothing near."""
    corners = np.array([(0, 0), (2, 0), (2, 2), (0, 2)], dtype=float)
    own = corners, np.roll(corners, -1, axis=0)
    far = np.array([(50.0, -9.0)]), np.array([(50.0, 9.0)])
    assert turning_deg(own, [], np.array([1.0, 1.0])) == MOST_DEG
    assert turning_deg(own, [far], np.array([1.0, 1.0])) == MOST_DEG
