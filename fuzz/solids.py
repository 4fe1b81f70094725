"""Random recipes through both kernels, under a watchdog.

    python -m fuzz.solids --minutes 5            # reports refusals, broken solids, disagreements, time-outs
    python -m fuzz.solids --case 12345           # one case again, with its recipe

Every case is a number: the same number is the same recipe. Exit code 1 where something was broken.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from typing import TYPE_CHECKING

from fuzz import watch
from fuzz.recipes import Shapes
from nookwright.checks.soundness import unsoundness
from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.solids.agreement import disagreement
from nookwright.solids.exact import exact
from nookwright.solids.mesh import build

if TYPE_CHECKING:
    from nookwright.shapes.solids import Solid

BATCH, CASE_S = 50, 60.0
BROKEN = ("broken", "disagree", "crash", "time-out")
# Told, but no fault of ours for certain: bodies that just touch, and what the exact library cannot do.
TOLD = (*BROKEN, "topology", "exact-failed")
_IN_PIECES = "mesh-in-pieces"  # random recipes may be several bodies


def drawn(case: int) -> Solid:
    """The recipe of a case."""
    return Shapes.of(case).solid()


def tried(case: int, *, with_exact: bool = True) -> tuple[str, str]:
    """One case: its verdict, and a few words."""
    solid = drawn(case)
    try:
        mesh = build(solid)
    except SolidError as error:
        known = ("nothing is left", "touches itself")
        return ("refused" if any(each in str(error) for each in known) else "broken"), str(error)
    wrong = [each for each in unsoundness("it", mesh.vertices, mesh.triangles) if each.code != _IN_PIECES]
    if wrong or mesh.volume_mm3 <= 0:
        return "broken", "; ".join(each.text for each in wrong)
    if not with_exact:
        return "fine", ""
    try:
        # Topology from a finer mesh: narrow necks open and shut within the tolerance.
        said = disagreement(build(solid, tolerances.MESH / 8), exact(solid))
    except SolidError as error:
        return "exact-failed", str(error)
    return ("topology" if said.startswith("closed") else "disagree", said) if said else ("fine", "")


def _told(case: int, *, with_exact: bool) -> watch.Told:
    verdict, words = tried(case, with_exact=with_exact)
    return {"verdict": verdict, "words": words}


def _watch(minutes: float, seed: int, extra: list[str]) -> int:
    until, counts, first = time.monotonic() + 60 * minutes, Counter[str](), seed
    while time.monotonic() < until:
        for told in watch.cases("fuzz.solids", first, BATCH, limit_s=CASE_S, extra=extra):
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
    with_exact = not given.mesh_only
    if given.case is not None:
        sys.stdout.write(f"{drawn(given.case)}\n{tried(given.case, with_exact=with_exact)}\n")
        return 0
    if given.first is not None:
        watch.tell(given.first, given.count, lambda _: {}, lambda case: _told(case, with_exact=with_exact))
        return 0
    return _watch(given.minutes, given.seed, ["--mesh-only"] if given.mesh_only else [])


if __name__ == "__main__":
    sys.exit(main())
