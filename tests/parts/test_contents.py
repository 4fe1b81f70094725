from __future__ import annotations

from typing import TYPE_CHECKING, Any

import manifold3d
import pytest

from nookwright.layout.candidates import candidates_of
from nookwright.parts.contents import places_in
from nookwright.parts.cradles.cradle import pockets_of
from nookwright.parts.workshop import TraySpec, Workshop
from nookwright.sizing.ways import Limits, PartKind, ways_of
from nookwright.survey.models import FloorStyle, Lot

if TYPE_CHECKING:
    from nookwright.layout.model import Candidate
    from nookwright.module.module import Module
    from nookwright.sizing.ways import ThingSize

    from .conftest import Bench

LIMITS = Limits(length=220.0, height=90.0, wall=1.2, floor=FloorStyle.SHELL)
LOTS: dict[str, dict[str, Any]] = {
    "boxes": {"shape": "box", "width": 46, "depth": 30, "height": 12, "count": 5},
    "small boxes": {"shape": "box", "width": 12, "depth": 12, "height": 12, "count": 9},
    "jars": {"shape": "round", "diameter": 40, "height": 60, "count": 3, "stands": ["upright"]},
    "rods": {"shape": "round", "diameter": 9, "height": 120, "count": 5},
    "cards": {"shape": "flat", "width": 86, "depth": 54, "thickness": 0.8, "count": 30},
    "one blank": {"shape": "box", "width": 26, "depth": 26, "height": 26, "count": 1, "grow_percent": 0},
}


def spec_of(module: Module, one: Candidate) -> TraySpec:
    """The part of a candidate."""
    way = one.way
    if way.kind is PartKind.TRAY:
        return TraySpec(one.cols, one.rows, one.height, way.floor is FloorStyle.SMOOTH, None)
    pocket = way.pocket
    made = pockets_of(
        module,
        cols=one.cols,
        rows=one.rows,
        diameter=pocket,
        columns=way.columns,
        lines=way.rows,
        pitch=way.pitch_x,
    )
    return TraySpec(one.cols, one.rows, one.height, smooth=True, pockets=made)


def body(thing: ThingSize) -> manifold3d.Manifold:
    """A thing at its largest, the middle of its underside at the origin, a hair smaller so that it may touch."""
    width, depth, height = (side - 2e-4 for side in (thing.width, thing.depth, thing.height))
    if thing.round_axis == "z":
        return manifold3d.Manifold.cylinder(height, width / 2, width / 2, 64).translate([0, 0, 1e-4])
    return manifold3d.Manifold.cube([width, depth, height]).translate([-width / 2, -depth / 2, 1e-4])


@pytest.mark.parametrize("lot", LOTS.values(), ids=LOTS.keys())
def test_things_meet_neither_their_part_nor_each_other(bench: Bench, module: Module, lot: dict[str, Any]) -> None:
    """In every candidate of a lot, filled with all that the way has room for."""
    loaded = Lot.model_validate({"id": "a"} | lot)
    workshop = Workshop(module)
    found = candidates_of("a", ways_of(loaded, LIMITS), module, 0.0)
    assert found
    for one in found[:3]:
        spec = spec_of(module, one)
        most = one.way.columns * one.way.rows * one.way.layers
        places = places_in(module, one.way, cols=one.cols, rows=one.rows, count=most, pockets=spec.pockets)
        assert len(places) == len(set(places)) == most
        things = [body(one.way.thing).translate(list(place)) for place in places]
        together = manifold3d.Manifold.batch_boolean(things, manifold3d.OpType.Add)
        assert together.volume() == pytest.approx(sum(thing.volume() for thing in things), rel=1e-6)
        assert bench.shared_mm3(bench.solid(workshop.part(spec)), together) < 0.001


@pytest.mark.parametrize("lot", LOTS.values(), ids=LOTS.keys())
def test_things_lie_inside_the_outline_of_their_part(module: Module, lot: dict[str, Any]) -> None:
    """At least a wall and half a millimetre inside the outer size, on the floor and no higher than said."""
    loaded = Lot.model_validate({"id": "a"} | lot)
    for one in candidates_of("a", ways_of(loaded, LIMITS), module, 0.0):
        spec = spec_of(module, one)
        part = Workshop(module).part(spec)
        places = places_in(module, one.way, cols=one.cols, rows=one.rows, count=loaded.count, pockets=spec.pockets)
        thing = one.way.thing
        for x, y, z in places:
            assert 1.2 + 0.3 <= x - thing.width / 2 <= x + thing.width / 2 <= part.size[0] - 1.2 - 0.3
            assert 1.2 + 0.3 <= y - thing.depth / 2 <= y + thing.depth / 2 <= part.size[1] - 1.2 - 0.3
            assert module.seat.dome <= z
            assert z + thing.height <= one.tall + 1e-6


def test_the_lower_layer_is_filled_first(module: Module) -> None:
    """Layer by layer, row by row from the front; as many places as things."""
    boxes = Lot.model_validate({"id": "a", **LOTS["boxes"], "count": 7, "stands": ["upright"]})
    way = next(w for w in ways_of(boxes, LIMITS) if w.layers > 1)
    places = places_in(module, way, cols=10, rows=10, count=7, pockets=None)
    assert len(places) == 7
    assert [(z, y, x) for x, y, z in places] == sorted((z, y, x) for x, y, z in places)
