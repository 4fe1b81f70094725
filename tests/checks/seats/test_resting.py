"""Parts that do not lie on what carries them: how far they are above it, and on what they stand there."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.checks.seats.resting import LIES
from nookwright.layout.liner_model import PanelSpec
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_lid_place, deck_tray
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray

from .conftest import PITCH, at, cell

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

    from .conftest import Bench


def lifted(bench: Bench, name: str, by: float) -> Bench:
    """The same with one placement higher by some."""
    changed = tuple(
        one.model_copy(
            update={
                "space_from_part": (
                    *one.space_from_part[:2],
                    (*one.space_from_part[2][:3], one.space_from_part[2][3] + by),
                    one.space_from_part[3],
                )
            }
        )
        if one.id == name
        else one
        for one in bench.kit.placements
    )
    return replace(bench, kit=bench.kit.model_copy(update={"placements": changed}))


@pytest.mark.parametrize("name", ["tray", "panel"])
@pytest.mark.parametrize(("by", "found"), [(0.9 * LIES, False), (2 * LIES, True), (2.1, True)])
def test_a_part_that_hangs_in_the_air_is_found(stood: Bench, name: str, by: float, found: bool) -> None:  # noqa: FBT001
    """A tray above its panel, a panel above the floor: what is no farther than a tenth lies where it should."""
    assert (("stop", "part-raised", name) in lifted(stood, name, by).wrong()) is found


def test_it_is_said_how_far_and_what_is_left_of_the_cones(stood: Bench) -> None:
    """2.1 mm of cones 3 mm high: 0.9 mm are in, too little; nothing else is said of it."""
    bench = lifted(stood, "tray", 2.1)
    said = bench.said("part-raised")
    assert "It stands 2.1 mm too high: its underside is at 2.7 mm" in said.text
    assert "what should carry it (panel) ends at 0.6 mm; nothing carries it there." in said.text
    assert "Cones reach 0.9 mm into it, too little to hold (from 1 mm on)." in said.text
    assert said.against is not None
    assert said.against.computed == pytest.approx(2.1)
    assert [code for _, code, _ in bench.wrong()] == ["part-raised"]


def test_cones_that_still_hold_are_no_excuse(stood: Bench) -> None:
    """Half a millimetre up the cones hold, and yet nothing carries the tray."""
    assert "Cones reach 2.5 mm into it, which still holds" in lifted(stood, "tray", 0.5).said("part-raised").text


def test_what_it_stands_on_is_named(stood: Bench, module: Module) -> None:
    """On the tops of the cones, and on a tray below that is no lid."""
    on_cones = lifted(stood, "tray", 3.0)
    assert "there it stands on the cones of panel" in on_cones.said("part-raised").text
    assert "No cone reaches into it" in on_cones.said("part-raised").text
    low = stood.having("above", tray(module, cols=3, rows=2, height=24.0), cell(1, 2, 24.6), on=("tray",))
    assert "there it stands on tray." in low.said("part-raised").text


def test_a_tray_on_a_deck_rests_on_its_face(lined: Bench, module: Module, small: Part) -> None:
    """Not on the tops of the deck's cones, nor on the floor far below; without the deck it hangs."""
    spec = DeckSpec(3, 2, 24.0)
    x, y, z = deck_lid_place(module, spec)
    (ox, oy, oz) = (row[3] for row in cell(1, 2)[:3])
    stack = lined.having("low", deck_tray(module, spec), cell(1, 2), on=("panel",))
    decked = stack.having("lid", deck_lid(module, spec), at(ox + x, oy + y, oz + z), on=("low",))
    assert decked.having("high", small, at(ox, oy, oz + 24.0), on=("lid",)).wrong() == []
    assert ("stop", "part-raised", "high") in stack.having("high", small, at(ox, oy, oz + 24.0), on=("low",)).wrong()


def test_without_a_panel_parts_stand_on_the_floor_or_on_dots(empty: Bench, small: Part) -> None:
    """At 0, or as high as a panel is thick; 2 mm higher nothing carries them."""
    bare = empty.with_liner("none", "like a chessboard")
    for z, found in ((0.0, False), (0.6, False), (2.6, True)):
        x, y = 1.3 + PITCH, 1.3 + PITCH
        wrong = bare.having("tray", small, at(x, y, z)).wrong()
        assert (("stop", "part-raised", "tray") in wrong) is found


def test_what_it_stands_on_is_what_kit_json_says(stood: Bench, small: Part) -> None:
    """Nothing, or another part: loads would be added up elsewhere; of a part that hangs that alone is said."""
    assert stood.wrong() == []
    for on in ((), ("other",)):
        bench = stood.having("other", small, cell(5, 5)).having("it", small, cell(1, 5), on=on)
        said = bench.said("stands-otherwise")
        assert (said.severity.value, said.subject) == ("stop", "it")
        assert said.text.endswith("where it is, it stands on panel.")
    hangs = stood.having("it", small, cell(1, 5, 9.0), on=())
    assert [code for _, code, _ in hangs.wrong()] == ["part-raised"]


@pytest.mark.parametrize(("col", "carried"), [(2, False), (1, True), (3, True)])
def test_a_panel_does_not_carry_what_stands_in_its_hole(
    empty: Bench,
    module: Module,
    small: Part,
    col: int,
    carried: bool,  # noqa: FBT001
) -> None:
    """A frame about a hole of 3 x 4 cells: 3 x 2 cells in it stand on nothing, one column to a side on the frame."""
    hole = tuple((c, r) for c in range(2, 5) for r in range(2, 6))
    frame = empty.having("panel", panel(module, PanelSpec(8, 8, hole, first_has_cone=True, slots=())), at(1.2, 1.2))
    for on in ((), ("panel",)):
        bench = frame.having("it", small, cell(col, 3), on=on)
        found = [code for _, code, _ in bench.wrong() if code == "stands-otherwise"]
        assert bool(found) is (bool(on) is not carried)
        if found:
            true = "panel" if carried else "the floor"
            assert bench.said("stands-otherwise").text.endswith(f"where it is, it stands on {true}.")
