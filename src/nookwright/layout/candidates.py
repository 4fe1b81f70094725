"""Candidate trays and cradles of a lot, in cells: every way on the module's cells, dominated ones dropped."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.model import Candidate
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import MM2_PER_DM2, tray_plastic
from nookwright.survey.models import FloorStyle

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.module.module import Module
    from nookwright.sizing.ways import Way

SMALLEST_SIDE = Fact(
    2, unit="cells", kind=Kind.CALCULATED, source="Inside a side of one cell there is no room for a finger."
)
COST_PER_G = Fact(
    0.25,
    unit="cost/g",
    kind=Kind.CHOICE,
    source="Four grams more of plastic weigh as much as one unit of trouble.",
)
COST_PER_DM2 = Fact(
    6.0,
    unit="cost/dm2",
    kind=Kind.CHOICE,
    source="Floor that a lot takes is floor that the next one cannot have.",
)
LONGEST_RATIO = Fact(
    6.0,
    unit="1",
    kind=Kind.CHOICE,
    source="Trays longer and narrower than this only for things of that shape.",
)
MOST_CANDIDATES = Fact(
    8, unit="1", kind=Kind.CHOICE, source="More footprints a lot slow the solver down and gain nothing."
)


def candidates_of(lot: str, ways: Iterable[Way], module: Module, things_g: float) -> tuple[Candidate, ...]:
    """The candidates of one lot, cheapest first; empty where it has no way.

    Args:
        lot: id of the lot.
        ways: its ways of being kept.
        module: the household's module.
        things_g: mass of all its things, g.
    """
    found: dict[tuple[int, int, float], Candidate] = {}
    for way in ways:
        candidate = _candidate(lot, way, module, things_g)
        short, long = sorted((candidate.cols, candidate.rows))
        key = (short, long, candidate.tall)
        if key not in found or candidate.cost < found[key].cost:
            found[key] = candidate
    kept = _undominated(_not_too_long(tuple(found.values())))
    best = min((candidate.cost for candidate in kept), default=0.0)
    ranked = sorted(kept, key=lambda c: (round(c.cost, 6), c.cols, c.rows, c.tall))
    return tuple(replace(c, cost=round(c.cost - best, 6)) for c in ranked[: int(MOST_CANDIDATES)])


def _candidate(lot: str, way: Way, module: Module, things_g: float) -> Candidate:
    cols = max(int(SMALLEST_SIDE), module.cells(way.inner_width))
    rows = max(int(SMALLEST_SIDE), module.cells(way.inner_depth))
    height = module.height(module.seat.dome + way.wall_height)
    plastic = tray_plastic(module, cols, rows, height, smooth=way.floor is FloorStyle.SMOOTH)
    part_g = plastic.mass_g(TYPICAL_DENSITY_G_CM3)
    area_dm2 = cols * rows * module.pitch**2 / MM2_PER_DM2
    return Candidate(
        lot=lot,
        way=way,
        cols=cols,
        rows=rows,
        height=height,
        tall=max(height, module.seat.dome + way.stack_height),
        mass_g=part_g + things_g,
        cost=COST_PER_G * part_g + COST_PER_DM2 * area_dm2 + way.trouble,
    )


def _not_too_long(found: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    """Without very long and narrow ones, unless the lot has no other."""
    kept = tuple(c for c in found if max(c.cols, c.rows) <= LONGEST_RATIO * min(c.cols, c.rows))
    return kept or found


def _undominated(found: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    """Without those that another one beats in footprint, height and cost."""
    return tuple(c for c in found if not any(_beats(other, c) for other in found))


def _beats(one: Candidate, other: Candidate) -> bool:
    mine, theirs = sorted((one.cols, one.rows)), sorted((other.cols, other.rows))
    no_worse = mine[0] <= theirs[0] and mine[1] <= theirs[1] and one.tall <= other.tall and one.cost <= other.cost
    return no_worse and (mine != theirs or one.tall < other.tall or one.cost < other.cost)
