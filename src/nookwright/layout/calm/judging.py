"""One judgement of a space for calm and tightest alike: what its parts grew by, how calm it is, what is wished."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf
from typing import TYPE_CHECKING

from nookwright.layout.calm.calmness import counts_of
from nookwright.layout.calm.terms import CRUMB, USUAL, Terms
from nookwright.layout.model import CostPart
from nookwright.layout.wishes import Wishes, wish_cost

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.layout.model import Ask, Candidate, Grid, Placed
    from nookwright.module.module import Module
    from nookwright.survey.layout_wishes import Weights


@dataclass
class Judge:
    """Judges arrangements; remembers what parts weigh.

    Attributes:
        terms: prices.
        wishes: what is wished inside a space.
    """

    terms: Terms
    wishes: Wishes
    _grams: dict[tuple[object, ...], float] = field(default_factory=dict, repr=False)

    def grown_g(self, one: Placed) -> float:
        """How much heavier a part is than its candidate, g."""
        candidate = one.candidate
        if candidate is None:
            return 0.0
        cols, rows = (one.rows, one.cols) if one.turned else (one.cols, one.rows)
        if (cols, rows, one.height) == (candidate.cols, candidate.rows, candidate.height):
            return 0.0
        return self._part_g(candidate, cols, rows, one.height) - self.own_g(candidate)

    def own_g(self, candidate: Candidate) -> float:
        """What a candidate's part weighs as a plain one, g."""
        return self._part_g(candidate, candidate.cols, candidate.rows, candidate.height)

    def part_g(self, one: Placed) -> float:
        """What a placed part weighs as a plain one, g."""
        return (self.own_g(one.candidate) if one.candidate else 0.0) + self.grown_g(one)

    def _part_g(self, candidate: Candidate, cols: int, rows: int, height: float) -> float:
        key = (candidate.way.floor, cols, rows, height)
        if key not in self._grams:
            self._grams[key] = self.terms.part_g(candidate, cols, rows, height)
        return self._grams[key]

    def parts(self, grid: Grid, placed: Sequence[Placed]) -> tuple[CostPart, ...]:
        """The cost of a space by its parts: grown, those of calmness, those of the wishes."""
        return (
            CostPart("grown", self._grown(placed)),
            *counts_of(grid, placed).parts,
            *wish_cost(grid, placed, self.wishes),
        )

    def cost(self, grid: Grid, placed: Sequence[Placed], *, limit: float = inf) -> float:
        """All of it, and what its candidates cost.

        Args:
            grid: the space.
            placed: what stands in it.
            limit: beyond it nobody asks how much it is; what is said then is above the limit, but too low.
        """
        own = sum(one.candidate.cost for one in placed if one.candidate) + self._grown(placed)
        if own > limit:
            return own
        own += counts_of(grid, placed).cost
        return own if own > limit else own + total(wish_cost(grid, placed, self.wishes))

    def _grown(self, placed: Sequence[Placed]) -> float:
        cells = sum(one.cols * one.rows - one.candidate.cols * one.candidate.rows for one in placed if one.candidate)
        return CRUMB * cells + self.terms.gram_cost * sum(self.grown_g(one) for one in placed)


def judge_of(
    asks: Sequence[Ask],
    module: Module,
    *,
    weights: Weights = USUAL,
    order: Sequence[str] = (),
    largest: tuple[int, int] | None = None,
) -> Judge:
    """A judge for the lots of a room.

    Args:
        asks: the lots.
        module: the household's module.
        weights: what counts how much.
        order: ids of lots or groups in the order that they should lie.
        largest: cells that print in one piece; no tray grows beyond them.
    """
    wishes = Wishes({ask.lot: ask for ask in asks}, module.pitch, weights, tuple(order))
    return Judge(Terms(module, weights, largest), wishes)


def total(parts: Iterable[CostPart]) -> float:
    """The sum of some parts of a cost."""
    return sum(part.value for part in parts)
