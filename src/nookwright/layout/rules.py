"""The rules of what may be where, for one candidate in one space; ``possible`` asks them for all at once."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import places, shifts_for, stride
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from nookwright.layout.model import Ask, Candidate, Grid

TAKEN_BY = Fact(
    12.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="What stands in a pocket is taken by so much of it: a fingertip."
)


def highest(candidate: Candidate) -> float:
    """The greatest outer height that a part may be given, mm; as it is where it cannot be higher.

    A tray may be as high as a person likes. What stands in a pocket, or a box on its shoe, stays out by what it is
    taken by. Everything else is as high as its things ask for.

    Args:
        candidate: of a lot.
    """
    if candidate.way.kind is PartKind.TRAY:
        return math.inf
    if candidate.way.kind in {PartKind.CRADLE, PartKind.SHOE}:
        return max(candidate.height, candidate.tall - TAKEN_BY)
    return candidate.height


def allowed(ask: Ask, candidate: Candidate, grid: Grid, free: int) -> bool:
    """Whether the candidate could be alone in the space."""
    return (
        grid.fill
        and (not ask.spaces or grid.space in ask.spaces)
        and not (ask.out_of_reach and grid.children)
        and not (ask.cool and grid.warm)
        and not (ask.dry and grid.wet)
        and passes(candidate, grid)
        and candidate.tall <= grid.height
        and candidate.mass_g <= grid.load_g
        and held(candidate, grid)
        and fits(candidate, grid, free)
    )


def held(candidate: Candidate, grid: Grid) -> bool:
    """Whether no part of it is smaller than what the cones of the space hold in every place."""
    mine = candidate.least
    return mine[0] >= grid.smallest[0] and mine[1] >= grid.smallest[1]


def passes(candidate: Candidate, grid: Grid) -> bool:
    """Whether the part, level or on a side, passes the opening of the space: by its two shorter sides."""
    if grid.opening is None:
        return True
    short, middle, _ = sorted((*candidate.size, candidate.height))
    narrow, wide = sorted(grid.opening)
    return short <= narrow and middle <= wide


def fits(candidate: Candidate, grid: Grid, free: int) -> bool:
    """Whether its footprint finds a free place, turned or not."""
    step = stride(grid.cols)
    return any(
        cols <= grid.cols and rows <= grid.rows and places(free, shifts_for(cols, rows, step))
        for cols, rows in lyings(candidate)
    )


def lyings(candidate: Candidate) -> set[tuple[int, int]]:
    """Its footprint, and turned if it may be."""
    upright, turned = (candidate.cols, candidate.rows), (candidate.rows, candidate.cols)
    return {upright, turned} if candidate.may_turn else {upright}


def no_worse(one: Candidate, other: Candidate) -> bool:
    """Whether ``one`` is no dearer, no heavier and lies wherever ``other`` lies, turned or not."""
    return (
        one.cost <= other.cost
        and one.mass_g <= other.mass_g
        and all(any(cols <= width and rows <= depth for cols, rows in lyings(one)) for width, depth in lyings(other))
    )
