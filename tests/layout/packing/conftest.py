"""An independent checker: a packing is right if counting cell by cell says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.layout.packing import Footprint, Spot


@pytest.fixture(scope="session")
def covered() -> Callable[[Sequence[Footprint], Sequence[Spot | None]], list[tuple[int, int]]]:
    """All cells that a packing covers, with repetitions; fails where something is turned that may not be."""

    def cells(items: Sequence[Footprint], spots: Sequence[Spot | None]) -> list[tuple[int, int]]:
        found = []
        for item, spot in zip(items, spots, strict=True):
            if spot is None:
                continue
            assert item.may_turn or not spot.turned
            wide, deep = (item.rows, item.cols) if spot.turned else (item.cols, item.rows)
            found += [(spot.col + i, spot.row + j) for i in range(wide) for j in range(deep)]
        return found

    return cells
