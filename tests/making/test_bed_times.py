from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from tests.making.estimate.solids import block, peg, printer

from nookwright.making.bed_times import BedTimes, lifts_of, skirt_fits
from nookwright.making.beds.fill import no_outlines
from nookwright.making.beds.model import Item, Job, Load
from nookwright.making.estimate.first_layer import pads_laid, skirt_laid, skirt_of, skirt_reach
from nookwright.making.estimate.kinds import Laid, Spent
from nookwright.making.estimate.many import Estimates
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of
from nookwright.survey.bed_wishes import KeepOut

if TYPE_CHECKING:
    from nookwright.survey.models import Printer

MESHES = {"block": block(60, 40, 6), "peg": peg(3.0, 12.0)}
SIZES = {"block": (60.0, 40.0, 6.0), "peg": (6.0, 6.0, 12.0)}
ITEMS = (Item("block", 20, 20), Item("peg", 120, 30), Item("peg", 150, 30))


def times(*printers: Printer, jobs: tuple[Job, ...] = ()) -> BedTimes:
    """Bedfuls of blocks and pegs on some printers."""
    settings = {one.id: settings_of(one, 1.2) for one in printers}
    pieces = {(name, one.key): estimate(mesh, one) for name, mesh in MESHES.items() for one in set(settings.values())}
    recipes = {name: name for name in MESHES}
    return BedTimes(recipes, SIZES, Estimates(settings, pieces), MESHES, no_outlines, jobs)


def load(**more: Any) -> Load:  # noqa: ANN401 - any field of a load
    """A block and two pegs."""
    return replace(Load("bench", "white", ITEMS, 0.0, 0.0), **more)


def test_a_skirt_runs_round_all_pieces() -> None:
    """Closed form: a hull of straight sides grown by d is as long as the hull and a circle of that radius."""
    settings = settings_of(printer(skirt={"loops": 2, "distance": 3}), 1.2)
    corners = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0), (50.0, 25.0)])
    skirt = skirt_of(corners, settings)
    off = [3 + settings.line_width / 2 + number * settings.spacing for number in range(2)]
    length = sum(300 + 2 * math.pi * one for one in off)
    assert skirt.length == pytest.approx(length, rel=5e-4)
    laid = skirt_laid(skirt, settings)
    assert laid.laid_mm3[Laid.SKIRT] == pytest.approx(length * settings.bead_mm2, rel=5e-4)
    assert laid.spent_s[Spent.SKIRT] == pytest.approx(length / 25, rel=0.05)
    assert skirt_reach(settings) == pytest.approx(off[1] + settings.line_width / 2)


def test_a_bedful_counts_its_skirt() -> None:
    """In plastic and in time, and it knows that it has one."""
    plain, skirted = printer(), printer(skirt={"loops": 1, "distance": 2})
    without, bare = times(plain).of(load(), (plain,))
    within, more = times(skirted).of(load(), (skirted,))
    assert (without.skirt, within.skirt) == (False, True)
    assert bare.laid_mm3[Laid.SKIRT] == 0
    assert more.plastic_mm3 - bare.plastic_mm3 == pytest.approx(more.laid_mm3[Laid.SKIRT])
    assert more.time_s - bare.time_s == pytest.approx(more.spent_s[Spent.SKIRT])


def test_a_skirt_is_left_out_where_it_would_leave_the_bed_or_cross_what_stays_free() -> None:
    """Two pieces far apart leave a free place between them that the skirt would cross."""
    on = printer(skirt={"loops": 1, "distance": 2})
    points = np.array([(20.0, 20.0), (180.0, 20.0), (180.0, 40.0), (20.0, 40.0)])
    assert skirt_fits(points, on, 4.0)
    assert not skirt_fits(points, on, 21.0)
    zone = on.model_copy(update={"keep_out": (KeepOut(x=90, y=25, width=10, depth=5),)})
    assert not skirt_fits(points, zone, 4.0)
    assert skirt_fits(points, zone.model_copy(update={"keep_out": (KeepOut(x=90, y=60, width=9, depth=9),)}), 4.0)
    assert not times(zone).of(load(), (zone,))[0].skirt


def test_pads_are_counted_by_their_area() -> None:
    """300 mm2 in one layer, in lines beside each other at the speed of the first layer."""
    settings = settings_of(printer(), 1.2)
    laid = pads_laid(300.0, 4, settings)
    assert laid.laid_mm3[Laid.PADS] == pytest.approx(300 * 0.2)
    lines_s = 300 / settings.spacing / 25
    assert lines_s < laid.spent_s[Spent.PADS] < 1.6 * lines_s + 5
    assert pads_laid(0.0, 0, settings).spent_s == {}


def test_a_bedful_counts_the_pads_of_all_copies() -> None:
    """Two blocks have twice the plastic of one."""
    on = printer()
    one = times(on).of(load(items=ITEMS[:1], pads=(("block", 8.0),)), (on,))[1]
    two = times(on).of(load(items=(ITEMS[0], Item("block", 20, 100)), pads=(("block", 8.0),)), (on,))[1]
    assert one.laid_mm3[Laid.PADS] > 100
    assert two.laid_mm3[Laid.PADS] == pytest.approx(2 * one.laid_mm3[Laid.PADS])


def test_one_by_one_each_piece_waits_and_changes_layers_alone() -> None:
    """Layer changes and waiting are those of all pieces by themselves; between them the nozzle rises over all."""
    on = printer()
    known = times(on)
    alone = [known.estimates.of(item.piece, "bench") for item in ITEMS]
    _, found = known.of(load(one_by_one=True), (on,))
    together = known.of(load(), (on,))[1]
    assert found.layers == sum(one.layers for one in alone)
    for what in (Spent.WAITING, Spent.LAYER_CHANGE, Spent.OUTER):
        assert found.spent_s[what] == pytest.approx(sum(one.spent_s[what] for one in alone))
    lift = (2 * (6 + 0.2) - 6) + (2 * (12 + 0.2) - 12)  # hop over the block, then over the peg
    assert lifts_of([6.0, 12.0, 12.0], 0.2) == pytest.approx([6.4, 12.4])
    travel = found.spent_s[Spent.TRAVEL] - sum(one.spent_s[Spent.TRAVEL] for one in alone)
    assert lift / 10 < travel < lift / 10 + 3
    assert found.time_s > together.time_s
    assert found.plastic_mm3 == pytest.approx(together.plastic_mm3)


def test_a_bedful_knows_who_else_could_print_it() -> None:
    """With the time that it takes there: the other printer is slower."""
    own, slow = printer(), printer(outer_mm_s=10).model_copy(update={"id": "slow"})
    small = own.model_copy(update={"id": "small", "bed_width": 100, "bed_depth": 120})
    known = times(own, slow, small)
    made, found = known.of(load(), (own, slow, small))
    assert [name for name, _ in made.also_on] == ["slow"]
    assert made.also_on[0][1] > found.time_s
    meant = times(own, slow, jobs=(Job("peg", 2, 6, 6, 12, "white", 1, 1, printers=("bench",)),))
    assert meant.of(load(), (own, slow))[0].also_on == ()
