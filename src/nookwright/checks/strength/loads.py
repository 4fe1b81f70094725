"""Who carries what: the mass of the things in each part, what stands on it, and what stands beside each of its sides.

Masses are those of the lots and boxes as surveyed, assumed where nobody weighed one; parts as written. What this does
not know: things that somebody puts somewhere else.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.forces.densities import one_g
from nookwright.checks.strength.plastics import Plastic, plastic_of
from nookwright.checks.weights import held_g
from nookwright.sizing.ways.words import HEAPED

if TYPE_CHECKING:
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitLot, KitPart, LotPlace, Placement
    from nookwright.survey.models import Material, Room, Space


@dataclass(frozen=True)
class Heap:
    """What of a lot is in one placed part.

    Attributes:
        lot: its id.
        mass_g: of all that is there.
        one_g: of one thing of it.
        height: of all that is there, from its lowest underside, mm.
        g_mm3: mass by the boxes round the things, g/mm3.
        loose: whether it lies loose, so that it leans on the walls.
    """

    lot: str
    mass_g: float
    one_g: float
    height: float
    g_mm3: float
    loose: bool


@dataclass(frozen=True, eq=False)
class Row:
    """The placed parts of a space: their ids, and least and greatest corners, (n, 2, 3)."""

    names: tuple[str, ...]
    boxes: Floats


@dataclass(frozen=True)
class Carried:
    """A kit with what its parts carry; everything is worked out when it is first asked for."""

    kit: Kit
    room: Room

    @cached_property
    def parts(self) -> dict[str, KitPart]:
        """Parts by id."""
        return {part.id: part for part in self.kit.parts}

    @cached_property
    def part_of(self) -> dict[str, str]:
        """Ids of parts by those of placements."""
        return {placement.id: placement.part for placement in self.kit.placements}

    @cached_property
    def surveyed(self) -> dict[str, Space]:
        """Spaces of the room by id."""
        return {space.id: space for space in self.room.space}

    @cached_property
    def heaps(self) -> dict[str, tuple[Heap, ...]]:
        """Things in each placed part, by its id."""
        found: dict[str, list[Heap]] = defaultdict(list)
        for lot, place, mass_g in held_g(self.kit, self.room, one_g):
            holders = (place.placement, *place.held_by)
            for holder in holders:
                found[holder].append(_heap(lot, place, mass_g / len(holders)))
        return {name: tuple(heaps) for name, heaps in found.items()}

    @cached_property
    def inside_g(self) -> dict[str, float]:
        """Mass of the things in each placed part, g."""
        return {one.id: sum(heap.mass_g for heap in self.heaps.get(one.id, ())) for one in self.kit.placements}

    @cached_property
    def on_top_g(self) -> dict[str, float]:
        """Mass of all that stands on each placed part, things in it left out, g."""
        own = {one.id: self.parts[one.part].mass_g + self.inside_g[one.id] for one in self.kit.placements}
        carriers = {one.id: one.stands_on for one in self.kit.placements}
        found: dict[str, float] = dict.fromkeys(own, 0.0)
        for one in self.kit.placements:
            mine = carriers[one.id]
            waiting: list[tuple[str, float, tuple[str, ...]]] = [
                (carrier, own[one.id] / len(mine), (one.id,)) for carrier in mine
            ]
            while waiting:
                name, share_g, above = waiting.pop()
                if name in above:
                    continue  # stacked in a ring, which is said elsewhere
                found[name] += share_g
                below = carriers[name]
                waiting += [(carrier, share_g / len(below), (*above, name)) for carrier in below]
        return found

    @cached_property
    def materials(self) -> dict[str, tuple[Material, ...]]:
        """What each part is printed in, by its id."""
        known = {material.id: material for material in self.room.material}
        ids: dict[str, set[str]] = defaultdict(set)
        for piece in self.kit.pieces:
            ids[piece.part].add(piece.material)
        return {part: tuple(known[name] for name in sorted(names & known.keys())) for part, names in ids.items()}

    def plastics(self, part: str) -> tuple[Plastic, ...]:
        """What a part may be printed in, by its id; nothing for one that no piece is of."""
        return tuple(plastic_of(material) for material in self.materials.get(part, ()))

    def plastic(self, part: str) -> Plastic | None:
        """The weakest of them; nothing for a part that no piece is of."""
        return min(self.plastics(part), key=lambda one: one.strength_mpa, default=None)

    @cached_property
    def upright(self) -> dict[str, bool]:
        """Whether a part is printed as it stands, so that its layers lie level, by its id; true of a whole part."""
        found: dict[str, bool] = {}
        for piece in self.kit.pieces:
            level = abs(piece.part_from_piece[2][2]) > 0.5  # noqa: PLR2004 - a cosine, of 0 or 1
            found[piece.part] = found.get(piece.part, True) and level
        return found

    @cached_property
    def boxes(self) -> dict[str, tuple[Floats, Floats]]:
        """Least and greatest corner of every placed part in its space, by its id."""
        return {one.id: self._box(one) for one in self.kit.placements}

    def _box(self, one: Placement) -> tuple[Floats, Floats]:
        corners = moved_by(matrix_of(one.space_from_part), np.array([(0.0, 0.0, 0.0), self.parts[one.part].size]))
        return corners.min(axis=0), corners.max(axis=0)

    @cached_property
    def by_space(self) -> dict[str, Row]:
        """The placed parts of each space."""
        names: dict[str, list[str]] = defaultdict(list)
        for one in self.kit.placements:
            names[one.space].append(one.id)
        return {
            space: Row(tuple(those), np.array([self.boxes[name] for name in those])) for space, those in names.items()
        }

    @cached_property
    def on_it(self) -> dict[str, tuple[Placement, ...]]:
        """What stands on each placed part, by its id."""
        found: dict[str, list[Placement]] = defaultdict(list)
        for one in self.kit.placements:
            for host in one.stands_on:
                found[host].append(one)
        return {host: tuple(those) for host, those in found.items()}

    @cached_property
    def placed(self) -> dict[str, tuple[Placement, ...]]:
        """Where each part is placed, by its id."""
        found: dict[str, list[Placement]] = defaultdict(list)
        for one in self.kit.placements:
            found[one.part].append(one)
        return {part: tuple(those) for part, those in found.items()}


def _heap(lot: KitLot, place: LotPlace, mass_g: float) -> Heap:
    """Things of one place, as a heap."""
    tops = [z + place.size[2] for _, _, z in place.at]
    low = min((z for _, _, z in place.at), default=0.0)
    loose = place.stance == HEAPED
    width, depth, height = place.size
    volume = max(1.0, width * depth * height) * max(1, len(place.at))
    return Heap(lot.id, mass_g, mass_g / max(1, place.count), max(tops, default=low) - low, mass_g / volume, loose)
