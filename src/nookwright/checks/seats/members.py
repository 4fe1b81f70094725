"""The parts of a kit with their cones and sockets, put together from the pieces as they are printed."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.seats.drawn import SEATED
from nookwright.checks.seats.level import level_at
from nookwright.checks.seats.rounds import Rounds, cones_of, none, sockets_of, together

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit, KitPart

CARRYING = frozenset({"panel", "lid", "riser"})


@dataclass(frozen=True, eq=False)
class Member:
    """A part as it is printed.

    Attributes:
        part: what kit.json says of it.
        made: each piece with where it lies in the part, 4 x 4; the whole where it has no pieces.
        sockets: in the part's axes; none of a part that is not seated.
        cones: the same; none of a part that carries nothing.
    """

    part: KitPart
    made: tuple[tuple[Shape, Floats], ...]
    sockets: Rounds
    cones: Rounds

    @property
    def key(self) -> str:
        """What its shape depends on."""
        return " ".join(f"{shape.key}{np.round(at[:3, 3], 4).tolist()}" for shape, at in self.made)

    def clear(self, places: Floats, height: float) -> Floats:
        """From places to the nearest of its faces at a height, mm; negative inside plastic.

        Args:
            places: (n, 2), in the part's axes, mm.
            height: above its underside, mm.
        """
        each = [level_at(shape, height - float(at[2, 3])).clear(places - at[:2, 3]) for shape, at in self.made]
        nearest: Floats = np.min(each, axis=0)
        return nearest


def members_of(kit: Kit, shapes: Mapping[str, Shape], verdicts: Verdicts) -> dict[str, Member]:
    """All parts that stand on cones or carry them, by id; those with a file that is not sound are passed over.

    Args:
        kit: the kit, its references sound.
        shapes: sound meshes by file.
        verdicts: those reached before.
    """
    made = made_of(kit, shapes)
    found = {}
    for part in kit.parts:
        if made[part.id] and (part.kind in SEATED or part.kind in CARRYING):
            sockets = _all(made[part.id], sockets_of, verdicts) if part.kind in SEATED else none()
            cones = _all(made[part.id], cones_of, verdicts) if part.kind in CARRYING else none()
            found[part.id] = Member(part, made[part.id], sockets, cones)
    return found


def made_of(kit: Kit, shapes: Mapping[str, Shape]) -> Mapping[str, tuple[tuple[Shape, Floats], ...]]:
    """What each part is put together from, by id; nothing for a part with a file that is not there.

    Args:
        kit: the kit, its references sound.
        shapes: meshes by file.
    """
    files: dict[str, dict[tuple[str, object], tuple[str, Floats]]] = defaultdict(dict)
    for piece in kit.pieces:  # the same piece in another material takes the same room
        files[piece.part].setdefault(
            (piece.recipe, piece.part_from_piece), (piece.file, matrix_of(piece.part_from_piece))
        )
    made: dict[str, tuple[tuple[Shape, Floats], ...]] = {}
    for part in kit.parts:
        named = list(files[part.id].values()) or [(part.stl, np.eye(4))]
        there = tuple((shapes[file], at) for file, at in named if file in shapes)
        made[part.id] = there if len(there) == len(named) else ()
    return made


def _all(
    made: tuple[tuple[Shape, Floats], ...], look: Callable[[Shape, Verdicts], Rounds], verdicts: Verdicts
) -> Rounds:
    """Cones or sockets of all pieces, in the part's axes; pieces only lie beside each other."""
    return together([(look(shape, verdicts), at[:3, 3]) for shape, at in made])


def in_space(rounds: Rounds, matrix: Floats) -> Floats:
    """Middles of cones or sockets and the height of their faces where a part stands, (n, 3), mm.

    Args:
        rounds: in the part's axes.
        matrix: 4 x 4, takes the part to its space.
    """
    return moved_by(matrix, np.column_stack([rounds.places, rounds.face]))
