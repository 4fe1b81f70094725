"""How much of a gap is the bound's: how much it rises when spaces can be filled to a share of their cells only.

    bound_share.py SPACES LOTS SEED

The bound lets every space be filled to the last cell. Spaces that are packed for real are filled to 97 or 98 %, single
ones to the last cell; so what the bound gains at 98 % is about what no packing can win, though that is not proven.
"""

from __future__ import annotations

import sys
from typing import Any

import numpy as np
from invented import invent
from trial_room import asks_of, grids_of

from nookwright.layout.problem import problem_of
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.table import table_of

SHARES = (0.98, 0.965)


def risen(room: dict[str, Any]) -> tuple[float, ...]:
    """By how much the bound of the prices rises at each share, as a share of it.

    Args:
        room: a trial room.
    """
    table = table_of(problem_of(grids_of(room), asks_of(room)))
    full = raise_bound(Relaxation(table)).bound
    less = (table._replace(cells=np.floor(share * table.cells).astype(np.int64)) for share in SHARES)
    return tuple(raise_bound(Relaxation(one)).bound / full - 1 for one in less)


def main() -> None:
    """Print a line for a room of so many spaces, lots and a seed."""
    spaces, lots, seed = (int(word) for word in sys.argv[1:])
    print(
        ", ".join(
            f"at {share}: {more:.2%}" for share, more in zip(SHARES, risen(invent(spaces, lots, seed)), strict=True)
        )
    )


if __name__ == "__main__":
    main()
