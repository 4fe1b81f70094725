"""Where each thing lies in its part: the middle of its underside, in the part's axes, in the order of putting in.

In a divided tray things are shared out among the compartments, each as full as the others as far as it has room.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.seat import outer_size
from nookwright.sizing.tray_needs import shared_out
from nookwright.sizing.ways import PartKind

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.cradles.cradle import Pockets
    from nookwright.sizing.tray_needs import Parting
    from nookwright.sizing.ways import Way

Point = tuple[float, float, float]


def places_in(
    module: Module, way: Way, *, cols: int, rows: int, count: int, pockets: Pockets | None
) -> tuple[Point, ...]:
    """Places of so many things; layer by layer, row by row from the front.

    Args:
        module: the household's module.
        way: how the things stand.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        count: how many things there are; at most what the way holds.
        pockets: of a cradle.
    """
    across, back = _middles(module, way, cols, rows, pockets)
    floor = module.seat.dome + way.needs.inlay
    spots = ((x, y, floor + layer * way.thing.height) for layer in range(way.layers) for y in back for x in across)
    return tuple(spot for spot, _ in zip(spots, range(count), strict=False))


def _middles(
    module: Module, way: Way, cols: int, rows: int, pockets: Pockets | None
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    if way.kind is PartKind.CRADLE and pockets is not None:
        return pockets.across, pockets.back
    return (
        _along(module, cols, way.columns, way.pitch_x, parting=way.needs.columns, edge=way.edge),
        _along(module, rows, way.rows, way.pitch_y, parting=way.needs.rows, edge=way.edge),
    )


def _along(module: Module, cells: int, count: int, pitch: float, *, parting: Parting, edge: float) -> tuple[float, ...]:
    """Middles of so many things along one side of the part."""
    if parting.plain:
        return _spread(0.0, outer_size(cells, module.pitch), count, pitch)
    inside = module.inner(cells)
    shares = shared_out(parting.room_for(inside, pitch, edge), count)
    return tuple(
        module.wall + middle
        for (start, end), share in zip(parting.spans(inside), shares, strict=True)
        for middle in _spread(start, end, share, pitch)
    )


def _spread(start: float, end: float, count: int, pitch: float) -> tuple[float, ...]:
    """Middles of so many things between two walls, as close as they may lie, in the middle of it."""
    first = (start + end - pitch * (count - 1)) / 2
    return tuple(first + pitch * number for number in range(count))
