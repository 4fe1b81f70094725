"""Where each thing lies in its part: the middle of its underside, in the part's axes, in the order of putting in.

In a divided tray things are shared out among the compartments, each as full as the others as far as it has room. A
place may hold several things at once: a pile of nested ones, a heap, what is in a box.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.seat import outer_size
from nookwright.sizing.tray_needs import shared_out
from nookwright.sizing.ways import Arrangement, PartKind
from nookwright.sizing.ways.shared import spans_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.module.module import Module
    from nookwright.parts.cradles.cradle import Pockets
    from nookwright.sizing.tray_needs import Parting
    from nookwright.sizing.ways import Way

Point = tuple[float, float, float]
Spot = tuple[float, float]


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
    return _stacked(module, way, _spots(module, way, cols, rows, pockets), count)


def shared_places(
    module: Module, way: Way, *, cols: int, rows: int, counts: Sequence[int]
) -> tuple[tuple[Point, ...], ...]:
    """Places of the things of every lot of a shared tray, lot by lot from the left.

    Args:
        module: the household's module.
        way: of the shared tray.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        counts: how many things each lot has.
    """
    inside, found = module.inner(cols), []
    spans = spans_of(way, inside, module.wall)
    for one, (start, end), count in zip(way.compartments, spans, counts, strict=True):
        left = module.wall + start, module.wall + end
        back = _along(module, rows, one.rows, one.pitch_y, parting=one.needs.rows, edge=one.edge_y)
        if one.arrangement is Arrangement.HEAP:
            back = _middles(module, rows, one.needs.rows)
        spots = tuple(_rows(one, left, back))
        found.append(_stacked(module, one, spots, count))
    return tuple(found)


def held_in(way: Way, places: int, count: int) -> tuple[int, ...]:
    """How many things each place holds; empty where each holds one.

    Args:
        way: how the things stand.
        places: that are in use.
        count: how many things there are.
    """
    return shared_out((way.each,) * places, count) if way.each > 1 or count > places else ()


def _stacked(module: Module, way: Way, spots: Sequence[Spot], count: int) -> tuple[Point, ...]:
    """Spots on the floor, layer by layer, as many as so many things need."""
    floor, wanted = module.seat.dome + way.needs.inlay, -(-count // way.each)
    every = ((x, y, floor + layer * way.thing.height) for layer in range(way.layers) for x, y in spots)
    return tuple(spot for spot, _ in zip(every, range(wanted), strict=False))


def _spots(module: Module, way: Way, cols: int, rows: int, pockets: Pockets | None) -> tuple[Spot, ...]:
    if way.kind is PartKind.CRADLE and pockets is not None:
        return pockets.middles
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    if way.kind is PartKind.SHOE:
        return ((width / 2, depth / 2),)
    if way.arrangement is Arrangement.HEAP:
        across, back = _middles(module, cols, way.needs.columns), _middles(module, rows, way.needs.rows)
        return tuple((x, y) for y in back for x in across)
    if way.arrangement is Arrangement.STAGGERED:
        return tuple(_rows(way, (0.0, width), _spread(0.0, depth, way.rows, way.pitch_y)))
    across = _along(module, cols, way.columns, way.pitch_x, parting=way.needs.columns, edge=way.edge)
    back = _along(module, rows, way.rows, way.pitch_y, parting=way.needs.rows, edge=way.edge)
    return tuple((x, y) for y in back for x in across)


def _rows(way: Way, span: tuple[float, float], back: Sequence[float]) -> Iterator[Spot]:
    """Spots of an undivided span along x, row by row; in staggered rows every second one is moved on."""
    moved = way.pitch_x / 2 if way.arrangement is Arrangement.STAGGERED and way.rows > 1 else 0.0
    start, end = span if way.short else (span[0], span[1] - moved)
    across = _spread(start, end, way.columns, way.pitch_x)
    for number, y in enumerate(back):
        odd = number % 2
        last = len(across) - 1 if odd and way.short else len(across)
        yield from ((x + moved * odd, y) for x in across[:last])


def _middles(module: Module, cells: int, parting: Parting) -> tuple[float, ...]:
    """Middles of the compartments along one side."""
    return tuple(module.wall + (start + end) / 2 for start, end in parting.spans(module.inner(cells)))


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
