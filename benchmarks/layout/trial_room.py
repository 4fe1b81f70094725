"""Lay out a trial room and say how good the layout is.

    trial_room.py ROOM.json [--seconds S] [--out LAYOUT.json]

A trial room is invented: spaces (cols, rows, blocked rectangles, height, load, reach), lots (footprints and
the cost of each, height, mass, use) and pairs that belong together. The layout written is a list with one entry
a lot: null, or [space, footprint, col, row, turned]. Seconds choose the number of moves, so that a run can be
repeated.
"""

from __future__ import annotations

import argparse
import json
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nookwright.layout.model import Ask, Candidate, Grid, Layout
from nookwright.layout.place import Effort, lay_out
from nookwright.layout.problem import SPLIT
from nookwright.sizing.ways import PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Stance

if TYPE_CHECKING:
    from collections.abc import Iterable

MOVES_PER_SECOND = 60_000
SOLVER_S = 2.5  # the two assignments
PITCH = 18.0


def grids_of(room: dict[str, Any]) -> tuple[Grid, ...]:
    """The spaces of a trial room."""
    return tuple(
        Grid(
            space=f"{number:03d}",
            cols=space["cols"],
            rows=space["rows"],
            blocked=tuple(
                sorted({(c, r) for x, y, w, d in space["blocked"] for c in range(x, x + w) for r in range(y, y + d)})
            ),
            height=space["height"],
            load_g=space["load_g"],
            reach=space["reach"],
            children=False,
            fill=True,
        )
        for number, space in enumerate(room["spaces"])
    )


def bonds_of(near: Iterable[str]) -> tuple[tuple[str, float], ...]:
    """Each pair at the same cost."""
    return tuple((other, float(SPLIT)) for other in near)


def asks_of(room: dict[str, Any]) -> tuple[Ask, ...]:
    """The lots of a trial room."""
    near: dict[int, list[str]] = {}
    for one, other in room["together"]:
        near.setdefault(one, []).append(f"{other:04d}")
    thing = ThingSize(1.0, 1.0, 1.0, "")
    way = Way(PartKind.TRAY, Stance.UPRIGHT, thing, 1, 1, 1, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, FloorStyle.SHELL, 0.0)
    asks = []
    for number, lot in enumerate(room["lots"]):
        candidates = tuple(
            Candidate(f"{number:04d}", way, cols, rows, lot["height"], lot["height"], lot["mass_g"], cost)
            for (cols, rows), cost in zip(lot["footprints"], lot["footprint_cost"], strict=True)
        )
        asks.append(Ask(f"{number:04d}", candidates, lot["use"], bonds_of(near.get(number, ())), out_of_reach=False))
    return tuple(asks)


def as_list(room: dict[str, Any], layout: Layout) -> list[list[int] | None]:
    """The layout in the form that is scored."""
    entries: list[list[int] | None] = [None] * len(room["lots"])
    for placed in layout.placed:
        if placed.candidate is None:
            continue
        number = int(placed.candidate.lot)
        size = [placed.candidate.cols, placed.candidate.rows]
        choice = room["lots"][number]["footprints"].index(size)
        entries[number] = [int(placed.space), choice, placed.col, placed.row, int(placed.turned)]
    return entries


def main() -> None:
    """Read, lay out, write, report."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("room", type=Path)
    parser.add_argument("--seconds", type=float, default=3.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    room = json.loads(options.room.read_text(encoding="utf-8"))
    began = time.perf_counter()
    effort = Effort(seed=options.seed, moves=int(MOVES_PER_SECOND * max(options.seconds - SOLVER_S, 0.5)))
    layout = lay_out(grids_of(room), asks_of(room), pitch=PITCH, effort=effort)
    took_s = time.perf_counter() - began
    if options.out:
        options.out.write_text(json.dumps(as_list(room, layout)), encoding="utf-8")
    cost = sum(part.value for part in layout.cost)
    print(
        f"{room['name']}: cost {cost:.0f}, bound {layout.bound:.1f}, gap {100 * layout.gap:.2f} %, "
        f"left out {len(layout.left_out)}, {took_s:.1f} s, iterations {layout.iterations}"
    )


if __name__ == "__main__":
    main()
