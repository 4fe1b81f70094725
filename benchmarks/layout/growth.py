"""How the layout grows: rooms of 10 spaces and more, ten lots a space, and when their gap to the bound falls below 5 %.

    growth.py [--spaces 10 30 100] [--most SECONDS] [--out ROWS.json]

Rooms are invented. One thread, one seed; the clock runs from the room as read to the first complete layout whose cost
is at most 5 % above the bound of the prices. A room that does not come there is reported with the gap that it has.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import time
from pathlib import Path
from typing import Any

from invented import invent
from trial_room import asks_of, compiled, grids_of

from nookwright.layout.effort import Effort
from nookwright.layout.problem import problem_of
from nookwright.layout.search.annealer import Annealer
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.table import table_of

GAP = 0.05
PARTS = 40
LOOSE_MOVES, TIGHT_STEPS = 6_000, 20_000  # for each lot


def grown(spaces: int, most_s: float, seed: int = 1) -> dict[str, Any]:
    """One room: its sizes, the time of each stage, and when the gap was reached."""
    room = invent(spaces, 10 * spaces, seed)
    began = time.perf_counter()
    problem = problem_of(grids_of(room), asks_of(room))
    relaxation = Relaxation(table_of(problem))
    ready_s = time.perf_counter() - began
    prices = raise_bound(relaxation)
    priced_s = time.perf_counter() - began
    one = Annealer(problem, relaxation, prices, effort=Effort(seed=seed), seed=seed)
    lots = len(room["lots"])
    for _ in one.assign((part / PARTS for part in range(PARTS)), moves=LOOSE_MOVES * lots // PARTS):
        pass
    one.pack()
    packed_s, reached_s = time.perf_counter() - began, None
    for _ in one.improve((part / PARTS for part in range(PARTS)), steps=TIGHT_STEPS * lots // PARTS):
        took_s = time.perf_counter() - began
        if one.complete and one.kept.cost[0] <= (1 + GAP) * prices.bound:
            reached_s = took_s
            break
        if took_s > most_s:
            break
    return {
        "spaces": spaces,
        "lots": lots,
        "ready_s": round(ready_s, 2),
        "priced_s": round(priced_s, 2),
        "packed_s": round(packed_s, 2),
        "reached_s": reached_s and round(reached_s, 2),
        "gap": round(float(one.kept.cost[0]) / prices.bound - 1, 4),
        "complete": one.complete,
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024,
        "load": round(os.getloadavg()[0], 1),
    }


def main() -> None:
    """Grow, print a row a room, write them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--spaces", type=int, nargs="+", default=[10, 30, 100])
    parser.add_argument("--most", type=float, default=600.0)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    compiled()
    rows = []
    for spaces in options.spaces:
        rows.append(grown(spaces, options.most))
        print(rows[-1], flush=True)
    if options.out:
        options.out.write_text(json.dumps(rows, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
