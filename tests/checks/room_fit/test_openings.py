from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from tests.checks.room_fit.scene import Scene, box, shape

from nookwright.checks.room_fit.openings import check_openings, hull_points, passes, shadows_of
from nookwright.checks.room_fit.printed import Largest
from nookwright.exchange import kit as k
from nookwright.ground.findings import Finding, Severity

if TYPE_CHECKING:
    from nookwright.checks.bodies import Shape


def found(scene: Scene, pieces: tuple[k.Piece, ...] = (), shapes: dict[str, Shape] | None = None) -> list[Finding]:
    space = scene.built()
    known: dict[str, Any] = {"pieces": pieces}
    kit = k.Kit.model_construct(**known)
    return check_openings((space,), kit, shapes or {}, {one.part.id: Largest() for one in space.stood})


@pytest.mark.parametrize(
    ("opening", "code"),
    [((130, 70), None), ((101, 31), "opening-tight"), ((99, 200), None), ((99, 60), "opening-too-small")],
)
def test_a_part_that_does_not_go_in_is_a_stop(opening: tuple[float, float], code: str | None) -> None:
    """100 x 120 x 30: with ease, with nothing to spare, with another side ahead, and not at all."""
    scene = Scene(read={"opening": opening}).put("tray", box(100, 120, 30))
    findings = found(scene)
    assert [one.code for one in findings] == ([code] if code else [])


def test_it_says_which_opening_would_do() -> None:
    """100 x 120 x 80 through 90 x 70: 100 x 80 would do, and 4 more for fingers."""
    (finding,) = found(Scene(read={"opening": (90, 70)}).put("tray", box(100, 120, 80)))
    assert finding.severity is Severity.STOP
    assert "104 x 84 mm would do" in finding.text


def test_a_part_that_leans_goes_through_where_it_does_not_level() -> None:
    """A bar of 100 x 10 x 10 across an opening of 75 x 75: along its length, or leaning."""
    assert found(Scene(read={"opening": (75, 75)}).put("bar", box(100, 10, 10))) == []
    flat = shadows_of(hull_points(shape(box(100, 100, 4)).vertices))
    assert passes(flat, (80, 80))  # standing on a corner of the opening: 100 / sqrt 2 and a little


def test_a_wedge_goes_through_along_its_slope() -> None:
    """100 long and from nothing to 40 high: level it needs 40, along its slope 100 x 40 / 107.7 = 37.1."""
    corners = np.array([(x, y, z) for y in (0, 60.0) for x, z in ((0, 0), (100.0, 0), (100.0, 40.0))])
    assert passes(shadows_of(corners), (61, 38))
    assert not passes(shadows_of(corners), (61, 36.9))


def test_no_opening_is_no_matter() -> None:
    """Where none is given a part is put in from above."""
    assert found(Scene().put("tray", box(190, 140, 50))) == []


def halves() -> tuple[tuple[k.Piece, ...], dict[str, Shape]]:
    """A part of 190 in two pieces."""
    known: list[dict[str, Any]] = [{"part": "it", "file": f"{side}.stl"} for side in ("left", "right")]
    pieces = tuple(k.Piece.model_construct(**one) for one in known)
    return pieces, {"left.stl": shape(box(95, 140, 60)), "right.stl": shape(box(95, 140, 60, at=(0, 0, 0)))}


@pytest.mark.parametrize(("kind", "codes"), [("tray", ["opening-glue-inside"]), ("panel", [])])
def test_pieces_go_in_one_by_one(kind: str, codes: list[str]) -> None:
    """190 x 140 x 60 through 150 x 70: the halves do. A tray is glued inside; a panel is keyed together anyway."""
    findings = found(Scene(read={"opening": (150, 70)}).put("it", box(190, 141, 72), kind=kind), *halves())
    assert [one.code for one in findings] == codes


def test_equal_parts_are_one_finding() -> None:
    """Two copies of one part, one finding."""
    scene = Scene(read={"opening": (50, 50)}).put("tray", box(90, 90, 60)).put("tray", box(90, 90, 60), at=(95, 0, 0))
    assert len(found(scene)) == 1
