"""One space, calm: its lots in rows, or word of how many cells that lacks.

The compiled search finds which lots stand together (``seek``); the best of its answers are made to read better
(``polish``); the best of those is taken. Rows run from left to right and from front to back; both are tried.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from random import Random
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells
from nookwright.layout.calm.polish import polish
from nookwright.layout.calm.rows import Field
from nookwright.layout.calm.seek import GLANCES, STARTS, Wish, seek
from nookwright.layout.calm.tables import options_of
from nookwright.layout.rules import allowed
from nookwright.layout.wishes import topples
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.calm.judging import Judge
    from nookwright.layout.calm.seek import Found
    from nookwright.layout.model import Ask, Candidate, Grid, Placed

POLISHED = Fact(
    1, unit="answers", kind=Kind.MEASURED, source="For each direction: a second one rarely won on the demo."
)


@dataclass(frozen=True)
class Arrangement:
    """A space in rows.

    Attributes:
        placed: where everything lies; nothing if it does not fit calmly.
        short: cells that it lacks to fit calmly; 0 if it fits.
        cost: as the judge sees it; infinite if it does not fit.
        columns: whether its rows run from front to back.
    """

    placed: tuple[Placed, ...]
    short: int
    cost: float
    columns: bool

    @property
    def fits(self) -> bool:
        """Whether everything is in."""
        return self.short == 0


def arrange(grid: Grid, asks: Sequence[Ask], judge: Judge, *, seed: int) -> Arrangement:
    """Arrange lots in one space in rows.

    Args:
        grid: the space.
        asks: the lots; the candidate of each is chosen anew.
        judge: says what an arrangement costs.
        seed: of what is drawn.
    """
    if not asks:
        return Arrangement((), 0, 0.0, columns=False)
    best = Arrangement((), _lacking(grid, asks), inf, columns=False)
    for field, answers in _looks(grid, asks, judge, seed=seed, starts=int(STARTS)):
        for answer in answers[: int(POLISHED)]:
            mine = _finished(field, answer, judge, seed)
            if (mine.short, mine.cost) < (best.short, best.cost):
                best = mine
    return best


def glance(grid: Grid, asks: Sequence[Ask], judge: Judge, *, seed: int) -> tuple[int, float]:
    """How many cells lots lack to stand in rows in one space, and about what the rows would cost. Much quicker.

    Args:
        grid: the space.
        asks: the lots.
        judge: says what an arrangement costs.
        seed: of what is drawn.
    """
    if not asks:
        return 0, 0.0
    looks = _looks(grid, asks, judge, seed=seed, starts=int(GLANCES))
    answers = [answer for _, found in looks for answer in found]
    return min(((one.short, one.cost) for one in answers), default=(_lacking(grid, asks), inf))


def _looks(grid: Grid, asks: Sequence[Ask], judge: Judge, *, seed: int, starts: int) -> list[tuple[Field, list[Found]]]:
    """What the search finds, in both directions; nothing where a lot may not be here."""
    free = free_cells(grid.cols, grid.rows, grid.blocked)
    takes = [[one for one in ask.candidates if allowed(ask, one, grid, free)] for ask in asks]
    if not all(takes):
        return []
    looks = []
    for swap in (False, True):
        field = Field(grid, swap=swap)
        wishes = [_wish(grid, ask, can, judge, swap=swap) for ask, can in zip(asks, takes, strict=True)]
        looks.append((field, seek(field, wishes, judge.terms, seed=seed, starts=starts)))
    return looks


def _lacking(grid: Grid, asks: Sequence[Ask]) -> int:
    """Cells that lots lack that cannot stand in rows at all: all that they take."""
    return grid.cols * grid.rows + sum(min(one.cols * one.rows for one in ask.candidates) for ask in asks)


def _wish(grid: Grid, ask: Ask, takes: Sequence[Candidate], judge: Judge, *, swap: bool) -> Wish:
    """What a lot wishes, for the search."""
    options = options_of(takes, swap=swap)
    groups = sorted({other.group for other in judge.wishes.asks.values() if other.group})
    pitch = judge.wishes.pitch
    deepest = max(outer_size(option.wide if swap else option.deep, pitch) for option in options)
    tall = min(option.candidate.tall for option in options)
    return Wish(
        options=options,
        use=ask.use,
        group=groups.index(ask.group) if ask.group in groups else -1,
        rank=judge.wishes.rank(ask.lot),
        topples=grid.drawer and topples(deepest, tall),
    )


def _finished(field: Field, found: Found, judge: Judge, seed: int) -> Arrangement:
    """One answer of the search, polished and laid."""
    if found.short:
        return Arrangement((), found.short, inf, columns=field.swap)
    rows, cost = polish(found.rows, field, judge, random=Random(seed))  # noqa: S311 - nothing secret
    placed = rows.lay(field)
    if placed is None:
        return Arrangement((), 1, inf, columns=field.swap)
    load_g = sum(one.candidate.mass_g + judge.grown_g(one) for one in placed if one.candidate)
    if load_g > field.grid.load_g:
        return Arrangement((), 1, inf, columns=field.swap)
    return Arrangement(placed, 0, cost, columns=field.swap)
