"""Whether lids, dividers, name strips and caps lie where they are placed: let go, they must not drop.

Each is let down, as drawn, onto all that is below it: what is free to fall farther than a layer hangs in the air
in the kit's own plan, and stands elsewhere once it is real. What this does not know: friction that holds one up.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS
from nookwright.checks.room_fit.furnished import INSERTS
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.moved import Ways

LIES = Fact(0.2, unit="mm", kind=Kind.CHOICE, source="A layer: what drops no farther lies where it is.")
FELT_FOR = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="What is free to fall so far is said to fall at least that.")
_DOWN = np.array([0.0, 0.0, -1.0])


def check_resting(spaces: tuple[Furnished, ...], ways: Ways) -> list[Finding]:
    """Inserts that hang in the air.

    Args:
        spaces: with what stands in them.
        ways: finds how far parts go.
    """
    return [
        _hangs(one, falls)
        for space in spaces
        for one in space.stood
        if one.kind in INSERTS and (falls := fall_of(space, one, ways)) > LIES
    ]


def fall_of(space: Furnished, one: Stood, ways: Ways) -> float:
    """How far an insert falls when it is let go, mm; at most what is felt for, or down to the floor.

    Args:
        space: where it is.
        one: the insert.
        ways: finds how far parts go.
    """
    way = float(min(FELT_FOR, max(0.0, float(one.low[2]))))
    below = [other for other in space.near(one) if one.id not in other.below and other.low[2] < one.high[2]]
    if any(ways.collide(one, other) for other in below):
        return 0.0  # said elsewhere
    return way * min((ways.free(one, way * _DOWN, other) for other in below), default=1.0) if way else 0.0


def _hangs(one: Stood, falls: float) -> Finding:
    """What to say of it."""
    least = "at least " if falls >= FELT_FOR else ""
    text = f"The {one.kind} lies on nothing: let go, it falls by {least}{falls:.1f} mm, as drawn; allowed {LIES:g} mm."
    return Finding("insert-hangs", Severity.STOP, one.id, text, OURS, Against(falls, float(LIES), "mm"))
