"""Cones against module and pattern: each fault of one is found with its code; what the pattern leaves out is none."""

from __future__ import annotations

from typing import TYPE_CHECKING

import manifold3d
import pytest

from nookwright.checks.seats.sockets import EXACT
from nookwright.layout.liner_model import PanelSpec, SetBack
from nookwright.module.pattern import Pattern
from nookwright.module.seat import draw_of
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid
from nookwright.parts.liner.panel import panel
from nookwright.parts.risers.riser import RiserSpec, RiserTop, riser

from .conftest import SIDE, at, cylinder

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module

    from .conftest import Bench

    Spoil = Callable[[manifold3d.Manifold], manifold3d.Manifold]

FIRST = (8.8, 8.8)  # the cone of the first cell, in the panel's axes
WHERE = at(1.2, 1.2)


def remade(*, height: float = 3.0, wide: float = 2.5, draw: float | None = None, move: float = 0.0) -> Spoil:
    """The first cone cut off and made anew."""

    def spoil(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        shrink = draw_of(1.0) if draw is None else draw
        off = cylinder(0.6, 4.0, 4.5, 4.5, FIRST)
        cone = cylinder(0.4, 0.6 + height, wide + 0.2 * shrink, wide - height * shrink, (FIRST[0] + move, FIRST[1]))
        return solid - off + cone

    return spoil


def gone(solid: manifold3d.Manifold) -> manifold3d.Manifold:
    """The first cone cut off."""
    return solid - cylinder(0.6, 4.0, 4.5, 4.5, FIRST)


def wrong(empty: Bench, module: Module, spec: PanelSpec, spoil: Spoil | None = None) -> list[tuple[str, str, str]]:
    """What is wrong with a panel by itself."""
    return empty.having("panel", panel(module, spec), WHERE, spoil=spoil).wrong()


@pytest.mark.parametrize("spoil", [None, remade(), remade(height=3.0 - 0.5 * EXACT), remade(move=0.5 * EXACT)])
def test_sound_cones_are_passed(empty: Bench, module: Module, liner: PanelSpec, spoil: Spoil | None) -> None:
    """As drawn, made anew in the same way, and half of a limit short or aside."""
    assert wrong(empty, module, liner, spoil) == []


@pytest.mark.parametrize(
    ("spoil", "code"),
    [
        (gone, "cone-missing"),
        (remade(height=3.0 - 2 * EXACT), "cone-height"),
        (remade(height=3.0 + 2 * EXACT), "cone-height"),
        (remade(wide=2.5 + 2 * EXACT), "cone-width"),
        (remade(draw=0.176), "cone-slope"),
        (remade(draw=0.364), "cone-slope"),
        (remade(move=2 * EXACT), "cone-shifted"),
    ],
)
def test_a_cone_that_is_not_the_seats_stops(
    empty: Bench, module: Module, liner: PanelSpec, spoil: Spoil, code: str
) -> None:
    """Gone; twice the limit too low, too high, too wide, aside; five degrees too steep or too flat."""
    assert ("stop", code, "panel") in wrong(empty, module, liner, spoil)


def test_the_missing_cone_is_named(empty: Bench, module: Module, liner: PanelSpec) -> None:
    """How many, and where in the panel."""
    said = empty.having("panel", panel(module, liner), WHERE, spoil=gone).said("cone-missing")
    assert said.text.startswith("1 cell lacks the cone")
    assert "8.8 mm from its left and 8.8 mm from its front" in said.text
    assert said.against is not None
    assert (said.against.computed, said.against.limit) == (1, 0)


@pytest.mark.parametrize("pattern", [Pattern.CHESSBOARD, Pattern.EVERY_CELL, Pattern.EVERY_SECOND])
def test_what_a_pattern_leaves_out_is_no_fault(empty: Bench, module: Module, pattern: Pattern) -> None:
    """Each pattern is passed where the space has it; a leaner one than the space has lacks cones."""
    spec = PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=(), pattern=pattern)
    assert wrong(empty.with_liner("full", pattern.value), module, spec) == []
    richer = {Pattern.CHESSBOARD: Pattern.EVERY_CELL, Pattern.EVERY_SECOND: Pattern.CHESSBOARD}.get(pattern)
    if richer:
        found = wrong(empty.with_liner("full", richer.value), module, spec)
        assert [code for _, code, _ in found] == ["cone-missing"]


def test_cones_under_the_layout_are_those_that_the_panel_names(empty: Bench, module: Module) -> None:
    """No other cell lacks one; of those one that is gone is missed."""
    spec = PanelSpec(
        SIDE, SIDE, (), first_has_cone=True, slots=(), pattern=Pattern.UNDER_LAYOUT, chosen=((0, 0), (4, 4), (6, 2))
    )
    lean = empty.with_liner("full", Pattern.UNDER_LAYOUT.value)
    assert wrong(lean, module, spec) == []
    assert [code for _, code, _ in wrong(lean, module, spec, gone)] == ["cone-missing"]


def test_blocked_cells_need_no_cone(empty: Bench, module: Module) -> None:
    """A panel round blocked cells, and one whose edges lie back off a cove."""
    hole = tuple((c, r) for c in (3, 4) for r in (3, 4))
    blocked = empty.in_space(blocked_cells=hole)
    spec = PanelSpec(SIDE, SIDE, hole, first_has_cone=True, slots=())
    assert wrong(blocked, module, spec) == []
    whole = PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=())
    assert wrong(empty.in_space(blocked_cells=((0, 0),)), module, whole, gone) == []
    back = PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=(), set_back=SetBack(left=3.0, front=2.0))
    placed = empty.having("panel", panel(module, back), at(4.2, 3.2))
    assert placed.wrong() == []


@pytest.mark.parametrize(("x", "codes"), [(1.2, []), (1.2 + 2 * EXACT, ["cone-shifted"]), (10.2, ["cone-missing"])])
def test_a_panel_that_lies_beside_its_cells_is_found(
    empty: Bench, module: Module, liner: PanelSpec, x: float, codes: list[str]
) -> None:
    """Its cones then are no longer in the middles of cells; half a cell aside the pattern lacks them."""
    found = empty.having("panel", panel(module, liner), at(x, 1.2)).wrong()
    assert [code for _, code, _ in found][: len(codes)] == codes


def test_a_room_without_a_record_of_its_liners_asks_for_no_pattern(
    empty: Bench, module: Module, liner: PanelSpec
) -> None:
    """Only that cones stand in the middles of cells."""
    assert wrong(empty.in_space(liners=()), module, liner, gone) == []
    assert wrong(empty.in_space(liners=()), module, liner, remade(move=1.0)) == [("stop", "cone-shifted", "panel")]


def test_a_deck_lid_and_a_riser_carry_their_own_chessboard(empty: Bench, module: Module) -> None:
    """As drawn they are passed, a smooth riser too; a lid that lost a cone is not."""
    lid = deck_lid(module, DeckSpec(4, 3, 36.0))

    def blunt(solid: manifold3d.Manifold) -> manifold3d.Manifold:
        return solid - manifold3d.Manifold.cube([20.0, 20.0, 9.0]).translate([0, 0, 1.2])

    sound = empty.having("lid", lid, at()).having("deck", riser(module, RiserSpec(3, 2, 3)), at(x=80, y=1.3))
    sound = sound.having("smooth", riser(module, RiserSpec(2, 2, 3, top=RiserTop.SMOOTH)), at(y=80, x=1.3))
    assert [one for one in sound.wrong() if one[1].startswith("cone")] == []
    assert ("stop", "cone-missing", "lid") in empty.having("lid", lid, at(), spoil=blunt).wrong()
