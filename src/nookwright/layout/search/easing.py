"""The smallest changes that would let in a lot for which there is no room; each is tried by packing before it is said.

What it does not know: changes in several spaces at once, or that a lot which is taken out might find room elsewhere.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING, TypeAlias

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, stride
from nookwright.layout.packing import pack_free
from nookwright.layout.problem import Choice
from nookwright.layout.rules import allowed

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.layout.draft import Draft
    from nookwright.layout.model import Candidate

TRIES = Fact(200, unit="tries", kind=Kind.CHOICE, source="Packings for each change that is thought of.")
MOST_OUT = Fact(40, unit="1", kind=Kind.CHOICE, source="Lots that are thought of as taken out, the least used first.")
MOST_SMALLER = Fact(3, unit="1", kind=Kind.CHOICE, source="Footprints tried for each room to grow, the smallest first.")
MOST_LINES = Fact(8, unit="cells", kind=Kind.CHOICE, source="A space that lacks more is another space.")


@dataclass(frozen=True)
class Less:
    """What a lot would be with less room to grow.

    Attributes:
        percent: the room to grow that it has.
        steps: less room to grow, step by step, and what the lot's candidates would then be.
    """

    percent: float
    steps: tuple[tuple[float, tuple[Candidate, ...]], ...]


Lessen: TypeAlias = Callable[[str], "Less | None"]  # by id of a lot; ``None`` where that is not known


@dataclass(frozen=True)
class Easing:
    """What would let a lot in.

    Attributes:
        out: a lot that would have to go, and its space; nothing where no single one is enough.
        wider: a space, and how many columns more it would need; nothing where even many are too few.
        growth: the room to grow that would be little enough, and the one that it has; nothing where even none is.
        untried: whether less room to grow might help, which could not be tried.
    """

    out: tuple[str, str] | None = None
    wider: tuple[str, int] | None = None
    growth: tuple[float, float] | None = None
    untried: bool = True


def easing_of(draft: Draft, number: int, lessen: Lessen | None = None) -> Easing:
    """The smallest changes that let a lot in, beside all that is placed.

    Args:
        draft: what is placed.
        number: of the lot.
        lessen: says what it would be with less room to grow.
    """
    less = lessen(draft.problem.asks[number].lot) if lessen else None
    growth = next(_ways_in(draft, number, less), None) if less else None
    return Easing(next(_ways_out(draft, number), None), _wider(draft, number), growth, untried=less is None)


def _ways_in(draft: Draft, number: int, less: Less) -> Iterator[tuple[float, float]]:
    """Room to grow, the most first, with which the lot finds a place beside all that is there."""
    problem = draft.problem
    for percent, candidates in less.steps:
        for one in sorted(candidates, key=lambda one: one.cols * one.rows)[: int(MOST_SMALLER)]:
            new = Choice(number, 0, one, one.cols * one.rows, one.mass_g, one.cost)
            for place, grid in enumerate(problem.grids):
                carried = draft.mass_g[place] + one.mass_g <= grid.load_g
                if not carried or new.area > draft.free[place].bit_count():
                    continue
                if allowed(problem.asks[number], one, grid, problem.free[place]) and _packs(draft, place, new):
                    yield percent, less.percent


def _ways_out(draft: Draft, number: int) -> Iterator[tuple[str, str]]:
    """Lots that let it in by going, the least used, then the smallest first."""
    problem = draft.problem
    smallest = _smallest(draft, number)
    inside = [
        (problem.asks[other].use, chosen.area, other, chosen)
        for other, chosen in enumerate(draft.chosen)
        if chosen is not None and chosen.grid in smallest
    ]
    for _, _, other, gone in sorted(inside, key=lambda one: one[:3])[: int(MOST_OUT)]:
        new, place = smallest[gone.grid], gone.grid
        area = draft.free[place].bit_count() + gone.area
        mass_g = draft.mass_g[place] - gone.mass_g + new.mass_g
        if new.area <= area and mass_g <= problem.grids[place].load_g and _packs(draft, place, new, without=other):
            yield problem.asks[other].lot, problem.grids[place].space


def _wider(draft: Draft, number: int) -> tuple[str, int] | None:
    """The space that needs the fewest columns more."""
    grids = draft.problem.grids
    for more in range(1, int(MOST_LINES) + 1):
        for place, new in sorted(_smallest(draft, number).items()):
            spare = draft.free[place].bit_count() + more * grids[place].rows
            carried = draft.mass_g[place] + new.mass_g <= grids[place].load_g
            if carried and new.area <= spare and _packs(draft, place, new, more=more):
                return grids[place].space, more
    return None


def _smallest(draft: Draft, number: int) -> Mapping[int, Choice]:
    """The smallest choice of a lot in every space."""
    found: dict[int, Choice] = {}
    for choice in sorted(draft.problem.choices[number], key=lambda one: (one.area, one.mass_g), reverse=True):
        found[choice.grid] = choice
    return found


def _packs(draft: Draft, place: int, new: Choice, *, without: int = -1, more: int = 0) -> bool:
    """Whether a space takes one lot more, without another one or with so many columns more at its right."""
    grid = draft.problem.grids[place]
    choices = [c for n in draft.inside[place] if n != without and (c := draft.chosen[n])] + [new]
    packing = pack_free(
        free_cells(grid.cols + more, grid.rows, grid.blocked),
        stride(grid.cols + more),
        [(choice.candidate.cols, choice.candidate.rows) for choice in choices],
        tries=int(TRIES),
        random=Random(1),  # noqa: S311 - nothing secret
        turn=[choice.candidate.may_turn for choice in choices],
    )
    return packing.complete
