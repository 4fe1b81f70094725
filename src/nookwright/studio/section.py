"""A part in section, with its things, and the dimensions that may be typed: what the page of parts draws.

Two sections, along the width and along the depth, through the middle of the part; and for each dimension what stands in
the room file for it. Sizes are those of the plan; the solids beside the drawing show the shape as it is made.
What it does not know: fillets, grips, sockets.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, KitLot, KitPart, LotPlace

Rect = tuple[float, float, float, float]  # left, low, width, height
_OUTER: Final = ("width", "depth", "height")


@dataclass(frozen=True)
class Dimension:
    """One dimension of the drawing.

    Attributes:
        key: ``width``, ``depth`` or ``height`` of the part, or ``lot.`` with a dimension of its things.
        name: for people.
        value: mm.
        typed: whether it may be typed.
    """

    key: str
    name: str
    value: float
    typed: bool


@dataclass(frozen=True)
class Section:
    """A part in section.

    Attributes:
        part: what it is called.
        size: width, depth and height, mm.
        floor: height at which its things stand, mm.
        wall: thickness, mm.
        across, along: its things along the width and along the depth, as (left, low, width, height), mm.
        dimensions: all that are shown.
    """

    part: str
    size: tuple[float, float, float]
    floor: float
    wall: float
    across: tuple[Rect, ...]
    along: tuple[Rect, ...]
    dimensions: tuple[Dimension, ...]


def section_of(kit: Kit, lot: str) -> Section | None:
    """The section of the part that holds a lot; nothing where it has no part.

    Args:
        kit: planned or built.
        lot: its id.
    """
    found = next((one for one in kit.lots if one.id == lot), None)
    if found is None or not found.places:
        return None
    place = found.places[0]
    part = next(one for one in kit.parts if one.id == place.part)
    wall = part.parameters.get("wall", 0.0)
    floor = min((at[2] for at in place.at), default=0.0)
    return Section(
        part=part.name,
        size=part.size,
        floor=floor,
        wall=float(wall) if isinstance(wall, int | float) else 0.0,
        across=tuple(sorted(set(_rects(place, 0)))),
        along=tuple(sorted(set(_rects(place, 1)))),
        dimensions=tuple(_dimensions(part, found)),
    )


def _rects(place: LotPlace, axis: int) -> Iterator[Rect]:
    """Things of the row in the middle, seen along the other axis."""
    beyond = 1 - axis
    rows = sorted({round(at[beyond], 1) for at in place.at})
    middle = rows[len(rows) // 2] if rows else 0.0
    for at in place.at:
        if round(at[beyond], 1) == middle:
            yield at[axis] - place.size[axis] / 2, at[2], place.size[axis], place.size[2]


def _dimensions(part: KitPart, lot: KitLot) -> Iterator[Dimension]:
    """The part's outer sizes, and what its things measure."""
    placed = part.kind in {"tray", "cradle", "shoe", "nest"}
    for name, value in zip(_OUTER, part.size, strict=True):
        yield Dimension(name, f"outer {name}", value, typed=placed and (name != "height" or part.kind == "tray"))
    for one in lot.sizes:
        value = max(one.readings, default=one.limit)
        yield Dimension(f"lot.{one.dimension}", f"{one.dimension} of one, as measured", value, typed=not one.published)


def pocket_rows(kit: Kit, lot: str) -> list[tuple[str, ...]]:
    """How the pockets of a lot got their diameter: measured, limit, printer, clearance, found, pocket; mm.

    Args:
        kit: planned or built.
        lot: its id.
    """
    rows: list[tuple[str, ...]] = []
    for one in kit.lots:
        if one.id == lot:
            for size in one.sizes:
                if size.pocket is not None:
                    pocket: Any = size.pocket
                    rows.append((
                        size.dimension, f"{pocket.measured:.2f}", f"{pocket.limit:+.2f}", f"{pocket.printer:+.2f}",
                        f"{pocket.clearance:+.2f}", f"{pocket.found:+.2f}", f"{pocket.size:.2f}",
                    ))  # fmt: skip
    return rows
