"""A whole rest for a lot of long things: its supports, the guards between them, and the dowels to cut.

Each thing stands in the middle of cells of its own, with a free column of cells on both sides: there hands, handles and
dowels have room. Tools lie on supports at the points where an even bar sags least. A blade is never free: its supports
stand at heel and tip, and guards a cell wide reach from one to the next, edge buried and back covered.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.rests import LEAST_WEB, SUPPORT_ROWS, USUAL_DOWEL, blade_span, block_height, columns_of, guarded
from nookwright.module.seat import outer_size, whole_layers
from nookwright.parts.refusals import refuse_part
from nookwright.parts.rests.rest import rest
from nookwright.parts.rests.rest_plan import Rest
from nookwright.parts.rests.rest_slots import BladeSlot, Slot, USlot, VSlot
from nookwright.parts.rests.rest_span import PAIR, Dowel, dowel_length, support_cells

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

LONGEST_GUARD = Fact(
    160.0, unit="mm", kind=Kind.CHOICE, source="Longer guards are made in two: they fit small beds, and stay straight."
)


@dataclass(frozen=True)
class Held:
    """A long thing of any kind; the base of all."""

    def slot(self, x: float) -> Slot:
        """Its slot, at a place."""
        raise NotImplementedError


@dataclass(frozen=True)
class Blade(Held):
    """A blade that stands on its edge.

    Attributes:
        thickness: of its back, mm.
        blade_height: from edge to back at its highest, mm.
        handle_drop: how far the handle reaches below the edge, mm.
    """

    thickness: float
    blade_height: float
    handle_drop: float = 0.0

    def slot(self, x: float) -> Slot:
        """A slit as deep as the blade is high."""
        return BladeSlot(x, self.thickness, self.blade_height, self.handle_drop)


@dataclass(frozen=True)
class Shaft(Held):
    """A long round thing.

    Attributes:
        diameter: of the thing, mm.
        proud: whether half of it stands out of a V, to be gripped anywhere, instead of lying in a U.
    """

    diameter: float
    proud: bool = False

    def slot(self, x: float) -> Slot:
        """A V or a U."""
        return VSlot(x, self.diameter) if self.proud else USlot(x, self.diameter)


def _usual_dowel() -> Dowel:
    """Wood of a size that every shop has."""
    return Dowel(USUAL_DOWEL)


@dataclass(frozen=True)
class RestSet:
    """What a whole rest is made for.

    Attributes:
        length: of the longest thing; of a blade without its handle, mm.
        things: from left to right.
        supports: how many.
        rows: depth of a support along the things, cells.
        dowel: that ties the supports together; of wood, 8 thick, where none is named.
    """

    length: float
    things: tuple[Held, ...]
    supports: int = 2
    rows: int = int(SUPPORT_ROWS)
    dowel: Dowel = field(default_factory=_usual_dowel)


@dataclass(frozen=True)
class RestPlan:
    """Where everything of a whole rest goes, mm from the front left corner of the first support.

    Attributes:
        module: the household's module.
        asked: what it is for.
    """

    module: Module
    asked: RestSet

    def __post_init__(self) -> None:
        if not self.asked.things or self.asked.supports < PAIR:
            refuse_part(
                "a whole rest", "it holds something on two supports or more",
                found=f"{len(self.asked.things)} things on {self.asked.supports}",
                allowed="1 thing or more, 2 supports or more", remedy="Say what lies in it, or take a cradle.",
            )  # fmt: skip
        if self.bladed and any(b - a < self.asked.rows for a, b in pairwise(self.cells)):
            least = self.asked.supports * self.asked.rows * self.module.pitch
            refuse_part(
                "a whole rest", "its supports stand in cells of their own",
                found=f"a blade of {self.asked.length:g} on {self.asked.supports}",
                allowed=f"about {least:.0f} long or more", remedy="Take fewer or shorter supports.",
            )  # fmt: skip

    @cached_property
    def bladed(self) -> bool:
        """Whether it holds a blade."""
        return any(isinstance(thing, Blade) for thing in self.asked.things)

    @cached_property
    def columns(self) -> tuple[tuple[int, int], ...]:
        """First column of cells of each thing, and how many it takes."""
        return columns_of([_needs(thing.slot(0.0)) for thing in self.asked.things], self.module.pitch)

    @cached_property
    def cols(self) -> int:
        """Width of a support in cells."""
        first, wide = self.columns[-1]
        return first + wide + 1

    @cached_property
    def slots(self) -> tuple[Slot, ...]:
        """The slots of a support."""
        return tuple(
            thing.slot(self._across(first + wide / 2))
            for thing, (first, wide) in zip(self.asked.things, self.columns, strict=True)
        )

    @cached_property
    def dowels_at(self) -> tuple[float, float]:
        """Middles of the dowels along x: in the outer columns."""
        return self._across(0.5), self._across(self.cols - 0.5)

    @cached_property
    def height(self) -> float:
        """Of a support's block: it holds dowels, edges and tools; ribs cover what is higher of a blade."""
        return block_height(self.module, self.asked.dowel.hole, [_block(self.module, slot) for slot in self.slots])

    @cached_property
    def cells(self) -> tuple[int, ...]:
        """First cell of each support along the things."""
        asked, pitch = self.asked, self.module.pitch
        if not self.bladed:
            return support_cells(asked.length, asked.supports, pitch=pitch, rows=asked.rows)
        last = blade_span(asked.length, pitch, asked.rows)
        return tuple(round(last * number / (asked.supports - 1)) for number in range(asked.supports))

    @cached_property
    def dowel_length(self) -> float:
        """To cut each of the two dowels to, mm."""
        return dowel_length(self.cells, pitch=self.module.pitch, rows=self.asked.rows, inset=0.0)

    @cached_property
    def support(self) -> Rest:
        """One of the supports; all are alike."""
        return Rest(self.cols, self.asked.rows, self.height, self.slots, self.asked.dowel, self.dowels_at, cover=True)

    @cached_property
    def guards(self) -> tuple[tuple[Rest, int, int], ...]:
        """The guards of all blades, each with its first column and its first cell along the blade."""
        most = int(LONGEST_GUARD / self.module.pitch)
        found = []
        for start, end in pairwise(self.cells):
            first, gap = start + self.asked.rows, end - start - self.asked.rows
            count = math.ceil(gap / most)
            ends = [first + round(gap * number / count) for number in range(count + 1)] if count else []
            found += [(a, b - a) for a, b in pairwise(ends)]
        blades = [each for each in zip(self.asked.things, self.columns, strict=True) if isinstance(each[0], Blade)]
        return tuple((self._guard(thing, *columns, rows), columns[0], at)
                     for at, rows in found for thing, columns in blades)  # fmt: skip

    def _guard(self, thing: Held, _: int, cols: int, rows: int) -> Rest:
        """A low block over so many cells, and the ribs that cover a blade."""
        slot = thing.slot(outer_size(cols, self.module.pitch) / 2)
        return Rest(cols, rows, _block(self.module, slot), (slot,), cover=True)

    def _across(self, column: float) -> float:
        """Where a column lies, mm from the left side of a support."""
        pitch = self.module.pitch
        return round(column * pitch - (self.cols * pitch - outer_size(self.cols, pitch)) / 2, 4)


def _needs(slot: Slot) -> tuple[float, float]:
    """Half the width of a slot, and the least width of its guard, mm."""
    return slot.half, guarded(slot.thickness) if isinstance(slot, BladeSlot) else 0.0


def _block(module: Module, slot: Slot) -> float:
    """How high a block must be for a slot, ribs not counted, mm."""
    seat = module.seat
    if isinstance(slot, BladeSlot):
        return whole_layers(slot.bottom(0.0, seat.dome, seat.layer) + LEAST_WEB, seat.layer)
    return slot.rim(seat.dome, seat.layer)


def rest_set(module: Module, asked: RestSet) -> tuple[Part, ...]:
    """All parts of a whole rest: its supports, then its guards.

    The supports say in their parameters where they stand, and which two dowels tie them.

    Args:
        module: the household's module.
        asked: what it is for.

    Raises:
        RecipeError: nothing to hold, things too short for their supports, or a blade or a tool that no slot holds.
    """
    plan = RestPlan(module, asked)
    made = rest(module, plan.support)
    support = replace(
        made,
        name=f"{made.name}, two dowels d{asked.dowel.diameter:g} l{plan.dowel_length:g}",
        parameters=tuple(
            sorted(
                (
                    *made.parameters,
                    ("dowel_length", plan.dowel_length),
                    ("stand_at", tuple(cell * module.pitch for cell in plan.cells)),
                )
            )
        ),
    )
    guards = (rest(module, guard) for guard, _, _ in plan.guards)
    named = (replace(part, name=part.name.replace("rest", "guard", 1)) for part in guards)
    return (*(support for _ in plan.cells), *named)
