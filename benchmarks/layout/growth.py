"""How the layout grows: rooms of 10 to 1,000 spaces, ten lots a space, and when their gap to the bound falls below 5 %.

    growth.py [--spaces 10 30 100] [--most SECONDS] [--out ROWS.json]

Rooms are invented. One thread, one seed; what is counted is the processor time of that thread, from the room as read to
the first complete layout whose cost is at most 5 % above the bound of the prices. A larger room is given more time, in
proportion, up to the most; the search cools over the time that it has. Assignments before it are made by counts, as in
the product. A room that does not come to 5 % is reported with the gap that it has at the end.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import resource
import time
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from invented import invent
from trial_room import asks_of, compiled, grids_of

from nookwright.layout.effort import LOOSE_SHARE, PARTS, STARTS, Effort
from nookwright.layout.effort import MOVES as TIGHT_MOVES
from nookwright.layout.problem import problem_of
from nookwright.layout.search.annealer import Annealer
from nookwright.layout.search.greedy import first_draft
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.table import table_of

if TYPE_CHECKING:
    from collections.abc import Iterator

GAP = 0.05
LOT_S = 0.06  # of the search, for each lot
STEPS = 400_000  # of one part, some hundredths of a second


def _until(end_s: float) -> Iterator[float]:
    """How much of the processor time from now is over, again and again until it is."""
    began = time.thread_time()
    while (now := time.thread_time()) < end_s:
        yield (now - began) / (end_s - began)


def grown(spaces: int, most_s: float, seed: int = 1) -> dict[str, Any]:
    """One room: its sizes, the time of each stage, and when the gap was reached.

    Args:
        spaces: how many; ten lots each.
        most_s: processor time in all, s.
        seed: of the room.
    """
    compiled()
    room = invent(spaces, 10 * spaces, seed)
    began = time.thread_time()
    problem = problem_of(grids_of(room), asks_of(room))
    first = first_draft(problem, Random(seed))  # noqa: S311 - nothing secret
    first_s = time.thread_time() - began
    relaxation = Relaxation(table_of(problem))
    prices = raise_bound(relaxation)
    priced_s = time.thread_time() - began
    one = Annealer(problem, relaxation, prices, effort=Effort(seed=seed), seed=seed)
    end_s = min(most_s, priced_s + LOT_S * len(room["lots"]))
    for _ in range(int(STARTS)):
        moves = int(LOOSE_SHARE * TIGHT_MOVES / STARTS) * len(room["lots"]) // int(PARTS)
        for _ in one.assign((part / PARTS for part in range(int(PARTS))), moves=moves):
            pass
        one.pack()
    packed_s, reached_s = time.thread_time() - began, None
    for _ in one.improve(_until(began + end_s), steps=STEPS):
        if one.complete and one.kept.cost[0] <= (1 + GAP) * prices.bound:
            reached_s = time.thread_time() - began
            break
    return {
        "spaces": spaces,
        "lots": len(room["lots"]),
        "first_s": round(first_s, 2),
        "first_out": first.chosen.count(None),
        "priced_s": round(priced_s, 1),
        "packed_s": round(packed_s, 1),
        "end_s": round(time.thread_time() - began, 1),
        "reached_s": reached_s and round(reached_s, 1),
        "gap": round(float(one.kept.cost[0]) / prices.bound - 1, 4),
        "complete": one.complete,
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
        "load": round(os.getloadavg()[0], 1),
    }


def grown_apart(spaces: int, most_s: float, seed: int = 1) -> dict[str, Any]:
    """The same in a process of its own, so that its peak of memory is its own.

    Args:
        spaces: how many; ten lots each.
        most_s: processor time in all, s.
        seed: of the room.
    """
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        return pool.apply(grown, (spaces, most_s, seed))


def main() -> None:
    """Grow, print a row a room, write them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--spaces", type=int, nargs="+", default=[10, 30, 100])
    parser.add_argument("--most", type=float, default=600.0)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    rows = []
    for spaces in options.spaces:
        rows.append(grown_apart(spaces, options.most))
        print(rows[-1], flush=True)
    if options.out:
        options.out.write_text(json.dumps(rows, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
