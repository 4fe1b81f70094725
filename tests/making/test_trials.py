"""What is printed first: pilots of spaces, gauges of pockets, the bar of the seat."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.liner_model import FillerSpec, PanelSpec
from nookwright.making.gauge_sets import MOST_SETS, gauge_sets
from nookwright.making.pilots import MOST_PILOT_G, MOST_PILOT_S, pilots
from nookwright.making.trials import trials_of
from nookwright.survey.origins import Says
from nookwright.survey.trials import Axis, Found

if TYPE_CHECKING:
    from nookwright.build import Designed
    from nookwright.layout.place import Effort
    from nookwright.survey.models import Room


def found_in(designed: Designed, *found: Found) -> Room:
    """The room with what was found in it."""
    return designed.room.model_copy(update={"found": found})


def test_a_pilot_is_a_strip_each_way_the_fillers_of_their_ends_and_a_tray_of_the_kit(tiny: Designed) -> None:
    """The tray is the very part that the kit has."""
    (pilot,) = pilots(tiny.room, tiny.plan, tiny.copies)
    assert [strip.axis for strip in pilot.strips] == [Axis.WIDTH, Axis.DEPTH]
    for strip in pilot.strips:
        panels = [copy.spec for copy in strip.copies if isinstance(copy.spec, PanelSpec)]
        assert [min(spec.cols, spec.rows) for spec in panels] == [2]
        assert all(isinstance(copy.spec, PanelSpec | FillerSpec) for copy in strip.copies)
    assert pilot.tray in tiny.copies


def test_a_tray_is_called_as_the_kit_calls_it(tiny: Designed) -> None:
    """Two lots whose trays have one shape and two names are one part, named after the first."""
    (pilot,) = pilots(tiny.room, tiny.plan, tiny.copies)
    assert pilot.tray is not None
    alike = replace(pilot.tray, space="elsewhere", part=replace(pilot.tray.part, name="the first of its shape"))
    (again,) = pilots(tiny.room, tiny.plan, (alike, *tiny.copies))
    assert again.tray is not None
    assert (again.tray.part.name, again.tray.space) == ("the first of its shape", pilot.tray.space)


def test_a_strip_with_its_fillers_reaches_from_wall_to_wall_but_for_the_slack(tiny: Designed) -> None:
    """Its length is what its pieces cover; what is left is what heat and measuring need."""
    (pilot,) = pilots(tiny.room, tiny.plan, tiny.copies)
    floor = tiny.plan.spaces[0].floor
    across, _ = pilot.strips
    assert across.whole
    assert across.length == pytest.approx(floor.left + floor.cols * tiny.plan.module.pitch + floor.right)
    (panel,) = [copy for copy in across.copies if isinstance(copy.spec, PanelSpec)]
    fillers = [copy for copy in across.copies if isinstance(copy.spec, FillerSpec)]
    starts = [copy.x for copy in (panel, *fillers)]
    ends = [copy.x + (copy.size[1] if copy.quarter_turns % 2 else copy.size[0]) for copy in (panel, *fillers)]
    assert max(ends) - min(starts) == pytest.approx(across.length)
    assert 0 < across.expected_gap < 2


def test_a_pilot_is_light_and_soon_printed(tiny: Designed) -> None:
    """At most 60 g and 2 hours; its figures are those of its pieces."""
    (pilot,) = pilots(tiny.room, tiny.plan, tiny.copies)
    density = {material.id: material.density_g_cm3 for material in tiny.room.material}
    mass_g = sum(copy.part.plastic.mass_g(density[copy.material]) for copy in pilot.copies)
    assert pilot.mass_g == pytest.approx(mass_g)
    assert pilot.mass_g <= MOST_PILOT_G
    assert pilot.time_s <= MOST_PILOT_S


def test_what_is_too_slow_is_left_out_and_said(tiny: Designed) -> None:
    """Where every tray takes too long, the strips are the pilot."""
    slow = [
        replace(copy, part=replace(copy.part, plastic=replace(copy.part.plastic, height=1e3)))
        if copy.contents
        else copy
        for copy in tiny.copies
    ]
    (pilot,) = pilots(tiny.room, tiny.plan, [copy for copy in slow if copy.contents])
    assert pilot.tray is None
    assert pilot.left_out == ("a tray",)
    assert len(pilot.strips) == 2


def test_gauges_are_those_of_the_largest_risk(tiny: Designed) -> None:
    """Risk is the cradles' mass times the doubt: more than the gauges weigh, the largest first, no more than six."""
    sets = gauge_sets(tiny.room, tiny.plan, tiny.copies)
    assert len(sets) <= MOST_SETS
    assert [one.risk_g for one in sets] == sorted((one.risk_g for one in sets), reverse=True)
    assert all(one.risk_g > one.mass_g for one in sets)


def test_a_heavy_cradle_of_one_sample_gets_three_gauges_and_a_light_one_none(tiny: Designed) -> None:
    """The cradle of the corks is worth three gauges; were it of a hundredth of its plastic, it would not be."""
    corks = [copy for copy in tiny.copies if copy.contents and copy.contents.lot.id == "corks"]
    plastic = corks[0].part.plastic
    light = replace(plastic, body_mm3=plastic.body_mm3 / 100, sparse_mm3=0.0)
    assert not gauge_sets(tiny.room, tiny.plan, [replace(corks[0], part=replace(corks[0].part, plastic=light))])
    (one,) = gauge_sets(tiny.room, tiny.plan, corks)
    assert one.lot == "corks"
    assert len(one.copies) == len(one.sizes) == 3
    assert one.sizes[0] <= one.pocket


def test_a_pilot_that_was_tried_on_both_sides_is_not_printed_again(tiny: Designed) -> None:
    """One side alone is not enough."""
    width, depth = (Found(space="drawer", axis=axis, pilot=198.0, loose=1.0) for axis in (Axis.WIDTH, Axis.DEPTH))
    assert trials_of(found_in(tiny, width), tiny.plan, tiny.copies).pilots
    assert not trials_of(found_in(tiny, width, depth), tiny.plan, tiny.copies).pilots


def test_the_bar_of_the_seat_needs_a_bed_that_is_long_enough(tiny: Designed) -> None:
    """The tiny printer has none; a larger one prints it, until the seat was tried."""
    assert not trials_of(tiny.room, tiny.plan, tiny.copies).seat
    large = tiny.room.printer[0].model_copy(update={"bed_width": 220.0, "bed_depth": 220.0})
    room = tiny.room.model_copy(update={"printer": (large,)})
    assert trials_of(room, tiny.plan, tiny.copies).seat
    tried = room.model_copy(update={"found": (Found(seat=Says.GOES_IN),)})
    assert not trials_of(tried, tiny.plan, tiny.copies).seat


def test_every_trial_has_its_pieces_on_beds(tiny: Designed) -> None:
    """Whatever is tried is cut to the beds, keys of long strips included."""
    trials = tiny.trials
    assert {copy.part.recipe.digest for copy in trials.copies} == set(trials.cut)
    longest = max(max(piece.size[:2]) for cut in trials.cut.values() for piece in cut.pieces)
    assert longest <= 120


def test_what_was_found_changes_every_remaining_piece(tiny: Designed, quick: Effort) -> None:
    """A narrower drawer and tighter pockets and sockets: the next plan has them."""
    room = found_in(
        tiny,
        Found(space="drawer", axis=Axis.WIDTH, pilot=197.0, tight=3.0),
        Found(gauge="corks", sizes=(22.4, 22.6, 22.8), says=(Says.TIGHT, Says.TIGHT, Says.TIGHT)),
        Found(seat=Says.TIGHT),
    )
    again = plan_and_design(room, effort=quick, progress=Silent())
    assert again.plan.spaces[0].usable.width < tiny.plan.spaces[0].usable.width - 3
    pockets = [
        next(copy.contents.way.pocket for copy in one.copies if copy.contents and copy.contents.lot.id == "corks")
        for one in (tiny, again)
    ]
    assert pockets[0] != pockets[1] > 22.8
    assert again.plan.module.seat.clearance == pytest.approx(tiny.plan.module.seat.clearance + 0.1)
