"""Why a lot has no place, in words that a person can act on."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.model import LeftOut
from nookwright.layout.rules import fits, held, passes
from nookwright.layout.search.easing import Easing, easing_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.draft import Draft
    from nookwright.layout.model import Ask, Candidate, Grid
    from nookwright.layout.search.easing import Lessen

MOST_TRIED = Fact(
    12, unit="lots", kind=Kind.CHOICE, source="Where more are left out, the room is too small altogether."
)


def left_out(draft: Draft, *, pitch: float, thorough: bool = True, lessen: Lessen | None = None) -> tuple[LeftOut, ...]:
    """One reason for each lot that the draft does not place, sorted by lot.

    Args:
        draft: what is placed.
        pitch: size of a cell, mm.
        thorough: whether to try what would let them in; for so many at most, the most used ones first.
        lessen: says what a lot would be with less room to grow.
    """
    missing = [number for number, choice in enumerate(draft.chosen) if choice is None]
    tried = sorted(missing, key=lambda number: -draft.problem.asks[number].use)[: int(MOST_TRIED)] if thorough else []

    def easing(number: int) -> Easing:
        return easing_of(draft, number, lessen) if number in tried else Easing()

    reasons = (_reason(draft, number, pitch, easing) for number in missing)
    return tuple(sorted(reasons, key=lambda one: one.lot))


def _reason(draft: Draft, number: int, pitch: float, easing: Callable[[int], Easing]) -> LeftOut:
    """The first rule, in order of height, size, load, reach and room, that leaves no space for the lot."""
    ask, grids = draft.problem.asks[number], draft.problem.grids
    mine = [place for place, grid in enumerate(grids) if grid.fill and (not ask.spaces or grid.space in ask.spaces)]
    pairs = [(one, place) for one in ask.candidates for place in mine]
    if not pairs:
        return _nothing_to_try(ask)
    may = tuple(grids[place] for place in mine)
    high = [(one, place) for one, place in pairs if one.tall <= grids[place].height]
    if not high:
        return _too_tall(ask, may)
    large = [(one, place) for one, place in high if held(one, grids[place])]
    wide = [(one, place) for one, place in large if fits(one, grids[place], draft.problem.free[place])]
    if not wide:
        return _too_wide(ask, [one for one, _ in large], may, pitch) if large else _too_small(ask, may, pitch)
    light = [(one, place) for one, place in wide if one.mass_g <= grids[place].load_g]
    if not light:
        return _too_heavy(ask, wide, grids)
    return _barred(ask, light, grids) or _no_room(draft, number, pitch, easing)


def _barred(ask: Ask, fitting: list[tuple[Candidate, int]], grids: tuple[Grid, ...]) -> LeftOut | None:
    """Why it may be in none of the spaces that it fits; ``None`` if it may be in one."""
    rules: tuple[tuple[Callable[[Candidate, Grid], bool], str, str], ...] = (
        (
            passes,
            "its part does not pass the opening of any space that it fits",
            "keep it in two lots with smaller parts, or take off what narrows the opening",
        ),
        (
            lambda _, grid: not (ask.out_of_reach and grid.children),
            "children can reach every space that it fits",
            "lock one of these spaces and say locked = true there, or add a higher one",
        ),
        (
            lambda _, grid: not (ask.cool and grid.warm),
            "it must be kept cool, and every space that it fits gets warm",
            "give it a space that stays cool",
        ),
        (
            lambda _, grid: not (ask.dry and grid.wet),
            "it must be kept dry, and every space that it fits may get wet",
            "give it a space that stays dry",
        ),
    )
    left = fitting
    for rule, reason, remedy in rules:
        kept = [(one, place) for one, place in left if rule(one, grids[place])]
        if not kept:
            return LeftOut(ask.lot, f"{reason} ({_names(grids, left)})", remedy)
        left = kept
    return None


def _nothing_to_try(ask: Ask) -> LeftOut:
    if not ask.candidates:
        return LeftOut(ask.lot, "no kind of part can hold it", "measure it again, or let it stand another way")
    if ask.spaces:
        return LeftOut(
            ask.lot,
            f"the homes of its group ({', '.join(ask.spaces)}) have no floor for trays",
            "name a drawer or a shelf among them in [choices.homes]",
        )
    return LeftOut(ask.lot, "no space of the room can be filled with trays", "add a drawer or a shelf to the room")


def _every(ask: Ask) -> str:
    """The spaces that were looked at, in words."""
    return "every home of its group" if ask.spaces else "every space"


def _too_tall(ask: Ask, grids: tuple[Grid, ...]) -> LeftOut:
    """The spaces are those that it may go to."""
    lowest = min(one.tall for one in ask.candidates)
    highest = max(grids, key=lambda grid: grid.height)
    return LeftOut(
        ask.lot,
        f"needs {lowest:.0f} mm of height, {ceil(lowest - highest.height)} mm more than the clear height of "
        f"{_every(ask)} (the tallest, {highest.space}, has {highest.height:.0f} mm)",
        f"let it lie down, take it apart, or give it a space with at least {lowest:.0f} mm above the liner",
    )


def _too_small(ask: Ask, grids: tuple[Grid, ...], pitch: float) -> LeftOut:
    """The cones of a liner hold nothing as small as it, in none of the spaces."""
    large = max(ask.candidates, key=lambda one: (min(one.cols, one.rows), max(one.cols, one.rows)))
    least = min(grid.smallest for grid in grids)
    return LeftOut(
        ask.lot,
        f"takes {_size(large.cols, large.rows, pitch)}: less than the {_size(*least, pitch)} that the liner holds in "
        f"{_every(ask)}",
        f'say pattern = "{min(large.cols, large.rows)}x{max(large.cols, large.rows)}" in one of these spaces, or put '
        "the lot together with another one",
    )


def _too_wide(ask: Ask, candidates: list[Candidate], grids: tuple[Grid, ...], pitch: float) -> LeftOut:
    small = min(candidates, key=lambda one: (one.cols * one.rows, max(one.cols, one.rows)))
    low = min(one.tall for one in candidates)
    high = [grid for grid in grids if grid.height >= low]
    largest = max(high, key=lambda grid: grid.cols * grid.rows)
    return LeftOut(
        ask.lot,
        f"needs {_size(small.cols, small.rows, pitch)} in one piece: {_longer(candidates, high, pitch)} "
        f"{_every(ask)} that is high enough (the largest, {largest.space}, has "
        f"{_size(largest.cols, largest.rows, pitch)} less what is blocked)",
        "split it into two lots, let it stand another way, or add a larger space",
    )


def _longer(candidates: list[Candidate], grids: list[Grid], pitch: float) -> str:
    """By how much it is longer than the longest space, where that is why."""
    need = min(max(one.cols, one.rows) for one in candidates)
    longest = max(max(grid.cols, grid.rows) for grid in grids)
    return f"{(need - longest) * pitch:.0f} mm longer than" if need > longest else "too large for"


def _too_heavy(ask: Ask, wide: list[tuple[Candidate, int]], grids: tuple[Grid, ...]) -> LeftOut:
    lightest = min(one.mass_g for one, _ in wide)
    strongest = max((grids[place] for _, place in wide), key=lambda grid: grid.load_g)
    return LeftOut(
        ask.lot,
        f"weighs {lightest:.0f} g with its tray, {ceil(lightest - strongest.load_g)} g more than any space that it "
        f"fits may carry (the strongest, {strongest.space}, has {strongest.load_g:.0f} g left)",
        "split it into two lots, or keep it on a shelf that carries more",
    )


def _no_room(draft: Draft, number: int, pitch: float, easing: Callable[[int], Easing]) -> LeftOut:
    """It would fit alone somewhere, but other lots are there."""
    ask, choices, grids = draft.problem.asks[number], draft.problem.choices[number], draft.problem.grids
    small = min(choices, key=lambda one: (one.area, one.mass_g))
    spaces = sorted({choice.grid for choice in choices})
    roomy = [place for place in spaces if draft.free[place].bit_count() >= small.area]
    enough = [place for place in roomy if grids[place].load_g - draft.mass_g[place] >= small.mass_g]
    names = ", ".join(grids[place].space for place in spaces)
    need = _size(small.candidate.cols, small.candidate.rows, pitch)
    if roomy and not enough:
        spare_g = max(grids[place].load_g - draft.mass_g[place] for place in roomy)
        return LeftOut(
            ask.lot,
            f"weighs {small.mass_g:.0f} g, and the spaces that have room for it ({names}) "
            f"carry only {spare_g:.0f} g more",
            "move something heavy to another room, or split the lot",
        )
    cells = sum(draft.free[place].bit_count() for place in spaces)
    return LeftOut(
        ask.lot,
        f"no room left: the spaces that could take it ({names}) have {_area(cells, pitch)} free, in pieces; "
        f"it needs {_area(small.area, pitch)} in one piece of {need}",
        _eased(easing(number), pitch),
    )


def _eased(easing: Easing, pitch: float) -> str:
    """What would let it in, in words; what was tried and works first."""
    ways = []
    if easing.out:
        lot, space = easing.out
        ways.append(f"take {lot} out of {space} (then it fits)")
    if easing.wider:
        space, lines = easing.wider
        ways.append(f"make {space} {lines * pitch:.0f} mm wider (then it fits)")
    if easing.growth:
        less, now = easing.growth
        ways.append(f"leave {less:g} % room to grow instead of {now:g} % (then it fits)")
    if not ways:
        ways.append("take several things out of these spaces")
    if easing.untried:
        ways.append("leave less room to grow")
    return ", ".join(ways) + ", or add a space"


def _names(grids: tuple[Grid, ...], pairs: list[tuple[Candidate, int]]) -> str:
    return ", ".join(grids[place].space for place in sorted({place for _, place in pairs}))


def _size(cols: int, rows: int, pitch: float) -> str:
    return f"{cols * pitch:.0f} x {rows * pitch:.0f} mm"


def _area(cells: int, pitch: float) -> str:
    return f"{cells * pitch * pitch / 100:.0f} cm²"
