"""Where each lot would like to be: its choices by price, and the layout that the prices alone would make."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.search.state import Kept

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nookwright.layout.search.prices import Prices, Relaxation
    from nookwright.layout.search.state import State

MOST = Fact(32, unit="1", kind=Kind.MEASURED, source="Favourite choices of a lot; best of 12 to 96 on invented rooms.")


class Favourites(NamedTuple):
    """For each lot, candidates and spaces, those that cost least with what they take first; and how many there are."""

    places: NDArray[np.int64]
    many: NDArray[np.int64]


def favourites_of(relaxation: Relaxation, prices: Prices, most: int = int(MOST)) -> Favourites:
    """The favourite choices of every lot.

    Args:
        relaxation: of the problem.
        prices: what cells and grams are worth.
        most: of each lot.
    """
    lots, spaces = len(relaxation.table.first) - 1, len(relaxation.table.cells)
    places, many = np.zeros((lots, most, 2), np.int64), np.zeros(lots, np.int64)
    for block in relaxation.blocks:
        priced = relaxation.priced(block, prices.cell, prices.gram)
        for mine, candidates, there, lot in zip(
            priced, block.candidates, block.there, relaxation.lots[block.lots], strict=True
        ):
            best = _lowest((mine + there).ravel(), most)
            many[lot] = len(best)
            places[lot, : len(best), 0] = candidates[best // spaces]
            places[lot, : len(best), 1] = best % spaces
    return Favourites(places, many)


def _lowest(costs: NDArray[np.float64], most: int) -> NDArray[np.int64]:
    """Where the lowest costs stand that are finite, the lowest first."""
    limit = np.partition(costs, most - 1)[most - 1] if len(costs) > most else np.inf
    low = np.flatnonzero((costs <= limit) & np.isfinite(costs))
    return low[np.argsort(costs[low], kind="stable")][:most]


def wishful(relaxation: Relaxation, prices: Prices, state: State) -> Kept:
    """Every lot where it would be if the prices were all; spaces may be too full, but no fuller than a state can hold.

    Args:
        relaxation: of the problem.
        prices: what cells and grams are worth.
        state: what will hold it.
    """
    most = state.order.shape[1]
    chosen, space = np.full_like(state.chosen, -1), np.full_like(state.space, -1)
    inside = np.zeros(len(state.many), np.int64)
    candidates, spaces = relaxation.choose(prices.cell, prices.gram)
    for lot, one, place in zip(relaxation.lots, candidates, spaces, strict=True):
        if inside[place] < most:
            chosen[lot], space[lot] = one, place
            inside[place] += 1
    return Kept(np.array([np.inf]), chosen, space, np.full_like(state.at, -1), np.zeros_like(state.turned))
