"""Invented rooms of the form of the trial rooms, of any size, drawn from a seed.

invented.py SPACES LOTS [--seed N] > ROOM.json
"""

from __future__ import annotations

import argparse
import json
from random import Random
from typing import Any

IN_THE_WAY, AT_WALL = 0.6, 0.7  # shares of spaces, of what is in their way
HEIGHTS = (5, 7, 9, 12, 16)
LOT_HEIGHTS = (3, 4, 4, 5, 5, 6, 6, 7, 8, 9, 11, 14)
FARTHEST = 9


def invent(spaces: int, lots: int, seed: int) -> dict[str, Any]:
    """A room: drawers of 18 to 28 by 20 to 26 cells, most with something in the way, and lots of 2 to 8 cells."""
    random = Random(seed)  # noqa: S311 - nothing secret
    room: dict[str, Any] = {
        "name": f"{spaces}-{lots}-{seed}",
        "spaces": [_space(random, number * (FARTHEST + 1) // spaces) for number in range(spaces)],
        "lots": [_lot(random) for _ in range(lots)],
    }
    mixed = random.sample(range(lots), 2 * (lots // 4))
    room["together"] = [[min(pair), max(pair)] for pair in zip(mixed[::2], mixed[1::2], strict=True)]
    return room


def _space(random: Random, reach: int) -> dict[str, Any]:
    cols, rows = random.randint(18, 28), random.randint(20, 26)
    blocked = []
    if random.random() < IN_THE_WAY:
        for _ in range(random.randint(1, 2)):
            wide, deep = random.randint(1, 4), random.randint(2, 6)
            at_wall = random.random() < AT_WALL
            col = random.choice([0, cols - wide]) if at_wall else random.randint(0, cols - wide)
            blocked.append([col, random.randint(0, rows - deep), wide, deep])
    load_g = 1000 * random.randint(6, 12)
    return {
        "cols": cols,
        "rows": rows,
        "blocked": blocked,
        "height": random.choice(HEIGHTS),
        "load_g": load_g,
        "reach": reach,
    }


def _lot(random: Random) -> dict[str, Any]:
    one, other = random.randint(2, 8), random.randint(4, 8)
    short, long = min(one, other), max(one, other)
    footprints, costs = [[long, short]], [0]
    smaller = [[a, b] for a in range(8, 1, -1) for b in range(a, 1, -1) if 0.5 * short * long < a * b < short * long]
    for side in sorted(
        random.sample(smaller, min(random.randint(1, 4), len(smaller))), key=lambda one: -one[0] * one[1]
    ):
        if side[0] * side[1] < footprints[-1][0] * footprints[-1][1]:
            footprints.append(side)
            costs.append(costs[-1] + random.randint(2, 7))
    mass_g = round(40 * 25 ** random.random())
    height, use = random.choice(LOT_HEIGHTS), random.randint(1, 10)
    return {"footprints": footprints, "footprint_cost": costs, "height": height, "mass_g": mass_g, "use": use}


def main() -> None:
    """Print a room."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("spaces", type=int)
    parser.add_argument("lots", type=int)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print(json.dumps(invent(options.spaces, options.lots, options.seed)))


if __name__ == "__main__":
    main()
