"""Rests at several sizes, three of them for each kind of slot."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.module.seat import outer_size
from nookwright.parts.model import Example
from nookwright.parts.rests.rest import genus_of, rest
from nookwright.parts.rests.rest_plan import Holes, Rest
from nookwright.parts.rests.rest_set import Blade, RestSet, Shaft, rest_set
from nookwright.parts.rests.rest_slots import BladeSlot, Slot, USlot, VSlot
from nookwright.parts.rests.rest_span import Dowel, DowelStuff

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.module.module import Module

    Maker = Callable[[float], Slot]


def examples(module: Module) -> tuple[Example, ...]:
    """Blades with and without cover, tools in V and in U, dowels through and blind, of wood and of steel."""
    wood, steel = Dowel(8.0), Dowel(5.0, DowelStuff.STEEL)
    blind = Rest(10, 2, 30.0, (), wood, holes=Holes.FRONT, cover=True)
    return (
        _even(module, "smallest", Rest(2, 1, 30.0, ()), lambda x: BladeSlot(x, 1.5, 18.0), 1),
        _even(module, "middle", Rest(5, 1, 42.0, (), wood), lambda x: BladeSlot(x, 2.0, 30.0), 2),
        _even(module, "largest", blind, lambda x: BladeSlot(x, 2.5, 50.0, 12.0), 4),
        _even(module, "smallest", Rest(2, 1, 18.0, ()), lambda x: VSlot(x, 8.0), 1),
        _even(module, "middle", Rest(5, 1, 30.0, (), steel), lambda x: VSlot(x, 16.0), 2),
        _even(module, "largest", Rest(10, 2, 42.0, (), wood), lambda x: VSlot(x, 20.0), 4),
        _even(module, "smallest", Rest(2, 1, 18.0, ()), lambda x: USlot(x, 8.0), 1),
        _even(module, "middle", Rest(5, 1, 24.0, (), steel, holes=Holes.BACK), lambda x: USlot(x, 16.0), 2),
        _even(module, "largest", Rest(10, 2, 36.0, (), wood), lambda x: USlot(x, 25.0), 4),
        *_whole(module, "smallest", RestSet(100.0, (Blade(1.0, 12.0),), rows=1)),
        *_whole(module, "middle", RestSet(180.0, (Blade(2.0, 28.0), Shaft(12.0, proud=True)))),
        *_whole(module, "largest", RestSet(300.0, (Blade(1.8, 30.0), Blade(2.5, 46.0, 8.0), Shaft(30.0)), 3)),
    )


def _whole(module: Module, size: str, asked: RestSet) -> tuple[Example, ...]:
    """Each distinct part of a whole rest; two dowels go through its supports."""
    parts = {part.recipe.digest: part for part in rest_set(module, asked)}
    return tuple(Example(size, part, genus=2 if dict(part.parameters)["dowel"] else 0) for part in parts.values())


def _even(module: Module, size: str, bare: Rest, slot: Maker, count: int) -> Example:
    """Equal slots spread over the width, and dowels between the first two and between the last two."""
    step = outer_size(bare.cols, module.pitch) / count
    asked = replace(
        bare,
        height=module.height(bare.height),
        slots=tuple(slot((number + 0.5) * step) for number in range(count)),
        dowels_at=tuple(sorted({step, step * (count - 1)})) if bare.dowel else (),
    )
    return Example(size, rest(module, asked), genus=genus_of(asked))
