"""Bedfuls as the schedule sees them, from loads of beds: which spaces wait for them, and where their colour is seen.

Copies of one piece are alike, so those on the first beds go to the spaces that come first.
"""

from __future__ import annotations

from collections import defaultdict, deque
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.model import Bedful, Stage, Way
from nookwright.parts.model import Kind as PartKind

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from nookwright.making.bedfuls import Load
    from nookwright.making.jobs import Making
    from nookwright.parts.design import Copy

LOW = Fact(
    0.85, unit="1", kind=Kind.CHOICE, source="Of an estimate that no print has corrected yet; four in five lie above."
)
HIGH = Fact(1.2, unit="1", kind=Kind.CHOICE, source="The same; four in five lie below.")
HIGH_MASS = Fact(1.1, unit="1", kind=Kind.CHOICE, source="The same, of grams.")
_HIDDEN = (PartKind.PANEL, PartKind.FILLER, PartKind.KEY, PartKind.RISER)


@dataclass(frozen=True)
class Spread:
    """The interval about an estimate, as shares of it."""

    low: float = float(LOW)
    high: float = float(HIGH)
    high_mass: float = float(HIGH_MASS)


UNLEARNED = Spread()


@dataclass(frozen=True)
class Needs:
    """The copies that spaces need of each piece, in the order of the spaces.

    Attributes:
        spaces: by id of the piece: the space of each of its copies.
        visible: pieces whose colour is seen.
    """

    spaces: dict[str, tuple[str, ...]] = field(default_factory=dict)
    visible: frozenset[str] = frozenset()


def needs_of(making: Making, copies: Iterable[Copy], spaces: Sequence[str]) -> Needs:
    """Which spaces need which pieces.

    Args:
        making: parts and pieces.
        copies: all copies of all parts.
        spaces: ids in the order in which they are to be ready.
    """
    wanted: dict[tuple[str, str], list[str]] = defaultdict(list)
    for copy in copies:
        wanted[making.part_ids[copy.part.recipe.digest], copy.material].append(copy.space)
    place = {space: number for number, space in enumerate(spaces)}
    kinds = {made.id: made.part.kind for made in making.parts}
    return Needs(
        {
            piece.id: tuple(sorted(wanted[piece.part, piece.material], key=lambda one: place.get(one, len(place))))
            for piece in making.pieces
        },
        frozenset(piece.id for piece in making.pieces if kinds[piece.part] not in _HIDDEN),
    )


def bedfuls_of(
    loads: Sequence[Load],
    needs: Needs,
    *,
    ids: Sequence[str],
    stage: Stage = Stage.KIT,
    spread: Callable[[str, str], Spread] = lambda _printer, _material: UNLEARNED,
) -> tuple[Bedful, ...]:
    """Loads as the schedule sees them.

    Args:
        loads: of beds, heating up included.
        needs: which spaces need their pieces.
        ids: of the loads, in the same order.
        stage: what they are for.
        spread: the interval of estimates, by printer and material.
    """
    left = {piece: deque(spaces) for piece, spaces in needs.spaces.items()}
    found = []
    for name, load in zip(ids, loads, strict=True):
        served: dict[str, bool] = {}
        for item in load.items:
            space = left[item.piece].popleft() if left.get(item.piece) else ""
            if space:
                served[space] = served.get(space, False) or item.piece in needs.visible
        share = spread(load.printer, load.material)
        way = Way(load.printer, load.time_s, load.time_s * share.low, load.time_s * share.high)
        found.append(
            Bedful(
                id=name,
                material=load.material,
                ways=(way,),
                mass_g=load.mass_g,
                high_g=load.mass_g * share.high_mass,
                stage=stage,
                spaces=tuple(served),
                visible=tuple(space for space, seen in served.items() if seen),
                night=load.night,
                also_on=tuple(printer for printer, _ in load.also_on),
            )
        )
    return tuple(found)
