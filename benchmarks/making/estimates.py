"""Estimates of the demo's pieces: seconds of computing, counts, and how far the closed forms are off from them.

    nice .venv/bin/python -m benchmarks.making.estimates             # a table; exit code 1 where the median is missed
    nice .venv/bin/python -m benchmarks.making.estimates --docs docs # renew docs/estimates.md and its plot as well

Only the estimates are timed, in processor time of this process, each piece ``--times`` times, the quickest counted.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks.making.estimates_page import plot, renewed

from nookwright.build import check, make_solid, plan_and_design
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of
from nookwright.survey.rooms import demo_path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.making.estimate.model import PieceEstimate

MEDIAN_S, DENSITY_G_CM3 = 0.15, 1.24


@dataclass(frozen=True)
class Row:
    """One piece.

    Attributes:
        name: of the piece.
        triangles: of its mesh.
        took_s: the quickest of its estimates, in processor time, which a busy machine hardly changes.
        found: the estimate.
        closed_s, closed_g: the same in closed form.
    """

    name: str
    triangles: int
    took_s: float
    found: PieceEstimate
    closed_s: float
    closed_g: float

    @property
    def time_ratio(self) -> float:
        """Closed form by estimate."""
        return self.closed_s / self.found.time_in_company_s

    @property
    def mass_ratio(self) -> float:
        """Closed form by estimate."""
        return self.closed_g / self.found.mass_g(DENSITY_G_CM3)


def rows(times: int, cache: Path | None) -> Iterator[Row]:
    """All distinct pieces of the demo, one after the other.

    Args:
        times: how often each is estimated.
        cache: folder that remembers meshes; ``None`` to make them anew.
    """
    with demo_path() as path:
        room, faults = check(path)
    if room is None:
        raise ValueError(faults)
    designed = plan_and_design(room, effort=Effort(), progress=Silent())
    meshes = make_solid(designed, cache=cache, processes=2, progress=Silent())
    settings = settings_of(room.printer[0], designed.plan.module.wall)
    pieces = {piece.recipe.digest: piece for cut in designed.cut.values() for piece in cut.pieces}
    for digest, piece in pieces.items():
        took = []
        for _ in range(times):
            begun = time.process_time()
            found = estimate(meshes[digest], settings)
            took.append(time.process_time() - begun)
        plastic, count = piece.plastic, len(meshes[digest].triangles)
        closed_g, closed_s = plastic.mass_g(DENSITY_G_CM3), plastic.time_s(settings.layer)
        yield Row(piece.name, count, min(took), found, closed_s, closed_g)


def _middle_and_worst(ratios: list[float]) -> str:
    worst = max(ratios, key=lambda one: max(one, 1 / one))
    return f"median {statistics.median(ratios):.3f}, worst {worst:.3f}"


def summary(found: list[Row]) -> dict[str, str]:
    """What the table says, in words."""
    took = [row.took_s for row in found]
    layers, sections = (sum(getattr(row.found, name) for row in found) for name in ("layers", "sections"))
    return {
        "distinct pieces": f"{len(found)}",
        "processor seconds a piece": f"median {statistics.median(took):.3f}, most {max(took):.2f}",
        "processor seconds, all": f"{sum(took):.1f}",
        "layers, and sections cut for them": f"{layers}, {sections}",
        "contours moved by the kernel": f"{sum(row.found.offsets for row in found)}",
        "hours, one copy of each": f"{sum(row.found.time_in_company_s for row in found) / 3600:.1f}",
        "grams, one copy of each": f"{sum(row.found.mass_g(DENSITY_G_CM3) for row in found):.0f}",
        "closed form by estimate, time": _middle_and_worst([row.time_ratio for row in found]),
        "closed form by estimate, mass": _middle_and_worst([row.mass_ratio for row in found]),
    }


def main() -> int:
    """Time all pieces; the exit code says whether the median is kept."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--times", type=int, default=3)
    parser.add_argument("--cache", type=Path, default=None, help="folder that remembers meshes")
    parser.add_argument("--docs", type=Path, default=None, help="folder of the docs, to renew the page and its plot")
    asked = parser.parse_args()
    found = list(rows(asked.times, asked.cache))
    said = summary(found)
    for what, value in said.items():
        print(f"{what:<36} {value}")
    if asked.docs:
        page = asked.docs / "estimates.md"
        page.write_text(renewed(page.read_text(encoding="utf-8"), said), encoding="utf-8")
        points = [(row.found.time_in_company_s / 3600, row.closed_s / 3600) for row in found]
        (asked.docs / "pictures" / "estimates.svg").write_text(plot(points), encoding="utf-8", newline="\n")
    return 0 if statistics.median(row.took_s for row in found) <= MEDIAN_S else 1


if __name__ == "__main__":
    sys.exit(main())
