"""A way to keep a lot, with things of another size: what a limit that moves does to the part around them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import permutations
from typing import TYPE_CHECKING

from nookwright.sizing.ways import HAND_WIDTH, Arrangement, PartKind
from nookwright.sizing.ways.rows import ROW_STEP
from nookwright.sizing.ways.walls import wall_height
from nookwright.survey.models import Shape
from nookwright.survey.standards import DIMENSIONS

if TYPE_CHECKING:
    from nookwright.sizing.ways import Way
    from nookwright.survey.models import Lot

_AXES = ("x", "y", "z")
_ROUND = {
    "z": {"diameter": "xy", "height": "z"},
    "x": {"diameter": "yz", "height": "x"},
    "y": {"diameter": "xz", "height": "y"},
}


@dataclass(frozen=True)
class Along:
    """The axes of a part along which one dimension of its things lies."""

    x: bool
    y: bool
    z: bool


def along_of(lot: Lot, way: Way, dimension: str) -> Along:
    """Where a dimension of the things lies, as they stand.

    Args:
        lot: the lot.
        way: how its things stand.
        dimension: key of the room file: ``width``, ``diameter``.
    """
    if lot.shape is Shape.ROUND:
        axes = _ROUND[way.thing.round_axis or "z"][dimension]
    else:
        axes = _AXES[_order(lot, way).index(dimension)]
    return Along("x" in axes, "y" in axes, "z" in axes)


def _order(lot: Lot, way: Way) -> tuple[str, ...]:
    """The dimensions that lie along x, y and z: those whose readings are nearest to the thing as it stands."""
    sides = (way.thing.width, way.thing.depth, way.thing.height - way.nest * (way.each - 1))
    read = {name: getattr(lot, name).largest for name in DIMENSIONS[lot.shape or Shape.BOX]}
    return min(
        permutations(read),
        key=lambda names: sum(abs(read[name] - side) for name, side in zip(names, sides, strict=True)),
    )


def resized(way: Way, along: Along, change: float) -> Way:
    """The same way with things that are larger, or smaller, along some axes.

    Args:
        way: as it is.
        along: which axes.
        change: mm; negative for smaller things.
    """
    x, y, z = (change * on for on in (along.x, along.y, along.z))
    staggered = way.arrangement is Arrangement.STAGGERED
    pitch_x, pitch_y = way.pitch_x + x, way.pitch_y + y * (ROW_STEP if staggered else 1.0)
    stack = way.stack_height + z * way.layers
    thing = replace(way.thing, width=way.thing.width + x, depth=way.thing.depth + y, height=way.thing.height + z)
    needs, moved = way.needs, replace(way, pitch_x=pitch_x, pitch_y=pitch_y)
    return replace(
        moved,
        thing=thing,
        pocket=way.pocket + x if way.pocket else 0.0,
        inner_width=max(needs.columns.least(way.columns, pitch_x, moved.edge_x), HAND_WIDTH, needs.least_width),
        inner_depth=max(needs.rows.least(way.rows, pitch_y, moved.edge_y), HAND_WIDTH, needs.least_depth),
        stack_height=stack,
        wall_height=_wall(way, thing.height, stack) if z else way.wall_height,
    )


def _wall(way: Way, high: float, stack: float) -> float:
    """The wall round things so high: as a new way has it, and of a dispenser as far above its stack as before."""
    if way.kind is PartKind.DISPENSER:
        return way.wall_height + stack - way.stack_height
    return max(wall_height(way.stance, way.kind, high, way.layers) + way.needs.inlay, way.needs.least_wall)
