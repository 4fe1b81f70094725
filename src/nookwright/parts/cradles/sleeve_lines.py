"""How thick sleeves are, in whole lines, and how much plastic stands between two pockets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.module.lines import Lines, lines_of, wall_of

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.cradles.strip import Strip

NOZZLE = Fact(0.4, unit="mm", kind=Kind.COMMON_PRACTICE, source="Walls are thickened in lines of the usual nozzle.")


def wall_lines(module: Module) -> Lines:
    """The lines of the module's wall from the usual nozzle; one as thick as the wall where none fit."""
    return lines_of(module.wall, NOZZLE, module.seat.layer) or Lines(1, module.wall)


def lines_thick(module: Module, count: int) -> float:
    """Thickness of so many lines of the wall, mm.

    >>> from nookwright.module.choice import module_of
    >>> lines_thick(module_of(18.0, 6.0, 0.2, ""), 2)
    0.8143
    """
    return round(wall_of(count, wall_lines(module).width, module.seat.layer), 4)


def thickness_of(module: Module, needed: float) -> float:
    """A sleeve's thickness in whole lines: the wall, or as many more lines as are needed, mm.

    Args:
        module: the household's module.
        needed: least thickness, mm.
    """
    count = wall_lines(module).count
    if needed <= module.wall:
        return module.wall
    while lines_thick(module, count) < needed:
        count += 1
    return lines_thick(module, count)


def land_of(module: Module, lead_in: float, strip: Strip | None = None) -> float:
    """Least distance from pocket to pocket, mm: a wall, or two lines between two chamfers; more beside strips.

    Args:
        module: the household's module.
        lead_in: chamfer at the mouths, mm.
        strip: that lines the pockets.

    >>> from nookwright.module.choice import module_of
    >>> module = module_of(18.0, 6.0, 0.2, "")
    >>> land_of(module, 0.0), land_of(module, 1.0)
    (1.2, 2.8572)
    """
    crest = 2 * (lead_in + wall_lines(module).width) if lead_in else module.wall
    return round(max(crest, module.wall) + (2 * module.wall if strip else 0.0), 4)


def edge_of(module: Module, strip: Strip | None = None) -> float:
    """Least distance from a pocket to the inside of the outer wall, mm."""
    return module.wall * (2 if strip else 1)
