"""What a pitch does to the spaces: cells, floor lost at the edges, and the plastic of panels and fillers."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from nookwright.module.choice.candidates import TYPICAL_DENSITY_G_CM3
from nookwright.module.estimates import MM2_PER_DM2, panel_plastic, strip_plastic
from nookwright.module.floor import floor_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.module.estimates import Plastic
    from nookwright.module.floor import Floor
    from nookwright.module.module import Module
    from nookwright.sizing.usable import BlockedBox, Usable


@dataclass(frozen=True)
class Inside:
    """One space that gets trays.

    Attributes:
        usable: its usable inside.
        lined: whether a liner lies in it.
        headroom: kept between what stands in it and what passes over it, mm.
    """

    usable: Usable
    lined: bool = True
    headroom: float = 0.0

    def clear(self, module: Module) -> float:
        """Height for what stands on its liner, mm."""
        return max(0.0, self.usable.height - self.headroom - (module.seat.panel if self.lined else 0.0))


@dataclass(frozen=True)
class Floors:
    """All spaces at one pitch.

    Attributes:
        rooms: of each space its columns, rows and clear height in mm.
        edge_dm2: floor beside the cells and round what is in the way, over all spaces.
        open_dm2: of it, what no filler takes up.
        mass_g, time_s: of all panels and fillers.
        parts: kinds of panel and filler, each once.
    """

    rooms: tuple[tuple[int, int, float], ...]
    edge_dm2: float
    open_dm2: float
    mass_g: float
    time_s: float
    parts: frozenset[tuple[str, float, float]]


def floors_of(insides: Sequence[Inside], module: Module) -> Floors:
    """All spaces at the pitch of a module.

    Args:
        insides: the spaces.
        module: pitch and seat; the rise plays no part.
    """
    made: list[Plastic] = []
    rooms: list[tuple[int, int, float]] = []
    parts: set[tuple[str, float, float]] = set()
    edge = left_open = 0.0
    for inside in insides:
        floor = floor_of(inside.usable, module, lined=inside.lined)
        rooms.append((floor.cols, floor.rows, inside.clear(module)))
        edge += edge_mm2(inside.usable, floor, module.pitch)
        strips = tuple(_strips(floor, module.pitch)) if inside.lined else ()
        left_open += _open_mm2(floor, module.pitch, strips)
        if inside.lined and _free(floor):
            made.append(_panel(floor, module))
            parts.add(("panel", min(floor.cols, floor.rows), max(floor.cols, floor.rows)))
        made += [strip_plastic(module, length, width) for length, width in strips]
        parts |= {("filler", length, width) for length, width in strips}
    return Floors(
        rooms=tuple(rooms),
        edge_dm2=edge / MM2_PER_DM2,
        open_dm2=left_open / MM2_PER_DM2,
        mass_g=sum(one.mass_g(TYPICAL_DENSITY_G_CM3) for one in made),
        time_s=sum(one.time_s(module.seat.layer) for one in made),
        parts=frozenset(parts),
    )


def edge_mm2(usable: Usable, floor: Floor, pitch: float) -> float:
    """Floor of a space that is neither cells nor in the way, mm2.

    Args:
        usable: its usable inside.
        floor: its cells.
        pitch: cell size, mm.
    """
    whole = usable.width * usable.depth - covered_mm2(usable.blocked, usable.width, usable.depth)
    return max(0.0, whole - _free(floor) * pitch**2)


def covered_mm2(boxes: Iterable[BlockedBox], width: float, depth: float) -> float:
    """Area of a floor that boxes cover, where two of them do counted once, mm2.

    Args:
        boxes: what is in the way.
        width: of the floor, mm.
        depth: of it, mm.
    """
    inside = [(max(0.0, b.x0), max(0.0, b.y0), min(width, b.x1), min(depth, b.y1)) for b in boxes]
    lines = sorted({x for box in inside for x in (box[0], box[2])})
    total = 0.0
    for left, right in pairwise(lines):
        spans = sorted((box[1], box[3]) for box in inside if box[0] <= left and right <= box[2])
        reach = 0.0
        for low, high in spans:
            total += max(0.0, high - max(low, reach)) * (right - left)
            reach = max(reach, high)
    return total


def _free(floor: Floor) -> int:
    """Cells that something may stand on."""
    return floor.cols * floor.rows - len(floor.blocked)


def _strips(floor: Floor, pitch: float) -> Iterator[tuple[float, float]]:
    """Length and width of the filler at each side that has one, mm; as long as the cells, whatever is in the way."""
    sides = ((floor.rows, floor.left), (floor.rows, floor.right), (floor.cols, floor.front), (floor.cols, floor.back))
    return ((round(cells * pitch, 6), width) for cells, width in sides if cells and width)


def _open_mm2(floor: Floor, pitch: float, strips: Sequence[tuple[float, float]]) -> float:
    """Of the rest beside the cells, what stays open, play left out, mm2."""
    if strips:
        return floor.open_x * floor.rows * pitch + floor.open_y * floor.cols * pitch
    wide = floor.left + floor.right + floor.open_x
    deep = floor.front + floor.back + floor.open_y
    return wide * floor.rows * pitch + deep * floor.cols * pitch


def _panel(floor: Floor, module: Module) -> Plastic:
    """The panels of a space as their share of one without gaps."""
    return panel_plastic(module, floor.cols, floor.rows).times(_free(floor) / (floor.cols * floor.rows))
