"""Whether furniture that stands by its own weight tips over when loaded drawers are open.

Worked out where its mass is given: all drawers out, each with its load, about the front feet; the body with its
centre in the middle of its depth. Nobody hangs on a drawer in this sum; whoever does, or climbs, adds far more, so a
tall free-standing piece gets the usual advice whatever comes out. The advice is that of CPSC on 16 CFR 1261 (ASTM
F2057-23) and of EN 14749.

What this does not know: interlocks, castors, carpets, and how the wall takes an anchor.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.cautions.words import CAUTIONS
from nookwright.checks.forces.carrying import load_of, pulled_out
from nookwright.checks.in_words import names
from nookwright.checks.weights import G_PER_KG
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.furniture import Stands
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nookwright.checks.forces.stands import Loads
    from nookwright.exchange.kit import KitSpace
    from nookwright.survey.furniture import Furniture
    from nookwright.survey.models import Room, Space

TALL = Fact(
    686.0,
    unit="mm",
    kind=Kind.MEMORY,
    source="27 in: clothes storage units from this height on are tested, ASTM F2057-23.",
)
SAFE = Fact(
    1.5, unit="1", kind=Kind.CHOICE, source="Of the moment that holds by the one that tips: floors are not level."
)
BOTTOM_G_MM2 = Fact(
    2.7e-3, unit="g/mm2", kind=Kind.CALCULATED, source="Hardboard 3 thick at 0.9 g/cm3: the bottom of a drawer."
)
SIDE_G_MM2 = Fact(
    1.05e-2, unit="g/mm2", kind=Kind.CALCULATED, source="Chipboard 16 thick at 0.65 g/cm3: the sides of a drawer."
)
_WORDS = CAUTIONS["furniture-tips"]


@dataclass(frozen=True)
class Tip:
    """Moments about the front feet, N mm by the acceleration of fall: g mm.

    Attributes:
        holds: of the body and of what stays in it.
        tips: of the drawers that are out.
    """

    holds: float
    tips: float

    @property
    def ratio(self) -> float:
        """How many times over it holds; infinite where nothing tips it."""
        return self.holds / self.tips if self.tips > 0 else math.inf


def tipping_furniture(room: Room, loads: Loads) -> Iterator[Finding]:
    """What is to be said of the furniture of a room.

    Args:
        room: with its furniture.
        loads: of the kit.
    """
    inside = {space.id: space for space in loads.kit.spaces}
    for piece in room.furniture:
        mine = [space for space in room.space if space.furniture == piece.id and space.id in inside]
        if piece.stands is Stands.FREE and any(space.kind is SpaceKind.DRAWER for space in mine):
            yield from _piece(piece, mine, inside, loads)
    yield from _unsaid(room, loads)


def tip_of(
    piece: Furniture, spaces: Sequence[Space], inside: dict[str, KitSpace], loads: Loads, out: Sequence[str]
) -> Tip:
    """The moments of a piece of furniture.

    Args:
        piece: with its mass.
        spaces: that are in it.
        inside: the same in the kit, by id.
        loads: of the kit.
        out: ids of the drawers that are pulled out.
    """
    deep = piece.depth or max(inside[space.id].usable[0].depth for space in spaces)
    drawers = [space for space in spaces if space.kind is SpaceKind.DRAWER]
    own = {space.id: _drawer_g(piece, inside[space.id]) for space in drawers}
    body = max(0.0, (piece.mass_kg or 0.0) * G_PER_KG - sum(own.values()))
    holds, tips = body * deep / 2, 0.0
    for space in spaces:
        load = load_of(space.id, loads)
        depth = inside[space.id].usable[0].depth
        way = pulled_out(space, inside[space.id]) if space.id in out else 0.0
        for mass_g, y in ((load.mass_g, float(load.centre[1])), (own.get(space.id, 0.0), depth / 2)):
            arm = way - y
            holds, tips = holds + mass_g * max(0.0, -arm), tips + mass_g * max(0.0, arm)
    return Tip(holds, tips)


def _drawer_g(piece: Furniture, inside: KitSpace) -> float:
    """Mass of one empty drawer with its front, g: as it was weighed, or from the size of its boards."""
    if piece.drawer_kg is not None:
        return piece.drawer_kg * G_PER_KG
    width, depth = inside.usable[0].width, inside.usable[0].depth
    return float(width * depth * BOTTOM_G_MM2 + 2 * (width + depth) * inside.height * SIDE_G_MM2)


def _piece(piece: Furniture, spaces: Sequence[Space], inside: dict[str, KitSpace], loads: Loads) -> Iterator[Finding]:
    """One piece of furniture that stands free."""
    drawers = [space.id for space in spaces if space.kind is SpaceKind.DRAWER]
    name = piece.name or piece.id
    if piece.mass_kg is not None:
        every = tip_of(piece, spaces, inside, loads, drawers)
        if every.ratio < SAFE:
            alone = min(tip_of(piece, spaces, inside, loads, (one,)).ratio for one in drawers)
            yield _tips(piece, name, every.ratio, alone)
            return
    top = piece.height or max(space.floor_height + space.height.largest for space in spaces)
    if top >= TALL or any(space.children for space in spaces):
        text = f"{name} stands free and is {top:.0f} mm high. {_WORDS.why}"
        reached = any(space.children and not space.locked for space in spaces)
        severity = Severity.WARN if reached and piece.mass_kg is None else Severity.NOTE
        yield Finding("furniture-anchor", severity, piece.id, text, _WORDS.remedy, against=Against(top, TALL, "mm"))


def _tips(piece: Furniture, name: str, every: float, alone: float) -> Finding:
    text = (
        f"{name} stands free and holds {every:.2f} times what tips it when all of its drawers are out with their "
        f"loads; it should be {SAFE:g}. With only the worst of them out it is {_times(alone)}. {_WORDS.why}"
    )
    return Finding("furniture-tips", Severity.WARN, piece.id, text, _WORDS.remedy, against=Against(every, SAFE, "1"))


def _times(ratio: float) -> str:
    return "not tipped at all" if math.isinf(ratio) else f"{ratio:.2f} times"


def _unsaid(room: Room, loads: Loads) -> Iterator[Finding]:
    """Once a kit, tall drawers of whose furniture nothing is said."""
    used = {one.space for one in loads.kit.placements}
    tall = [
        space.name or space.id
        for space in room.space
        if space.kind is SpaceKind.DRAWER
        and space.furniture is None
        and space.id in used
        and space.floor_height + space.height.largest >= TALL
    ]
    if tall:
        text = (
            f"Nothing is said of the furniture round {names(tall, most=6)}, and whether it stands by its own weight "
            f"alone. {_WORDS.why}"
        )
        remedy = f"{_WORDS.remedy} A table [[furniture]] with its mass lets the tool work it out."
        yield Finding("furniture-unsaid", Severity.NOTE, "kit", text, remedy)
