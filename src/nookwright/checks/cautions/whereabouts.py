"""Who reaches what: the spaces of a kit that children get into, and which lots and parts lie in each space."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.exchange.kit import Kit, KitPart, LotPlace
    from nookwright.survey.models import Lot, Room, Space


@dataclass(frozen=True, eq=False)
class Whereabouts:
    """A kit in its room.

    Attributes:
        kit: the kit, its references sound.
        room: says who reaches what.
    """

    kit: Kit
    room: Room

    @cached_property
    def spaces(self) -> Mapping[str, Space]:
        """Spaces of the room by id."""
        return {space.id: space for space in self.room.space}

    @cached_property
    def space_of(self) -> Mapping[str, str]:
        """The space of each placement."""
        return {placement.id: placement.space for placement in self.kit.placements}

    @cached_property
    def parts(self) -> Mapping[str, KitPart]:
        """Parts by id."""
        return {part.id: part for part in self.kit.parts}

    def lots(self) -> Iterator[tuple[Lot, tuple[LotPlace, ...]]]:
        """Lots of the room with the places that the kit gives them."""
        places = {lot.id: lot.places for lot in self.kit.lots}
        yield from ((lot, places.get(lot.id, ())) for lot in self.room.lot)

    def spaces_with(self, places: tuple[LotPlace, ...]) -> list[Space]:
        """The spaces that some places are in, by id, each once."""
        return [self.spaces[name] for name in sorted({self.space_of[place.placement] for place in places})]

    def reached(self, space: Space) -> bool:
        """Whether children get into a space: it says so, is not locked, and is no higher than they reach."""
        return space.children and not space.locked and not self.too_high(space)

    def too_high(self, space: Space) -> bool:
        """Whether its floor lies above what children reach, as far as the room says that."""
        reach = self.room.choices.children_reach
        return reach is not None and space.floor_height > reach

    @property
    def children_about(self) -> bool:
        """Whether the room speaks of children."""
        return self.room.choices.children_reach is not None or any(space.children for space in self.room.space)


def called(thing: Lot | Space) -> str:
    """Its name for people; the id when it has none."""
    return thing.name or thing.id
