"""Service paths that something stands in, or passes, each with a twin just beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nookwright.checks.files import read_meshes
from nookwright.checks.kept_free import check_kept_free
from nookwright.checks.shared import Overlaps
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.kit import BlockedBox
from nookwright.ground.findings import Severity
from nookwright.survey.models import Blocked, SpaceKind

from .conftest import moved

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding

    from .conftest import Trial

PIPE = {"reason": "waste pipe", "service": True, "x": 75, "y": 30, "width": 20, "depth": 30}


def with_path(trial: Trial, *, kind: SpaceKind = SpaceKind.SHELF, known: bool = True, **keys: Any) -> Trial:  # noqa: ANN401
    """The tiny kit with a service path in its space, which the kit knows, and a mat of 2."""
    box = Blocked.model_validate(PIPE | keys)
    space = trial.room.space[0].model_copy(update={"blocked": (box,), "kind": kind, "mat": 2.0})
    low = (box.x - 1, box.y - 1, 0.0)
    high = (box.x + box.width + 1, box.y + box.depth + 1, 59.0)
    boxes = (BlockedBox(reason=box.reason, service=True, low=low, high=high),) if known else ()
    return trial.with_room(space=(space,)).having("spaces", "left", blocked=boxes)


def said(trial: Trial) -> list[Finding]:
    """What is said of the kit."""
    shapes = read_meshes(trial.folder, trial.kit).shapes
    return list(check_kept_free(trial.kit, trial.room, shapes, Overlaps(Verdicts(None))))


def found(trial: Trial) -> list[tuple[str, Severity, str]]:
    """Codes, severities and subjects."""
    return [(one.code, one.severity, one.subject) for one in said(trial)]


def test_a_free_path_is_free(trial: Trial) -> None:
    """Beside the second tray and the panel below it, which end at x = 72 or so."""
    assert found(with_path(trial)) == []


@pytest.mark.parametrize(("x", "filled"), [(70.5, True), (73, False)])
def test_a_part_in_a_path_is_a_stop(trial: Trial, x: float, filled: bool) -> None:  # noqa: FBT001
    """The second tray and the panel below it end at about 72."""
    owners = {"panel-2", "tray-2"} if filled else set()
    told = said(with_path(trial, x=x, y=0, width=5))
    assert {(one.code, one.severity, one.subject) for one in told} == {
        ("service-filled", Severity.STOP, owner) for owner in owners
    }
    assert all(one.against and one.against.computed > 0 for one in told)


def test_a_thing_in_a_path_is_a_stop(trial: Trial) -> None:
    """Corks that stand higher than the path begins, in a tray that does not."""
    above = with_path(trial, x=40, y=0, z=28, width=30, depth=40)  # 26 above the mat; the tray ends at 24.6
    assert found(above) == [("service-filled", Severity.STOP, "corks")]
    assert found(with_path(trial, x=40, y=0, z=32.1, width=30, depth=40)) == []


def test_a_path_that_the_kit_forgot_is_a_stop(trial: Trial) -> None:
    """Also where nothing stands in it yet; one that it keeps only in part is forgotten."""
    assert found(with_path(trial, known=False)) == [("service-forgotten", Severity.STOP, "left")]
    half = with_path(trial)
    (box,) = half.kit.spaces[0].blocked
    small = box.model_copy(update={"high": (80.0, box.high[1], box.high[2])})
    assert found(half.having("spaces", "left", blocked=(small,))) == [("service-forgotten", Severity.STOP, "left")]
    other = box.model_copy(update={"service": False})
    assert found(half.having("spaces", "left", blocked=(other,))) == [("service-forgotten", Severity.STOP, "left")]


def behind(trial: Trial, **keys: Any) -> Trial:  # noqa: ANN401 - any key of the path
    """The same in a drawer, with the second tray behind the path."""
    pipe = {"x": 45, "y": 0, "width": 10, "depth": 10} | keys
    moved_back = trial.having("placements", "tray-2", space_from_part=moved(40, 40, 0.6))
    free = moved_back.having("placements", "panel-2", space_from_part=moved(40, 12, 0))
    return with_path(free, kind=keys.pop("kind", SpaceKind.DRAWER), **{k: v for k, v in pipe.items() if k != "kind"})


@pytest.mark.parametrize(
    ("keys", "severity"),
    [
        ({"stays": True}, Severity.STOP),
        ({}, Severity.WARN),
        ({"stays": False}, None),
        ({"kind": SpaceKind.SHELF}, None),
        ({"stays": True, "x": 80}, None),
    ],
)
def test_what_stands_behind_a_pipe_is_hit_when_the_drawer_comes_out(
    trial: Trial, keys: dict[str, Any], severity: Severity | None
) -> None:
    """It stays where it is; where the room does not say so, it is asked; a shelf does not move."""
    codes = [(one.code, one.severity) for one in said(behind(trial, **keys))]
    assert codes == ([("service-passed", severity)] if severity else [])


def test_a_short_travel_does_not_reach_what_stands_far_behind(trial: Trial) -> None:
    """The pipe ends at y = 10, the panel begins at 12, the tray at 40."""
    for travel, hit in ((1.9, False), (2.2, True)):
        drawer = behind(trial, stays=True)
        space = drawer.room.space[0].model_copy(update={"pulls_out": travel})
        assert bool(found(drawer.with_room(space=(space,)))) is hit


def test_a_space_that_is_kept_free_holds_nothing(trial: Trial) -> None:
    """Whatever was put into it is a stop; empty it is sound."""
    space = trial.room.space[0].model_copy(update={"kept_free": True})
    full = trial.with_room(space=(space,))
    assert found(full) == [("service-filled", Severity.STOP, "left")]
    assert found(full.with_kit(placements=(), lots=())) == []
