"""Lay out a trial room in so many seconds and say how good the layout is.

    trial_room.py ROOM.json [--seconds S] [--seed N] [--cpu] [--out LAYOUT.json]

A trial room is invented: spaces (cols, rows, blocked rectangles, height, load, reach), lots (footprints and
the cost of each, height, mass, use) and pairs that belong together. The layout written is a list with one entry
a lot: null, or [space, footprint, col, row, turned].

Only here the clock ends a search: seconds are counted from after imports and compiling to the written layout. Two
threads: one anneals; the other first works on the solver's bound, where the room is small enough for it, then
anneals with another seed; the better of the two is written. On a busy machine ``--cpu`` counts the processor time
that each of the two threads got, about what an idle machine with two cores would give; the wall clock is reported too.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from nookwright.layout.assignment import assign
from nookwright.layout.draft import Draft
from nookwright.layout.effort import FACTOR, FEW_COLUMNS, MOST_COLUMNS, STARTS, Effort
from nookwright.layout.model import Ask, Candidate, Grid
from nookwright.layout.problem import SPLIT, problem_of
from nookwright.layout.programme import Limits
from nookwright.layout.search.annealer import Annealer
from nookwright.layout.search.prices import Relaxation, raise_bound
from nookwright.layout.search.result import layout_of
from nookwright.layout.search.table import table_of
from nookwright.layout.search.work import laid_out
from nookwright.sizing.ways import PartKind, ThingSize, Way
from nookwright.survey.models import FloorStyle, Stance

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from nookwright.layout.model import Layout
    from nookwright.layout.problem import Problem

LOOSE_SHARE = 0.2  # of the time, for the assignment
SOLVER_SHARE = 0.25  # of the time, for an assignment by the solver, where the room is small enough for it
PROOF_SHARE = 0.45  # of the time, for the solver's bound in the second thread
STEPS, MOVES = 40_000, 20_000  # of one part, some hundredths of a second
WRITE_S = 0.05  # from the last step to the written file


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


@dataclass
class Bound:
    """What is proven so far."""

    prices: float = 0.0
    solver: float = 0.0

    @property
    def best(self) -> float:
        """The higher of the two."""
        return max(self.prices, self.solver)


@dataclass
class Race:
    """Two threads on one room."""

    problem: Problem
    seed: int
    seconds: float
    clock: Callable[[], float] = time.perf_counter
    bound: Bound = field(default_factory=Bound)
    found: list[Annealer] = field(default_factory=list)

    def run(self) -> Layout:
        """The better layout of the two threads."""
        began = self.clock()
        self.relaxation = Relaxation(table_of(self.problem))
        self.prices = raise_bound(self.relaxation)
        self.bound.prices = self.prices.bound
        left = self.seconds - WRITE_S - (self.clock() - began)
        second = threading.Thread(target=self._second, args=(left,))
        second.start()
        self._anneal(self.seed, left)
        second.join()
        best = min(self.found, key=lambda one: float(one.kept.cost[0]))
        draft = Draft(self.problem, Random(0))  # noqa: S311 - nothing secret
        draft.lay(*laid_out(self.problem, best))
        iterations = sum(one.iterations for one in self.found)
        bound = self.bound.best if best.complete else 0.0
        return layout_of(
            draft, left_out=(), bound=bound, proven=False, seed=self.seed, iterations=iterations, by_clock=True
        )

    def _second(self, left: float) -> None:
        """The solver's bound, then another seed."""
        began = self.clock()
        if self.problem.columns <= MOST_COLUMNS:
            limits = Limits(rel_gap=1e-4, max_nodes=1 << 30, clock_s=PROOF_SHARE * left, seed=self.seed)
            room_for = [float(cells) for cells in self.problem.cells]
            self.bound.solver = assign(self.problem, room_for=room_for, slack=True, limits=limits).bound
        self._anneal(self.seed + 1, left - (self.clock() - began))

    def _anneal(self, seed: int, left: float) -> None:
        end = self.clock() + left
        annealer = Annealer(self.problem, self.relaxation, self.prices, effort=Effort(seed=seed), seed=seed)
        if seed == self.seed and self.problem.columns <= FEW_COLUMNS:
            limits = Limits(rel_gap=0.01, max_nodes=1 << 30, clock_s=SOLVER_SHARE * left, seed=seed)
            room_for = [FACTOR * cells for cells in self.problem.cells]
            annealer.take(assign(self.problem, room_for=room_for, slack=True, limits=limits).chosen)
            annealer.pack()
        for start in range(int(STARTS)):
            share = LOOSE_SHARE * (end - self.clock()) / (STARTS - start)
            for _ in annealer.assign(self._until(self.clock() + share), moves=MOVES):
                pass
            annealer.pack()
        for _ in annealer.improve(self._until(end), steps=STEPS):
            pass
        self.found.append(annealer)

    def _until(self, end: float) -> Iterator[float]:
        """How much of the time from now is over, again and again until it is."""
        began = self.clock()
        while (now := self.clock()) < end:
            yield (now - began) / (end - began)


def compiled() -> float:
    """Load and compile what a search needs, on a small room, by counts; says how much processor time it took, s."""
    began = time.process_time()
    space = {"cols": 9, "rows": 9, "blocked": [], "height": 9, "load_g": 9000, "reach": 1}
    lot = {"footprints": [[3, 3]], "footprint_cost": [0], "height": 3, "mass_g": 9, "use": 1}
    room = {"spaces": [space, space], "lots": [lot] * 30, "together": [[0, 1]]}
    problem = problem_of(grids_of(room), asks_of(room))
    relaxation = Relaxation(table_of(problem))
    annealer = Annealer(problem, relaxation, raise_bound(relaxation, rounds=1), effort=Effort(tries=9), seed=1)
    list(annealer.assign([0.0], moves=9))
    annealer.pack()
    list(annealer.improve([0.0], steps=999))
    return time.process_time() - began


def main() -> None:
    """Read, lay out, write, report."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("room", type=Path)
    parser.add_argument("--seconds", type=float, default=8.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--cpu", action="store_true")
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    room = json.loads(options.room.read_text(encoding="utf-8"))
    loaded_s = time.process_time()
    compiled_s = compiled()
    began = time.perf_counter()
    problem = problem_of(grids_of(room), asks_of(room))
    race = Race(problem, options.seed, options.seconds - (time.perf_counter() - began))
    race.clock = time.thread_time if options.cpu else time.perf_counter
    layout = race.run()
    entries = as_list(room, layout)
    if options.out:
        options.out.write_text(json.dumps(entries), encoding="utf-8")
    took_s = time.perf_counter() - began
    cost = sum(part.value for part in layout.cost)
    print(
        f"{room['name']}: cost {cost:.0f}, bound {race.bound.best:.1f} (prices {race.bound.prices:.1f}, solver "
        f"{race.bound.solver:.1f}), gap {100 * layout.gap:.2f} %, left out {entries.count(None)}, "
        f"imports {loaded_s:.1f} s, compiling {compiled_s:.1f} s, search {took_s:.2f} s, iterations "
        f"{layout.iterations}, load {os.getloadavg()[0]:.1f}"
    )
    sys.exit(None in entries)


if __name__ == "__main__":
    main()
