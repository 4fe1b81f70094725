"""What to measure next in a room that is laid out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nookwright.build import plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.next_readings import next_readings
from nookwright.layout.place import Effort
from nookwright.module.floor import floor_of
from nookwright.sizing.usable import usable_of
from nookwright.survey.models import Room
from nookwright.survey.origins import Says
from nookwright.survey.readings import Published, Readings
from nookwright.survey.trials import Axis as TrialAxis
from nookwright.survey.trials import Found

if TYPE_CHECKING:
    from nookwright.layout.next_readings import NextReading
    from nookwright.layout.plan import Plan

WELL_READ = [400.0, 400.1, 399.9, 400.0, 400.2, 400.0]


def lot(name: str, **keys: Any) -> dict[str, Any]:  # noqa: ANN401 - any key of a lot
    """A lot of eight jars of glass in a cradle."""
    usual = {"shape": "round", "diameter": 55, "height": 90, "keep": "cradle", "made": "moulded glass"}
    if keys.get("shape", "round") != "round":
        usual = {}
    return {"id": name, "count": 8, "mass_g": 100} | usual | keys


def room(*lots: dict[str, Any], **space: Any) -> Room:  # noqa: ANN401 - any key of a space
    """A drawer whose sides were read at six places, and these lots, laid out tightly: nothing is grown to line up."""
    usual = {
        "id": "drawer", "kind": "drawer", "width": WELL_READ, "depth": [one - 100 for one in WELL_READ],
        "height": 120, "floor_height": 800, "load_kg": 20,
    }  # fmt: skip
    return Room.model_validate(
        {
            "format": 1,
            "room": {"name": "a room"},
            "module": {"pitch": 18},
            "choices": {"layout": "tightest"},
            "space": [usual | space],
            "lot": list(lots),
            "printer": [{"id": "p", "bed_width": 220, "bed_depth": 220, "bed_height": 200, "materials": ["pla"]}],
            "material": [{"id": "pla", "colour": "#ffffff", "density_g_cm3": 1.24}],
        }
    )


def planned(one: Room) -> Plan:
    """Its layout."""
    return plan_and_design(one, effort=Effort(), progress=Silent()).plan


def asked(one: Room) -> tuple[NextReading, ...]:
    """What to measure next in it."""
    return next_readings(one, planned(one))


def of(found: tuple[NextReading, ...], subject: str) -> list[NextReading]:
    """What is asked of one lot or space."""
    return [one for one in found if one.subject == subject]


def test_jars_in_pockets_are_asked_for_and_turned_pins_are_not() -> None:
    """One reading of each; glass may differ by a millimetre, turned metal by some tenths."""
    pins = lot("pins", diameter=16, height=50, made="machined metal")
    found = asked(room(lot("jars"), pins))
    assert [one.dimension for one in of(found, "jars")] == ["diameter"]
    assert "pockets" in of(found, "jars")[0].why
    assert not of(found, "pins")


def test_rough_sizes_come_first_and_all_of_them_together() -> None:
    """Who deletes ``rough`` says that every size of the lot is measured."""
    boxes = lot("boxes", shape="box", width=60, depth=40, height=30, count=3, rough=True)
    found = asked(room(lot("jars"), boxes))
    assert [(one.subject, one.dimension) for one in found[:3]] == [
        ("boxes", "width"), ("boxes", "depth"), ("boxes", "height"),
    ]  # fmt: skip
    assert all(one.rough and "rough" in one.why for one in found[:3])
    assert of(found, "jars")


def test_a_rough_layout_leaves_room_for_what_a_look_may_hide() -> None:
    """The same jar, by a look and by a caliper: the first pocket is wider by millimetres."""
    rough, exact = (planned(room(lot("jars", rough=rough))).layout.placed[0].candidate for rough in (True, False))
    assert rough is not None
    assert exact is not None
    assert rough.way.pocket > exact.way.pocket + 1.5


def test_the_best_in_a_minute_comes_first() -> None:
    """A gain that is the same for less work ranks higher."""
    found = asked(room(lot("jars"), lot("carafes", diameter=70, made="blown glass", count=4)))
    rates = [one.rate for one in found]
    assert len(found) >= 2
    assert rates == sorted(rates, reverse=True)


@pytest.fixture(scope="module")
def laid_out() -> tuple[Room, Plan]:
    """A room of jars and boxes, and its plan."""
    one = room(lot("jars"), lot("boxes", shape="box", width=60, depth=40, height=30, count=3))
    return one, planned(one)


def with_lot(one: Room, name: str, **keys: object) -> Room:
    """The room with some keys of a lot changed."""
    lots = tuple(each.model_copy(update=keys) if each.id == name else each for each in one.lot)
    return one.model_copy(update={"lot": lots})


@given(sizes=st.lists(st.floats(48, 62), min_size=8, max_size=8))
@settings(max_examples=15)
def test_a_lot_of_which_all_were_measured_is_never_asked_for(laid_out: tuple[Room, Plan], sizes: list[float]) -> None:
    """Whatever was read."""
    one, plan = laid_out
    measured = Readings(floor=tuple(sizes))
    found = next_readings(with_lot(one, "jars", diameter=measured, height=Readings(floor=(90.0,) * 8)), plan)
    assert not of(found, "jars")


@given(size=st.floats(50, 60), rough=st.booleans())
@settings(max_examples=10)
def test_a_published_size_is_never_asked_for(laid_out: tuple[Room, Plan], size: float, *, rough: bool) -> None:
    """Limits of a standard are no sample."""
    one, plan = laid_out
    keys = {"diameter": Published(floor=(size,)), "height": Published(floor=(90.0,)), "rough": rough}
    assert not of(next_readings(with_lot(one, "jars", **keys), plan), "jars")


def test_a_person_who_does_what_is_asked_comes_to_an_end() -> None:
    """Jars that really differ: each round the first entry is measured, laid out again, until nothing is asked.

    It ends, well before everything was measured, and the pocket is tighter than after the first reading.
    """
    true = 55 + 0.38 * np.random.default_rng(3).standard_normal(28)

    def pocket(one: Room) -> float:
        candidate = planned(one).layout.placed[0].candidate
        assert candidate is not None
        return candidate.way.pocket

    def survey(read: int) -> Room:
        sizes = true[:read].round(2).tolist()
        jars = lot("jars", count=28, diameter=sizes, height=70, grow_percent=0)
        return room(jars, width=[one + 200 for one in WELL_READ], depth=WELL_READ)

    read = 1
    while found := [one for one in of(asked(survey(read)), "jars") if one.dimension == "diameter"]:
        read += found[0].readings
        assert read <= 28
    assert 1 < read < 28
    assert true.max() < pocket(survey(read)) < pocket(survey(1))


def test_a_drawer_near_a_step_is_read_again() -> None:
    """Read once, and some tenths more would give one more column; read at six places, no place is left to read."""
    one = room(lot("jars"))
    module = planned(one).module

    def columns(width: float) -> int:
        return floor_of(usable_of(room(lot("jars"), width=width).space[0]), module).cols

    step = next(width for width in np.arange(400, 420, 0.25).tolist() if columns(width + 0.25) > columns(width))
    found = of(asked(room(lot("jars"), width=step)), "drawer")
    assert [one.dimension for one in found] == ["width"]
    assert "column" in found[0].why
    for width in np.arange(step, step + 6).tolist():
        assert not of(asked(room(lot("jars"), width=[width + one - 400 for one in WELL_READ])), "drawer")


def test_a_drawer_that_just_takes_its_tallest_part_is_read_again() -> None:
    """Its height; with a hand's breadth to spare it is not."""
    jars = lot("jars", stands=["upright"])
    plan = planned(room(jars))
    space, part = plan.spaces[0], plan.layout.placed[0].candidate
    assert part is not None
    just = math.ceil(4 * (part.tall + 120 - space.grid.height)) / 4
    found = of(asked(room(jars, height=just)), "drawer")
    assert [one.dimension for one in found] == ["height"]
    assert "tallest" in found[0].why
    assert not of(asked(room(jars, height=just + 30)), "drawer")


def test_what_a_trial_has_proved_is_not_measured_again() -> None:
    """Jars that were tried in gauges themselves, and a side that a pilot was laid along."""
    one = room(lot("jars"), width=[417.5])
    gauges = Found(gauge="jars", sizes=(56.0, 56.5, 57.0), says=(Says.TIGHT, Says.GOES_IN, Says.GOES_IN))
    pilot = Found(space="drawer", axis=TrialAxis.WIDTH, pilot=415.0, loose=1.6)
    assert {each.subject for each in asked(one)} == {"jars", "drawer"}
    assert asked(one.model_copy(update={"found": (gauges, pilot)})) == ()


def test_a_lot_without_a_place_is_measured_before_it_is_given_up() -> None:
    """Too tall by a look; every millimetre may give it a place."""
    tall = lot("vases", height=118, diameter=70, count=1, made="blown glass", rough=True, stands=["upright"])
    found = asked(room(lot("jars"), tall))
    assert "no place yet" in " ".join(one.why for one in of(found, "vases"))


def test_the_same_room_asks_the_same() -> None:
    """No clock, no chance."""
    one = room(lot("jars"))
    assert asked(one) == asked(one)
