"""Whether every seated part is held: by cones in its sockets, none of them under its floor, and kept from turning."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, some
from nookwright.checks.seats.cones import level_of, pattern_of
from nookwright.checks.seats.standing import ENGAGED
from nookwright.checks.seats.turning import LOOKED_AT, MOST_DEG, Surroundings, edges_at, turning_deg
from nookwright.checks.seats.words import at, stop
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.pattern import smallest_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.standing import Stand
    from nookwright.exchange.kit import Kit, KitSpace

TURNS_DEG = Fact(
    15.0,
    unit="deg",
    kind=Kind.CHOICE,
    source="A single cell turns by 8 degrees between neighbours: seen, but harmless.",
)
_PARTLY = frozenset({"", "none", "frame", "cross"})  # levels of liner that leave parts to their neighbours


def check_engaged(
    kit: Kit,
    stands: Sequence[Stand],
    made: Mapping[str, tuple[tuple[Shape, Floats], ...]],
    *,
    too_high: frozenset[str] = frozenset(),
) -> Iterator[Finding]:
    """Parts that no cone holds, that stand on cones, or that can turn.

    Args:
        kit: the kit, its references sound.
        stands: every seated part in its place.
        made: what each part is put together from, by its id.
        too_high: ids of placements that do not lie on their liner, which is said already.
    """
    spaces, around = {space.id: space for space in kit.spaces}, Surroundings(kit, made)
    for stand in stands:
        space = spaces[stand.placement.space]
        if stand.meets.any():
            yield _on_cones(stand)
        elif not stand.holds.any() and stand.placement.id not in too_high:
            yield from _not_held(stand, space)
        elif stand.holds.sum() == 1:
            yield from _turns(stand, around, promised=level_of(space) not in _PARTLY)
    yield from _bowed(stands, spaces)


def _on_cones(stand: Stand) -> Finding:
    """A part with cones under its floor where it has no socket."""
    cones = stand.cones[stand.meets]
    text = (
        f"{some(len(cones), 'cone')} under it {'meets' if len(cones) == 1 else 'meet'} its underside beside its "
        f"sockets, the first {at(cones[0])}: it stands up on them and rocks."
    )
    return stop("part-on-cones", stand.placement.id, text, against=Against(float(len(cones)), 0.0, "1"))


def _not_held(stand: Stand, space: KitSpace) -> Iterator[Finding]:
    """A part that no cone holds, where its liner says that one does."""
    level, pattern = level_of(space), pattern_of(space)
    if level in _PARTLY and not len(stand.cones):
        return
    best = float(stand.in_socket.max(initial=0.0))
    small, long = sorted((stand.footprint.cols, stand.footprint.rows))
    asked = smallest_of(pattern) if pattern else (1, 1)
    promised = small >= asked[0] and long >= asked[1]
    text = f"No cone is {ENGAGED:g} mm in a socket of it; the best is {best:.1f} mm in: nothing keeps it from sliding."
    remedy = OURS if promised else f"Choose a pattern for {small} x {long} cells, or give it neighbours on all sides."
    severity = Severity.STOP if promised else Severity.WARN
    yield Finding("part-not-engaged", severity, stand.placement.id, text, remedy, Against(best, float(ENGAGED), "mm"))


def _turns(stand: Stand, around: Surroundings, *, promised: bool) -> Iterator[Finding]:
    """A part on one cone that nothing beside it keeps from turning about it; no stop where none is promised."""
    matrix = stand.matrix
    height = float(matrix[2, 3] + LOOKED_AT)
    own = edges_at([(shape, matrix @ at_) for shape, at_ in stand.member.made], height)
    about = (matrix @ np.array([*stand.cones[stand.holds][0], 0.0, 1.0]))[:2]
    reach = float(np.hypot(*(own[0] - about).T).max(initial=0.0))
    beside = around.near(stand.placement.id, stand.placement.space, about=about, reach=reach, height=height)
    turns = turning_deg(own, list(beside), about)
    if turns <= TURNS_DEG:
        return
    free = turns >= MOST_DEG
    how = (
        "nothing beside stops it from turning" if free else f"it turns by {turns:.0f} degrees before it meets anything"
    )
    text = f"One cone holds it, and {how}; allowed {TURNS_DEG:g} degrees."
    remedy = "Give it a neighbour, make it a cell longer, or choose cones in every cell for this space."
    against = Against(turns, float(TURNS_DEG), "deg")
    yield Finding(
        "part-turns", Severity.STOP if free and promised else Severity.WARN, stand.placement.id, text, remedy, against
    )


def _bowed(stands: Sequence[Stand], spaces: Mapping[str, KitSpace]) -> Iterator[Finding]:
    """Spaces with a bowed floor: how much of the cones is left where parts hang off them."""
    here: dict[str, list[Stand]] = defaultdict(list)
    for stand in stands:
        if stand.on_floor and len(stand.cones) and spaces[stand.placement.space].bow:
            here[stand.placement.space].append(stand)
    for name, those in here.items():
        least = min(those, key=lambda one: float(one.in_socket.min()))
        held = min(int(one.holds.sum()) for one in those)
        text = (
            f"Its floor is bowed by {abs(spaces[name].bow):.1f} mm: under {least.placement.label} a cone is only "
            f"{least.in_socket.min():.1f} mm in its socket; it holds from {ENGAGED:g} mm on. Every part is held by at "
            f"least {some(held, 'cone')}."
        )
        remedy = "Nothing has to be done; shims under the liner bring it back."
        against = Against(float(least.in_socket.min()), float(ENGAGED), "mm")
        yield Finding("seat-bowed", Severity.NOTE, name, text, remedy, against)
