"""Chance: all that is drawn comes from one source of random numbers.

A long run gives a source that follows from the number of a case; a property test gives one that Hypothesis steers
(``strategies.randoms(use_true_random=False)``), so that it can shrink what fails. What is drawn is written down once.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Self, TypeVar

if TYPE_CHECKING:
    from collections.abc import Sequence

Option = TypeVar("Option")
AT_AN_EDGE = 0.15  # of lengths, at either end of their range


class Chance:
    """Numbers and choices as people and sums make them."""

    def __init__(self, random: Random) -> None:
        """Draw from a source.

        Args:
            random: the source.
        """
        self.random = random

    @classmethod
    def of(cls, number: int) -> Self:
        """The chance of a number: the same number gives the same."""
        return cls(Random(number))  # noqa: S311 - no secret

    def length(self, low: float, high: float) -> float:
        """A length: whole, of one decimal, or with all decimals; it may lie outside by its rounding."""
        value = self.random.uniform(low, high)
        return self.pick((float(round(value)), round(value, 1), value))

    def within(self, low: float, high: float) -> float:
        """A length between two, often one of them."""
        if high <= low:
            return low
        return self.pick((low, high)) if self.often(AT_AN_EDGE) else min(high, max(low, self.length(low, high)))

    def whole(self, low: int, high: int) -> int:
        """A whole number, both ends included."""
        return self.random.randint(low, max(low, high))

    def pick(self, options: Sequence[Option]) -> Option:
        """One of some."""
        return self.random.choice(options)

    def often(self, share: float) -> bool:
        """Whether something happens that happens in such a share of cases."""
        return self.random.random() < share
