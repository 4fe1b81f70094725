"""A cradle with round pockets: sleeves on a smooth floor, tied to each other and to the walls by ribs.

Sleeves instead of a block with holes: the same hold for a third of the plastic, and nothing to bridge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.module.seat import outer_size
from nookwright.parts.cradles.plan_outlines import RoundedBox, covered_mm2, slab
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.underside import body, cavity, inner_radius, seated
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Circle, Rect, Region, RegionMove, RegionRepeat, RegionUnion
from nookwright.shapes.solids import Difference, Move, Prism, Union
from nookwright.sizing.ways import SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module

EXAMPLE_CLEARANCE = Fact(
    0.8, unit="mm", kind=SourceKind.CHOICE, source="Between thing and pocket of examples: what falls in by itself."
)
ROOT = Fact(
    0.6, unit="mm", kind=SourceKind.CHOICE, source="Sleeves start this deep in the floor: three layers that overlap."
)
WORTH_SPREADING = Fact(
    1.0,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="Pockets are spread where this gap or more comes between two sleeves; a smaller one fills with strings.",
)


@dataclass(frozen=True)
class Pockets:
    """Round pockets in rows and columns, or in staggered rows.

    Attributes:
        diameter: of a pocket, mm.
        across: middles along x of the first row, from the left side, mm.
        back: middles of the rows along y, from the front, mm.
        moved: how far every second row is moved on to the right, mm; 0 where none is.
        short: whether those rows have a pocket less.
    """

    diameter: float
    across: tuple[float, ...]
    back: tuple[float, ...]
    moved: float = 0.0
    short: bool = False

    @property
    def middles(self) -> tuple[tuple[float, float], ...]:
        """All middles, row by row."""
        second = tuple(x + self.moved for x in self.across[: len(self.across) - self.short])
        return tuple((x, y) for row, y in enumerate(self.back) for x in (second if row % 2 else self.across))


def middles_along(length: float, count: int, pitch: float, wall: float) -> tuple[float, ...]:
    """Middles of so many pockets along one side, spread evenly where that is worth it.

    Args:
        length: outer size of the part, mm.
        count: how many.
        pitch: least distance from middle to middle, mm; two sleeves then share one wall.
        wall: thickness of a sleeve, mm.

    >>> middles_along(100, 2, 40, 1.2), middles_along(100, 2, 48, 1.2)
    ((25.0, 75.0), (26.0, 74.0))
    """
    spread = length / count
    step = spread if spread - pitch - wall >= WORTH_SPREADING else pitch
    first = (length - step * (count - 1)) / 2
    return tuple(first + step * number for number in range(count))


def pockets_of(
    module: Module, *, cols: int, rows: int, diameter: float, columns: int, lines: int, pitch: float
) -> Pockets:
    """Where the pockets of a cradle lie.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        diameter: of a pocket, mm.
        columns: pockets along x.
        lines: pockets along y.
        pitch: least distance from middle to middle, mm.
    """
    return Pockets(
        diameter,
        tuple(x + module.wall for x in middles_along(module.inner(cols), columns, pitch, module.wall)),
        tuple(y + module.wall for y in middles_along(module.inner(rows), lines, pitch, module.wall)),
    )


def staggered_pockets(
    module: Module, *, cols: int, rows: int, diameter: float, columns: int, lines: int, pitch: float, short: bool
) -> Pockets:
    """Where the pockets of a cradle lie whose every second row is moved on by half a pocket: as close as they go.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        diameter: of a pocket, mm.
        columns: pockets along x in the first row.
        lines: rows along y.
        pitch: from middle to middle, in a row and from row to row, mm.
        short: whether every second row has a pocket less.
    """
    step = pitch * math.sqrt(3) / 2
    beside = pitch / 2 if lines > 1 and not short else 0.0
    left = (outer_size(cols, module.pitch) - pitch * (columns - 1) - beside) / 2
    front = (outer_size(rows, module.pitch) - step * (lines - 1)) / 2
    across = tuple(round(left + pitch * number, 4) for number in range(columns))
    return Pockets(
        diameter, across, tuple(round(front + step * row, 4) for row in range(lines)), round(pitch / 2, 4), short
    )


def cradle(module: Module, *, cols: int, rows: int, height: float, pockets: Pockets) -> Part:
    """A cradle with round pockets.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
        pockets: where they are and how wide.
    """
    floor = module.seat.dome
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    inside = cavity(module, cols, rows, floor=floor, height=height, fillet=0.0)
    hollow = Difference(body(module, cols, rows, height), (inside,))
    sleeves = Move(Prism(_sleeves(module, pockets, width, depth), height - floor + ROOT), z=floor - ROOT)
    holes = open_above(RegionRepeat(Circle(pockets.diameter / 2), pockets.middles), floor, height)
    solid = Difference(Union((hollow, sleeves)), (holes,))
    return Part(
        kind=Kind.CRADLE,
        name=f"cradle {size_name(width, depth)} h{height:g}",
        parameters=(
            ("cols", cols),
            ("height", height),
            *((("moved", pockets.moved), ("moved_short", pockets.short)) if pockets.moved else ()),
            ("pitch", module.pitch),
            ("pocket", pockets.diameter),
            ("pockets_x", pockets.across),
            ("pockets_y", pockets.back),
            ("rows", rows),
            ("wall", module.wall),
        ),
        recipe=seated(solid, module, cols, rows),
        plastic=_plastic(module, cols, rows, height, pockets),
    )


def _sleeves(module: Module, pockets: Pockets, width: float, depth: float) -> Region:
    """Sleeves before they are bored, and ribs through their middles from wall to wall."""
    wall = module.wall
    lying = tuple(RegionMove(Rect(width - wall, wall), x=wall / 2, y=y - wall / 2) for y in pockets.back)
    standing = tuple(RegionMove(Rect(wall, depth - wall), x=x - wall / 2, y=wall / 2) for x in pockets.across)
    rings = RegionRepeat(Circle(pockets.diameter / 2 + wall), pockets.middles)
    return RegionUnion((rings, *lying, *standing))


def fillet_mm3(module: Module, cols: int, rows: int) -> float:
    """Volume of the fillet that a plain tray with a smooth floor has and a cradle has not, mm3."""
    round_inside = 2 * (module.inner(cols) + module.inner(rows)) - 2 * (4 - math.pi) * inner_radius(module)
    return (1 - math.pi / 4) * SMOOTH_FILLET**2 * round_inside


def _plastic(module: Module, cols: int, rows: int, height: float, pockets: Pockets) -> Plastic:
    """The tray's plastic without its fillet, its sleeves and its ribs."""
    plain = tray_plastic(module, cols, rows, height, smooth=True)
    wall, high = module.wall, height - module.seat.dome
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    inside = slab(wall, wall, width - wall, depth - wall)
    ribs = (
        *(slab(0.0, y - wall / 2, width, y + wall / 2) for y in pockets.back),
        *(slab(x - wall / 2, 0.0, x + wall / 2, depth) for x in pockets.across),
    )
    bored, sleeves = (
        tuple(RoundedBox(x, y, radius, radius, radius) for x, y in pockets.middles)
        for radius in (pockets.diameter / 2, pockets.diameter / 2 + wall)
    )
    raised = covered_mm2((*sleeves, *ribs), inside, bored)
    return Plastic(
        body_mm3=plain.body_mm3 - fillet_mm3(module, cols, rows) + raised * high,
        sparse_mm3=plain.sparse_mm3,
        first_mm2=plain.first_mm2,
        height=height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Plain cradles for one, four and twelve round things; pockets have floors, so none has a handle."""
    wanted = (("smallest", 13.0, 1, 1, 18.0), ("middle", 26.0, 2, 2, 24.0), ("largest", 50.0, 4, 3, 42.0))
    return tuple(
        Example(size, _example(module, thing, columns, lines, module.height(height)), genus=0)
        for size, thing, columns, lines, height in wanted
    )


def _example(module: Module, thing: float, columns: int, lines: int, height: float) -> Part:
    """A cradle as small as its things allow."""
    pocket = round(thing + EXAMPLE_CLEARANCE, 4)
    pitch = pocket + module.wall
    cols, rows = (max(2, module.cells(count * pitch + module.wall)) for count in (columns, lines))
    where = pockets_of(module, cols=cols, rows=rows, diameter=pocket, columns=columns, lines=lines, pitch=pitch)
    return cradle(module, cols=cols, rows=rows, height=height, pockets=where)
