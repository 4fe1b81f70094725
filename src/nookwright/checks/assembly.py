"""Whether all that is put into a space fits: inside it, clear of what is blocked, and nothing into each other."""

from __future__ import annotations

from collections import defaultdict
from itertools import chain
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import NOISE, Body, Sort, box_shape, matrix_of, moved_by
from nookwright.checks.boxes import pairs_within, tree
from nookwright.checks.gathering import few
from nookwright.checks.in_words import OURS, called, the, volume
from nookwright.checks.room_inside import outside
from nookwright.checks.springs import check_springs, pressed_points
from nookwright.checks.things import bodies_of_things
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import SHARED_VOLUME_MM3

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.shared import Overlaps
    from nookwright.exchange.kit import Kit, KitSpace, Piece
    from nookwright.ground.progress import Progress

_CODES = {
    (Sort.PART, Sort.PART): "parts-collide",
    (Sort.BLOCKED, Sort.PART): "part-in-blocked",
    (Sort.BLOCKED, Sort.THINGS): "things-in-blocked",
    (Sort.PART, Sort.THINGS): "things-in-part",
    (Sort.THINGS, Sort.THINGS): "things-collide",
}


def check_assembly(
    kit: Kit, shapes: Mapping[str, Shape], overlaps: Overlaps, progress: Progress
) -> tuple[Finding, ...]:
    """Check every space.

    Args:
        kit: the kit, its references sound.
        shapes: sound meshes by file; a placement whose meshes are not among them is passed over.
        overlaps: measures shared volumes.
        progress: hears of every pair that is looked at.
    """
    bodies = bodies_by_space(kit, shapes)
    names = {one.id: called(one) for one in kit.placements}
    findings = [found for space in kit.spaces for found in few(_all_outside(space, bodies[space.id]))]
    findings += check_springs(kit, shapes)
    collisions: dict[str, list[Finding]] = defaultdict(list)
    pairs = [(space.id, *pair) for space in kit.spaces for pair in _meeting(bodies[space.id] + _blocked(space))]
    for space_id, some, other in progress.track(pairs, len(pairs), "looking for collisions"):
        shared = overlaps.shared_mm3(some, other)
        if shared > SHARED_VOLUME_MM3:
            collisions[space_id].append(_collision(some, other, shared, names))
    return (*findings, *(found for those in collisions.values() for found in few(those)))


def bodies_by_space(kit: Kit, shapes: Mapping[str, Shape]) -> Mapping[str, list[Body]]:
    """All parts, as they are printed, and all things, by the space that they are in.

    Args:
        kit: the kit, its references sound.
        shapes: meshes by file.
    """
    space_of = {placement.id: placement.space for placement in kit.placements}
    bodies: dict[str, list[Body]] = defaultdict(list)
    for holder, body in chain(_parts(kit, shapes), bodies_of_things(kit)):
        bodies[space_of[holder]].append(body)
    return bodies


def _parts(kit: Kit, shapes: Mapping[str, Shape]) -> Iterator[tuple[str, Body]]:
    """Every placed piece, with the id of its placement; the whole part where it has no pieces."""
    pieces: dict[str, list[Piece]] = defaultdict(list)
    seen = set()
    for piece in kit.pieces:
        place = piece.part, piece.recipe, piece.part_from_piece
        if place not in seen:  # the same piece in another material takes the same room
            seen.add(place)
            pieces[piece.part].append(piece)
    whole = {part.id: part.stl for part in kit.parts}
    for placement in kit.placements:
        at = matrix_of(placement.space_from_part)
        made_of = [(piece.file, at @ matrix_of(piece.part_from_piece)) for piece in pieces[placement.part]]
        for file, matrix in made_of or [(whole[placement.part], at)]:
            if file in shapes:
                pressed = pressed_points(placement, shapes[file], matrix) if placement.travel else None
                yield placement.id, Body(placement.id, Sort.PART, shapes[file], matrix, pressed)


def _blocked(space: KitSpace) -> list[Body]:
    """The boxes that nothing may enter."""
    return [Body(box.reason, Sort.BLOCKED, box_shape(box.low, box.high), np.eye(4)) for box in space.blocked]


def _all_outside(space: KitSpace, bodies: list[Body]) -> Iterator[Finding]:
    """Findings about bodies that stick out of their space."""
    for body in bodies:
        points = moved_by(body.matrix, body.shape.vertices) if body.pressed is None else body.pressed
        past = outside(space, points)
        if past:
            code = "part-outside" if body.sort is Sort.PART else "things-outside"
            yield Finding(code, Severity.STOP, body.owner, f"It reaches {past} of {space.id}.", OURS)


def _meeting(bodies: list[Body]) -> list[tuple[Body, Body]]:
    """Pairs whose boxes meet by more than the noise, two blocked boxes aside; in a fixed order."""
    if not bodies:
        return []
    boxes = tree(np.array([body.box[0] for body in bodies]), np.array([body.box[1] for body in bodies]))
    pairs = sorted(
        (int(min(pair)), int(max(pair)))
        for left, right in pairs_within(boxes, NOISE)
        for pair in zip(left, right, strict=True)
    )
    both = [(bodies[left], bodies[right]) for left, right in pairs]
    return [pair for pair in both if {body.sort for body in pair} != {Sort.BLOCKED}]


def _collision(some: Body, other: Body, shared_mm3: float, names: Mapping[str, str]) -> Finding:
    """What to say about two bodies that share room."""
    first, second = sorted((some, other), key=lambda body: (body.sort, body.owner))
    what = the(first.owner) if first.sort is Sort.BLOCKED else names.get(first.owner, first.owner)
    who = names.get(second.owner, second.owner)
    text = f"{who} and {what} take the same room, {volume(shared_mm3)} of it; allowed is none."
    against = Against(shared_mm3, float(SHARED_VOLUME_MM3), "mm3")
    return Finding(_CODES[first.sort, second.sort], Severity.STOP, second.owner, text, OURS, against)
