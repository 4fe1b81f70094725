"""Grams of candidates before there is a part, against the plastic of the parts that are made of them."""

from __future__ import annotations

from typing import Any

import pytest

from nookwright.layout.candidates import priced
from nookwright.module.choice import module_of
from nookwright.module.part_plastic import plastic_of
from nookwright.parts.design import extras_for
from nookwright.parts.trays.wishes import needs_of_room
from nookwright.parts.workshop import TraySpec, Workshop, frame_of, spec_of
from nookwright.sizing.lot_sizes import terms_of
from nookwright.sizing.ways import Arrangement, Limits
from nookwright.sizing.ways.household import ways_of_room
from nookwright.survey.layout_wishes import Weights
from nookwright.survey.models import Room

MODULE = module_of(18.0, 6.0, 0.2, "")
JARS = {"shape": "round", "diameter": 45, "height": 60, "count": 14, "keep": "cradle"}
BLOCKS = {"shape": "box", "width": 50, "depth": 30, "height": 35, "count": 12}
LOTS: dict[str, list[dict[str, Any]]] = {
    "cradle": [JARS],
    "plain tray": [BLOCKS],
    "dividers both ways": [BLOCKS | {"tray": {"columns": 2, "rows": 2}}],
    "loose dividers": [BLOCKS | {"tray": {"columns": 3, "dividers": "removable"}}],
    "swept": [BLOCKS | {"tray": {"front": "swept"}}],
    "strip": [BLOCKS | {"tray": {"strip": "printed"}}],
    "shared": [BLOCKS, BLOCKS | {"shares": "a", "count": 5}],
    "box": [BLOCKS | {"box": "tin"}],
    "jar": [BLOCKS | {"box": "jar", "count": 2, "grow_percent": 0}],
}


def room(*lots: dict[str, Any]) -> Room:
    """A room with these lots, a tin and a jar."""
    tin = {"id": "tin", "width": 180, "depth": 120, "height": 90, "mass_g": 100, "owned": 3, "foot_radius": 6}
    jar = {"id": "jar", "width": 110, "depth": 110, "height": 120, "mass_g": 300, "owned": 3, "foot_radius": 55}
    return Room.model_validate(
        {
            "format": 1,
            "room": {"name": "a room"},
            "space": [{"id": "s", "kind": "drawer", "width": 500, "depth": 500, "height": 150, "floor_height": 0,
                       "load_kg": 20}],
            "lot": [{"id": "abc"[number], "mass_g": 5} | one for number, one in enumerate(lots)],
            "box": [tin, jar],
            "printer": [{"id": "p", "bed_width": 220, "bed_depth": 220, "bed_height": 200, "materials": ["pla"]}],
            "material": [{"id": "pla", "colour": "#ffffff", "density_g_cm3": 1.24}],
        }
    )  # fmt: skip


@pytest.mark.parametrize("lots", LOTS.values(), ids=LOTS.keys())
def test_grams_of_candidates_are_those_of_their_parts(lots: list[dict[str, Any]]) -> None:
    """Within a tenth for every candidate, what is printed for the tray on its own counted with it."""
    one = room(*lots)
    limits = Limits(length=460.0, height=140.0, wall=1.2, floor=one.choices.floor)
    ways = ways_of_room(one, limits, needs_of_room(one), terms_of(one))["a"]
    workshop = Workshop(MODULE)
    found = priced("a", ways, MODULE, 0.0, weights=Weights())
    assert found
    for each in found:
        spec = spec_of(MODULE, each, one.lot[0], each.cols, each.rows, height=each.height, room=one)
        made = workshop.part(spec).plastic.laid_mm3
        if isinstance(spec, TraySpec) and spec.options:
            made += sum(
                extra.part.plastic.laid_mm3 for extra in extras_for(frame_of(MODULE, spec), one.lot[0], one.choices)
            )
        planned = plastic_of(MODULE, each.way, each.cols, each.rows, each.height).laid_mm3
        assert planned == pytest.approx(made, rel=0.1)
        assert each.part_g == pytest.approx(planned / 1000 * 1.24)


def test_staggered_cradles_are_among_them() -> None:
    """The closed form is tried on both arrangements."""
    one = room(JARS)
    limits = Limits(length=460.0, height=140.0, wall=1.2, floor=one.choices.floor)
    ways = ways_of_room(one, limits, {}, terms_of(one))["a"]
    found = priced("a", ways, MODULE, 0.0, weights=Weights())
    assert {each.way.arrangement for each in found} == {Arrangement.ROWS, Arrangement.STAGGERED}
