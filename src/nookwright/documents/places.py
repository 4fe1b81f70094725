"""What lies where in one space, seen from above: boxes in the space's own millimetres, y to the back.

Promise: every placement of the space is here once, as the box that it covers on the floor, whatever way it
is turned. What it does not know: paper, scales, numbers of the list.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.exchange.kit import Kit, KitPart, KitSpace, LotPlace, Matrix, Placement, Size

LINER_KINDS = frozenset({"panel", "filler", "key"})


@dataclass(frozen=True)
class Area:
    """A rectangle of the floor, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Along x."""
        return self.x1 - self.x0

    @property
    def depth(self) -> float:
        """Along y."""
        return self.y1 - self.y0


@dataclass(frozen=True)
class Thing:
    """One thing in its part: what it covers, and whether it is round seen from above."""

    area: Area
    round: bool


@dataclass(frozen=True)
class Laid:
    """A part in its place: what it covers, the joints of its pieces, the things in it.

    Attributes:
        hidden: whether another part stands on it, so that it is not seen from above.
        across: whether its things lie across other parts as well, and are seen over all of them.
    """

    placement: Placement
    part: KitPart
    material: str
    colour: str
    area: Area
    joints: tuple[Area, ...]
    things: tuple[Thing, ...]
    hidden: bool = False
    across: bool = False

    @property
    def z(self) -> float:
        """Height of its underside, mm."""
        return self.placement.space_from_part[2][3]

    @property
    def is_liner(self) -> bool:
        """Whether it belongs to the liner, not to what stands on it."""
        return self.part.kind in LINER_KINDS


def space_of(kit: Kit, space_id: str) -> KitSpace:
    """The space with this id.

    Raises:
        KeyError: the kit has none.
    """
    for space in kit.spaces:
        if space.id == space_id:
            return space
    raise KeyError(f"The kit has no space {space_id!r}; it has {', '.join(space.id for space in kit.spaces)}.")


def laid_in(kit: Kit, space_id: str) -> tuple[Laid, ...]:
    """All placements of a space: liner first, then from the front left to the back, of a stack the lowest first."""
    parts = {part.id: part for part in kit.parts}
    here = [one for one in kit.placements if one.space == space_id]
    under = _under_others(here, parts)
    laid = [replace(_laid(kit, parts[one.part], one), hidden=one.id in under) for one in here]
    return tuple(sorted(laid, key=lambda one: (not one.is_liner, one.area.y0, one.area.x0, one.z, one.placement.id)))


def _under_others(here: Sequence[Placement], parts: Mapping[str, KitPart]) -> frozenset[str]:
    """Ids of the lids that carry something, and of the trays that these lids lie in."""
    carriers = {name for one in here for name in one.stands_on}
    lids = [one for one in here if parts[one.part].kind == "lid" and one.id in carriers]
    return frozenset(name for lid in lids for name in (lid.id, *lid.stands_on))


def covered(matrix: Matrix, low: Size, high: Size) -> Area:
    """The rectangle of the floor that a box covers after a transform.

    Args:
        matrix: space_from_part.
        low: corner of the box in the part's axes.
        high: the corner opposite.
    """
    corners = [_moved(matrix, corner) for corner in itertools.product(*zip(low, high, strict=True))]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Area(min(xs), min(ys), max(xs), max(ys))


def clipped(area: Area, width: float, depth: float) -> Area:
    """What of an area lies inside a space.

    >>> clipped(Area(-1, 5, 20, 12), 30, 10)
    Area(x0=0, y0=5, x1=20, y1=10)

    Args:
        area: what may reach beyond the walls.
        width: of the space.
        depth: of the space.
    """
    x0, y0 = min(max(area.x0, 0), width), min(max(area.y0, 0), depth)
    return Area(x0, y0, max(min(area.x1, width), x0), max(min(area.y1, depth), y0))


def _laid(kit: Kit, part: KitPart, placement: Placement) -> Laid:
    pieces = [piece for piece in kit.pieces if piece.part == part.id]
    matrix = placement.space_from_part
    joints = [covered(_times(matrix, piece.part_from_piece), (0, 0, 0), piece.size) for piece in pieces]
    places = [place for lot in kit.lots for place in lot.places if place.placement == placement.id]
    return Laid(
        placement=placement,
        part=part,
        material=pieces[0].material if pieces else "",
        colour=pieces[0].colour if pieces else "",
        area=covered(matrix, (0, 0, 0), part.size),
        joints=tuple(joints) if len(joints) > 1 else (),
        things=tuple(thing for place in places for thing in _things(matrix, place)),
        across=any(place.held_by for place in places),
    )


def _things(matrix: Matrix, place: LotPlace) -> list[Thing]:
    things = _bodies(matrix, place.size, place.at, round_=place.round_axis == "z")
    if place.beside:
        dx, dy, dz = place.beside.offset
        things += _bodies(matrix, place.beside.size, [(x + dx, y + dy, z + dz) for x, y, z in place.at], round_=False)
    return things


def _bodies(matrix: Matrix, size: Size, at: Sequence[Size], *, round_: bool) -> list[Thing]:
    width, depth, height = size
    return [
        Thing(covered(matrix, (x - width / 2, y - depth / 2, z), (x + width / 2, y + depth / 2, z + height)), round_)
        for x, y, z in at
    ]


def _moved(matrix: Matrix, point: tuple[float, ...]) -> tuple[float, float]:
    x, y, z = point
    first, second = matrix[0], matrix[1]
    return (
        first[0] * x + first[1] * y + first[2] * z + first[3],
        second[0] * x + second[1] * y + second[2] * z + second[3],
    )


def _times(one: Matrix, other: Matrix) -> Matrix:
    rows = [tuple(sum(row[k] * other[k][column] for k in range(4)) for column in range(4)) for row in one]
    return rows[0], rows[1], rows[2], rows[3]  # type: ignore[return-value] # four rows of four
