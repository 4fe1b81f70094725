"""What stands on a liner, with everything in it and on it: the bodies that a slam pushes, tips and throws.

Parts on the floor of a space or on cones of their own are stands; lids, dividers and name strips belong to what
carries them. Supports that hold one long thing together are tied by dowels and are one stand. A stand that carries
others is heavier by all of them.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.forces.densities import one_g
from nookwright.checks.forces.masses import Mass, box_mass, mesh_mass, round_mass, together

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitPart, LotPlace, Placement
    from nookwright.survey.models import Lot, Room

SEATED = frozenset({"tray", "cradle", "rest", "riser", "shoe", "nest", "fence"})
LINER = frozenset({"panel", "filler", "key"})


@dataclass(frozen=True, eq=False)
class Stand:
    """A rigid body that stands: one part or several that are tied, with all in and on it; in the axes of its space.

    Attributes:
        name: id of its placement, or of the first.
        label: what people call it.
        space: that it is in.
        parts: ids of the placements that stand.
        on: ids of the placements that carry it.
        low, high: corners of the box round these parts.
        mass: of everything.
    """

    name: str
    label: str
    space: str
    parts: tuple[str, ...]
    on: frozenset[str]
    low: Floats
    high: Floats
    mass: Mass


class Loads:
    """The masses of a whole kit, each worked out once."""

    def __init__(self, kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> None:
        """Weigh a kit.

        Args:
            kit: the kit, its references sound.
            room: says what things weigh.
            shapes: sound meshes by file; a part whose mesh is not among them is taken as its box.
        """
        self.kit = kit
        self.parts: Mapping[str, KitPart] = {part.id: part for part in kit.parts}
        self.placements: Mapping[str, Placement] = {one.id: one for one in kit.placements}
        self.lots: Mapping[str, Lot] = {lot.id: lot for lot in room.lot}
        self._boxes_g = {box.id: box.mass_g for box in room.box}
        self._shapes = shapes
        self._distinct: dict[str, Mass] = {}
        self._each: dict[int, tuple[Mass, ...]] = {}  # by the identity of places, which live as long as the kit

    def shape_of(self, placement: str) -> Shape | None:
        """The mesh of a placed part, in its own axes; ``None`` where it is not sound."""
        return self._shapes.get(self.parts[self.placements[placement].part].stl)

    def of_part(self, placement: str) -> Mass:
        """One placed part alone, in its space."""
        one = self.placements[placement]
        part = self.parts[one.part]
        if part.id not in self._distinct:
            shape = self._shapes.get(part.stl)
            size = np.array(part.size)
            whole = mesh_mass(shape.corners, part.mass_g) if shape else box_mass(size / 2, part.size, part.mass_g)
            self._distinct[part.id] = whole
        return self._distinct[part.id].moved(matrix_of(one.space_from_part))

    def of_things(self, lot: str, place: LotPlace) -> Mass:
        """All things of a place, in their space."""
        return together(self.each(lot, place)).moved(matrix_of(self.placements[place.placement].space_from_part))

    def each(self, lot: str, place: LotPlace) -> tuple[Mass, ...]:
        """The things of a place, one by one or pile by pile, in the axes of their part."""
        if id(place) not in self._each:
            self._each[id(place)] = tuple(self._one_by_one(lot, place))
        return self._each[id(place)]

    def _one_by_one(self, lot: str, place: LotPlace) -> Iterator[Mass]:
        at = place.at or ((0.0, 0.0, 0.0),)
        held = place.held or ((1,) * len(at) if place.at else (place.count,))
        box_g = self._boxes_g.get(place.box, 0.0)
        single_g = one_g(self.lots[lot])
        for spot, count in zip(at, held, strict=True):
            yield self._thing(place, spot, single_g * count + box_g)

    def _thing(self, place: LotPlace, spot: Sequence[float], mass_g: float) -> Mass:
        """One thing or pile, its handle taken by its share of their size."""
        middle = np.array([spot[0], spot[1], spot[2] + place.size[2] / 2])
        handle = place.beside
        share = np.prod(place.size) / (np.prod(place.size) + np.prod(handle.size)) if handle else 1.0
        body = float(share) * mass_g
        own = (
            round_mass(middle, place.size, place.round_axis, body)
            if place.round_axis
            else box_mass(middle, place.size, body)
        )
        if handle is None:
            return own
        at = np.array(spot) + np.array(handle.offset) + [0.0, 0.0, handle.size[2] / 2]
        return together([own, box_mass(at, handle.size, mass_g - body)])

    @cached_property
    def things(self) -> Mapping[str, tuple[Mass, ...]]:
        """All things by the placement that they are counted with, in their space."""
        found: dict[str, list[Mass]] = defaultdict(list)
        for lot in self.kit.lots:
            for place in lot.places:
                found[place.placement].append(self.of_things(lot.id, place))
        return {name: tuple(masses) for name, masses in found.items()}

    @cached_property
    def stands(self) -> Mapping[str, tuple[Stand, ...]]:
        """Everything that stands, by space, in the order of the kit."""
        tied = self._tied()
        upon = self._upon()
        found: dict[str, list[Stand]] = {space.id: [] for space in self.kit.spaces}
        for one in self.kit.placements:
            if self.parts[one.part].kind in SEATED and tied[one.id][0] == one.id:
                found[one.space].append(self._stand(tied[one.id], upon))
        return {space: tuple(listed) for space, listed in found.items()}

    def _stand(self, parts: tuple[str, ...], upon: Mapping[str, tuple[str, ...]]) -> Stand:
        boxes = [self.box_of(name) for name in parts]
        first = self.placements[parts[0]]
        return Stand(
            name=first.id,
            label=first.label,
            space=first.space,
            parts=parts,
            on=frozenset(below for name in parts for below in self.placements[name].stands_on),
            low=np.min([low for low, _ in boxes], axis=0),
            high=np.max([high for _, high in boxes], axis=0),
            mass=together(mass for name in self._all_on(parts, upon) for mass in self._alone(name)),
        )

    def _alone(self, name: str) -> Iterable[Mass]:
        yield self.of_part(name)
        yield from self.things.get(name, ())

    def _upon(self) -> dict[str, tuple[str, ...]]:
        """What stands on each placement; on several, it counts with the first."""
        found: dict[str, list[str]] = defaultdict(list)
        for one in self.kit.placements:
            if one.stands_on:
                found[one.stands_on[0]].append(one.id)
        return {name: tuple(listed) for name, listed in found.items()}

    def _all_on(self, parts: Iterable[str], upon: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
        """Some placements and all that stands on them, and on that."""
        found, waiting = dict.fromkeys(parts), list(parts)
        while waiting:
            more = [name for name in upon.get(waiting.pop(), ()) if name not in found]
            found |= dict.fromkeys(more)
            waiting += more
        return tuple(found)

    def _tied(self) -> dict[str, tuple[str, ...]]:
        """For each placement those that it is one stand with, itself among them."""
        found: dict[str, tuple[str, ...]] = {one.id: (one.id,) for one in self.kit.placements}
        for lot in self.kit.lots:
            for place in lot.places:
                if place.held_by:
                    group = (place.placement, *(name for name in place.held_by if name in found))
                    found |= dict.fromkeys(group, group)
        return found

    def box_of(self, placement: str) -> tuple[Floats, Floats]:
        """Least and greatest corner of a placed part in its space."""
        one = self.placements[placement]
        corners = np.array([(0.0, 0.0, 0.0), self.parts[one.part].size])
        moved = moved_by(matrix_of(one.space_from_part), corners)
        return moved.min(axis=0), moved.max(axis=0)
