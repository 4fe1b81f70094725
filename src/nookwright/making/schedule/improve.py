"""Small exchanges in the order of bedfuls that make a schedule better.

What is better: first an earlier end; then spaces that are ready earlier, little at risk in nights with nobody there,
and few changes of filament. An exchange never breaks the order of spaces. The random source has a fixed seed, and the
tries are counted.
"""

from __future__ import annotations

import math
import random
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.decode import Decoder, Put

HOTTEST = Fact(200.0, unit="min", kind=Kind.CHOICE, source="Of 30, 300, 1500 and 6000 tried, the two lowest were best.")
COLDEST = Fact(5.0, unit="min", kind=Kind.CHOICE, source="At the end nearly nothing worse is taken.")
FARTHEST = Fact(12, unit="1", kind=Kind.CHOICE, source="Places that a bedful is moved at once; farther seldom helps.")

Sequences = dict[str, list[str]]


def improved(decoder: Decoder, order: Mapping[str, Sequence[str]], *, tries: int, bound: int) -> list[Put] | None:
    """The best schedule that exchanges lead to; what is worse is taken too at first, less and less as they go on.

    Source: S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Optimization by simulated annealing, Science 220 (1983).

    Args:
        decoder: of the bedfuls.
        order: to begin with.
        tries: how many exchanges.
        bound: minute before which no schedule can end.

    Returns:
        What is put where, in order of time; ``None`` where the hours end before all of the order is placed.
    """
    current: Sequences = {printer: list(order.get(printer, ())) for printer in decoder.starts.hours}
    best = decoder.puts(current)
    if best is None:
        return None
    here = top = decoder.worth(best)
    source = random.Random(1)  # noqa: S311 - the same exchanges each time
    for number in range(tries):
        other = _exchanged(current, decoder, source)
        puts = decoder.puts(other) if other else None
        if other is None or puts is None:
            continue
        worth, heat = decoder.worth(puts), HOTTEST * (COLDEST / HOTTEST) ** (number / tries)
        if worth.end >= bound and source.random() < math.exp(min(0.0, (here.pull - worth.pull) / heat)):
            current, here = other, worth
            if worth.rank < top.rank:
                best, top = puts, worth
    return best


def _exchanged(order: Sequences, decoder: Decoder, source: random.Random) -> Sequences | None:
    """The order with one bedful moved or two exchanged; ``None`` where that breaks the order of spaces."""
    printers = [printer for printer, names in order.items() if names]
    printer = source.choice(printers)
    names = list(order[printer])
    at = source.randrange(len(names))
    kind = source.random()
    if kind < 0.2:  # noqa: PLR2004 - one try in five
        return _moved_over(order, printer, at, decoder, source)
    to = max(0, min(len(names) - 1, at + source.choice((-1, 1)) * source.randint(1, int(FARTHEST))))
    if to == at:
        return None
    if kind < 0.6:  # noqa: PLR2004 - two in five
        names[at], names[to] = names[to], names[at]
    else:
        names.insert(to, names.pop(at))
    return {**order, printer: names} if _in_order(names, decoder) else None


def _moved_over(order: Sequences, printer: str, at: int, decoder: Decoder, source: random.Random) -> Sequences | None:
    """A bedful given to another printer that may print it, among those of its rank there."""
    name = order[printer][at]
    others = [way.printer for way in decoder.bedfuls[name].ways if way.printer != printer and way.printer in order]
    if not others:
        return None
    other = source.choice(others)
    names = list(order[other])
    names.insert(source.randint(0, len(names)), name)
    if not _in_order(names, decoder):
        return None
    return {**order, printer: [one for one in order[printer] if one != name], other: names}


def _in_order(names: Sequence[str], decoder: Decoder) -> bool:
    """Whether ranks never go down."""
    ranks = [decoder.starts.rules.rank(decoder.bedfuls[name]) for name in names]
    return ranks == sorted(ranks)
