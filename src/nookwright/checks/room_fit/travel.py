"""What a drawer passes under on its whole way: parts, stacks, and the things that stand in them.

Every part stands a little higher than drawn: crumbs and warp at each seat, and layers that are uneven; what stands on
a lid has all of that below it. Against that stand the readings: the clear height of the space, and each thing that it
passes under or that hangs over it, as they were read, less the mat.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.in_words import names, the
from nookwright.checks.room_fit.furnished import SEATED
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.module.stacking import HEIGHT_SHARE, SEAT_RESERVE
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.room_fit.furnished import Furnished, Lying, Stood


def check_travel(spaces: tuple[Furnished, ...]) -> list[Finding]:
    """What would hit something above, and what stands behind something that stays.

    Args:
        spaces: with what stands in them.
    """
    return [found for space in spaces for found in (*_too_high(space), *_behind(space))]


def lowest_passed(space: Furnished) -> tuple[float, str]:
    """Height of the lowest thing above a space on its whole way as it was read, mm above the mat, and what it is."""
    read = space.surveyed
    own = "the clear height as it was read" if read.kind is SpaceKind.DRAWER else "what is above it"
    each = [(read.height.smallest, own), *((one.height.smallest, one.what) for one in read.passes_under)]
    height, what = min(each)
    return height - read.mat, what


@dataclass(frozen=True, order=True)
class _Top:
    """How high something reaches: with what seats and layers may add, as drawn, on how many seats, and what it is."""

    height: float
    drawn: float
    seats: int
    subject: str
    who: str


def _too_high(space: Furnished) -> Iterator[Finding]:
    """One finding for the highest: a warning in what was kept for readings that err, a stop above what was read.

    A part on one seat stops only as drawn: what crumbs and layers add to it is less than anybody reads a height to.
    """
    tops = [_top(space, one, float(one.high[2]), one.id, "It") for one in space.stood]
    tops += [_top_of_things(space, lying) for lying in space.lying]
    lowest, what = lowest_passed(space)
    limit = min(lowest, space.space.height)
    high = [top for top in tops if top.height > limit]
    if not high:
        return
    top = max(high)
    more = f" Too high there {_others(len(high) - 1)}." if len(high) > 1 else ""
    kept = f", of which {limit:.1f} mm may be used, since readings err" if limit < lowest else ""
    moving = "on its way under" if space.surveyed.kind is SpaceKind.DRAWER else "below"
    text = (
        f"{top.who} may stand {top.height:.1f} mm high in {space.space.id}, with what seats and uneven layers add; "
        f"{moving} {what} there are {lowest:.1f} mm{kept}.{more}"
    )
    remedy = (
        "Let it lie, choose a lower part, put it into a higher space, or read the height again at its lowest place."
    )
    stop = any(one.drawn > lowest or (one.seats > 1 and one.height > lowest) for one in high)
    severity = Severity.STOP if stop else Severity.WARN
    yield Finding("hits-on-travel", severity, top.subject, text, remedy, Against(top.height, limit, "mm"))


def _others(count: int) -> str:
    """So many more, in words."""
    return "is 1 more" if count == 1 else f"are {count} more"


def _top(space: Furnished, one: Stood, drawn: float, subject: str, who: str) -> _Top:
    """How high something reaches that stands in a part, or the part itself; a lid lies flush and is no seat."""
    seats = sum(space.by_id[name].kind in SEATED for name in one.below if name in space.by_id) + (one.kind in SEATED)
    return _Top(drawn * (1 + HEIGHT_SHARE) + SEAT_RESERVE * seats, drawn, seats, subject, who)


def _top_of_things(space: Furnished, lying: Lying) -> _Top:
    """How high things reach: of several parts that hold them, as the highest one lets them."""
    top = float(lying.body.box[1][2])
    holders = [space.by_id[name] for name in lying.holders if name in space.by_id]
    tops = (_top(space, one, top, lying.lot.id, "Its tallest thing") for one in holders)
    return max(tops, default=_Top(top, top, 0, lying.lot.id, "Its tallest thing"))


def _behind(space: Furnished) -> Iterator[Finding]:
    """Parts behind a service path in a drawer: if it stays when the drawer is pulled out, they come up against it."""
    if space.surveyed.kind is not SpaceKind.DRAWER:
        return
    for box in space.space.blocked:
        behind = [one for one in space.stood if one.kind in SEATED and _in_the_way(one, box.low, box.high)]
        if box.service and behind:
            those = names([one.placement.label for one in behind])
            text = (
                f"Behind {the(box.reason)} there {'is' if len(behind) == 1 else 'are'} {those}: what is fixed to the "
                "building and stays in its place when the drawer is pulled out is hit by them."
            )
            remedy = (
                "If it stays, let its blocked box reach back to the wall; if it moves with the drawer, all is well."
            )
            yield Finding("behind-what-stays", Severity.NOTE, space.space.id, text, remedy)


def _in_the_way(one: Stood, low: tuple[float, float, float], high: tuple[float, float, float]) -> bool:
    """Whether a part is behind a box, beside it on no side and neither below nor above it."""
    level = one.low[2] < high[2] and one.high[2] > low[2]
    return bool(one.low[1] >= low[1] and one.high[0] > low[0] and one.low[0] < high[0] and level)
