"""Whether what stands in a tray comes out of it, and every tray out of its place: straight up, or a lid along its way.

Dividers, name strips, caps and lids that lie in a rim are lifted past all that stands round them, as drawn and as
tight as they may come out. A lid that is held down slides: see ``sliding``. A part on cones is lifted past its
neighbours and past walls that lean in; where something is above it, it must at least come off its cones.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, called, length, some, the
from nookwright.checks.room_fit.furnished import INSERTS, SEATED
from nookwright.checks.room_fit.moved import lift, tightness
from nookwright.checks.room_fit.sliding import about_slide, held_down
from nookwright.checks.room_fit.travel import lowest_passed
from nookwright.checks.room_inside import beyond
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.room_fit.furnished import Furnished, Stood
    from nookwright.checks.room_fit.moved import Ways
    from nookwright.checks.room_fit.printed import Largest

_FLAT = frozenset({"panel", "key"})  # they lie under parts; cones are a matter of the seat
_HALVINGS = 6  # of what a slot has room for, until it is known to a 64th


def check_ways_out(spaces: tuple[Furnished, ...], largest: Mapping[str, Largest], ways: Ways) -> list[Finding]:
    """What cannot be taken out, and what may stick.

    Args:
        spaces: with what stands in them.
        largest: how large each part may be printed, by its id.
        ways: finds how far parts go.
    """
    found: list[Finding] = []
    sticking: dict[str, list[tuple[float, float, Stood]]] = defaultdict(list)
    for space in spaces:
        for one in space.stood:
            if one.kind in INSERTS:
                found += _insert(space, one, largest, ways, sticking)
            elif one.kind in SEATED:
                found += _seated(space, one, ways)
    return found + [_sticks(each) for _, each in sorted(sticking.items())]


def _insert(
    space: Furnished,
    one: Stood,
    largest: Mapping[str, Largest],
    ways: Ways,
    sticking: dict[str, list[tuple[float, float, Stood]]],
) -> Iterator[Finding]:
    """Findings about one insert; what may stick is gathered."""
    riders = space.riders(one)
    round_it = [other for other in space.near(one) if other not in riders and other.high[2] > one.low[2]]
    holder = next((other for other in round_it if other.id in one.placement.stands_on), None)
    if holder and one.kind == "lid" and held_down(one, holder, ways):
        yield from about_slide(space, one, holder, largest, ways)
        return
    if holder and one.kind == "lid" and _stays_covered(space, one):
        yield from _off_its_rim(space, one, holder)
    for other in round_it:
        share = ways.free(one, lift(one, [other]), other)
        if share < 1:
            yield _stuck(one, other, share * float(lift(one, [other])[2]))
            return
    if holder:
        tight = _tight(one, holder, tightness(one, largest[one.part.id], largest[holder.part.id]), ways)
        if tight:
            sticking[one.kind].append((*tight, one))


def _tight(one: Stood, holder: Stood, more: Floats, ways: Ways) -> tuple[float, float] | None:
    """By how much an insert may be too large, and what its place has room for, mm; nothing where it always goes in."""
    way = lift(one, [holder])
    for axis in np.argsort(-more):
        alone = np.where(np.arange(len(more)) == axis, more, 0.0)
        if ways.free(one, way, holder, more=alone) == 1:
            continue
        low, high = 0.0, 1.0
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if ways.free(one, way, holder, more=middle * alone) == 1 else (low, middle)
        return float(more[axis]), float(low * more[axis])
    return None


def _stuck(one: Stood, other: Stood, after: float) -> Finding:
    """What to say of something that cannot be lifted out."""
    code = "lid-stuck" if one.kind == "lid" else "insert-stuck"
    text = (
        f"Lifted out, the {one.kind} meets {called(other.placement)} after {after:.1f} mm, as drawn: it neither goes "
        "in nor comes out."
    )
    return Finding(code, Severity.STOP, one.id, text, OURS, Against(after, float(lift(one, [other])[2]), "mm"))


def _sticks(each: list[tuple[float, float, Stood]]) -> Finding:
    """One finding for all inserts of a kind that may stick: the worst, and how many."""
    need, room, one = max(each, key=lambda entry: (entry[0] - entry[1], entry[2].id))
    kind = one.kind
    more = f" So may {some(len(each) - 1, 'other')}." if len(each) > 1 else ""
    text = (
        f"Where printers err, the {kind} may come out up to {need:.2f} mm too large for its place, and there is room "
        f"for {room:.2f} mm: it may stick.{more}"
    )
    remedy = "Try it as soon as both are printed; where it sticks, a few strokes of a file on one edge are enough."
    code = "lid-may-stick" if kind == "lid" else "insert-may-stick"
    return Finding(code, Severity.NOTE, one.id, text, remedy, Against(need, room, "mm"))


def _seated(space: Furnished, one: Stood, ways: Ways) -> Iterator[Finding]:
    """Findings about a part on cones or on a lid: neighbours over it, walls that lean in, what is above."""
    riders = space.riders(one)
    for other in space.near(one):
        if other in riders or other.id in one.below or other.kind in _FLAT or other.high[2] <= one.low[2]:
            continue
        way = lift(one, [other])
        share = ways.free(one, way, other)
        if share < 1 and not ways.collide(one, other):
            after, high = share * float(way[2]), float(way[2])
            who = called(other.placement)
            text = f"Lifted straight up it meets {who} after {after:.1f} mm: it cannot be taken out."
            yield Finding("part-shut-in", Severity.STOP, one.id, text, OURS, Against(after, high, "mm"))
            return
    yield from _past_walls(space, one)
    yield from _off_its_cones(space, one)


def _past_walls(space: Furnished, one: Stood) -> Iterator[Finding]:
    """Walls of a drawer that stand in farther up than where the part stands, and boxes over it."""
    if space.surveyed.kind is not SpaceKind.DRAWER:
        return  # it comes out to the front
    corners = np.array([(x, y) for x in (one.low[0], one.high[0]) for y in (one.low[1], one.high[1])])
    for level in space.space.usable:
        if level.z <= one.high[2] or level.z > space.space.height:
            continue
        past = beyond(space.space, np.column_stack([corners, np.full(len(corners), level.z)]))
        what = max(("the left wall", "the right wall", "the front", "the back"), key=lambda name: past[name])
        if past[what] > GRID:
            text = (
                f"At a height of {level.z:.0f} mm {what} reaches {length(past[what])} in over it: it cannot be lifted "
                "out."
            )
            yield Finding("part-shut-in", Severity.STOP, one.id, text, OURS, Against(past[what], 0.0, "mm"))
            return
    for box in space.space.blocked:
        low, high = np.array(box.low), np.array(box.high)
        if box.low[2] >= one.high[2] and (low[:2] < one.high[:2]).all() and (high[:2] > one.low[:2]).all():
            text = f"{the(box.reason, first=True)} is over it: it cannot be lifted out."
            yield Finding("part-shut-in", Severity.STOP, one.id, text, OURS)
            return


def _off_its_cones(space: Furnished, one: Stood) -> Iterator[Finding]:
    """Where something stays above a part, whether it comes off its cones below that."""
    carriers = [space.by_id[name] for name in one.placement.stands_on if name in space.by_id]
    if not carriers or not _stays_covered(space, one):
        return
    sunk = max(float(other.high[2]) for other in carriers) - float(one.low[2])
    top = float(one.high[2])
    full = max([top, *(float(lying.body.box[1][2]) for lying in space.things_in(one))])
    lowest, what = lowest_passed(space)
    if top + sunk > lowest:
        severity, stands, words, remedy = Severity.STOP, top, "It stands", "Choose a lower part, or a higher space."
    elif full + sunk > lowest:
        severity, stands, words = Severity.NOTE, full, "With its things it stands"
        remedy = "Take out what stands out of it first; then it comes off."
    else:
        return
    text = (
        f"{words} {stands:.1f} mm high and must be lifted by {sunk:.1f} mm to come off its cones; under {what} "
        f"there are {lowest:.1f} mm."
    )
    yield Finding("no-room-to-lift", severity, one.id, text, remedy, Against(stands + sunk, lowest, "mm"))


def _off_its_rim(space: Furnished, one: Stood, holder: Stood) -> Iterator[Finding]:
    """Where something stays above a lid, whether it comes off its tray below that."""
    sunk, top = float(holder.high[2]) - float(one.low[2]), float(one.high[2])
    lowest, what = lowest_passed(space)
    if top + sunk > lowest:
        text = (
            f"It stands {top:.1f} mm high and must be lifted by {sunk:.1f} mm to come off; under {what} there are "
            f"{lowest:.1f} mm."
        )
        remedy = "Draw the tray out to the front first, then take the lid off."
        yield Finding("no-room-to-lift", Severity.NOTE, one.id, text, remedy, Against(top + sunk, lowest, "mm"))


def _stays_covered(space: Furnished, one: Stood) -> bool:
    """Whether something is above a part also when a drawer is pulled out as far as it comes."""
    read = space.surveyed
    if read.kind is not SpaceKind.DRAWER:
        return True
    return read.pulls_out is not None and bool(one.high[1] > read.pulls_out)
