"""The parts list of a drawing: 1, 2, ... for trays, A, B, ... for the liner, X1 for what stays free.

Promise: everything that is drawn stands in the list, under its mark unless it stands in a tray that has one; like
parts with like contents share one. What it does not know: where on the paper they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.documents import words
from nookwright.documents.places import Area

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.documents.places import Laid
    from nookwright.exchange.kit import BlockedBox

TRAYS = "Trays and cradles"
LINER = "Liner"
FREE = "Stays free"
COLOURS = "Colours"
SLENDER = frozenset({"fence", "rest"})  # too small for their size: it stands in the list
IN_TRAYS = frozenset({"divider", "name strip", "lid"})  # without a mark; their label names the tray that they are in


@dataclass(frozen=True)
class Spot:
    """A place in the space, and the mark that is set there; empty where none is."""

    mark: str
    area: Area


@dataclass(frozen=True)
class Item:
    """A row of the list.

    Attributes:
        group: heading under which it stands.
        mark: what stands in its ring on the drawing.
        label: what people call it.
        name: name of the part, with its size.
        count: how many; 0 for what is not counted.
        mass_g: of all of them; 0 for what is no print.
        colour: of its material, as ``#rrggbb``; empty for what is no print.
        slender: whether only its label fits on it; its name with the size stands in the list.
        spots: where they are in the space; piece by piece for panels that are cut.
    """

    group: str
    mark: str
    label: str
    name: str
    count: int
    mass_g: float
    colour: str
    spots: tuple[Spot, ...]
    slender: bool = False


def items_of(laid: Sequence[Laid], blocked: Sequence[BlockedBox], materials: Mapping[str, str]) -> tuple[Item, ...]:
    """The list of a drawing.

    Args:
        laid: the parts in their places, in the order in which they are to be numbered.
        blocked: boxes that stay free.
        materials: names of the materials by their ids.
    """
    trays = _alike([one for one in laid if not one.is_liner and one.part.kind not in IN_TRAYS], by_label=True)
    loose = _alike([one for one in laid if one.part.kind in IN_TRAYS], by_label=True)
    liner = _alike([one for one in laid if one.is_liner], by_label=False)
    return (
        *(_part_item(TRAYS, str(number), group) for number, group in enumerate(trays, start=1)),
        *(_part_item(TRAYS, "", group) for group in loose),
        *(_part_item(LINER, letters(number), group) for number, group in enumerate(liner)),
        *(_free_item(number, box) for number, box in enumerate(blocked, start=1)),
        *_colour_items(laid, materials),
    )


def letters(number: int) -> str:
    """Letters in place of a number.

    >>> letters(0), letters(25), letters(26)
    ('A', 'Z', 'AA')
    """
    first, last = divmod(number, 26)
    return (letters(first - 1) if first else "") + chr(ord("A") + last)


def _alike(laid: list[Laid], *, by_label: bool) -> list[list[Laid]]:
    groups: dict[tuple[str, str], list[Laid]] = {}
    for one in laid:
        groups.setdefault((one.part.id, one.placement.label if by_label else ""), []).append(one)
    return list(groups.values())


def _part_item(group: str, mark: str, alike: list[Laid]) -> Item:
    label = words.listed((one.placement.label for one in alike), between="; ")
    pieces = sum(len(one.joints) for one in alike) if group == LINER else 0
    return Item(
        group=group,
        mark=mark,
        label=f"{label}, in {pieces} pieces" if pieces else label,
        name=alike[0].part.name,
        count=len(alike),
        mass_g=sum(one.part.mass_g for one in alike),
        colour=alike[0].colour,
        spots=_spots(mark, alike, in_pieces=bool(pieces)),
        slender=alike[0].part.kind in SLENDER,
    )


def _colour_items(laid: Sequence[Laid], materials: Mapping[str, str]) -> list[Item]:
    """One row a material, so that the tints of the drawing can be told."""
    used = dict.fromkeys((one.material, one.colour) for one in laid if one.colour)
    return [
        Item(
            group=COLOURS,
            mark="",
            label=materials.get(material, material),
            name="",
            count=0,
            mass_g=sum(one.part.mass_g for one in laid if (one.material, one.colour) == (material, colour)),
            colour=colour,
            spots=(),
        )
        for material, colour in used
    ]


def _spots(mark: str, alike: list[Laid], *, in_pieces: bool) -> tuple[Spot, ...]:
    """One spot a part, or A1, A2, ... for the pieces of panels; of the many keys only the first is marked."""
    if in_pieces:
        areas = [area for one in alike for area in one.joints or (one.area,)]
        return tuple(Spot(f"{mark}{number}", area) for number, area in enumerate(areas, start=1))
    marked = 1 if alike[0].part.kind == "key" else len(alike)
    return tuple(Spot(mark if number < marked else "", one.area) for number, one in enumerate(alike))


def _free_item(number: int, box: BlockedBox) -> Item:
    area = Area(box.low[0], box.low[1], box.high[0], box.high[1])
    heights = f"from {words.mm(box.low[2])} to {words.mm(box.high[2])} high"
    return Item(
        group=FREE,
        mark=f"X{number}",
        label=box.reason,
        name=f"{words.mm(area.width)}x{words.mm(area.depth)}, {heights}",
        count=0,
        mass_g=0.0,
        colour="",
        spots=(Spot(f"X{number}", area),),
    )
