"""The first print of a planned room: which fits are tried, and with which figures."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.ground.progress import Silent
from nookwright.layout.first_print import first_print_of
from nookwright.layout.place import Effort
from nookwright.sizing.fits.first_print import Step
from nookwright.survey.trials import Found

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.survey.models import Room


def test_lots_in_pockets_and_spaces_with_liners_are_tried(tiny_room: Room, tiny: Designed) -> None:
    """Corks stand in a cradle; dice and notes lie in trays and have nothing to fit; the drawer has a liner."""
    found = first_print_of(tiny_room, tiny.plan)
    assert set(found.lots) == {"corks"}
    assert set(found.spaces) == {"drawer"}
    assert found.lots["corks"] >= 0.95
    assert found.spaces["drawer"] >= 0.95
    assert found.kit <= min(found.lots["corks"], found.spaces["drawer"])


def test_the_seat_counts(tiny_room: Room, tiny: Designed) -> None:
    """All parts of a small room go on; with sockets that hardly clear their cones most stay up."""
    found = first_print_of(tiny_room, tiny.plan)
    assert found.seat > 0.97
    module = replace(tiny.plan.module, seat=replace(tiny.plan.module.seat, growth=0.0, clearance=0.1))
    tight = first_print_of(tiny_room, replace(tiny.plan, module=module))
    assert tight.seat < 0.5
    assert tight.kit == pytest.approx(found.kit / found.seat * tight.seat)
    assert all(one.probability <= tight.seat for one in tight.helps)


def test_a_kit_without_a_coupon_is_told_of_it_where_it_helps(tiny_room: Room, tiny: Designed) -> None:
    """With pockets half a millimetre tighter than drawn, the corks may not go in, and the tool says what helps."""
    plan = tiny.plan
    placed = tuple(
        replace(
            one, candidate=replace(one.candidate, way=replace(one.candidate.way, pocket=one.candidate.way.pocket - 0.6))
        )
        if one.candidate and one.candidate.way.pocket
        else one
        for one in plan.layout.placed
    )
    tight = replace(plan, layout=replace(plan.layout, placed=placed))
    found = first_print_of(tiny_room, tight)
    assert found.lots["corks"] < first_print_of(tiny_room, plan).lots["corks"]
    assert {one.step for one in found.helps} >= {Step.GAUGE, Step.MEASURE}
    assert found.helps[0].subject == "corks"


@pytest.mark.parametrize("side", [0, 1])
def test_panels_and_fillers_are_smaller_than_what_the_space_likely_measures(tiny: Designed, side: int) -> None:
    """By the slack of the floor and the margin of one reading, so by at least 1 mm."""
    from nookwright.layout.first_print import _sides

    space = tiny.plan.spaces[0]
    found = list(_sides(space, tiny.plan.module.pitch))[side]
    assert found.room > 1.0
    assert found.drawn + found.room <= (200.0, 150.0)[side]


def test_the_kit_says_it(tiny_room: Room, tiny: Designed) -> None:
    """kit.json and the page have the same figure."""
    from nookwright.build import sketch
    from nookwright.documents.page import page_html

    found, kit = first_print_of(tiny_room, tiny.plan), sketch(tiny, "0" * 64)
    assert kit.first_print.kit == pytest.approx(found.kit, abs=1e-6)
    assert dict(kit.first_print.lots) == pytest.approx(dict(found.lots), abs=1e-6)
    assert [one.step for one in kit.first_print.helps] == [one.step.value for one in found.helps]
    assert "First print fits" in page_html(kit)


def test_a_pocket_that_gauges_proved_is_believed(tiny_room: Room) -> None:
    """Corks that need half a millimetre less than reckoned: the pocket follows, and the figure does not fall for it."""
    from nookwright.build import plan_and_design

    corks = next(lot for lot in tiny_room.lot if lot.id == "corks")
    effort = Effort()
    before = plan_and_design(tiny_room, effort=effort, progress=Silent()).plan
    drawn = next(
        one.candidate.way.pocket for one in before.layout.placed if one.candidate and one.candidate.lot == corks.id
    )
    sizes = (round(drawn - 0.9, 2), round(drawn - 0.6, 2), round(drawn - 0.3, 2))
    found = Found.model_validate({"gauge": corks.id, "sizes": sizes, "says": ("tight", "goes in", "loose")})
    gauged_room = tiny_room.model_copy(update={"found": (found,)})
    after = plan_and_design(gauged_room, effort=effort, progress=Silent()).plan
    smaller = next(
        one.candidate.way.pocket for one in after.layout.placed if one.candidate and one.candidate.lot == corks.id
    )
    assert smaller < drawn - 0.2
    shown = first_print_of(gauged_room, after)
    assert shown.lots[corks.id] > 0.98
    assert all(step.subject != corks.id for step in shown.helps)
