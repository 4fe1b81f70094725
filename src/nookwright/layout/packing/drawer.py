"""Packing the footprints of one space into its cells, as fully as the tries allow.

First some plain orders, large before small; then walks from the best of them, each of so many tries (``kernels`` tells
what a walk does). The search never looks at a clock. It runs in plain Python while numba is not loaded and there is
little to do, else in the kernels, and finds the same either way.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Protocol

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.bits import free_cells, stride
from nookwright.layout.packing import plain
from nookwright.layout.packing.found import Footprint, Packing, Spot, Walk
from nookwright.layout.packing.moves import LEG, state_from
from nookwright.layout.packing.orders import first_orders
from nookwright.layout.packing.words import WORD, exchanged, in_kernels

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from random import Random

    from nookwright.layout.packing.found import Order

WORTH_LOADING = Fact(
    300_000,
    unit="footprints",
    kind=Kind.MEASURED,
    source="Tries times footprints that plain Python packs in 0.3 s; loading the kernels takes 0.8 to 1.5 s, once.",
)
_KERNELS = "nookwright.layout.packing.kernels"


class _Engine(Protocol):
    """What searches: plain Python or the kernels."""

    def __call__(
        self, free: int, step: int, items: Sequence[Footprint], order: Order, *, tries: int, state: int
    ) -> Walk: ...


def pack(
    cols: int,
    rows: int,
    blocked: Iterable[tuple[int, int]],
    items: Sequence[tuple[int, int]],
    *,
    tries: int,
    seed: int,
    turn: bool | Sequence[bool] = True,
    start: Sequence[tuple[int, bool]] | None = None,
) -> Packing:
    """Pack footprints into a space as fully as the tries allow; the same arguments give the same packing.

    Args:
        cols: of the space.
        rows: of the space.
        blocked: cells that nothing may cover.
        items: columns and rows of each footprint.
        tries: packings at most.
        seed: of the search.
        turn: whether footprints may be turned by 90 degrees, all alike or one by one.
        start: an order to begin with, as another packing hands it back.
    """
    free = free_cells(cols, rows, blocked)
    return _packed(free, stride(cols), items, tries=tries, state=state_from(seed), turn=turn, start=start)


def pack_free(
    free: int,
    step: int,
    items: Sequence[tuple[int, int]],
    *,
    tries: int,
    random: Random,
    turn: bool | Sequence[bool] = True,
    start: Sequence[tuple[int, bool]] | None = None,
) -> Packing:
    """Pack into a mask of free cells of a given stride (see ``layout/bits``); else like ``pack``."""
    state = state_from(random.getrandbits(int(WORD) - 1))
    return _packed(free, step, items, tries=tries, state=state, turn=turn, start=start)


def _packed(
    free: int,
    step: int,
    sizes: Sequence[tuple[int, int]],
    *,
    tries: int,
    state: int,
    turn: bool | Sequence[bool],
    start: Sequence[tuple[int, bool]] | None,
) -> Packing:
    """Choose what searches, exchange columns and rows of a wide space, and search."""
    may = [turn] * len(sizes) if isinstance(turn, bool) else turn
    items = [Footprint(cols, rows, bool(one) and cols != rows) for (cols, rows), one in zip(sizes, may, strict=True)]
    starts = [tuple(start)] if start is not None else first_orders(items)
    deep = -(-free.bit_length() // step)
    if step - 1 > WORD >= deep:
        other = [Footprint(rows, cols, turns) for cols, rows, turns in items]
        found = _search(exchanged(free, step), deep + 1, other, starts, tries=tries, state=state)
        spots = tuple(spot and Spot(spot.row, spot.col, spot.turned) for spot in found.spots)
        return Packing(spots, found.order, found.tries)
    return _search(free, step, items, starts, tries=tries, state=state)


def _engine(step: int, work: int) -> _Engine:
    """What searches a space of a stride with so much to do."""
    if step - 1 > WORD or (work < WORTH_LOADING and _KERNELS not in sys.modules):
        return plain.search
    return in_kernels


def _search(
    free: int, step: int, items: Sequence[Footprint], starts: Sequence[Order], *, tries: int, state: int
) -> Packing:
    """The best packing of several walks from the best start; stops when all is in or the tries are used up."""
    engine = _engine(step, tries * len(items))
    best = Walk(Packing((None,) * len(items), (), 0), sum(item.cols * item.rows for item in items) + 1, state)
    used = 0
    for order in starts[: max(0, tries)]:
        looked = engine(free, step, items, order, tries=1, state=state)
        best, used = min(best, looked, key=lambda walk: walk.left), used + 1
        if not best.left:
            break
    begin = best.packing.order
    while best.left and used < tries and len(items) > 1:
        walk = engine(free, step, items, begin, tries=min(tries - used, int(LEG * len(items))), state=state)
        best, used, state = min(best, walk, key=lambda walk: walk.left), used + walk.packing.tries, walk.state
    return Packing(best.packing.spots, best.packing.order, used)
