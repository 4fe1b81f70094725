"""Flat solids with hundreds of openings, made tile by tile.

What the library does with a body grows with the square of its faces: a panel of 30 x 24 cells in one go takes half a
minute. Upright planes cut the recipe into tiles, so each costs a moment; the tiles have whole faces in common and are
glued. Only prisms are cut, as regions; everything else lies in one tile, or there are no tiles.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.boxes import common, shifted, turned
from nookwright.shapes.node import snapped
from nookwright.shapes.regions import Rect, RegionIntersection, RegionMove
from nookwright.shapes.solids import Bowl, Difference, Move, Named, Prism, Repeat, Revolution, Solid, Taper, Union
from nookwright.solids.outlines import said

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from nookwright.shapes.boxes import Box2
    from nookwright.shapes.regions import Region

    Holds = Callable[[Region], bool]

TILE = Fact(80.0, unit="mm", kind=Kind.MEASURED, source="Least width: half and double of it took longer.")
WORTH_TILES = Fact(100, unit="1", kind=Kind.MEASURED, source="Round bodies of a recipe; with fewer there is no gain.")
_IN_GAP = 0.37  # of a gap between round bodies: off its middle, where edges and seams lie
_LEAST_GAP = 0.5


def tiles(solid: Solid, holds: Holds) -> tuple[Solid, ...]:
    """The solid as tiles that together fill it, or nothing where it is better made whole.

    Args:
        solid: any.
        holds: whether there is anything in a region.
    """
    rounds = _rounds(solid)
    if rounds is None or len(rounds) < WORTH_TILES:
        return ()
    x0, y0, _, x1, y1, _ = solid.bounds
    columns = _lines([(box[0], box[2]) for box in rounds], x0, x1)
    rows = _lines([(box[1], box[3]) for box in rounds], y0, y1)
    windows = [(left, front, right, back) for left, right in pairwise(columns) for front, back in pairwise(rows)]
    found = [_within(solid, window, holds) for window in windows]
    return tuple(tile for tile in found if tile) if len(windows) > 1 else ()


def _lines(spans: list[tuple[float, float]], low: float, high: float) -> list[float]:
    """Where planes go along one axis: between the spans, far enough apart; the ends lie outside of all, cutters too."""
    found, reach = [min(low, *(start for start, _ in spans)) - 1], low
    for start, end in sorted(spans):
        line = snapped(reach + _IN_GAP * (start - reach))
        if start - reach >= _LEAST_GAP and line - max(low, found[-1]) >= TILE and high - line >= TILE:
            found.append(line)
        reach = max(reach, end)
    return [*found, max(high, reach) + 1]


def _rounds(solid: Solid) -> list[Box2] | None:
    """The boxes of all leaves that are no upright prisms; nothing where a node cannot be cut."""
    match solid:
        case Prism():
            return []
        case Named(inner) | Move(inner) | Repeat(inner):
            boxes = _rounds(inner)
            return None if boxes is None else [there for box in boxes for there in _moved(solid, box)]
        case Union(solids):
            return _all_rounds(solids)
        case Difference(base, cuts):
            return _all_rounds((base, *cuts))
        case Taper() | Revolution() | Bowl():
            return [_flat(solid)]
    return None


def _all_rounds(solids: tuple[Solid, ...]) -> list[Box2] | None:
    each = [_rounds(solid) for solid in solids]
    return None if None in each else [box for boxes in each for box in boxes or ()]


def _moved(solid: Solid, box: Box2) -> Iterator[Box2]:
    """Where a node puts a box of what is inside it."""
    match solid:
        case Move(_, x, y, _, turns):
            yield shifted(turned(box, turns), (x, y))
        case Repeat(_, places):
            yield from (shifted(box, place) for place in places)
        case _:
            yield box


def _flat(solid: Solid) -> Box2:
    x0, y0, _, x1, y1, _ = solid.bounds
    return x0, y0, x1, y1


def _within(solid: Solid, window: Box2, holds: Holds) -> Solid | None:
    """What of a solid lies over a window; nothing where none does."""
    box = common((_flat(solid), window))
    if box is None:
        return None
    if box == _flat(solid):
        return solid
    match solid:
        case Prism(region, height):
            left, front, right, back = window
            part = RegionIntersection((region, RegionMove(Rect(right - left, back - front), x=left, y=front)))
            return Prism(part, height) if holds(part) else None
        case Repeat(inner, places):
            return _united(tuple(Move(inner, x, y) for x, y in places), window, holds)
        case Union(solids):
            return _united(solids, window, holds)
    return _within_first(solid, window, holds)


def _within_first(solid: Solid, window: Box2, holds: Holds) -> Solid | None:
    """The same for a node of which nothing is left where nothing is of the first solid in it."""
    match solid:
        case Named(inner, name):
            kept = _within(inner, window, holds)
            return Named(kept, name) if kept else None
        case Move(inner, x, y, z, turns):
            kept = _within(inner, turned(shifted(window, (-x, -y)), -turns), holds)
            return Move(kept, x, y, z, turns) if kept else None
        case Difference(base, cuts):
            kept = _within(base, window, holds)
            return Difference(kept, _kept(cuts, window, holds)) if kept else None
    raise SolidError(f"a plane cuts {said(solid)}")


def _kept(solids: tuple[Solid, ...], window: Box2, holds: Holds) -> tuple[Solid, ...]:
    return tuple(kept for solid in solids if (kept := _within(solid, window, holds)))


def _united(solids: tuple[Solid, ...], window: Box2, holds: Holds) -> Solid | None:
    kept = _kept(solids, window, holds)
    return Union(kept) if kept else None
