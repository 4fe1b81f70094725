"""A space with all that stands in it: each part as a whole in its place, what carries it, what is in it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from nookwright.checks.bodies import Body, Sort, matrix_of, moved_by
from nookwright.checks.things import bodies_of_things

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitLot, KitPart, KitSpace, LotPlace, Placement
    from nookwright.survey.models import Room, Space

LINER = frozenset({"panel", "filler", "key"})
SEATED = frozenset({"tray", "cradle", "rest", "riser", "shoe", "nest", "drawer"})
INSERTS = frozenset({"divider", "name strip", "lid", "cap"})


@dataclass(frozen=True, eq=False)
class Stood:
    """A part in its place.

    Attributes:
        placement: where it is.
        part: what it is.
        body: the whole of it, glued where it is made of pieces.
        below: ids of all that carries it, and of what carries that.
    """

    placement: Placement
    part: KitPart
    body: Body
    below: frozenset[str]

    @property
    def id(self) -> str:
        """Of the placement."""
        return self.placement.id

    @property
    def kind(self) -> str:
        """Of the part, in the words of the kit."""
        return self.part.kind.value

    @property
    def corners(self) -> Floats:
        """Of its triangles in the space, (m, 3, 3); worked out each time, for all parts together would fill memory."""
        return moved_by(self.body.matrix, self.body.shape.corners)

    def above(self, z: float) -> Floats:
        """Corners of those of its triangles that reach above a height, (m, 3, 3)."""
        heights = self.body.shape.corners @ self.body.matrix[2, :3] + self.body.matrix[2, 3]
        return moved_by(self.body.matrix, self.body.shape.corners[heights.max(axis=1) > z])

    @property
    def low(self) -> Floats:
        """Least corner of its box in the space."""
        return self.body.box[0]

    @property
    def high(self) -> Floats:
        """Greatest corner."""
        return self.body.box[1]


@dataclass(frozen=True, eq=False)
class Lying:
    """Things of one lot in one part.

    Attributes:
        lot: whose things.
        place: how they lie.
        body: all of them as one, at their largest, in the space.
        beside: whether it is a further body of them, such as their handles.
    """

    lot: KitLot
    place: LotPlace
    body: Body
    beside: bool

    @property
    def holders(self) -> tuple[str, ...]:
        """Ids of the placements that hold them."""
        return (self.place.placement, *self.place.held_by)

    @property
    def corners(self) -> Floats:
        """Of the triangles in the space, (m, 3, 3)."""
        return moved_by(self.body.matrix, self.body.shape.corners)


@dataclass(frozen=True, eq=False)
class Furnished:
    """One space with what stands in it.

    Attributes:
        space: as planned.
        surveyed: as measured.
        stood: the parts, in the order of the kit; those without a sound mesh are left out.
        lying: the things.
    """

    space: KitSpace
    surveyed: Space
    stood: tuple[Stood, ...]
    lying: tuple[Lying, ...]

    @cached_property
    def by_id(self) -> Mapping[str, Stood]:
        """The parts by the ids of their placements."""
        return {one.id: one for one in self.stood}

    def riders(self, one: Stood) -> tuple[Stood, ...]:
        """What stands on a part, directly or on what does."""
        return tuple(other for other in self.near(one) if one.id in other.below)

    def near(self, one: Stood | Lying, margin: float = 0.0) -> tuple[Stood, ...]:
        """The other parts that are over, under or beside a part or things in plan.

        Args:
            one: the part or things.
            margin: how far beside still counts, mm.
        """
        low, high = one.body.box
        return tuple(other for other in _met(self._floor, self.stood, low, high, margin) if other is not one)

    def things_near(self, one: Stood | Lying, margin: float = 0.0) -> tuple[Lying, ...]:
        """The other things that are over, under or beside a part or things in plan."""
        low, high = one.body.box
        return tuple(other for other in _met(self._heaps, self.lying, low, high, margin) if other is not one)

    @cached_property
    def _floor(self) -> tuple[Floats, Floats]:
        return _boxes([one.body for one in self.stood])

    @cached_property
    def _heaps(self) -> tuple[Floats, Floats]:
        return _boxes([one.body for one in self.lying])

    def things_in(self, one: Stood) -> tuple[Lying, ...]:
        """Things that a part holds, alone or with others."""
        return tuple(lying for lying in self.lying if one.id in lying.holders)


_Some = TypeVar("_Some")


def _boxes(bodies: list[Body]) -> tuple[Floats, Floats]:
    """Least and greatest corners in plan, (n, 2) each."""
    boxes = np.array([body.box for body in bodies]).reshape(-1, 2, 3)
    return boxes[:, 0, :2], boxes[:, 1, :2]


def _met(
    boxes: tuple[Floats, Floats], owners: Sequence[_Some], low: Floats, high: Floats, margin: float
) -> tuple[_Some, ...]:
    """Those whose boxes meet one in plan, in their order."""
    meet = np.all((boxes[0] < high[:2] + margin) & (boxes[1] > low[:2] - margin), axis=1)
    return tuple(owners[int(number)] for number in np.flatnonzero(meet))


def furnished(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> tuple[Furnished, ...]:
    """All spaces of a kit with what stands in them.

    Args:
        kit: the kit, its references sound.
        room: the room that it is for.
        shapes: sound meshes by file.
    """
    parts = {part.id: part for part in kit.parts}
    surveyed = {space.id: space for space in room.space}
    carriers = {one.id: one.stands_on for one in kit.placements}
    stood: dict[str, list[Stood]] = defaultdict(list)
    for placement in kit.placements:
        part = parts[placement.part]
        if part.stl in shapes:
            at = matrix_of(placement.space_from_part)
            body = Body(placement.id, Sort.PART, shapes[part.stl], at)
            stood[placement.space].append(Stood(placement, part, body, _below(placement, carriers)))
    lying = _lying(kit)
    return tuple(
        Furnished(space, surveyed[space.id], tuple(stood[space.id]), tuple(lying[space.id])) for space in kit.spaces
    )


def _below(placement: Placement, carriers: Mapping[str, tuple[str, ...]]) -> frozenset[str]:
    """Ids of all that carries a placement."""
    found: set[str] = set()
    waiting = list(placement.stands_on)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += carriers[name]
    return frozenset(found)


def _lying(kit: Kit) -> dict[str, list[Lying]]:
    """All things by the space that they are in."""
    space_of = {placement.id: placement.space for placement in kit.placements}
    places = [
        (lot, place, beside)
        for lot in kit.lots
        for place in lot.places
        if place.at
        for beside in ((False, True) if place.beside else (False,))
    ]
    found: dict[str, list[Lying]] = defaultdict(list)
    for (lot, place, beside), (holder, body) in zip(places, bodies_of_things(kit), strict=True):
        found[space_of[holder]].append(Lying(lot, place, body, beside))
    return found
