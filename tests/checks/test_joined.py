from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.checks.bodies import shape_of
from nookwright.checks.joined import check_joined
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange.joint_models import KitJoint, KitLap, KitPin
from nookwright.ground.digest import digest

from .conftest import arrays, box, moved

if TYPE_CHECKING:
    from collections.abc import Callable

    from manifold3d import Manifold

    from nookwright.exchange.kit import Kit

    from .conftest import Trial

GAP = 0.2
WIDE, DEEP, HIGH = 100.0, 40.0, 10.0
FACES = KitJoint(hold="faces", axis="x", at=50.0, span=(0.0, DEEP))
LEVEL = 6.0
LAPS = KitJoint(
    hold="laps", axis="z", at=LEVEL, span=(0.0, WIDE), across=(0.0, DEEP),
    laps=(KitLap(low=(10.0, -1.0, 4.0), high=(30.0, 0.0, 9.0)),),
)  # fmt: skip
PIN = KitPin(name="a wire", diameter=2.0, length=15.0, hole=2.4, depth=8.0)


@pytest.fixture
def found(trial: Trial) -> Callable[..., list[str]]:
    """Codes of what is found of a plate of 100 x 40 x 10 that is made of these pieces."""

    def look(pieces: list[tuple[Manifold, float]], joint: KitJoint = FACES) -> list[str]:
        kit, shapes = made(trial.kit, pieces, joint), {}
        for name, solid in (
            ("plate.stl", box(WIDE, DEEP, HIGH)),
            *((f"{n}.stl", s) for n, (s, _) in enumerate(pieces)),
        ):
            vertices, triangles = arrays(solid)
            shapes[name] = shape_of(digest(vertices.tobytes()), vertices, triangles)
        return [one.code for one in check_joined(kit, shapes, Verdicts(None))]

    return look


def made(kit: Kit, pieces: list[tuple[Manifold, float]], joint: KitJoint) -> Kit:
    """A kit of one part."""
    part = next(part for part in kit.parts if part.id == "tray")
    whole = part.model_copy(update={"id": "plate", "stl": "plate.stl", "joints": (joint,)})
    listed = tuple(
        kit.pieces[0].model_copy(
            update={"part": "plate", "recipe": f"{n:064d}", "file": f"{n}.stl", "part_from_piece": moved(x)}
        )
        for n, (_, x) in enumerate(pieces)
    )
    return kit.model_copy(update={"parts": (whole,), "pieces": listed})


def halves(gap: float = GAP) -> list[tuple[Manifold, float]]:
    """Two halves with a gap between them."""
    wide = WIDE / 2 - gap / 2
    return [(box(wide, DEEP, HIGH), 0.0), (box(wide, DEEP, HIGH), WIDE - wide)]


def test_halves_with_a_gap_for_glue_are_sound(found: Callable[..., list[str]]) -> None:
    """Nothing is found; nor with pins, whose holes the kit names."""
    assert found(halves()) == []
    hole = box(8, 2.4, 2.4, at=(WIDE / 2 - GAP / 2 - 8, 20, 4))
    (left, at), right = halves()
    pinned = FACES.model_copy(update={"hold": "pins", "places": ((21.2, 5.2),), "pin": PIN})
    assert found([(left - hole, at), right], pinned) == []


def test_a_wide_gap_is_found(found: Callable[..., list[str]]) -> None:
    """More than glue fills."""
    assert found(halves(0.6)) == ["joined-gap"]


def test_a_piece_that_is_too_far_is_found(found: Callable[..., list[str]]) -> None:
    """Moved by half a millimetre it reaches out of the part, and the whole is longer."""
    left, (right, at) = halves()
    assert found([left, (right, at + 0.5)]) == ["piece-outside-part", "joined-size", "joined-gap"]


def test_a_hole_away_from_the_joint_is_found(found: Callable[..., list[str]]) -> None:
    """A piece that lacks something in its middle."""
    (left, at), right = halves()
    hole = box(5, 5, 20, at=(20, 20, -5))
    assert found([(left - hole, at), right]) == ["joined-hole"]


def test_a_hole_at_the_joint_is_no_glue_gap(found: Callable[..., list[str]]) -> None:
    """As deep as a pin's, but no pin is named."""
    (left, at), right = halves()
    hole = box(8, 8, 8, at=(WIDE / 2 - GAP / 2 - 7, 20, 1))
    assert found([(left - hole, at), right]) == ["joined-gap"]


def test_a_piece_that_is_missing_is_found(found: Callable[..., list[str]]) -> None:
    """Two pieces of three."""
    third = WIDE / 3 - GAP / 2
    codes = found([(box(third, DEEP, HIGH), 0.0), (box(third, DEEP, HIGH), third + GAP)])
    assert codes == ["joined-size", "joined-hole"]
    assert np.isclose(third * 3 + 1.5 * GAP, WIDE)


def stacked(more: Manifold | None = None) -> list[tuple[Manifold, float]]:
    """The plate cut across its height, its upper piece put where it belongs, with something grown on to the lower."""
    lower, upper = box(WIDE, DEEP, LEVEL), box(WIDE, DEEP, HIGH - LEVEL, at=(0, 0, LEVEL))
    return [(lower + more if more else lower, 0.0), (upper, 0.0)]


def test_pieces_that_stand_on_each_other_are_sound(found: Callable[..., list[str]]) -> None:
    """With nothing between their faces."""
    assert found(stacked(), LAPS) == []


def test_a_lap_may_be_there_but_not_outside_of_all_that_the_part_is(found: Callable[..., list[str]]) -> None:
    """One that the kit names is no piece that reaches out; that it makes the part larger is found all the same."""
    assert found(stacked(box(20, 1.3, 5, at=(10, -1, 4))), LAPS) == ["joined-size"]


def test_a_lap_that_the_kit_does_not_name_is_found(found: Callable[..., list[str]]) -> None:
    """Beside its box, higher than it, or where no lap is named."""
    for wrong in (box(20, 1, 5, at=(40, -1, 4)), box(20, 1, 7, at=(10, -1, 4))):
        assert "piece-outside-part" in found(stacked(wrong), LAPS)
    assert "piece-outside-part" in found(
        stacked(box(20, 1, 5, at=(10, -1, 4))), LAPS.model_copy(update={"hold": "faces", "laps": ()})
    )


def test_a_gap_between_pieces_that_stand_on_each_other_is_found(found: Callable[..., list[str]]) -> None:
    """The glue between them is a film: what lacks there is a fault, but for the holes of upright pins."""
    lower, (upper, at) = stacked()
    low = (box(WIDE, DEEP, LEVEL - 0.2), 0.0)
    assert found([low, (upper, at)], LAPS) == ["joined-gap"]
    pinned = LAPS.model_copy(update={"hold": "pins", "laps": (), "pin": PIN, "places": ((20.0, 20.0),)})
    hole = box(2.4, 2.4, 5, at=(18.8, 18.8, 1))
    assert found([(lower[0] - hole, 0.0), (upper, at)], pinned) == []
    assert found([(lower[0] - hole, 0.0), (upper, at)], LAPS) == ["joined-gap"]
