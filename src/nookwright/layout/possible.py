"""What may be where, for all candidates and spaces at once: the rules of ``problem.allowed`` as arrays.

A large room has a thousand spaces and tens of thousands of candidates; one Python object for each candidate in each
space would take gigabytes. Here each is a byte. A candidate that another one of the same lot beats in everything may be
nowhere that the other may be.
"""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.layout.rules import fits, held, no_worse

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from nookwright.layout.model import Ask, Candidate, Grid

    Flags = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]


class Possible(NamedTuple):
    """What may be where and what it costs; candidates are numbered through all lots.

    Attributes:
        first: index of the first candidate of each lot, and one past the last.
        ok: whether a candidate may be in a space, by candidate and space.
        there: what a lot costs more in a space, by lot and space.
        own: cost of each candidate.
        area: its cells.
        mass_g: its mass.
    """

    first: Ints
    ok: Flags
    there: Floats
    own: Floats
    area: Ints
    mass_g: Floats

    def rows(self, lot: int) -> slice:
        """Where the candidates of a lot stand.

        Args:
            lot: its number.
        """
        return slice(int(self.first[lot]), int(self.first[lot + 1]))

    def only(self, lots: Sequence[bool]) -> Possible:
        """The same with all other lots nowhere.

        Args:
            lots: whether each lot may still be where it might.
        """
        kept = np.repeat(np.array(lots, dtype=np.bool_), np.diff(self.first))
        return self._replace(ok=self.ok & kept[:, None])


def possible_of(grids: Sequence[Grid], asks: Sequence[Ask], free: Sequence[int]) -> Possible:
    """What may be where.

    Args:
        grids: the spaces.
        asks: the lots.
        free: the free cells of each space, as a mask.
    """
    candidates = list(chain.from_iterable(ask.candidates for ask in asks))
    counts = [len(ask.candidates) for ask in asks]
    first = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
    mass_g = np.array([one.mass_g for one in candidates], dtype=np.float64)
    ok: Flags = np.repeat(_welcome(asks, grids), counts, axis=0)
    ok &= np.array([one.tall for one in candidates])[:, None] <= np.array([grid.height for grid in grids])
    ok &= mass_g[:, None] <= np.array([grid.load_g for grid in grids])
    ok &= _passing(candidates, grids)
    ok &= _standing(candidates, grids, free)
    for lot, ask in enumerate(asks):
        _drop_beaten(ask.candidates, ok[first[lot] : first[lot + 1]])
    return Possible(
        first=first,
        ok=ok,
        there=_there(asks, grids),
        own=np.array([one.cost for one in candidates], dtype=np.float64),
        area=np.array([one.cols * one.rows for one in candidates], dtype=np.int64),
        mass_g=mass_g,
    )


def _welcome(asks: Sequence[Ask], grids: Sequence[Grid]) -> Flags:
    """Whether a lot may be in a space at all, by lot and space: what is filled, homes, children, warmth, wetness."""
    barred = np.zeros((len(asks), len(grids)), dtype=np.bool_)
    for lots, spaces in (
        ([ask.out_of_reach for ask in asks], [grid.children for grid in grids]),
        ([ask.cool for ask in asks], [grid.warm for grid in grids]),
        ([ask.dry for ask in asks], [grid.wet for grid in grids]),
    ):
        barred |= np.array(lots, dtype=np.bool_)[:, None] & np.array(spaces, dtype=np.bool_)
    may = np.array([grid.fill for grid in grids], dtype=np.bool_) & ~barred
    for lot, ask in enumerate(asks):
        if ask.spaces:
            may[lot] &= [grid.space in ask.spaces for grid in grids]
    return np.asarray(may, dtype=np.bool_)


def _passing(candidates: Sequence[Candidate], grids: Sequence[Grid]) -> Flags:
    """Whether a part passes the opening of a space by its two shorter sides, by candidate and space."""
    openings = np.array([sorted(grid.opening or (np.inf, np.inf)) for grid in grids]).reshape(-1, 2)
    sides = np.array([sorted((*one.size, one.height))[:2] for one in candidates]).reshape(-1, 2)
    if not np.isfinite(openings).any():
        return np.ones((1, len(grids)), dtype=np.bool_)
    return np.asarray((sides[:, None] <= openings).all(axis=2), dtype=np.bool_)


def _standing(candidates: Sequence[Candidate], grids: Sequence[Grid], free: Sequence[int]) -> Flags:
    """Whether a footprint finds a place and is held there, by candidate and space; each footprint is tried once."""
    numbers: dict[tuple[int, int, bool, tuple[int, int]], int] = {}
    kinds = [numbers.setdefault((one.cols, one.rows, one.may_turn, one.least), len(numbers)) for one in candidates]
    samples = dict(zip(kinds, candidates, strict=True))
    stands = [
        [held(samples[kind], grid) and fits(samples[kind], grid, mask) for grid, mask in zip(grids, free, strict=True)]
        for kind in range(len(numbers))
    ]
    return np.array(stands, dtype=np.bool_).reshape(len(numbers), len(grids))[np.array(kinds, dtype=np.int64)]


def _there(asks: Sequence[Ask], grids: Sequence[Grid]) -> Floats:
    """Use times reach, and what leans away from a space."""
    there: Floats = np.array([ask.use for ask in asks])[:, None] * np.array([grid.reach for grid in grids])
    numbers = {grid.space: number for number, grid in enumerate(grids)}
    for lot, ask in enumerate(asks):
        for space, cost in ask.leaning:
            if space in numbers:
                there[lot, numbers[space]] += cost
    return there


def by_worth(candidates: Sequence[Candidate]) -> list[int]:
    """Numbers of candidates: the cheapest, smallest, lightest first.

    Args:
        candidates: of one lot.
    """

    def worth(number: int) -> tuple[float, int, float, int]:
        one = candidates[number]
        return one.cost, one.cols * one.rows, one.mass_g, one.cols

    return sorted(range(len(candidates)), key=worth)


def _drop_beaten(candidates: Sequence[Candidate], ok: Flags) -> None:
    """Candidates of one lot may be nowhere that another one which is no worse may be."""
    order, may = by_worth(candidates), ok.copy()
    for turn, number in enumerate(order):
        for better in order[:turn]:
            if no_worse(candidates[better], candidates[number]):
                ok[number] &= ~may[better]
