"""One space, calm: its lots in rows, or word of how many cells that lacks.

The compiled search finds which lots stand together (``seek``); the best of its answers are made to read better
(``polish``); the best of those is taken. Rows run from left to right and from front to back; both are tried.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
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
ROWS_FULL = Fact(
    0.9,
    unit="1",
    kind=Kind.MEASURED,
    source="Of the free cells, at the fewest that each lot takes: mixed lots that fill more seldom stood in rows.",
)
HOPELESS = Fact(
    0.05,
    unit="1",
    kind=Kind.MEASURED,
    source="Of the free cells: where a space is that full and its first walks lack so much, no other walk found rows.",
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


def arrange(grid: Grid, asks: Sequence[Ask], judge: Judge, *, seed: int, looks: Looks | None = None) -> Arrangement:
    """Arrange lots in one space in rows.

    Args:
        grid: the space.
        asks: the lots; the candidate of each is chosen anew.
        judge: says what an arrangement costs.
        seed: of what is drawn.
        looks: at the same, to go on from.
    """
    if not asks:
        return Arrangement((), 0, 0.0, columns=False)
    looks = looks or Looks(grid, asks, judge, seed=seed)
    looks.walk_unless_hopeless(int(STARTS))
    best = Arrangement((), looks.lacking, inf, columns=False)
    for field, answers in looks.answers():
        for answer in answers[: int(POLISHED)]:
            mine = _finished(field, answer, judge, seed)
            if (mine.short, mine.cost) < (best.short, best.cost):
                best = mine
    return best


class Looks:
    """What the search has found so far for lots in one space, in both directions; it goes on from there."""

    def __init__(self, grid: Grid, asks: Sequence[Ask], judge: Judge, *, seed: int) -> None:
        """Nothing is looked at yet.

        Args:
            grid: the space.
            asks: the lots.
            judge: says what an arrangement costs.
            seed: of what is drawn.
        """
        self.grid, self.asks, self.judge, self.seed = grid, asks, judge, seed
        self.walked = 0
        self._free = free_cells(grid.cols, grid.rows, grid.blocked)
        self.takes = [[one for one in ask.candidates if allowed(ask, one, grid, self._free)] for ask in asks]
        self.fields = [Field(grid, swap=swap) for swap in (False, True)] if asks and all(self.takes) else []
        self._found: list[list[Found]] = [[] for _ in self.fields]

    def walk(self, starts: int) -> None:
        """Look with so many walks for each direction, those that were walked before among them."""
        more = range(self.walked, starts)
        for field, found in zip(self.fields, self._found, strict=True):
            if more:
                found.extend(seek(field, self._wishes(field), self.judge.terms, seed=self.seed, starts=more))
        self.walked = max(self.walked, starts)

    def walk_unless_hopeless(self, starts: int) -> None:
        """The same, but only one walk for each direction where a space is very full and these lack much."""
        if self.very_full:
            self.walk(1)
        if not self.hopeless:
            self.walk(starts)

    @cached_property
    def very_full(self) -> bool:
        """Whether rows that hold so much are hardly ever found."""
        least = sum(min(one.cols * one.rows for one in takes) for takes in self.takes if takes)
        return least > ROWS_FULL * self._free.bit_count()

    @property
    def hopeless(self) -> bool:
        """Whether the first walk for each direction lacks so much that no other will find rows."""
        short = min((found[0].short for found in self._found if found), default=0)
        return self.very_full and short > HOPELESS * self._free.bit_count()

    @property
    def effort(self) -> int:
        """What the walks that a glance takes did, as ``Found`` counts it."""
        return sum(one.work for one in self._first)

    def _wishes(self, field: Field) -> list[Wish]:
        pairs = zip(self.asks, self.takes, strict=True)
        return [_wish(self.grid, ask, takes, self.judge, swap=field.swap) for ask, takes in pairs]

    def answers(self) -> list[tuple[Field, list[Found]]]:
        """What was found in each direction, the best first; nothing where a lot may not be here."""
        ordered = (sorted(found, key=lambda one: (one.short, one.cost)) for found in self._found)
        return list(zip(self.fields, ordered, strict=True))

    @property
    def glance(self) -> tuple[int, float]:
        """Cells that the lots lack to stand in rows, and about what their rows cost: by the first few walks."""
        if not self.asks:
            return 0, 0.0
        return min(((one.short, one.cost) for one in self._first), default=(self.lacking, inf))

    @property
    def _first(self) -> list[Found]:
        """What the first few walks found."""
        return [one for found in self._found for one in found[: int(GLANCES)]]

    @property
    def lacking(self) -> int:
        """Cells that lots lack that cannot stand in rows at all: all that they take."""
        least = sum(min(one.cols * one.rows for one in ask.candidates) for ask in self.asks)
        return self.grid.cols * self.grid.rows + least


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
