"""Candidate parts of a lot, in cells: every way on the module's cells with its price, dominated ones dropped."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from nookwright.ground.sources import Fact, Kind
from nookwright.layout.model import Candidate
from nookwright.module.choice import TYPICAL_DENSITY_G_CM3
from nookwright.module.dispensers import dispenser_cells
from nookwright.module.estimates import MM2_PER_DM2
from nookwright.module.part_plastic import plastic_of
from nookwright.module.rests import rest_cells
from nookwright.module.seat import outer_size
from nookwright.survey.layout_wishes import Weights

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
COST_PER_PRICE = Fact(
    10.0,
    unit="cost/currency",
    kind=Kind.CALCULATED,
    source="What is bought, as plastic for the same money: 40 g at 25 a kilogram, at a quarter of a unit each.",
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


def candidates_of(
    lot: str, ways: Iterable[Way], module: Module, things_g: float, *, weights: Weights | None = None
) -> tuple[Candidate, ...]:
    """The candidates of one lot, cheapest first; empty where it has no way.

    Args:
        lot: id of the lot.
        ways: all ways to keep it.
        module: the household's module.
        things_g: mass of all its things, g.
        weights: what counts how much; all as usual when left out.
    """
    return ranked(priced(lot, ways, module, things_g, weights=weights or Weights()))


def priced(
    lot: str, ways: Iterable[Way], module: Module, things_g: float, *, weights: Weights
) -> tuple[Candidate, ...]:
    """The candidates of one lot with their whole cost; of those alike in cells and height the cheapest.

    Args:
        lot: id of the lot.
        ways: all ways to keep it.
        module: the household's module.
        things_g: mass of all its things, g.
        weights: what counts how much.
    """
    found: dict[tuple[int | float, ...], Candidate] = {}
    for one in _in_cells(ways, module):
        candidate = _candidate(lot, one, module, things_g, weights)
        sides = candidate.cols, candidate.rows
        key = (*(sorted(sides) if candidate.may_turn else sides), candidate.tall)
        if key not in found or candidate.cost < found[key].cost:
            found[key] = candidate
    return tuple(found.values())


class _Cells(NamedTuple):
    """A way on so many cells, with the outer height of its part, and its height with what is in it, mm."""

    way: Way
    cols: int
    rows: int
    height: float
    tall: float


def _in_cells(ways: Iterable[Way], module: Module) -> Iterable[_Cells]:
    """The ways on cells; of those that make parts alike the handiest, so that each is weighed once."""
    found: dict[tuple[object, ...], _Cells] = {}
    for way in ways:
        if way.long:
            rest = rest_cells(module, way.long)
            if rest:
                found[way.kind, rest.cols, rest.rows] = _Cells(way, rest.cols, rest.rows, rest.height, rest.tall)
            continue
        if way.drawn:
            stack = dispenser_cells(module, way)
            if stack:
                found[way.kind, stack.cols, stack.rows] = _Cells(way, *stack, stack.height)
            continue
        cols = max(int(SMALLEST_SIDE), module.cells(way.inner_width))
        rows = max(int(SMALLEST_SIDE), module.cells(way.inner_depth))
        height = module.height(module.seat.dome + way.wall_height)
        tall = max(height, module.seat.dome + way.stack_height)
        pockets = (way.places, way.arrangement) if way.pocket else ()
        key = (way.kind, way.floor, cols, rows, height, tall, pockets, way.box and way.box.id)
        if key not in found or way.trouble < found[key].way.trouble:
            found[key] = _Cells(way, cols, rows, height, tall)
    return found.values()


def ranked(found: Iterable[Candidate]) -> tuple[Candidate, ...]:
    """The few that are worth having, cheapest first, each with what it costs more than the cheapest.

    Args:
        found: candidates of one lot, each with its whole cost.
    """
    kept = _undominated(_not_too_long(tuple(found)))
    best = min((candidate.cost for candidate in kept), default=0.0)
    order = sorted(kept, key=lambda c: (round(c.cost, 6), c.cols, c.rows, c.tall))
    return tuple(replace(c, cost=round(c.cost - best, 6)) for c in order[: int(MOST_CANDIDATES)])


def _candidate(lot: str, one: _Cells, module: Module, things_g: float, weights: Weights) -> Candidate:
    way, cols, rows, height, tall = one
    plastic = plastic_of(module, way, cols, rows, height)
    part_g = plastic.mass_g(TYPICAL_DENSITY_G_CM3)
    area_dm2 = cols * rows * module.pitch**2 / MM2_PER_DM2
    price = price_of(way)
    made = COST_PER_G * part_g * weights.plastic + COST_PER_DM2 * area_dm2 * weights.area
    return Candidate(
        lot=lot,
        way=way,
        cols=cols,
        rows=rows,
        height=height,
        tall=tall,
        mass_g=part_g + things_g + (way.box.mass_g if way.box else 0.0),
        cost=made + COST_PER_PRICE * price + way.trouble * weights.one_hand,
        may_turn=not way.needs.faces_front,
        size=(outer_size(cols, module.pitch), outer_size(rows, module.pitch)),
        part_g=part_g,
        time_s=plastic.time_s(module.seat.layer),
        price=price,
    )


def price_of(way: Way) -> float:
    """What has to be bought for a way, in the person's currency: a box that is not there yet."""
    return way.box.price or 0.0 if way.box and not way.box.owned else 0.0


def _not_too_long(found: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    """Without very long and narrow ones, unless the lot has no other."""
    kept = tuple(c for c in found if max(c.cols, c.rows) <= LONGEST_RATIO * min(c.cols, c.rows))
    return kept or found


def _undominated(found: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    """Without those that another one beats in footprint, height and cost."""
    return tuple(c for c in found if not any(_beats(other, c) for other in found))


def _beats(one: Candidate, other: Candidate) -> bool:
    mine, theirs = (one.cols, one.rows), (other.cols, other.rows)
    if one.may_turn and other.may_turn:
        mine, theirs = (min(mine), max(mine)), (min(theirs), max(theirs))
    no_worse = mine[0] <= theirs[0] and mine[1] <= theirs[1] and one.tall <= other.tall and one.cost <= other.cost
    return no_worse and (mine != theirs or one.tall < other.tall or one.cost < other.cost)
