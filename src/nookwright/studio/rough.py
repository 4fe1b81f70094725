"""A space in the round before anything is solid: each part as a box, or as a tray, of the size that it will have.

Promise: it needs no kernel, so it is there at once, and it shows what stands where now, moved by hand or not. Rows are
named as the solids are that take their place. What it does not know: anything finer than outer sizes and walls.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.model import Kind as PartKind
from nookwright.studio.places import corner_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.exchange.kit import Kit, KitPart, Matrix, Placement
    from nookwright.studio.arrangement import Arrangement
    from nookwright.studio.planned import Planned
    from nookwright.studio.sheets import Item

OPEN: Final = frozenset({PartKind.TRAY, PartKind.CRADLE, PartKind.SHOE})
USUAL_WALL = Fact(1.2, unit="mm", kind=Kind.CHOICE, source="Of what does not say its own, while it is drawn roughly.")


USUAL_COLOUR: Final = "#c8c8c8"
_AS_IT_IS: Final[Matrix] = ((1.0, 0.0, 0.0, 0.0), (0.0, 1.0, 0.0, 0.0), (0.0, 0.0, 1.0, 0.0), (0.0, 0.0, 0.0, 1.0))


@dataclass(frozen=True)
class _Moved:
    """What a hand did with the part of a lot since it was planned.

    Attributes:
        by: how far it went along x and y, mm.
        same: whether it is the part that was planned, in its space, and only shifted.
        now: how it lies now.
    """

    by: tuple[float, float]
    same: bool
    now: Item


def rough_of(planned: Planned, now: Arrangement, space: str) -> list[dict[str, Any]]:
    """What stands in a space: name, size, place, colour and shape of each part.

    Args:
        planned: the plan that is shown.
        now: what stands where.
        space: id of the space.

    Returns:
        Rows for the page; ``shape`` is empty where no solid of the plan can take the place of a row.
    """
    parts = {one.id: one for one in planned.kit.parts}
    colours = {one.part: one.colour for one in planned.kit.pieces}
    moved = _moved(planned, now)
    rows = []
    for one in planned.kit.placements:
        part, colour = parts[one.part], colours.get(one.part, USUAL_COLOUR)
        change = next((moved[name] for name in (one.id, *one.stands_on) if name in moved), None)
        if change is None or change.same:
            if one.space == space:
                rows.append(_as_planned(one, part, colour, change.by if change else (0.0, 0.0)))
        elif one.id in moved and change.now.space == space:
            rows.append(_anew(one, part, colour, change.now, planned))
    return rows


def rough_part(kit: Kit, recipe: str) -> list[dict[str, Any]]:
    """One part by itself, as it stands where it is first; nothing where the kit has none of that shape.

    Args:
        kit: planned or built.
        recipe: hash of its shape.
    """
    part = next((one for one in kit.parts if one.recipe == recipe), None)
    if part is None:
        return []
    place = next((one.space_from_part for one in kit.placements if one.part == part.id), _AS_IT_IS)
    colour = next((one.colour for one in kit.pieces if one.part == part.id), USUAL_COLOUR)
    return [_row(part.id, part, _outer(part), [list(line) for line in place[:3]], colour=colour, shape=part.recipe)]


def lot_at(planned: Planned, placement: str) -> str:
    """The lot that a placed part holds; empty where it holds none.

    Args:
        planned: the plan that is shown.
        placement: id of the placement, which may be forged.
    """
    return next((lot.id for lot in planned.kit.lots for one in lot.places if one.placement == placement), "")


def placements_of(planned: Planned, lot: str) -> list[str]:
    """Where the things of a lot are.

    Args:
        planned: the plan that is shown.
        lot: id of the lot.
    """
    return [place.placement for one in planned.kit.lots if one.id == lot for place in one.places]


def _moved(planned: Planned, now: Arrangement) -> Mapping[str, _Moved]:
    """What a hand has changed since the plan, by placement."""
    if not now.touched:
        return {}
    then = {one.id: one for one in planned.sheets.items}
    return dict(_changes(planned, [(then[one.id], one) for one in now.items if one.lot and one.id in then]))


def _changes(planned: Planned, pairs: list[tuple[Item, Item]]) -> Iterator[tuple[str, _Moved]]:
    """Placements whose lot lies otherwise than planned."""
    for old, new in pairs:
        if (old.space, old.col, old.row, old.cols, old.rows) == (new.space, new.col, new.row, new.cols, new.rows):
            continue
        same = (old.space, old.cols, old.rows, old.height) == (new.space, new.cols, new.rows, new.height)
        (x0, y0), (x1, y1) = corner_of(old, planned.sheets), corner_of(new, planned.sheets)
        for name in placements_of(planned, new.lot):
            yield name, _Moved((x1 - x0, y1 - y0), same, new)


def _as_planned(one: Placement, part: KitPart, colour: str, by: tuple[float, float]) -> dict[str, Any]:
    """A row of a part as it was planned, perhaps shifted."""
    place = [list(line) for line in one.space_from_part[:3]]
    place[0][3] += by[0]
    place[1][3] += by[1]
    return _row(one.id, part, _outer(part), place, colour=colour, shape=part.recipe)


def _outer(part: KitPart) -> list[float]:
    """The outer size of a part; of a panel without its cones, or they would stand through the floors above."""
    wide, deep, high = part.size
    thick = part.parameters.get("thickness") if part.kind == PartKind.PANEL else None
    return [wide, deep, float(thick) if isinstance(thick, int | float) else high]


def _anew(one: Placement, part: KitPart, colour: str, now: Item, planned: Planned) -> dict[str, Any]:
    """A row of a part that has another size, turn or space than it was planned with."""
    x, y = corner_of(now, planned.sheets)
    pitch, gap = planned.sheets.pitch, planned.sheets.gap
    size = [now.cols * pitch - gap, now.rows * pitch - gap, now.height]
    place = [[1.0, 0.0, 0.0, x], [0.0, 1.0, 0.0, y], [0.0, 0.0, 1.0, _lowest(one.space_from_part)]]
    return _row(one.id, part, size, place, colour=colour, shape="")


def _lowest(matrix: Matrix) -> float:
    """The height at which the origin of a part lies."""
    return matrix[2][3]


def _row(name: str, part: KitPart, size: list[float], place: list[list[float]], **more: str) -> dict[str, Any]:
    """A row as the page reads it."""
    wall = part.parameters.get("wall")
    thick = float(wall) if isinstance(wall, int | float) and not isinstance(wall, bool) else float(USUAL_WALL)
    return {
        "name": name,
        "size": [round(one, 2) for one in size],
        "place": [round(one, 3) for line in place for one in line],
        "wall": thick if part.kind in OPEN and min(size) > 2 * thick else 0.0,
        **more,
    }
