"""Random recipes through both kernels, under a watchdog.

    python fuzz/solids.py --minutes 5            # reports refusals, broken solids, disagreements, time-outs
    python fuzz/solids.py --case 12345           # one case again, with its recipe

Every case is a number: the same number is the same recipe. Cases run in a child process a batch; a child that takes too
long over one case is stopped, and that case is reported. Exit code 1 where something was broken.
"""  # noqa: INP001 - a script

from __future__ import annotations

import argparse
import json
import math
import random
import subprocess
import sys
import time
from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground import tolerances
from nookwright.ground.errors import RecipeError, SolidError
from nookwright.shapes.regions import (
    Circle,
    Glyphs,
    Offset,
    Path,
    Polygon,
    Rect,
    Region,
    RegionDifference,
    RegionIntersection,
    RegionMove,
    RegionRepeat,
    RegionUnion,
    Stroke,
)
from nookwright.shapes.solids import (
    Bowl,
    Difference,
    Intersection,
    Move,
    Named,
    Prism,
    Repeat,
    Revolution,
    Solid,
    Taper,
    Tip,
    Union,
)
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import exact
from nookwright.solids.mending import heights
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.solids.mesh import Mesh

BATCH, CASE_S, DEPTH = 50, 60.0, 2
BROKEN = ("broken", "disagree", "crash", "time-out")
# Told, but no fault of ours for certain: bodies that just touch, and what the exact library cannot do.
TOLD = (*BROKEN, "topology", "exact-failed")


class Chance:
    """Random shapes, whole numbers as often as others, refused ones drawn again."""

    def __init__(self, seed: int) -> None:
        """Make one that follows from a number."""
        self.random = random.Random(seed)  # noqa: S311 - no secret
        self.refusals = 0

    def length(self, low: float, high: float) -> float:
        """A length: whole, of one decimal, or with all decimals."""
        value = self.random.uniform(low, high)
        return self.random.choice((float(round(value)), round(value, 1), value))

    def some(self, make: Callable[[], Region | Solid]) -> tuple[Region | Solid, ...]:
        """One to three of a kind."""
        return tuple(make() for _ in range(self.random.randint(1, 3)))

    def places(self) -> tuple[tuple[float, float], ...]:
        """Where copies go."""
        return tuple((self.length(-30, 30), self.length(-30, 30)) for _ in range(self.random.randint(1, 4)))

    def star(self, x: float = 0.0) -> tuple[tuple[float, float], ...]:
        """Corners around a point of the x axis."""
        count = self.random.randint(3, 7)
        angles = [2 * math.pi * n / count for n in range(count)]
        return tuple((x + r * math.cos(a), r * math.sin(a)) for a in angles for r in (self.length(2, 9),))

    def one_of(self, makers: list[Callable[[], Region | Solid]]) -> Region | Solid:
        """One of some kinds of node, drawn again until the rules let it pass."""
        while True:
            try:
                return self.random.choice(makers)()
            except RecipeError:
                self.refusals += 1

    def region(self, depth: int = DEPTH) -> Region:
        """A region."""
        n = self.length
        leaves: list[Callable[[], Region]] = [
            lambda: Rect(n(2, 30), n(2, 30), n(0, 6)),
            lambda: Circle(n(1, 15)),
            lambda: Polygon(self.star()),
            lambda: Path(tuple((x, y, self.random.choice((0.0, n(-1, 1)))) for x, y in self.star())),
            lambda: Stroke(n(-9, 9), n(-9, 9), n(-9, 9), n(-9, 9), n(1, 4), self.random.choice((0.0, n(-1, 1)))),
            lambda: Glyphs("".join(self.random.sample("ABCdeg0568&", 2)), n(4, 12), 0.8),
        ]

        def inner() -> Region:
            return self.region(depth - 1)

        nodes: list[Callable[[], Region]] = [
            lambda: Offset(inner(), n(-3, 4)),
            lambda: RegionUnion(self.some(inner)),  # type: ignore[arg-type]
            lambda: RegionDifference(inner(), self.some(inner)),  # type: ignore[arg-type]
            lambda: RegionIntersection(self.some(inner)),  # type: ignore[arg-type]
            lambda: RegionMove(inner(), n(-9, 9), n(-9, 9), self.random.randint(0, 3)),
            lambda: RegionRepeat(inner(), self.places()),
        ]
        return self.one_of([*leaves, *(nodes if depth else [])])  # type: ignore[return-value]

    def solid(self, depth: int = DEPTH) -> Solid:
        """A solid."""
        n = self.length
        leaves: list[Callable[[], Solid]] = [
            lambda: Prism(self.region(), n(1, 20)),
            lambda: Taper(self.region(0), n(1, 20), n(-3, 3)),  # type: ignore[arg-type]
            lambda: Revolution(self.star(10)),
            lambda: Bowl(n(3, 30), n(3, 30), n(0, 6), n(0, 4), n(1, 20)),
        ]

        def inner() -> Solid:
            return self.solid(depth - 1)

        nodes: list[Callable[[], Solid]] = [
            lambda: Union(self.some(inner)),  # type: ignore[arg-type]
            lambda: Difference(inner(), self.some(inner)),  # type: ignore[arg-type]
            lambda: Intersection(self.some(inner)),  # type: ignore[arg-type]
            lambda: Move(inner(), n(-9, 9), n(-9, 9), n(-9, 9), self.random.randint(0, 3)),
            lambda: Tip(inner(), self.random.choice(("x", "y"))),
            lambda: Repeat(inner(), self.places()),
            lambda: Named(inner(), self.random.choice("ab")),
        ]
        return self.one_of([*leaves, *(nodes if depth else [])])  # type: ignore[return-value]


def faults(mesh: Mesh) -> list[str]:
    """What is wrong with a mesh."""
    faces = mesh.triangles.astype(np.int64)
    edges = faces.ravel() * len(mesh.vertices) + np.roll(faces, -1, axis=1).ravel()
    back = np.roll(faces, -1, axis=1).ravel() * len(mesh.vertices) + faces.ravel()
    checks = {
        "open": np.array_equal(np.sort(edges), np.sort(back)) and len(np.unique(edges)) == len(edges),
        "flat triangle": bool(heights(mesh.vertices, faces).min() >= tolerances.FLAT),
        "inside out": mesh.volume_mm3 > 0,
    }
    return [fault for fault, fine in checks.items() if not fine]


def tried(case: int, *, with_exact: bool = True) -> tuple[str, str]:
    """One case: its verdict, and a few words."""
    solid = Chance(case).solid()
    try:
        mesh = build(solid)
    except SolidError as error:
        known = ("nothing is left", "touches itself")
        return ("refused" if any(each in str(error) for each in known) else "broken"), str(error)
    wrong = faults(mesh)
    if wrong:
        return "broken", ", ".join(wrong)
    if not with_exact:
        return "fine", ""
    try:
        # Topology from a finer mesh: narrow necks open and shut within the tolerance.
        said = disagreement(build(solid, tolerances.MESH / 8), exact(solid))
    except SolidError as error:
        return "exact-failed", str(error)
    return ("topology" if said.startswith("closed") else "disagree", said) if said else ("fine", "")


def child(first: int, count: int, *, with_exact: bool) -> None:
    """Run cases, telling of each when it begins and how it ended."""
    for case in range(first, first + count):
        _say({"case": case})
        try:
            verdict, words = tried(case, with_exact=with_exact)
        except Exception as error:  # noqa: BLE001 - whatever it is, it is a finding
            verdict, words = "crash", f"{type(error).__name__}: {error}"
        _say({"case": case, "verdict": verdict, "words": words})


def watched(first: int, count: int, extra: list[str]) -> Iterator[dict[str, str]]:
    """The ends of cases in child processes; a case that takes too long ends as ``time-out``, one that dies as crash."""
    last = first + count
    while first < last:
        command = [sys.executable, __file__, "--from", str(first), "--count", str(last - first), *extra]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:  # noqa: S603 - ourselves
            case = first
            killer = _Killer(process)
            for line in process.stdout or ():
                told = json.loads(line)
                case = told["case"]
                killer.again()
                if "verdict" in told:
                    first = case + 1
                    yield told
            killer.stop()
        if first < last and first <= case:
            yield {"case": str(case), "verdict": "time-out" if killer.killed else "crash", "words": "stopped"}
            first = case + 1


class _Killer:
    """Stops a process that has said nothing for too long."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process, self.killed = process, False
        self.again()

    def again(self) -> None:
        from threading import Timer

        self.stop()
        self._timer = Timer(CASE_S, self._kill)
        self._timer.daemon = True
        self._timer.start()

    def stop(self) -> None:
        timer = getattr(self, "_timer", None)
        if timer is not None:
            timer.cancel()

    def _kill(self) -> None:
        self.killed = True
        self._process.kill()


def _say(told: dict[str, object]) -> None:
    sys.stdout.write(json.dumps(told) + "\n")
    sys.stdout.flush()


def _watch(minutes: float, seed: int, extra: list[str]) -> int:
    until, counts, first = time.monotonic() + 60 * minutes, Counter[str](), seed
    while time.monotonic() < until:
        for told in watched(first, BATCH, extra):
            counts[told["verdict"]] += 1
            if told["verdict"] in TOLD:
                sys.stdout.write(f"{told['verdict']}: case {told['case']}: {told['words'][:300]}\n")
        first += BATCH
    sys.stdout.write(f"{sum(counts.values())} cases from {seed}: {dict(sorted(counts.items()))}\n")
    return int(any(counts[verdict] for verdict in BROKEN))


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--mesh-only", action="store_true", help="leave the exact kernel out")
    parser.add_argument("--case", type=int, help="one case again")
    parser.add_argument("--from", type=int, dest="first", help=argparse.SUPPRESS)
    parser.add_argument("--count", type=int, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.case is not None:
        sys.stdout.write(f"{Chance(given.case).solid()}\n{tried(given.case, with_exact=not given.mesh_only)}\n")
        return 0
    if given.first is not None:
        child(given.first, given.count, with_exact=not given.mesh_only)
        return 0
    return _watch(given.minutes, given.seed, ["--mesh-only"] if given.mesh_only else [])


if __name__ == "__main__":
    sys.exit(main())
