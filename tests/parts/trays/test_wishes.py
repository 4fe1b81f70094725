"""From what a room file wishes for a tray to its options, and to the room that they take."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import manifold3d
import pytest

from nookwright.layout.candidates import candidates_of
from nookwright.layout.model import Candidate, Placed
from nookwright.parts.contents import places_in
from nookwright.parts.design import design, extras_for
from nookwright.parts.trays.extras import sheets_of
from nookwright.parts.trays.tray_options import Front, Grip, Split
from nookwright.parts.trays.wishes import feasible_grip, needs_of, options_of, strip_length, text_of, wishes_of
from nookwright.parts.workshop import TraySpec, Workshop, frame_of, spec_of
from nookwright.sizing.tray_needs import PLAIN
from nookwright.sizing.ways import Limits, ways_of
from nookwright.survey.models import Choices, FloorStyle, Lot
from nookwright.survey.tray_wishes import TrayDefaults, TrayWishes

from .test_extras import standing

if TYPE_CHECKING:
    from tests.parts.conftest import Bench

    from nookwright.build import Designed
    from nookwright.module.module import Module

LIMITS = Limits(length=260.0, height=110.0, wall=1.2, floor=FloorStyle.SHELL)
BOXES = {"shape": "box", "width": 20, "depth": 14, "height": 12, "count": 12, "stands": ["upright"]}
LARGE = {"shape": "box", "width": 45, "depth": 30, "height": 20, "count": 6, "stands": ["upright"]}
SHEETS = {"shape": "flat", "width": 60, "depth": 40, "thickness": 0.5, "count": 30}
RODS = {"shape": "round", "diameter": 9, "height": 70, "count": 6}
SMALL = {"shape": "box", "width": 12, "depth": 12, "height": 12, "count": 20}
WISHES: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "swept": (BOXES, {"front": "swept"}),
    "swept over rows": (SMALL, {"front": "swept", "rows": 2}),
    "swept with a strip": (RODS, {"front": "swept", "strip": "printed"}),
    "a strip alone": (SHEETS, {"strip": "plain", "strip_height": 20}),
    "a strip before larger things": (LARGE, {"strip": "printed"}),
    "slots beside larger things": (LARGE, {"rows": 2, "dividers": "removable"}),
    "card beside larger things": (LARGE, {"columns": 2, "dividers": "card", "card": 1.5}),
    "fixed columns of larger things": (LARGE, {"columns": 3}),
    "a low front": (BOXES, {"front": "low", "low_share": 0.2}),
    "a long name for few things": (SMALL | {"count": 2}, {"strip": "inlaid", "text": "Odds and some ends"}),
    "fixed columns": (SMALL, {"columns": 3}),
    "fixed columns and rows": (SMALL, {"columns": 2, "rows": 2, "below_rim": 3}),
    "removable rows": (BOXES, {"rows": 3, "dividers": "removable"}),
    "removable columns of a smooth floor": (SMALL | {"floor": "smooth"}, {"columns": 2, "dividers": "removable"}),
    "card at given places": (BOXES, {"columns_at": [40, 80], "dividers": "card", "card": 1}),
    "an inlay below cards": (SHEETS, {"inlay": 3, "rows": 2, "dividers": "card", "card": 2.5}),
    "an inlay behind a swept front": (BOXES, {"inlay": 2, "front": "swept", "strip": "inlaid", "text": "Oil"}),
    "a hand hole": (BOXES, {"grip": "hand hole", "columns": 2}),
    "all of it": (
        SMALL,
        {"front": "swept", "columns": 2, "rows_at": [44], "strip": "printed", "inlay": 1.5, "below_rim": 2},
    ),
}


def lot_of(thing: dict[str, Any], tray: dict[str, Any]) -> Lot:
    """A lot with wishes for its tray."""
    return Lot.model_validate({"id": "odds", "tray": tray} | thing)


def made(module: Module, designed: Designed, lot: Lot) -> list[tuple[Candidate, TraySpec]]:
    """Candidates of a lot, with what they are made from."""
    strip = strip_length(designed.room.printer)
    needs = needs_of(lot, designed.room.choices, layer=0.2, strip=strip)
    found = candidates_of(lot.id, ways_of(lot, LIMITS, needs), module, 0.0)
    return [(one, tray_spec(module, designed, lot, one)) for one in found]


def tray_spec(module: Module, designed: Designed, lot: Lot, one: Candidate) -> TraySpec:
    """What a candidate is made from: a tray."""
    spec = spec_of(module, one, lot, one.cols, one.rows, height=one.height, room=designed.room)
    assert isinstance(spec, TraySpec)
    return spec


def things_of(module: Module, one: Candidate) -> tuple[list[manifold3d.Manifold], tuple[tuple[float, ...], ...]]:
    """All things that a candidate has room for, a hair smaller so that they may touch."""
    thing, most = one.way.thing, one.way.columns * one.way.rows * one.way.layers
    places = places_in(module, one.way, cols=one.cols, rows=one.rows, count=most, pockets=None)
    assert len(places) == len(set(places)) == most
    sides = [side - 2e-4 for side in (thing.width, thing.depth, thing.height)]
    body = manifold3d.Manifold.cube(sides).translate([-sides[0] / 2, -sides[1] / 2, 1e-4])
    return [body.translate(list(place)) for place in places], places


@pytest.mark.parametrize(("thing", "tray"), WISHES.values(), ids=WISHES.keys())
def test_nothing_ends_up_in_plastic(
    bench: Bench, module: Module, tiny: Designed, thing: dict[str, Any], tray: dict[str, Any]
) -> None:
    """In the cheapest candidates of a lot, things meet neither the tray, nor what goes into it, nor each other."""
    lot = lot_of(thing, tray)
    candidates = made(module, tiny, lot)
    assert candidates
    for one, spec in candidates[:2]:
        things, _ = things_of(module, one)
        together = manifold3d.Manifold.batch_boolean(things, manifold3d.OpType.Add)
        assert together.volume() == pytest.approx(sum(body.volume() for body in things), rel=1e-6)
        assert bench.shared_mm3(bench.solid(Workshop(module).part(spec)), together) < 0.001
        for extra in extras_for(frame_of(module, spec), lot, tiny.room.choices):
            assert bench.shared_mm3(standing(bench, extra), together) < 0.001


@pytest.mark.parametrize(("thing", "tray"), WISHES.values(), ids=WISHES.keys())
def test_what_is_said_to_be_free_is_free(
    bench: Bench, module: Module, tiny: Designed, thing: dict[str, Any], tray: dict[str, Any]
) -> None:
    """The whole of each compartment, less its edges, from what things lie on to the rim; in a grown tray as well."""
    lot = lot_of(thing, tray)
    way = made(module, tiny, lot)[0][0].way
    margin = (way.edge + way.pitch_x - way.thing.width) / 2
    for more in (0, 2):
        cols, rows = module.cells(way.inner_width) + more, module.cells(way.inner_depth) + more
        high = module.height(module.seat.dome + way.wall_height)
        one = Candidate(lot.id, way, cols, rows, high, high, 0.0, 0.0)
        spec = tray_spec(module, tiny, lot, one)
        frame, body = frame_of(module, spec), bench.solid(Workshop(module).part(spec))
        assert things_of(module, one)[1][0][2] == pytest.approx(frame.rest_height)
        loose = [standing(bench, extra) for extra in extras_for(frame, lot, tiny.room.choices)]
        for x0, x1 in way.needs.columns.spans(module.inner(cols)):
            for y0, y1 in way.needs.rows.spans(module.inner(rows)):
                size = [x1 - x0 - 2 * margin, y1 - y0 - 2 * margin, high - frame.rest_height]
                free = manifold3d.Manifold.cube(size).translate(
                    [frame.wall + x0 + margin, frame.wall + y0 + margin, frame.rest_height + 1e-4]
                )
                for solid in (body, *loose):
                    assert bench.shared_mm3(solid, free) < 0.001, (solid ^ free).bounding_box()


@pytest.mark.parametrize(("thing", "tray"), WISHES.values(), ids=WISHES.keys())
def test_no_candidate_is_refused(module: Module, tiny: Designed, thing: dict[str, Any], tray: dict[str, Any]) -> None:
    """Whatever is wished for, each candidate of the lot is a tray that can be made, with all that goes into it."""
    lot = lot_of(thing, tray)
    for one, spec in made(module, tiny, lot):
        assert spec.options is not None
        assert Workshop(module).part(spec).size[2] == one.height
        frame = frame_of(module, spec)
        assert len(sheets_of(frame)) >= bool(tray.get("inlay"))
        assert len(extras_for(frame, lot, tiny.room.choices)) >= ("strip" in tray)


def test_a_grown_tray_keeps_its_things_clear(bench: Bench, module: Module, tiny: Designed) -> None:
    """A tray that took over cells beside it has larger compartments, and its things lie in them."""
    lot = lot_of(BOXES, {"columns": 2, "dividers": "removable", "front": "plain"})
    one, _ = made(module, tiny, lot)[0]
    grown = Candidate(lot.id, one.way, one.cols + 3, one.rows + 1, one.height, one.tall, 0.0, 0.0)
    spec = tray_spec(module, tiny, lot, grown)
    things, places = things_of(module, grown)
    together = manifold3d.Manifold.batch_boolean(things, manifold3d.OpType.Add)
    assert bench.shared_mm3(bench.solid(Workshop(module).part(spec)), together) < 0.001
    middle = frame_of(module, spec).width / 2
    assert sum(x < middle for x, *_ in places) == sum(x > middle for x, *_ in places)


def test_a_lot_without_wishes_needs_nothing(tiny: Designed) -> None:
    """And is made as before."""
    lot = lot_of(BOXES, {})
    assert needs_of(lot, tiny.room.choices, layer=0.2, strip=100.0) == PLAIN


def test_the_room_wishes_for_all_and_a_lot_says_otherwise() -> None:
    """Its front and inlay stand for those that say nothing; 0 and plain take them back."""
    choices = Choices(tray=TrayDefaults.model_validate({"front": "swept", "inlay": 2.0, "strip": "printed"}))
    quiet, plain = lot_of(BOXES, {}), lot_of(BOXES, {"front": "plain", "inlay": 0, "strip": "none"})
    options = [options_of(wishes_of(lot, choices), FloorStyle.SHELL, Grip.NOTCH, 100.0) for lot in (quiet, plain)]
    assert [(one.front, one.inlay, one.strip_height) for one in options] == [
        (Front.SWEPT, 2.0, 12.0),
        (Front.PLAIN, 0.0, 0.0),
    ]


def test_a_strip_says_what_was_asked_or_the_name_of_the_lot() -> None:
    """A blank one says nothing; where there is no name, the id."""
    lots = [
        lot_of(BOXES | {"name": "Odds"}, {"strip": "printed", "text": "Ends"}),
        lot_of(BOXES | {"name": "Odds"}, {"strip": "printed"}),
        lot_of(BOXES, {"strip": "inlaid"}),
        lot_of(BOXES | {"name": "Odds"}, {"strip": "plain"}),
        lot_of(BOXES | {"name": "Odds"}, {}),
    ]
    assert [text_of(lot, wishes_of(lot, Choices())) for lot in lots] == ["Ends", "Odds", "odds", "", ""]


def test_positions_are_from_the_outer_side(module: Module, tiny: Designed) -> None:
    """As a person measures them on the tray."""
    lot = lot_of(BOXES, {"columns_at": [40, 80]})
    _, spec = made(module, tiny, lot)[0]
    assert spec.options is not None
    (entry,) = spec.options.dividers
    assert (entry.split, entry.at, entry.compartments) == (Split.COLUMNS, (40.0, 80.0), 0)


def test_a_hand_hole_of_the_room_gives_way_where_it_has_no_wall(module: Module) -> None:
    """A notch is tried then; where the wall is high and long enough, the hole stays."""
    options = options_of(TrayWishes(), FloorStyle.SHELL, Grip.HAND_HOLE, 100.0)
    assert feasible_grip(module, 4, 4, 24.0, options) is Grip.NOTCH
    assert feasible_grip(module, 6, 6, 72.0, options) is Grip.HAND_HOLE


def test_strips_lie_on_the_smallest_bed(tiny: Designed) -> None:
    """130 less two margins of 5; never longer than a name is read."""
    assert strip_length(tiny.room.printer) == 120.0
    wide = tiny.room.printer[0].model_copy(update={"bed_width": 400.0})
    assert strip_length((wide,)) == 140.0
    assert strip_length((wide, *tiny.room.printer)) == 120.0


def test_a_placed_tray_has_its_extras_in_the_space(tiny: Designed) -> None:
    """Also where it lies turned: the copies of the extras stand inside the box of their tray."""
    lot = lot_of(BOXES, {"rows": 2, "dividers": "removable", "strip": "printed", "text": "Odds"})
    module = tiny.plan.module
    one, _ = made(module, tiny, lot)[0]
    room = tiny.room.model_copy(update={"lot": (lot,)})
    for turned in (False, True):
        cols, rows = (one.rows, one.cols) if turned else (one.cols, one.rows)
        placed = Placed("drawer", 0, 0, cols, rows, turned, one, one.height)
        plan = replace(tiny.plan, layout=replace(tiny.plan.layout, placed=(placed,)))
        seated = [copy for copy in design(room, plan) if copy.label.endswith("odds")]
        tray, *extras = seated
        assert sorted(extra.label for extra in extras) == ["divider, odds", "name strip, odds"]
        (wide, deep), box = _across(tray), (tray.x, tray.y)
        for extra in extras:
            width, depth = _across(extra)
            assert box[0] < extra.x < extra.x + width < box[0] + wide
            assert box[1] < extra.y < extra.y + depth < box[1] + deep
            assert extra.z >= tray.z
            assert extra.material == tray.material


def _across(copy: Any) -> tuple[float, float]:  # noqa: ANN401 - a copy
    width, depth, _ = copy.size
    return (depth, width) if copy.quarter_turns % 2 else (width, depth)
