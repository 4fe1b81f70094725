"""How many bedfuls fail: believed to be one in twenty, and learned from those that did and did not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

SHARE = Fact(0.05, unit="1", kind=Kind.COMMON_PRACTICE, source="Bedfuls that fail on a printer that is looked after.")
WORTH = Fact(20.0, unit="bedfuls", kind=Kind.CHOICE, source="So many bedfuls change what is believed of their failing.")


@dataclass(frozen=True)
class Spoilage:
    """What is believed of the share of bedfuls that fail: a beta distribution.

    Attributes:
        failed: failures, those that were believed before among them.
        done: the same of bedfuls that came out.
    """

    failed: float
    done: float

    @property
    def share(self) -> float:
        """Its mean."""
        return self.failed / (self.failed + self.done)

    @property
    def tries(self) -> float:
        """How many bedfuls have to be started until one comes out, on average.

        >>> round(Spoilage(1.0, 19.0).tries, 4)
        1.0556
        """
        return (self.failed + self.done - 1) / (self.done - 1) if self.done > 1 else float("inf")

    def most(self, sure: float = 0.95) -> float:
        """What the share is below, so surely.

        Args:
            sure: how surely, 0 to 1.
        """
        from scipy.special import betaincinv

        return float(betaincinv(self.failed, self.done, sure))


def spoilage_of(failed: Iterable[bool]) -> Spoilage:
    """What is believed after some bedfuls.

    Args:
        failed: for each whether it failed.

    >>> spoilage_of([]).share, spoilage_of([True] + [False] * 19).share
    (0.05, 0.05)
    """
    seen = list(failed)
    lost = sum(seen)
    return Spoilage(float(SHARE * WORTH) + lost, float((1 - SHARE) * WORTH) + len(seen) - lost)
