"""Exchanges in the order of bedfuls that make a schedule better: some hundred thousands of them.

What is better: first an earlier end; then spaces that are ready earlier, little at risk in nights with nobody there,
and few changes of filament. A bedful is moved, two are exchanged, one is given to another printer; what is worse is
taken too at first, less and less as a walk goes on. The random source has a fixed seed, and the tries are counted.

Source: S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Optimization by simulated annealing, Science 220 (1983).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.tables import Tables
    from nookwright.making.schedule.walks import Order

    Sequences = Mapping[str, Sequence[str]]

HEATS_MIN = (
    Fact(4000.0, unit="min", kind=Kind.MEASURED, source="Of 50 to 4000 tried on the demo, best for the first walk."),
    Fact(1000.0, unit="min", kind=Kind.MEASURED, source="The second begins from the best of the first."),
    Fact(200.0, unit="min", kind=Kind.MEASURED, source="The third puts right what is left."),
)
COLDEST_MIN = Fact(5.0, unit="min", kind=Kind.CHOICE, source="At the end nearly nothing worse is taken.")
FARTHEST = Fact(12, unit="1", kind=Kind.CHOICE, source="Places that a bedful is moved at once; farther seldom helps.")
FINE_MIN = Fact(
    200.0,
    unit="min",
    kind=Kind.MEASURED,
    source="A minute that a space is late counts so many times; best of 20 to 1000.",
)
ENOUGH = Fact(
    6.0,
    unit="1",
    kind=Kind.MEASURED,
    source="Tries of a walk for each order there is: none of 335 stages of 2 to 8 bedfuls ended worse than by all.",
)
LEAST_TRIES = Fact(2000.0, unit="1", kind=Kind.MEASURED, source="Fewer missed the best order of two bedfuls twice.")
NEVER_MIN = Fact(2.0**40, unit="min", kind=Kind.CHOICE, source="Later than any schedule.")
_SEED = 0x9E3779B97F4A7C15


def improved(
    tables: Tables, order: Sequences, *, puts: int, strict: bool, ready: bool, by: Mapping[str, int] | None = None
) -> Sequences:
    """The best order that exchanges lead to, those of three walks one after another.

    Args:
        tables: bedfuls, hours and rules.
        order: to begin with, the ids of each printer; every bedful is in it, and spaces are in time.
        puts: how many bedfuls are placed in all tries together.
        strict: whether spaces come one after another on each printer.
        ready: whether it counts when each space is ready.
        by: minute by which a space must be ready, by its id; those that have time are left out.
    """
    from nookwright.making.schedule.walks import Wish, desk_for, walk

    late = np.array([(by or {}).get(space, int(NEVER_MIN)) for space in tables.spaces], np.int64)
    wish = Wish(np.int64(strict), late, np.int64(ready), np.float64(FINE_MIN))
    desk, rng = desk_for(tables.columns), np.array([_SEED], np.uint64)
    best = _numbered(tables, order)
    tries = puts // (len(HEATS_MIN) * max(1, len(tables.bedfuls)))
    enough = int(ENOUGH) * orders_of(len(tables.bedfuls), len(tables.printers))  # an int: of 171 no float holds it
    tries = min(tries, max(int(LEAST_TRIES), enough))
    for hottest in HEATS_MIN if tries else ():
        walked = _copied(best)
        heat = np.array([hottest, COLDEST_MIN], np.float64)
        walk(tables.columns, desk, walked, best, wish, rng, heat, tries, int(FARTHEST))
    return {
        printer: tuple(tables.bedfuls[number] for number in row[:size])
        for printer, row, size in zip(tables.printers, best.rows, best.size, strict=True)
    }


def orders_of(bedfuls: int, printers: int) -> int:
    """In how many orders so many bedfuls can be shared out to printers: a few have not many, and need no long walk.

    >>> orders_of(3, 1), orders_of(6, 2)
    (6, 5040)

    Args:
        bedfuls: how many.
        printers: how many, at least one.
    """
    return math.factorial(bedfuls) * math.comb(bedfuls + printers - 1, printers - 1)


def _numbered(tables: Tables, order: Sequences) -> Order:
    """An order as the kernels take it."""
    from nookwright.making.schedule.walks import Order

    number = {name: at for at, name in enumerate(tables.bedfuls)}
    rows = np.zeros((len(tables.printers), len(tables.bedfuls) + 1), np.int64)
    size = np.zeros(len(tables.printers), np.int64)
    for at, printer in enumerate(tables.printers):
        mine = [number[name] for name in order.get(printer, ())]
        rows[at, : len(mine)], size[at] = mine, len(mine)
    return Order(rows, size)


def _copied(order: Order) -> Order:
    return type(order)(order.rows.copy(), order.size.copy())
