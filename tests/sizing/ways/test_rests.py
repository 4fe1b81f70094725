"""Which lots are offered a rest or a dispenser, and with which sizes."""

from __future__ import annotations

from typing import Any

import pytest

from nookwright.module.dispensers import groove_depth
from nookwright.sizing.ways import Limits, PartKind, Way, ways_of
from nookwright.sizing.ways.dispensers import LEDGE
from nookwright.sizing.ways.rests import BARE_BLADE
from nookwright.survey.dispensed import Dispensed
from nookwright.survey.models import FloorStyle, Lot

LIMITS = Limits(length=500.0, height=100.0, wall=1.2, floor=FloorStyle.SHELL)
KNIFE = {
    "shape": "box", "width": 338, "depth": 42, "height": 21, "hazard": "blade",
    "blade": {"length": 205, "height": 33, "spine": 2.1},
}  # fmt: skip
ROD = {"shape": "round", "diameter": 12, "height": 240}
SHEETS = {"shape": "flat", "width": 148, "depth": 105, "thickness": 0.5, "made": "paper"}


def ways(**keys: Any) -> tuple[Way, ...]:  # noqa: ANN401 - any key of a lot
    """The ways of a lot of two."""
    return ways_of(Lot.model_validate({"id": "a", "count": 2, "mass_g": 10, "grow_percent": 0} | keys), LIMITS)


def test_a_measured_blade_is_offered_a_rest_and_everything_else_is_trouble() -> None:
    """The handle is what the whole is longer; a tray leaves the blade bare."""
    rest, *others = ways(**KNIFE)
    assert rest.kind is PartKind.REST
    long = rest.long
    assert long is not None
    assert (long.count, long.length, long.across, long.high, long.bladed) == (2, 205, 2.1, 33, True)
    assert 338 - 205 <= long.handle_length < 338 - 205 + 6  # one sample of many, read with a caliper
    assert (round(long.handle_thick), round(long.handle_high)) == (22, 43)
    assert others
    assert all(way.kind is PartKind.TRAY and way.trouble >= BARE_BLADE for way in others)


@pytest.mark.parametrize(
    ("keys", "kinds"),
    [
        (KNIFE | {"keep": "rest"}, {PartKind.REST}),
        (KNIFE | {"keep": "tray"}, {PartKind.TRAY}),
        (KNIFE | {"blade": None}, {PartKind.TRAY}),
        (KNIFE | {"width": 520}, set()),  # longer than any space
        (KNIFE | {"depth": 104, "blade": {"length": 205, "height": 99, "spine": 2}}, {PartKind.TRAY}),  # too high
        (ROD, {PartKind.TRAY}),
        (ROD | {"keep": "rest"}, {PartKind.REST}),
        (ROD | {"keep": "rest", "diameter": 2}, set()),
        (ROD | {"keep": "rest", "diameter": 60, "height": 55}, set()),
        (SHEETS, {PartKind.TRAY}),
        (SHEETS | {"keep": "dispenser"}, {PartKind.DISPENSER}),
        (SHEETS | {"keep": "dispenser", "count": 400}, set()),  # a stack of 200
    ],
)
def test_rests_and_dispensers_are_offered_where_they_should_be(keys: dict[str, Any], kinds: set[PartKind]) -> None:
    """Blades that are measured always, all else when it is asked for; nothing that fits no space."""
    assert {way.kind for way in ways(**keys)} == kinds


@pytest.mark.parametrize(
    ("keys", "drawn"),
    [
        (SHEETS, Dispensed.SHEETS),
        ({"shape": "box", "width": 120, "depth": 90, "height": 24}, Dispensed.GLOVES),
        (SHEETS | {"dispenses": "bags"}, Dispensed.BAGS),
    ],
)
def test_what_is_drawn_follows_from_the_shape_unless_it_is_said(keys: dict[str, Any], drawn: Dispensed) -> None:
    """Sheets from flat things, gloves from packs; the shorter side lies across the lid's way."""
    (way,) = ways(keep="dispenser", **keys)
    assert way.drawn is drawn
    assert way.thing.width < way.thing.depth
    assert way.stack_height == pytest.approx(2 * way.thing.height)


def test_the_usual_ledge_is_that_of_a_lid_of_180() -> None:
    """What modules are judged with before there are cells."""
    assert groove_depth(180) == pytest.approx(LEDGE, abs=0.1)
