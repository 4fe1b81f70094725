"""The free cells of a space as one big integer: bit ``row * stride + col`` is set where a cell is free.

The stride is one more than the columns. The bit after each row is never free, so a rectangle that would run
out of a row on the right meets it, and a shift by one never wraps round. All places of a rectangle are found
together by a few shifts; the lowest set bit is the front-most, then left-most one.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


def stride(cols: int) -> int:
    """Bits from one row to the next."""
    return cols + 1


@lru_cache(maxsize=4096)
def rectangle(cols: int, rows: int, step: int) -> int:
    """The cells of a rectangle at the front left corner.

    >>> bin(rectangle(2, 2, 4))
    '0b110011'
    """
    row, mask = (1 << cols) - 1, 0
    for number in range(rows):
        mask |= row << (number * step)
    return mask


def free_cells(cols: int, rows: int, blocked: Iterable[tuple[int, int]]) -> int:
    """The free cells of a space, those that are blocked taken out.

    >>> free_cells(2, 1, [(0, 0)])
    2
    """
    step = stride(cols)
    mask = rectangle(cols, rows, step)
    for col, row in blocked:
        if 0 <= col < cols and 0 <= row < rows:
            mask &= ~(1 << (row * step + col))
    return mask


def _doublings(length: int, step: int) -> list[int]:
    """Shifts after which a bit stands only where ``length`` bits in a row, ``step`` apart, were set."""
    shifts, reached = [], 1
    while reached < length:
        more = min(reached, length - reached)
        shifts.append(more * step)
        reached += more
    return shifts


def shifts_for(cols: int, rows: int, step: int) -> tuple[int, ...]:
    """The shifts that find all places of a rectangle; see ``places``.

    >>> shifts_for(3, 2, 10)
    (1, 1, 10)
    """
    return tuple(_doublings(cols, 1) + _doublings(rows, step))


def places(free: int, shifts: tuple[int, ...]) -> int:
    """The front left cells from which a rectangle is free, as a mask.

    >>> places(free_cells(3, 2, [(0, 0)]), shifts_for(2, 2, 4))
    2
    """
    for shift in shifts:
        free &= free >> shift
    return free


def first(mask: int) -> int:
    """The index of the lowest set bit.

    >>> first(0b1000)
    3
    """
    return (mask & -mask).bit_length() - 1
