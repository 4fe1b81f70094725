"""Which seated parts may swap places, everywhere in the household: by outer size and sockets, not by trials of pairs.

Two parts with the same footprint swap, turned too, where both have the outer size of their cells and a socket in every
cell: whatever pattern is below them, each cone meets a socket. That is looked at part by part. What keeps them from
swapping in some space is said once a reason: cones only under a layout, a pattern that is too wide for a narrow part,
no liner, a part higher than a space is. What it does not know: whether anybody wants to swap.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.gathering import gathered
from nookwright.checks.in_words import OURS, names
from nookwright.checks.seats.cones import level_of, pattern_of
from nookwright.checks.seats.drawn import SAME_SIZE
from nookwright.checks.seats.sockets import matched
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.module.pattern import Pattern, smallest_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.seats.drawn import Drawn, Footprint
    from nookwright.checks.seats.standing import Stand
    from nookwright.exchange.kit import Kit, KitSpace

_FIT = "fit only where cells are open as they are; they swap with their"


def check_swapping(kit: Kit, stands: Sequence[Stand], drawn: Drawn) -> Iterator[Finding]:
    """Parts that are not of the size of their cells, and what keeps equals from swapping.

    Args:
        kit: the kit, its references sound.
        stands: every seated part in its place.
        drawn: the seat of the household.
    """
    distinct = {stand.member.part.id: stand for stand in stands}
    yield from gathered(found for stand in distinct.values() for found in _size(stand))
    own = [stand for stand in distinct.values() if not _whole(stand, drawn)]
    if own:
        how = "fits only where cells are open as it is; it swaps with its" if len(own) == 1 else _FIT
        text = f"{_listed(own)} {how} own kind alone."
        yield Finding("swap-own-kind", Severity.NOTE, "kit", text, "Nothing has to be done.")
    spaces = {space.id: space for space in kit.spaces if any(one.placement.space == space.id for one in stands)}
    yield from _patterns(spaces, list(distinct.values()))
    yield from _too_high(spaces, stands, drawn)


def _size(stand: Stand) -> Iterator[Finding]:
    """A part whose outer size is not that of its cells: its equals would not stand where it does."""
    if stand.member.part.kind == "fence":
        return
    for side, found, asked in zip(("wide", "deep"), stand.member.part.size, stand.footprint.outer, strict=False):
        if abs(found - asked) > SAME_SIZE:
            cells = f"{stand.footprint.in_words} of {stand.footprint.pitch:g} mm"
            text = f"It is {found:.2f} mm {side}; {cells} ask for {asked:.1f} mm."
            against = Against(found, asked, "mm")
            yield Finding("seat-size", Severity.STOP, stand.member.part.id, text, OURS, against)


def _whole(stand: Stand, drawn: Drawn) -> bool:
    """Whether a part has a socket in every cell of its rectangle and nothing beyond it."""
    nearest, _ = matched(stand.member.sockets, stand.footprint.places, drawn.pitch / 2)
    width, depth, _ = stand.member.part.size
    outer = stand.footprint.outer
    return bool((nearest >= 0).all() and max(width - outer[0], depth - outer[1]) <= SAME_SIZE)


def _patterns(spaces: Mapping[str, KitSpace], stands: Sequence[Stand]) -> Iterator[Finding]:
    """Spaces in which not every part of the kit would be held."""
    for name, space in spaces.items():
        level, pattern = level_of(space), pattern_of(space)
        if pattern is None:
            continue
        if pattern is Pattern.UNDER_LAYOUT:
            text = (
                "Its cones stand only under the layout: other parts, or these in other places, may not be held there."
            )
            remedy = "Print the panel again when parts move, or choose another pattern for this space."
            yield Finding("swap-pattern", Severity.NOTE, name, text, remedy)
        elif level in ("none", "frame", "cross"):
            text = f"Its liner is {level}: parts that swap into it are not held by cones everywhere."
            yield Finding(
                "swap-pattern", Severity.NOTE, name, text, "Choose a full liner where parts are to move about."
            )
        elif narrow := [stand for stand in stands if _narrower(stand.footprint, smallest_of(pattern))]:
            text = f"Its cones stand {pattern.value}, which may miss {_listed(narrow)}."
            yield Finding("swap-pattern", Severity.NOTE, name, text, "Keep narrow parts in other spaces.")


def _narrower(footprint: Footprint, least: tuple[int, int]) -> bool:
    """Whether a footprint is smaller than the smallest that a pattern holds."""
    small, long = sorted((footprint.cols, footprint.rows))
    return small < least[0] or long < least[1]


def _too_high(spaces: Mapping[str, KitSpace], stands: Sequence[Stand], drawn: Drawn) -> Iterator[Finding]:
    """Parts that have an equal in a space which is too low for them."""
    by_size: dict[tuple[int, ...], list[Stand]] = defaultdict(list)
    for stand in stands:
        by_size[tuple(sorted((stand.footprint.cols, stand.footprint.rows)))].append(stand)
    found: dict[str, dict[str, Stand]] = defaultdict(dict)
    for equals in by_size.values():
        for name in sorted({one.placement.space for one in equals}):
            for one in equals:
                if drawn.seat.panel + one.member.part.size[2] > spaces[name].height:
                    found[name][one.member.part.id] = one
    for name, high in found.items():
        text = (
            f"Parts of their size stand here, but these are too high for its {spaces[name].height:.1f} mm: "
            f"{_listed(list(high.values()))}."
        )
        yield Finding("swap-height", Severity.NOTE, name, text, "Swap them among the higher spaces.")


def _listed(stands: Sequence[Stand]) -> str:
    """Names of parts, the first ones and how many more."""
    return names([stand.member.part.name for stand in stands])
