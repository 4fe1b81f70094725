"""A part in section, with its things, its dimensions and what is worth knowing: what the page of parts draws.

Two sections, along the width and along the depth, each through the middle of the row of things that is nearest the
middle of the part. The browser cuts the solid itself there, so that every kind of part is drawn as it is made; what
stands here is where to cut, what stands in it, and which dimensions are shown. What it does not know: the solid.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from nookwright.ground.sources import Fact, Kind
from nookwright.studio.section_dimensions import Dimension, dimensions_of
from nookwright.studio.section_facts import facts_of
from nookwright.studio.section_orders import ORDERED, as_ordered, order_at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, KitLot, KitPart, LotPlace
    from nookwright.studio.section_orders import Ordered
    from nookwright.survey.models import Room

Rect = tuple[float, float, float, float]  # left, low, width, height

BESIDE = Fact(
    0.013,
    unit="mm",
    kind=Kind.CHOICE,
    source="A section lies beside the middle by this: corners of the mesh lie there, through which no clean line goes.",
)
_NAMES: Final = ("along the width", "along the depth")


@dataclass(frozen=True)
class View:
    """One section.

    Attributes:
        name: for people.
        axis: 0 where it runs along x, 1 along y.
        at: where it is cut along the other axis, mm.
        wide: length of the part along it, mm.
        things: what stands in it, as (left, low, width, height), mm.
    """

    name: str
    axis: int
    at: float
    wide: float
    things: tuple[Rect, ...]


@dataclass(frozen=True)
class Section:
    """A part in section.

    Attributes:
        part: what it is called.
        kind: what it is.
        shape: hash of its shape.
        size: width, depth and height, mm.
        views: along the width, and along the depth.
        dimensions: all that are shown.
        facts: names and words of what no dimension line says.
    """

    part: str
    kind: str
    shape: str
    size: tuple[float, float, float]
    views: tuple[View, View]
    dimensions: tuple[Dimension, ...]
    facts: tuple[tuple[str, str], ...]


def section_of(kit: Kit, key: str, room: Room | None = None) -> Section | None:
    """The section of the part that holds a lot, or of a part that holds none; nothing where there is no such part.

    Args:
        kit: planned or built.
        key: id of the lot, or ``part:`` and the id of the part, or of a part made to order what ``orders_of`` says.
        room: as it is now; ``None`` while something is wrong with it: then orders are not typed.
    """
    if key.startswith(ORDERED):
        found = order_at(kit, room, key)
        return None if found is None else _ordered(kit, found, room.room.units if room else "mm")
    if key.startswith("part:"):
        part = next((one for one in kit.parts if one.id == key.removeprefix("part:")), None)
        return None if part is None else _section(kit, part, None)
    lot = next((one for one in kit.lots if one.id == key), None)
    if lot is None or not lot.places:
        return None
    return _section(kit, next(one for one in kit.parts if one.id == lot.places[0].part), lot)


def others(kit: Kit) -> list[tuple[str, str]]:
    """Keys and names of the parts that hold no things, such as panels and lids, each with how many there are.

    Args:
        kit: planned or built.
    """
    holding = {place.part for lot in kit.lots for place in lot.places}
    counts = Counter(one.part for one in kit.placements)
    return [
        (f"part:{one.id}", f"{one.name}: {counts[one.id]}")
        for one in kit.parts
        if one.id not in holding and counts[one.id]
    ]


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


def size_rows(kit: Kit, lot: str) -> list[tuple[str, ...]]:
    """What is known of the sizes of a lot's things: dimension, measured, limit, and how that is known.

    Args:
        kit: planned or built.
        lot: its id.
    """
    found = next((one for one in kit.lots if one.id == lot), None)
    rows: list[tuple[str, ...]] = []
    for one in found.sizes if found else ():
        known = f"made by {one.process}, within {round(one.tolerance, 2):g} mm" if one.process else "as measured"
        known = "published" if one.published else "process unknown" if one.process == "unknown" else known
        readings = "; ".join(f"{value:g}" for value in one.readings)
        rows.append((one.dimension, readings, f"{one.limit:.2f}", known))
    return rows


def _section(kit: Kit, part: KitPart, lot: KitLot | None) -> Section:
    place = lot.places[0] if lot else None
    views = (_view(part, place, 0), _view(part, place, 1))
    things = tuple(view.things for view in views)
    return Section(
        part=part.name,
        kind=str(part.kind),
        shape=part.recipe,
        size=part.size,
        views=views,
        dimensions=tuple(dimensions_of(part, lot, things)),
        facts=tuple(facts_of(kit, part, lot)),
    )


def _ordered(kit: Kit, ordered: Ordered, unit: str) -> Section:
    plain = _section(kit, ordered.part, None)
    return replace(plain, dimensions=tuple(as_ordered(plain.dimensions, ordered, unit, kit.module.rise)))


def _view(part: KitPart, place: LotPlace | None, axis: int) -> View:
    """One section, through the row of things that is nearest the middle; through the middle where there are none."""
    beyond = 1 - axis
    middle = part.size[beyond] / 2
    at = min((at[beyond] for at in place.at), key=lambda one: abs(one - middle), default=middle) if place else middle
    things = tuple(sorted(set(_rects(place, axis, at)))) if place else ()
    inside = min(max(at + BESIDE, float(BESIDE)), part.size[beyond] - BESIDE)
    return View(_NAMES[axis], axis, inside, part.size[axis], things)


def _rects(place: LotPlace, axis: int, at: float) -> Iterator[Rect]:
    """Things of the row at a place, seen along the other axis."""
    for one in place.at:
        if abs(one[1 - axis] - at) < place.size[1 - axis] / 2:
            yield one[axis] - place.size[axis] / 2, one[2], place.size[axis], place.size[2]
