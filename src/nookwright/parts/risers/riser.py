"""A riser: a block under a tray or under things. Full, ribbed, or hollow for ballast (``hollow_riser.py``).

Its top is a deck with cones, at a whole number of rises, so that a tray on it ends at the height of one that is as much
higher; or it is smooth, lower by the thickness of a panel, so that the same holds for a tray on a panel on it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import (
    SKIN_LAYERS_ABOVE,
    SKIN_LAYERS_BELOW,
    Plastic,
    domes_mm3,
    frustum_mm3,
    sockets_mm3,
    tray_plastic,
)
from nookwright.module.seat import has_cone, outer_size
from nookwright.parts.lids.deck_lid import deck_cone
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.swollen_rim import inset_mm2
from nookwright.parts.underside import body, cavity, domes, seated
from nookwright.shapes.regions import Circle, Rect, Region, RegionMove, RegionRepeat, RegionUnion
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

COLUMN_LAND = Fact(
    0.9,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="A column is wider than the cone on it by this: its top is a shoulder.",
)
ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Ribs start this deep in the floor: layers that overlap.")
LEAST_ABOVE_FLOOR = Fact(
    2.0, unit="mm", kind=SourceKind.CHOICE, source="A riser that is lower over its sockets is a plate with infill."
)


class RiserTop(StrEnum):
    """What is on top of a riser."""

    DECK = "deck"  # cones: a tray sits on it
    SMOOTH = "smooth"  # flat: things, or a panel, lie on it


class RiserInside(StrEnum):
    """What is inside a riser that holds nothing."""

    FULL = "full"  # closed, sparsely filled by the printer
    RIBBED = "ribbed"  # open above: walls, ribs through the middles of the cells, columns under the cones


@dataclass(frozen=True)
class RiserSpec:
    """A riser: footprint in cells, height in rises, what is inside and on top, whether its first cell has a cone."""

    cols: int
    rows: int
    rises: int
    inside: RiserInside = RiserInside.RIBBED
    top: RiserTop = RiserTop.DECK
    first_has_cone: bool = True


def riser_height(module: Module, rises: int, top: RiserTop) -> float:
    """Height of the face that carries, mm: whole rises, less a panel where one may lie on it.

    Args:
        module: the household's module.
        rises: by how many a tray is raised.
        top: what is on top.
    """
    return round(rises * module.rise - (module.seat.panel if top is RiserTop.SMOOTH else 0.0), 6)


def riser(module: Module, spec: RiserSpec) -> Part:
    """A full or ribbed riser.

    Args:
        module: the household's module.
        spec: footprint, rises, inside, top.

    Raises:
        RecipeError: it is too low for sockets and floor.
    """
    high = checked_height(module, spec.rises, spec.top, least=module.seat.dome + LEAST_ABOVE_FLOOR)
    ribbed = spec.inside is RiserInside.RIBBED
    solid = _ribbed(module, spec, high) if ribbed else body(module, spec.cols, spec.rows, high)
    return Part(
        kind=Kind.RISER,
        name=f"riser {size_name(*footprint(module, spec.cols, spec.rows))} h{high:g} {spec.inside}",
        parameters=(
            ("cols", spec.cols),
            ("first_has_cone", spec.first_has_cone),
            ("inside", spec.inside.value),
            ("pitch", module.pitch),
            ("rises", spec.rises),
            ("rows", spec.rows),
            ("top", spec.top.value),
            ("wall", module.wall),
        ),
        recipe=seated(topped(module, spec, solid, high), module, spec.cols, spec.rows),
        plastic=_ribbed_plastic(module, spec, high) if ribbed else _full_plastic(module, spec, high),
    )


def footprint(module: Module, cols: int, rows: int) -> tuple[float, float]:
    """Outer width and depth, mm."""
    return outer_size(cols, module.pitch), outer_size(rows, module.pitch)


def checked_height(module: Module, rises: int, top: RiserTop, *, least: float) -> float:
    """The height of a riser, or a refusal.

    Raises:
        RecipeError: it is lower than ``least``.
    """
    high = riser_height(module, rises, top)
    if high < least or rises < 1:
        more = module.height(least + (module.seat.panel if top is RiserTop.SMOOTH else 0.0)) / module.rise
        refuse_part(
            "riser", "it is higher than its floor and what is in it", found=f"{rises} rises",
            allowed=f"at least {more:.0f}", remedy="Take more rises.",
        )  # fmt: skip
    return high


def middles(module: Module, cols: int, rows: int) -> dict[tuple[int, int], tuple[float, float]]:
    """The middle of each cell, mm from the front left corner of the part."""
    width, depth = footprint(module, cols, rows)
    return {
        (col, row): (
            width / 2 + (col + 0.5 - cols / 2) * module.pitch,
            depth / 2 + (row + 0.5 - rows / 2) * module.pitch,
        )
        for col, row in product(range(cols), range(rows))
    }


def cones_of(module: Module, cols: int, rows: int, *, first_has_cone: bool) -> tuple[tuple[float, float], ...]:
    """Middles of the cells that carry a cone, like a chessboard."""
    found = middles(module, cols, rows)
    return tuple(at for (col, row), at in found.items() if has_cone(col, row) == first_has_cone)


def topped(module: Module, spec: RiserSpec, solid: Solid, high: float) -> Solid:
    """A solid with the cones of its deck on it."""
    at = cones_of(module, spec.cols, spec.rows, first_has_cone=spec.first_has_cone)
    if spec.top is RiserTop.SMOOTH or not at:
        return solid
    return Union((solid, Repeat(deck_cone(module.seat, high, module.seat.cone_height), at)))


def cones_mm3(module: Module, count: int) -> float:
    """Volume of so many cones of a deck, mm3."""
    seat = module.seat
    return count * frustum_mm3(seat.cone_base, seat.cone_top, seat.cone_height)


def _ribbed(module: Module, spec: RiserSpec, high: float) -> Solid:
    """Walls and a shell floor with domes, ribs through the middles of all cells, columns under the cones."""
    seat, cols, rows = module.seat, spec.cols, spec.rows
    inside = cavity(module, cols, rows, floor=seat.shell_floor, height=high, fillet=0.0)
    hollow = Difference(body(module, cols, rows, high), (inside,))
    start = seat.shell_floor - min(float(ROOT), seat.shell_floor / 2)
    return Union((hollow, *domes(module, cols, rows), Move(Prism(_ribs(module, spec), high - start), z=start)))


def _ribs(module: Module, spec: RiserSpec) -> Region:
    """In plan; they end inside the walls."""
    wall, cols, rows = module.wall, spec.cols, spec.rows
    width, depth = footprint(module, cols, rows)
    at = middles(module, cols, rows)
    lying = tuple(RegionMove(Rect(width - wall, wall), x=wall / 2, y=at[0, row][1] - wall / 2) for row in range(rows))
    standing = tuple(
        RegionMove(Rect(wall, depth - wall), x=at[col, 0][0] - wall / 2, y=wall / 2) for col in range(cols)
    )
    cones = cones_of(module, cols, rows, first_has_cone=spec.first_has_cone)
    if spec.top is RiserTop.SMOOTH or not cones:
        return RegionUnion((*lying, *standing))
    return RegionUnion((*lying, *standing, RegionRepeat(Circle(column_radius(module)), cones)))


def column_radius(module: Module) -> float:
    """Of a column under a cone, mm."""
    return module.seat.cone_base + COLUMN_LAND


def _cone_count(module: Module, spec: RiserSpec) -> int:
    if spec.top is RiserTop.SMOOTH:
        return 0
    return len(cones_of(module, spec.cols, spec.rows, first_has_cone=spec.first_has_cone))


def _full_plastic(module: Module, spec: RiserSpec, high: float) -> Plastic:
    """The block less its sockets; sparse between the skins, the walls and the sockets' domes."""
    seat, cols, rows = module.seat, spec.cols, spec.rows
    sockets = sockets_mm3(seat, cols, rows, module.pitch)
    cones = _cone_count(module, spec)
    between = high - (SKIN_LAYERS_BELOW + SKIN_LAYERS_ABOVE) * seat.layer
    filled = inset_mm2(module, cols, rows, module.wall) * between - domes_mm3(seat, cols, rows, module.pitch)
    return Plastic(
        body_mm3=inset_mm2(module, cols, rows, 0.0) * high - sockets + cones_mm3(module, cones),
        sparse_mm3=max(0.0, filled),
        first_mm2=inset_mm2(module, cols, rows, 0.4) - cols * rows * math.pi * seat.cone_base**2,
        height=high + (seat.cone_height if cones else 0.0),
        hops=cones * seat.cone_height / seat.layer,
    )


def _ribbed_plastic(module: Module, spec: RiserSpec, high: float) -> Plastic:
    """A shell tray, ribs and columns less what domes already fill, cones."""
    seat, cols, rows, wall = module.seat, spec.cols, spec.rows, module.wall
    plain = tray_plastic(module, cols, rows, high, smooth=False)
    cones = _cone_count(module, spec)
    ribs = (module.inner(cols) * rows + module.inner(rows) * cols - cols * rows * wall) * wall
    crossing = 4 * wall * column_radius(module) - wall**2
    columns = cones * (math.pi * column_radius(module) ** 2 - crossing)
    dome = domes_mm3(seat, cols, rows, module.pitch) / (cols * rows)
    across = 4 * wall * math.sqrt(dome / (math.pi * (seat.dome - seat.shell_floor))) - wall**2  # of the ribs, in a dome
    hidden = (cols * rows - cones) * across * (seat.dome - seat.shell_floor) + cones * dome
    fillet = plain.body_mm3  # the small fillet of a tray's floor is left in: the ribs' own roots are left out
    return Plastic(
        body_mm3=fillet + (ribs + columns) * (high - seat.shell_floor) - hidden + cones_mm3(module, cones),
        sparse_mm3=0.0,
        first_mm2=plain.first_mm2,
        height=high + (seat.cone_height if cones else 0.0),
        hops=cones * seat.cone_height / seat.layer,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Full and ribbed risers; pockets are open above only, so there is no handle."""
    sizes = (("smallest", 1, 2, 2), ("middle", 4, 3, 4), ("largest", 10, 7, 8))
    return tuple(
        Example(size, riser(module, RiserSpec(cols, rows, rises, inside, top)), 0)
        for inside in RiserInside
        for top in RiserTop
        for size, cols, rows, rises in sizes
    )
