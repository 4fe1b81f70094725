"""Whether the 3MF of a bedful holds what kit.json says: the same meshes, in the same places, in the same colour."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bed_cards import check_card
from nookwright.checks.bed_pads import check_pads, check_trial_pads
from nookwright.exchange.threemf import parse_3mf
from nookwright.exchange.threemf_model import PADS
from nookwright.ground.errors import FileFormatError
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Bedful, Kit, Matrix
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.exchange.trial_models import TrialBedful
    from nookwright.survey.models import Room

_REMEDY = "Build the kit again; do not change its files by hand."


def check_bed_file(
    folder: Path, bedful: Bedful, kit: Kit, shapes: Mapping[str, Shape], *, room: Room
) -> tuple[Finding, ...]:
    """Read the file of a bedful and compare it.

    Args:
        folder: the folder of the kit.
        bedful: whose file it is.
        kit: with the pieces that lie on it.
        shapes: meshes of the pieces by their STL file.
        room: with the printers and how they print.
    """
    try:
        content, sha256 = read_bed(folder / bedful.file)
    except FileFormatError as error:
        return (Finding("file-unreadable", Severity.STOP, bedful.id, f"Its file cannot be read: {error}.", _REMEDY),)
    texts = [
        *(["Its model is not what it was when kit.json was written."] if sha256 != bedful.model_sha256 else []),
        *_other_items(bedful, content),
        *_other_meshes(kit, content, shapes),
        *_other_colours(bedful, kit, content),
    ]
    return (
        *(Finding("bed-file-differs", Severity.STOP, bedful.id, text, _REMEDY) for text in texts),
        *check_card(folder, bedful, kit, content, room),
        *check_pads(bedful, kit, content, shapes, room),
    )


def read_bed(path: Path) -> tuple[ThreeMF, str]:
    """The content of a bedful's file, and the sha256 of the model in it.

    Args:
        path: of the file.

    Raises:
        FileFormatError: it cannot be read, or is no such file.
    """
    return parse_3mf(path)


def trial_file_differs(
    bedful: TrialBedful, content: ThreeMF, sha256: str, shapes: Mapping[str, Shape]
) -> tuple[Finding, ...]:
    """What is otherwise in the file of a bedful of trials, as it was read.

    Args:
        bedful: whose file it is.
        content: of the file.
        sha256: of the model in it.
        shapes: meshes of the pieces of trials, by their STL file.
    """
    texts = ["Its model is not what it was when kit.json was written."] if sha256 != bedful.model_sha256 else []
    known = [shape.corners for shape in shapes.values()]
    texts += [
        f"The mesh of {body.part_number} is that of no trial."
        for body in content.bodies
        if not body.part_number.endswith(PADS)
        and not any(alike(body.vertices[body.triangles], corners) for corners in known)
    ]
    return (
        *(Finding("bed-file-differs", Severity.STOP, bedful.file, text, _REMEDY) for text in texts),
        *check_trial_pads(bedful.file, content),
    )


def alike(one: np.ndarray, other: np.ndarray) -> bool:
    """Whether two meshes are the same triangles in the same order."""
    return one.shape == other.shape and bool(np.abs(one - other).max() < GRID)


def _other_items(bedful: Bedful, content: ThreeMF) -> Iterator[str]:
    """Copies that are not there, too many, or elsewhere."""
    wanted, found = defaultdict(list), defaultdict(list)
    for item in bedful.items:
        wanted[item.piece].append(item.bed_from_piece)
    for copy in content.items:
        if content.bodies[copy.body].part_number.endswith(PADS):
            continue  # see bed_pads
        found[content.bodies[copy.body].part_number].append(copy.bed_from_body)
    for name in sorted(wanted.keys() | found.keys()):
        if len(wanted[name]) != len(found[name]):
            yield f"{len(found[name])} copies of {name}; kit.json says {len(wanted[name])}."
        elif not np.allclose(_sorted(wanted[name]), _sorted(found[name]), rtol=0, atol=GRID):
            yield f"A copy of {name} lies elsewhere than kit.json says."


def _sorted(matrices: list[Matrix]) -> list[Matrix]:
    """In an order that small differences do not change."""
    return sorted(matrices, key=lambda rows: [round(value, 2) for row in rows for value in row])


def _other_meshes(kit: Kit, content: ThreeMF, shapes: Mapping[str, Shape]) -> Iterator[str]:
    """Meshes that are not those of the STL; both hold the same triangles in the same order."""
    files = {piece.id: piece.file for piece in kit.pieces}
    for body in content.bodies:
        shape = shapes.get(files.get(body.part_number, ""))
        if shape is None:
            continue
        corners = body.vertices[body.triangles]
        if not alike(corners, shape.corners):
            yield f"The mesh of {body.part_number} is not that of {files[body.part_number]}."


def _other_colours(bedful: Bedful, kit: Kit, content: ThreeMF) -> Iterator[str]:
    """Bodies of another colour than the bedful's, and faces of a colour that is not in the kit."""
    known = {material.colour.lower() for material in kit.materials}
    for body in content.bodies:
        colour = content.materials[body.material].colour
        if colour.lower() != bedful.colour.lower():
            yield f"{body.part_number} has the colour {colour}; kit.json says {bedful.colour}."
        for paint in body.paint:
            colour = content.materials[paint.material].colour.lower()
            if colour not in known:
                yield f"Faces of {body.part_number} have the colour {colour}, which no material of kit.json has."
