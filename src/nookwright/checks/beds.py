"""Whether every bedful can be printed: inside the bed, nothing into each other, in a material that is there."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bed_room import check_bed_room
from nookwright.checks.bodies import NOISE, Body, Sort, matrix_of
from nookwright.checks.boxes import pairs_within, tree
from nookwright.checks.copies import needed
from nookwright.checks.in_words import length, some, volume
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID, KERNEL, SHARED_VOLUME_MM3

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.checks.shared import Overlaps
    from nookwright.exchange.kit import Bedful, Kit, KitPrinter, Matrix
    from nookwright.survey.models import Room

_NO_BED = "piece-no-bed"
_ELSEWHERE = "Do not print the kit. This is a fault of the tool: please report it with the room file."
_SIDES = (
    "past the left edge", "past the front edge", "below the bottom",
    "past the right edge", "past the back edge", "above the top",
)  # fmt: skip
_REMEDY = "Do not print this bedful. This is a fault of the tool: please report it with the room file."


def check_beds(kit: Kit, room: Room, shapes: Mapping[str, Shape], overlaps: Overlaps) -> tuple[Finding, ...]:
    """Check every bedful, and that together they print every piece as often as it is needed.

    Args:
        kit: the kit, its references sound.
        room: says which printer has which material.
        shapes: sound meshes by file; a piece whose mesh is not among them is passed over.
        overlaps: measures shared volumes.
    """
    printers = {printer.id: printer for printer in kit.printers}
    surveyed = {printer.id: printer for printer in room.printer}
    findings = list(_miscounted(kit))
    for bedful in kit.bedfuls:
        bodies = _bodies(kit, bedful, shapes)
        findings += _wrong_material(kit, bedful, room)
        findings += _off_bed(bedful, printers[bedful.printer], bodies)
        findings += _colliding(bedful, bodies, overlaps)
        findings += check_bed_room(bedful, surveyed[bedful.printer], bodies) if bedful.printer in surveyed else ()
    return tuple(findings)


def _bodies(kit: Kit, bedful: Bedful, shapes: Mapping[str, Shape]) -> list[Body]:
    """The copies on a bed."""
    files = {piece.id: piece.file for piece in kit.pieces}
    return [
        Body(item.piece, Sort.PART, shapes[files[item.piece]], matrix_of(item.bed_from_piece))
        for item in bedful.items
        if files[item.piece] in shapes
    ]


def _miscounted(kit: Kit) -> Iterator[Finding]:
    """Pieces that are printed more or less often than they are needed, in all materials of their part together."""
    printed = Counter(item.piece for bedful in kit.bedfuls for item in bedful.items)
    wanted = needed(kit)
    made: Counter[tuple[str, str, Matrix]] = Counter()
    nowhere = {found.subject for found in kit.findings if found.code == _NO_BED}  # that is said, and why
    for piece in kit.pieces:
        made[piece.part, piece.recipe, piece.part_from_piece] += piece.count
    for piece in kit.pieces:
        count = made[piece.part, piece.recipe, piece.part_from_piece]
        if printed[piece.id] != piece.count and piece.id not in nowhere:
            text = f"{some(printed[piece.id], 'copy lies', 'copies lie')} on beds; the kit needs {piece.count}."
            yield Finding("piece-count", Severity.STOP, piece.id, text, _ELSEWHERE)
        if count != wanted[piece.part]:
            text = (
                f"{some(count, 'copy is', 'copies are')} printed, but its part is needed {wanted[piece.part]} times, "
                "in its places and to order."
            )
            yield Finding("piece-count", Severity.STOP, piece.id, text, _ELSEWHERE)


def _wrong_material(kit: Kit, bedful: Bedful, room: Room) -> Iterator[Finding]:
    """Material that the printer does not have, or that a piece is not meant for."""
    pieces = {piece.id: piece for piece in kit.pieces}
    loaded = {printer.id: printer.materials for printer in room.printer}.get(bedful.printer, ())
    if bedful.material not in loaded:
        text = f"The printer {bedful.printer} is to print {bedful.material}, but has only {', '.join(loaded)} for it."
        yield _stop("material-not-loaded", bedful.id, text)
    for name in sorted({item.piece for item in bedful.items}):
        if pieces[name].material != bedful.material:
            text = f"{name} is meant for {pieces[name].material}, but lies on a bed of {bedful.material}."
            yield _stop("piece-material", bedful.id, text)


def _off_bed(bedful: Bedful, printer: KitPrinter, bodies: list[Body]) -> Iterator[Finding]:
    """Copies that are mirrored, float, or do not fit the bed less its margin."""
    margin = np.array([printer.margin, printer.margin, 0.0])
    most = np.array(printer.bed) - margin
    for body in bodies:
        if not _is_rotation(body):
            yield _stop("item-mirrored", bedful.id, f"{body.owner} is mirrored or stretched, not just turned.")
        low, high = body.box
        if (low < margin - GRID).any() or (high > most + GRID).any():
            yield _off(bedful, body, margin - low, high - most)
        elif low[2] > GRID:
            yield _stop("item-floats", bedful.id, f"{body.owner} begins {length(float(low[2]))} above the bed.")


def _off(bedful: Bedful, body: Body, before: Floats, beyond: Floats) -> Finding:
    """What to say of a copy that reaches past the bed less its margin, mm before it and beyond it along each axis."""
    past = np.concatenate([before, beyond])
    worst = int(np.argmax(past))
    text = f"{body.owner} reaches {length(float(past[worst]))} {_SIDES[worst]} of what may be printed on."
    return Finding(
        "item-off-bed", Severity.STOP, bedful.id, text, _REMEDY, Against(float(past[worst]), float(GRID), "mm")
    )


def _is_rotation(body: Body) -> bool:
    """Whether the matrix turns and moves, and nothing else."""
    turn = body.matrix[:3, :3]
    square = np.abs(turn @ turn.T - np.eye(3)).max() < NOISE
    return bool(square and np.linalg.det(turn) > 0 and np.abs(body.matrix[3] - [0, 0, 0, 1]).max() < KERNEL)


def _colliding(bedful: Bedful, bodies: list[Body], overlaps: Overlaps) -> Iterator[Finding]:
    """Copies that lie in each other."""
    if not bodies:
        return
    boxes = tree(np.array([body.box[0] for body in bodies]), np.array([body.box[1] for body in bodies]))
    for left, right in pairs_within(boxes, NOISE):
        for one, other in sorted(zip(left.tolist(), right.tolist(), strict=True)):
            shared = overlaps.shared_mm3(bodies[one], bodies[other])
            if shared > SHARED_VOLUME_MM3:
                text = f"{bodies[one].owner} and {bodies[other].owner} take the same room, {volume(shared)} of it."
                yield _stop("items-collide", bedful.id, text)


def _stop(code: str, subject: str, text: str) -> Finding:
    return Finding(code, Severity.STOP, subject, text, _REMEDY)
