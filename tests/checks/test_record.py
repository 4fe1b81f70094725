"""What kit.json says of the room, against the room: places, shapes, printers, colours, things, orders."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nookwright.checks.record.surveyed import check_surveyed
from nookwright.checks.record.things import check_things
from nookwright.checks.record.turned import check_turned, fault_of
from nookwright.exchange.kit import KitFinding, KitOrder
from nookwright.ground.findings import Severity
from nookwright.survey.models import Blocked, Order

from .conftest import moved, turned

if TYPE_CHECKING:
    from .conftest import Trial


def surveyed(trial: Trial, what: str, **changes: Any) -> Trial:  # noqa: ANN401 - any key of an entry
    """The trial with the first entry of a list of its room read otherwise."""
    first, *others = getattr(trial.room, what)
    return trial.with_room(**{what: (first.model_copy(update=changes), *others)})


def said_of_room(trial: Trial) -> list[tuple[str, str]]:
    """Code and subject of what is said of spaces, printers and materials."""
    return [(one.code, one.subject) for one in check_surveyed(trial.kit, trial.room)]


def said_of_things(trial: Trial) -> list[tuple[str, str]]:
    """The same of things and orders."""
    return [(one.code, one.subject) for one in check_things(trial.kit, trial.room)]


def test_a_true_record_has_nothing_to_say(trial: Trial) -> None:
    """The tiny kit is as its room."""
    assert said_of_room(trial) == said_of_things(trial) == []
    assert list(check_turned(trial.kit)) == []


def test_a_blocked_place_that_the_kit_forgets_is_found(trial: Trial) -> None:
    """One that is no service path, where the kit keeps less free than was read; its own pipe covers a smaller one."""
    box = {"reason": "a hinge", "x": 80, "y": 50, "width": 19, "depth": 29}
    kept = surveyed(trial, "space", blocked=(Blocked.model_validate(box),))
    assert said_of_room(kept) == []
    larger = surveyed(trial, "space", blocked=(Blocked.model_validate(box | {"x": 79.9}),))
    assert said_of_room(larger) == [("blocked-forgotten", "left")]
    assert next(check_surveyed(larger.kit, larger.room)).text.startswith("The hinge is blocked")
    above = surveyed(trial, "space", blocked=(Blocked.model_validate(box | {"x": 10, "z": 59}),))
    assert said_of_room(above) == []  # above the clear height it keeps nothing from anybody


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"corner_radius": 5.0}, True),
        ({"cove_radius": 3.0}, True),
        ({"bow": 1.5}, True),
        ({"bow": -1.5}, True),
        ({"bow": 0.0}, False),
        ({"bow": None}, False),
    ],
)
def test_a_space_of_another_shape_is_found(trial: Trial, changes: dict[str, float], said: bool) -> None:  # noqa: FBT001
    """A corner or an edge that is rounder than the kit reckons, a bow that it does not know."""
    assert said_of_room(surveyed(trial, "space", **changes)) == [("space-otherwise", "left")] * said


def test_a_kit_may_take_corners_for_rounder(trial: Trial) -> None:
    """That is on the safe side."""
    assert said_of_room(trial.having("spaces", "left", corner_radius=6.0, cove_radius=2.0)) == []


@pytest.mark.parametrize("changes", [{"bed": (121, 100, 90)}, {"bed": (120, 100, 80)}, {"margin": 4}, {"layer": 0.3}])
def test_another_printer_is_found(trial: Trial, changes: dict[str, Any]) -> None:
    """A bed, a margin or a layer that are not those of the room file, and a printer that nobody has."""
    assert said_of_room(trial.having("printers", "small", **changes)) == [("printer-otherwise", "small")]
    assert ("printer-otherwise", "huge") in said_of_room(trial.having("printers", "small", id="huge"))


def test_another_colour_is_one_finding_that_names_who_has_it(trial: Trial) -> None:
    """Of the material, of a piece, of a bedful; large and small letters are the same."""
    red = trial.having("pieces", "tray", colour="#ff0000").having("bedfuls", "bed-2", colour="#ff0000")
    (said,) = check_surveyed(red.kit, red.room)
    assert (said.code, said.subject) == ("material-otherwise", "grey")
    assert said.text.endswith("tray and bed-2.")
    upper = trial.having("materials", "grey", colour="#808080".upper())
    assert said_of_room(upper) == []


@pytest.mark.parametrize(
    ("lot", "size", "smaller"),
    [
        ("dice", (12.0, 12.0, 12.0), False),
        ("dice", (12.0, 12.0, 11.9), True),
        ("dice", (13.0, 12.4, 12.1), False),
        ("corks", (14.0, 25.0, 14.0), False),
        ("corks", (25.2, 14.0, 13.9), True),
        ("corks", (14.0, 14.0, 24.9), True),
    ],
)
def test_things_are_no_smaller_than_they_were_read(
    trial: Trial, lot: str, size: tuple[float, float, float], smaller: bool  # noqa: FBT001
) -> None:  # fmt: skip
    """However they are turned; a tenth is enough to be found."""
    (one,) = (entry for entry in trial.kit.lots if entry.id == lot)
    changed = trial.having("lots", lot, places=(one.places[0].model_copy(update={"size": size}),))
    assert said_of_things(changed) == [("thing-smaller", lot)] * smaller


@pytest.mark.parametrize("stance", ["heaped", "nested", "in a rest"])
def test_piles_and_long_things_are_recorded_otherwise(trial: Trial, stance: str) -> None:
    """A pile of nested bowls is no bowl."""
    (one,) = (entry for entry in trial.kit.lots if entry.id == "dice")
    place = one.places[0].model_copy(update={"stance": stance, "size": (5.0, 5.0, 5.0)})
    assert said_of_things(trial.having("lots", "dice", places=(place,))) == []


def test_a_dispenser_needs_its_lid(trial: Trial) -> None:
    """One that lies on it, not on the tray beside it."""
    (one,) = (entry for entry in trial.kit.lots if entry.id == "dice")
    place = one.places[0].model_copy(update={"stance": "in a dispenser"})
    bare = trial.having("lots", "dice", places=(place,))
    assert said_of_things(bare) == [("lid-missing", "dice")]
    lid = trial.kit.parts[1].model_copy(update={"id": "lid", "kind": "lid"})
    for holder, found in (("tray-1", []), ("tray-2", [("lid-missing", "dice")])):
        on = trial.kit.placements[2].model_copy(update={"id": "lid-1", "part": "lid", "stands_on": (holder,)})
        lidded = bare.with_kit(parts=(*bare.kit.parts, lid), placements=(*bare.kit.placements, on))
        assert said_of_things(lidded) == found


def test_an_order_that_is_lost_is_found(trial: Trial) -> None:
    """Unless it is there, or a finding says why it is not."""
    order = Order(id="spare", kind="tray", keys={})
    lost = trial.with_room(part=(order,))
    assert said_of_things(lost) == [("order-lost", "spare")]
    assert said_of_things(lost.with_kit(orders=(KitOrder(id="spare", part="tray", count=1),))) == []
    why = KitFinding(code="no-bed", severity=Severity.WARN, subject="spare", text="No.", remedy="Yes.")
    assert said_of_things(lost.with_kit(findings=(why,))) == []


@pytest.mark.parametrize(
    ("matrix", "fault"),
    [
        (((-1, 0, 0, 40), (0, 1, 0, 0), (0, 0, 1, 0.6), (0, 0, 0, 1)), "mirrored"),
        (((1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1.01, 0.6), (0, 0, 0, 1)), "stretched or sheared"),
        (((1, 0.1, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0.6), (0, 0, 0, 1)), "stretched or sheared"),
        (((0.8, -0.6, 0, 0), (0.6, 0.8, 0, 0), (0, 0, 1, 0.6), (0, 0, 0, 1)), "turned askew"),
        (((1, 0, 0, float("nan")), (0, 1, 0, 0), (0, 0, 1, 0.6), (0, 0, 0, 1)), "stretched or sheared"),
    ],
)
def test_a_part_that_is_not_just_turned_is_all_that_is_said(trial: Trial, matrix: Any, fault: str) -> None:  # noqa: ANN401
    """Mirrored, stretched, sheared, askew: of a placement and of a piece; nothing else can be looked at then."""
    for what, name, key in (("placements", "tray-1", "space_from_part"), ("pieces", "tray", "part_from_piece")):
        (said,) = trial.having(what, name, **{key: matrix}).proved()
        assert (said.code, said.severity, said.subject) == ("part-askew", Severity.STOP, name)
        assert f"is {fault}" in said.text


@given(
    quarters=st.lists(st.tuples(st.sampled_from("xyz"), st.integers(0, 3)), max_size=4),
    at=st.tuples(*[st.floats(-1e3, 1e3)] * 3),
)
def test_turns_by_right_angles_have_no_fault(quarters: list[tuple[str, int]], at: tuple[float, float, float]) -> None:
    """About any axes, as many as one likes, anywhere; a mirror image of each has one."""
    turn = np.eye(4)
    for axis, times in quarters:
        one, other = ((1, 2), (2, 0), (0, 1))["xyz".index(axis)]
        quarter = np.eye(4)
        quarter[one, one], quarter[one, other], quarter[other, one], quarter[other, other] = 0, -1, 1, 0
        turn = turn @ np.linalg.matrix_power(quarter, times)
    turn[:3, 3] = at
    assert fault_of(tuple(tuple(row) for row in turn.tolist())) == ""  # type: ignore[arg-type]
    mirror = turn @ np.diag([-1.0, 1.0, 1.0, 1.0])
    assert fault_of(tuple(tuple(row) for row in mirror.tolist())) == "mirrored"  # type: ignore[arg-type]


def test_the_matrices_of_the_tests_are_sound() -> None:
    """Moved, and turned by a quarter."""
    assert fault_of(moved(1, 2, 3)) == fault_of(turned(1, 2, 3)) == ""
