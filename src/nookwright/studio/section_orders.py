"""The dimensions of a part that was made to order: each length that its ``[[part]]`` says is typed where it stands.

What an order says may be less than what the part gets: outer sizes along the floor are rounded up to the next size that
the module has. What it does not know: how the others are drawn; ``section_dimensions`` does.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from pydantic import ValidationError

from nookwright.ground.sources import Fact, Kind
from nookwright.parts.orders.order_lengths import lengths_of
from nookwright.studio import section_reasons as reasons
from nookwright.studio.section_dimensions import Dimension, number

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.survey.models import Order, Room

    Path = tuple[str | int, ...]

EQUAL = Fact(0.02, unit="mm", kind=Kind.CHOICE, source="Sizes of a part are told in hundredths: these two are one.")
ORDERED: Final = "order:"
_CELLS: Final = {"width": ("outer_width", "outer_length"), "depth": ("outer_depth",)}  # rounded up to whole cells
_PLAIN: Final = {
    "width": ("width", "length", "thickness"),
    "depth": ("depth", "thickness", "height"),
    "height": ("height", "thickness"),
}  # where the part is as large as it says
_DRAWN: Final[Mapping[str, Path]] = {
    "inlay": ("options", "inlay"),
    "strip": ("options", "strip_height"),
    "notch": ("options", "notch_depth"),
    "box.width": ("owned", "width"),
    "box.depth": ("owned", "depth"),
}


def orders_of(kit: Kit) -> list[tuple[str, str]]:
    """Keys and names of the parts that were made to order, each with how many there are.

    Args:
        kit: planned or built.
    """
    names = {one.id: one.name for one in kit.parts}
    seen: Counter[str] = Counter()
    found = []
    for one in kit.orders:
        seen[one.id] += 1
        found.append((f"{ORDERED}{one.id}/{seen[one.id]}", f"{one.id}, {names[one.part]}: {one.count}"))
    return found


class Ordered(NamedTuple):
    """A part that was made to order.

    Attributes:
        part: it.
        order: what its keys say; ``None`` where they are not typed here.
        why: why not.
    """

    part: KitPart
    order: Order | None
    why: str


def order_at(kit: Kit, room: Room | None, key: str) -> Ordered | None:
    """An ordered part by its key; nothing where there is none.

    The first part of an order is what its keys speak of; what else belongs to it, such as a lid, follows from that.

    Args:
        kit: planned or built.
        room: as it is now; ``None`` while something is wrong with it.
        key: as ``orders_of`` says it; it may be forged.
    """
    name, _, number = key.removeprefix(ORDERED).partition("/")
    ordered = [one.part for one in kit.orders if one.id == name]
    if number not in map(str, range(1, len(ordered) + 1)):
        return None
    found = next(one for one in kit.parts if one.id == ordered[int(number) - 1])
    if number != "1":
        return Ordered(found, None, reasons.GOES_WITH)
    order = next((one for one in room.part if one.id == name), None) if room else None
    return Ordered(found, order, reasons.ORDERED if order else reasons.WAITS)


def as_ordered(drawn: Iterable[Dimension], ordered: Ordered, unit: str, rise: float) -> Iterator[Dimension]:
    """Dimensions as they are typed in an order, and all else that it says, below the drawing.

    Args:
        drawn: dimensions of the part, as if it held nothing.
        ordered: the part, with its order.
        unit: of plain numbers in the room file.
        rise: step of heights of the module, mm.
    """
    order = ordered.order
    said = _said(order, unit)
    own: Path = ("part", order.id, "keys") if order else ()
    used: set[Path] = set()
    for one in drawn:
        below = _key_of(one, said, order)
        if not below:
            yield replace(one, why=ordered.why)
            continue
        used.add(below)
        more, step = (one.more if one.sets else 0.0), 0.0
        if below == ("rises",):  # what stands on top of it, such as cones, is no step
            more, step = rise * number(ordered.part.parameters.get("rises")) - one.value, rise
        yield replace(one, path=(*own, *below), typed=True, more=more, step=step, why="")
    for below, (name, value) in said.items():
        if below not in used and value:
            yield Dimension("keys." + ".".join(map(str, below)), name, value, (*own, *below), typed=True)


def _said(order: Order | None, unit: str) -> dict[Path, tuple[str, float]]:
    """Names and lengths of an order by their keys; none where it cannot be read."""
    try:
        return {one.path: (one.name, one.value) for one in lengths_of(order, unit)} if order else {}
    except (ValidationError, KeyError):
        return {}


def _key_of(one: Dimension, said: Mapping[Path, tuple[str, float]], order: Order | None) -> Path:
    """The key of an order that a dimension is typed into; nothing where none says it."""
    side = one.sets or one.key
    if order is None:
        return ()
    if side == "height" and "rises" in order.keys:
        return ("rises",)
    cells = next(((key,) for key in _CELLS.get(side, ()) if (key,) in said), None)
    value = one.value + (one.more if one.sets else 0.0)
    equal = ((key,) for key in _PLAIN.get(side, ()) if (key,) in said and abs(said[key,][1] - value) < EQUAL)
    stands = ("height",) if side == "height" and ("outer_width",) in said else ()  # maybe with more on top of it
    found = cells or next(equal, stands or _DRAWN.get(one.key, ()))
    return found if found in said else ()
