"""A whole rest as the layout places it: every support and guard on its own cells, and where the things lie in it.

All parts are numbered as ``rest_set`` makes them, supports first. What it does not know: how the whole is turned.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from nookwright.module.rests import rest_cells
from nookwright.module.seat import outer_size
from nookwright.parts.refusals import refuse_part
from nookwright.parts.rests.rest_plan import bottom_of
from nookwright.parts.rests.rest_set import Blade, Held, RestPlan, RestSet, Shaft, rest_set

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.sizing.ways import LongThings

Point = tuple[float, float, float]


@dataclass(frozen=True)
class RestPart:
    """One part of a whole rest.

    Attributes:
        asked: the whole.
        number: of the part.
        col, row: its first cell within the whole, before it is turned.
        cols, rows: its footprint in cells.
    """

    asked: RestSet
    number: int
    col: int
    row: int
    cols: int
    rows: int


@dataclass(frozen=True)
class Beside:
    """A further body of every thing, such as a knife's handle.

    Attributes:
        size: of its box, mm.
        offset: the middle of its underside from that of the thing, mm.
    """

    size: Point
    offset: Point


def set_of(things: LongThings) -> RestSet:
    """What a rest for these things is made from.

    Args:
        things: what lies in it.
    """
    one: Held = Blade(things.across, things.high, things.drop) if things.bladed else Shaft(things.across)
    return RestSet(things.length, (one,) * things.count)


def rest_parts(module: Module, things: LongThings) -> tuple[RestPart, ...]:
    """All parts of a rest on the cells of the whole, supports first.

    Args:
        module: the household's module.
        things: what lies in it.
    """
    asked = set_of(things)
    plan, lead = RestPlan(module, asked), _lead(module, things)
    supports = [(0, lead + cell, plan.support) for cell in plan.cells]
    guards = [(col, lead + row, guard) for guard, col, row in plan.guards]
    return tuple(
        RestPart(asked, number, col, row, made.cols, made.rows)
        for number, (col, row, made) in enumerate((*supports, *guards))
    )


def _lead(module: Module, things: LongThings) -> int:
    cells = rest_cells(module, things)
    if cells is None:
        refuse_part(
            "a rest", "its supports stand in cells of their own", found=f"things of {things.length:g}",
            allowed="longer ones", remedy="Keep them in a tray.",
        )  # fmt: skip
    return cells.lead


def rest_part(module: Module, one: RestPart) -> Part:
    """The part itself.

    Args:
        module: the household's module.
        one: which part of which rest.
    """
    part = _made(module, one.asked)[one.number]
    name, _, _ = part.name.partition(", ")  # its dowels are told of apart
    return replace(part, name=name)


@lru_cache(64)
def _made(module: Module, asked: RestSet) -> tuple[Part, ...]:
    return rest_set(module, asked)


def dowels_of(module: Module, things: LongThings) -> tuple[float, float]:
    """Diameter and length of the two dowels that tie a rest, mm.

    Args:
        module: the household's module.
        things: what lies in it.
    """
    plan = RestPlan(module, set_of(things))
    return plan.asked.dowel.diameter, plan.dowel_length


def lying_in(module: Module, things: LongThings, count: int) -> tuple[Point, ...]:
    """The middle of the underside of each thing, in the axes of the first support.

    Args:
        module: the household's module.
        things: what the rest has room for.
        count: how many there are.
    """
    plan = RestPlan(module, set_of(things))
    support = plan.support
    between = plan.cells[-1] * module.pitch + outer_size(support.rows, module.pitch)  # faces of the outer supports
    middle = things.length / 2 if things.bladed else between / 2
    return tuple((slot.x, round(middle, 4), bottom_of(module, support, slot)) for slot in plan.slots[:count])


def handle_of(things: LongThings) -> Beside | None:
    """The handle of each thing, before its heel; ``None`` where there is none.

    Args:
        things: what lies in a rest.
    """
    if not things.handle_length:
        return None
    return Beside(
        (things.handle_thick, things.handle_length, things.handle_high),
        (0.0, -(things.length + things.handle_length) / 2, -things.drop),
    )
