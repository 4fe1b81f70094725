"""What the searches draw: a small generator of our own, and how often an order is changed in which way.

The generator is xorshift64* (S. Vigna, ACM Transactions on Mathematical Software 42 (2016) 30): three shifts and a
product on 64 bits. It is written twice, here and in ``kernels``, and gives the same numbers on every machine.
"""

from __future__ import annotations

from typing import Final

from nookwright.ground.sources import Fact, Kind

LEG = Fact(
    100,
    unit="tries",
    kind=Kind.MEASURED,
    source="For each footprint, then the search starts anew: on perfect packings of 16 to 39, best of 100 to 1600.",
)
BRING_SHARE = Fact(0.1, unit="1", kind=Kind.CHOICE, source="Share of changes that bring forward what stayed out.")
TURN_SHARE = Fact(0.2, unit="1", kind=Kind.CHOICE, source="Share of changes that turn one footprint.")
MOVE_SHARE = Fact(0.4, unit="1", kind=Kind.CHOICE, source="Share of changes that move one; the others swap two.")

_HALF: Final = 32  # bits of a number drawn
_WHOLE: Final = (1 << 64) - 1
_SPREAD: Final = 0x9E3779B97F4A7C15  # 2^64 over the golden ratio: neighbouring seeds begin far apart
_PRODUCT: Final = 0x2545F4914F6CDD1D

# The same shares, added up, in 2^-32: whole numbers compare alike everywhere.
BRINGS: Final = Fact(int(BRING_SHARE * (1 << _HALF)), unit="2^-32", kind=Kind.CALCULATED, source="BRING_SHARE.")
TURNS: Final = Fact(BRINGS + int(TURN_SHARE * (1 << _HALF)), unit="2^-32", kind=Kind.CALCULATED, source="And turns.")
MOVES: Final = Fact(TURNS + int(MOVE_SHARE * (1 << _HALF)), unit="2^-32", kind=Kind.CALCULATED, source="And moves.")


def state_from(seed: int) -> int:
    """The state that a search begins with; never nought, at which the generator would stay.

    >>> state_from(0), state_from(1) != state_from(2)
    (11400714819323198485, True)
    """
    return ((seed + 1) * _SPREAD & _WHOLE) or _PRODUCT


class Draws:
    """Numbers drawn one after the other, as the kernels draw them."""

    def __init__(self, state: int) -> None:
        self.state = state

    def draw(self) -> int:
        """A whole number of 32 bits.

        >>> draws = Draws(1)
        >>> draws.draw(), draws.draw()
        (1206177355, 2882512552)
        """
        x = self.state
        x ^= x >> 12
        x = (x ^ x << 25) & _WHOLE
        x ^= x >> 27
        self.state = x
        return (x * _PRODUCT & _WHOLE) >> _HALF

    def below(self, count: int) -> int:
        """A whole number from 0 to one less than the count."""
        return self.draw() * count >> _HALF
