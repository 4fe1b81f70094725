"""Lots that are to be out of children's reach but are not, by what the room says of its spaces and of its children."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.cautions.whereabouts import called
from nookwright.checks.cautions.words import caution
from nookwright.ground.findings import Against

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.cautions.whereabouts import Whereabouts
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Space


def within_reach(where: Whereabouts) -> Iterator[Finding]:
    """A stop where children get in; a warning where they would by its height, and only a lock would keep them out.

    Args:
        where: the kit in its room.
    """
    for lot, places in where.lots():
        spaces = where.spaces_with(places) if lot.out_of_reach else []
        reached = [space for space in spaces if where.reached(space)]
        if reached:
            space, *_ = reached
            text = f"It is marked to be out of children's reach but lies in {called(space)}, {_why(where, space)}."
            yield caution("out-of-reach", lot.id, text, _height(where, space))
        for space in spaces:
            if space not in reached and _doubtful(where, space):
                text = (
                    f"It is marked to be out of children's reach and lies in {called(space)}, whose floor is "
                    f"{space.floor_height:g} mm high; children reach {where.room.choices.children_reach:g} mm."
                )
                yield caution("reach-doubtful", lot.id, text, _height(where, space))


def _why(where: Whereabouts, space: Space) -> str:
    """Why children reach a space."""
    reach = where.room.choices.children_reach
    if reach is None:
        return "which children can reach"
    return f"which children can reach: its floor is {space.floor_height:g} mm high and they reach {reach:g} mm"


def _doubtful(where: Whereabouts, space: Space) -> bool:
    """Whether a space is low enough for children of this room, and nothing says that they cannot get in."""
    reach = where.room.choices.children_reach
    return reach is not None and space.floor_height <= reach and not space.locked


def _height(where: Whereabouts, space: Space) -> Against | None:
    """The height of its floor against what children reach."""
    reach = where.room.choices.children_reach
    return None if reach is None else Against(space.floor_height, reach, "mm")
