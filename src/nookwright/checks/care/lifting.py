"""Whether the floor of a space is reached for cleaning: parts that one hand lifts, liner and all.

What is lifted is a placed part with all that it holds, and of a liner each piece, since its keys only lie in. Lengths
are those of the meshes. What it does not know: how strong the hand is, and whether there is room for it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.forces.densities import one_g
from nookwright.checks.weights import G_PER_KG, held_g
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.ways.handling import ONE_HANDED

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room

HEAVIEST_G = Fact(
    3000.0,
    unit="g",
    kind=Kind.MEMORY,
    source="EN 1005-2: 5 kg for everybody at home, the old included, times 0.6 for one hand.",
)
_LINER = frozenset({"panel", "filler", "key"})
_LOOSE = frozenset({"divider", "name strip", "lid", "cap"})  # taken off or out first


@dataclass(frozen=True)
class Lifted:
    """What a hand lifts as one.

    Attributes:
        name: for people.
        space: id of the space.
        length: its longest side as it lies, mm.
        mass_g: with what is in it.
        needs: the longest side of a thing in it, mm; 0 where there is none.
    """

    name: str
    space: str
    length: float
    mass_g: float
    needs: float = 0.0


def lifting(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """One finding a space for what is long, one for what is heavy.

    Args:
        kit: the kit, its references sound.
        room: says what things weigh.
        shapes: sound meshes by file; what is not among them is passed over.
    """
    by_space: dict[str, list[Lifted]] = defaultdict(list)
    for one in (*_seated(kit, room, shapes), *_liner(kit, shapes)):
        by_space[one.space].append(one)
    for space, all_of_it in sorted(by_space.items()):
        yield from _long(space, [one for one in all_of_it if one.length > ONE_HANDED], kit.module.pitch)
        yield from _heavy(space, [one for one in all_of_it if one.mass_g > HEAVIEST_G])


def _seated(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Lifted]:
    """Placed parts that stand on the liner or on each other, with what they hold."""
    parts = {part.id: part for part in kit.parts}
    inside_g: dict[str, float] = defaultdict(float)
    needs: dict[str, float] = defaultdict(float)
    for _, place, mass_g in held_g(kit, room, one_g):
        if not place.held_by:  # a blade is taken out of its rest first
            inside_g[place.placement] += mass_g
            needs[place.placement] = max(needs[place.placement], *place.size[:2])
    for placement in kit.placements:
        part = parts[placement.part]
        if part.kind not in _LINER | _LOOSE and part.stl in shapes:
            lifted_g = part.mass_g + inside_g[placement.id]
            yield Lifted(placement.label, placement.space, _length(shapes[part.stl]), lifted_g, needs[placement.id])


def _liner(kit: Kit, shapes: Mapping[str, Shape]) -> Iterator[Lifted]:
    """Every piece of the liners."""
    liner = {part.id: part.name for part in kit.parts if part.kind in _LINER}
    pieces = defaultdict(list)
    for piece in kit.pieces:
        if piece.part in liner and piece.file in shapes:
            pieces[piece.part].append(piece)
    for placement in kit.placements:
        for piece in pieces[placement.part]:
            yield Lifted(f"a piece of {liner[piece.part]}", placement.space, _length(shapes[piece.file]), piece.mass_g)


def _length(shape: Shape) -> float:
    """The longest side as it lies, mm."""
    low, high = shape.box
    return float((high - low)[:2].max())


def _long(space: str, long: list[Lifted], pitch: float) -> Iterator[Finding]:
    """Parts that are too long; a note where their things are as long, but for walls and whole cells."""
    idle = [one for one in long if one.needs < ONE_HANDED - 2 * pitch]
    for found, severity in ((idle, Severity.WARN), ([] if idle else long, Severity.NOTE)):
        if found:
            worst = max(found, key=lambda one: (one.length, one.name))
            text = f"To clean the floor, {_counted(worst.name, len(found))} must be lifted, {worst.length:.0f} mm long"
            why = "" if idle else ", as long as what is in it asks for"
            remedy = "Empty it and take it with both hands"
            remedy += ", or give it less room: another place, fewer things, a shorter part." if idle else "."
            against = Against(worst.length, float(ONE_HANDED), "mm")
            said = f"{text}{why}; one hand keeps {ONE_HANDED:g} mm level."
            yield Finding("lift-long", severity, space, said, remedy, against)


def _heavy(space: str, heavy: list[Lifted]) -> Iterator[Finding]:
    """Parts that are too heavy with what is in them."""
    if heavy:
        worst = max(heavy, key=lambda one: (one.mass_g, one.name))
        what, mass_kg = _counted(worst.name, len(heavy)), worst.mass_g / G_PER_KG
        text = (
            f"To clean the floor, {what} must be lifted, {mass_kg:.1f} kg with what is in it; one hand lifts "
            f"{HEAVIEST_G / G_PER_KG:g} kg."
        )
        against = Against(worst.mass_g, float(HEAVIEST_G), "g")
        remedy = "Take some of its things out first, or part them between two trays."
        yield Finding("lift-heavy", Severity.NOTE, space, text, remedy, against)


def _counted(name: str, count: int) -> str:
    """A name, and how many more there are."""
    return name if count == 1 else f"{name} and {count - 1} more"
