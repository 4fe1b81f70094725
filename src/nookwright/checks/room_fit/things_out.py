"""Whether every thing comes out of its place: straight up, or moved aside a little and then up, at its largest.

What goes in the same way comes out. Lids are off, and so is what stands on them; what shares the tray, dividers and
name strips, stays. What it does not know: things that give way, such as sheets; and ways that turn a thing as it goes.
What is in plastic where it lies is found elsewhere.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, called
from nookwright.checks.room_fit.sweeps import free_share
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from nookwright.checks.room_fit.furnished import Furnished, Lying, Stood
    from nookwright.checks.room_fit.moved import Ways

NUDGE = Fact(
    1.0, unit="mm", kind=Kind.CHOICE, source="So far a hand moves a thing aside without thinking, before it lifts it."
)
_ASIDE = tuple((x * NUDGE, y * NUDGE) for x in (-1, 0, 1) for y in (-1, 0, 1) if x or y)


def check_things_out(spaces: tuple[Furnished, ...], ways: Ways) -> list[Finding]:
    """Lots with things that do not come out, each once.

    Args:
        spaces: with what stands in them.
        ways: finds how far things go.
    """
    found = []
    for space in spaces:
        for lying in space.lying:
            for one in round_things(space, lying):
                height = _height(lying, one)
                share = _free(lying, one, height, ways)
                if share < 1 and not ways.collide(lying, one):
                    if not _comes_aside(space, lying, ways):
                        found.append(_stuck(space, lying, one, share * height, height))
                    break
    return found


def round_things(space: Furnished, lying: Lying, margin: float = 0.0) -> tuple[Stood, ...]:
    """The parts that things could meet on their way up: lids and what stands on them are put aside before.

    Args:
        space: where they are.
        lying: the things.
        margin: how far beside them still counts, mm.
    """
    bottom = lying.body.box[0][2]
    near = space.near(lying, margin)
    aside = {one.id for one in near if one.kind == "lid" and one.below & set(lying.holders)}
    return tuple(one for one in near if one.id not in aside and not one.below & aside and one.high[2] > bottom)


def _height(lying: Lying, one: Stood) -> float:
    """How far up a thing is past a part, mm."""
    return float(one.high[2]) - float(lying.body.box[0][2])


def _free(lying: Lying, one: Stood, height: float, ways: Ways) -> float:
    """Share of the way up that is free of one part."""
    way = np.array([0.0, 0.0, height])
    return ways.verdict("things out", lying, one, lambda: (free_share(lying.corners, way, one.corners),))[0]


def _comes_aside(space: Furnished, lying: Lying, ways: Ways) -> bool:
    """Whether it comes out once it is moved aside a little, past all parts alike."""
    parts = round_things(space, lying, NUDGE)
    return any(all(_free_aside(lying, one, aside, ways) for one in parts) for aside in _ASIDE)


def _free_aside(lying: Lying, one: Stood, aside: tuple[float, float], ways: Ways) -> bool:
    """Whether it goes aside, and then up, past one part."""
    first, then = np.array([*aside, 0.0]), np.array([0.0, 0.0, _height(lying, one)])

    def go() -> tuple[float]:
        free = free_share(lying.corners, first, one.corners) == 1
        return (float(free and free_share(lying.corners + first, then, one.corners) == 1),)

    return bool(ways.verdict(f"things aside {aside}", lying, one, go)[0])


def _stuck(space: Furnished, lying: Lying, one: Stood, after: float, height: float) -> Finding:
    """What to say of things that do not come out."""
    what = "The handle of a thing" if lying.beside else "A thing"
    holder = space.by_id.get(lying.place.placement)
    where = called(holder.placement) if holder else lying.place.placement
    meets = "that part" if one.id == lying.place.placement else called(one.placement)
    text = (
        f"{what} in {where}, at its largest, meets {meets} after {after:.1f} of {height:.1f} mm straight up: it "
        "neither goes in nor comes out."
    )
    return Finding("thing-stuck", Severity.STOP, lying.lot.id, text, OURS, Against(after, height, "mm"))
