"""Whether what is tried first can be printed as its files have it: on the bed, apart, in its material, all of it.

kit.json does not say where trials lie on their beds, so it is read from the files alone. What this does not know:
places on a bed that stay free, and the room that a skirt takes.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks import bed_files
from nookwright.checks.bodies import Body, Sort, matrix_of
from nookwright.checks.in_words import OURS, length, some
from nookwright.exchange.threemf_model import PADS
from nookwright.ground.errors import FileFormatError
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID, SHARED_VOLUME_MM3

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from nookwright.checks.bodies import Shape
    from nookwright.checks.shared import Overlaps
    from nookwright.exchange.kit import Kit
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.exchange.trial_models import TrialBedful, TrialPiece
    from nookwright.survey.models import Room

_REMEDY = "Build the kit again; do not change its files by hand."


def check_trial_beds(
    folder: Path, kit: Kit, room: Room, shapes: Mapping[str, Shape], overlaps: Overlaps
) -> Iterator[Finding]:
    """Read the files of all bedfuls of trials, and hold them against what is tried.

    Args:
        folder: of the kit.
        kit: the kit, its references sound.
        room: with its printers.
        shapes: meshes by file.
        overlaps: measures shared volumes.
    """
    pieces = [piece for trial in kit.first.trials for piece in trial.pieces]
    tried = {piece.file: shapes[piece.file] for piece in pieces if piece.file in shapes}
    printed: Counter[tuple[str, str]] = Counter()
    for load in kit.first.bedfuls:
        try:
            content, sha256 = bed_files.read_bed(folder / load.file)
        except FileFormatError as error:
            yield Finding("file-unreadable", Severity.STOP, load.file, f"{error}.", _REMEDY)
            continue
        yield from bed_files.trial_file_differs(load, content, sha256, tried)
        yield from _materials(load, content, kit, room)
        bodies = list(_bodies(content, tried))
        printed.update((body.owner, load.material) for body in bodies)
        yield from _on_bed(load, kit, bodies, overlaps)
    if all(piece.file in shapes for piece in pieces):
        yield from _counted(pieces, printed, tried)


def _bodies(content: ThreeMF, tried: Mapping[str, Shape]) -> Iterator[Body]:
    """The copies on a bed, each owned by the first file of trials that has its mesh."""
    by_key: dict[int, str] = {}
    for item in content.items:
        body = content.bodies[item.body]
        if body.part_number.endswith(PADS):
            continue
        if item.body not in by_key:
            corners = body.vertices[body.triangles]
            same = (file for file, shape in tried.items() if bed_files.alike(corners, shape.corners))
            by_key[item.body] = next(same, "")
        if file := by_key[item.body]:
            yield Body(file, Sort.PART, tried[file], matrix_of(item.bed_from_body))


def _counted(
    pieces: list[TrialPiece], printed: Counter[tuple[str, str]], tried: Mapping[str, Shape]
) -> Iterator[Finding]:
    """Pieces of trials that lie on beds more or less often than they are tried."""
    first = {shape.key: file for file, shape in reversed(list(tried.items()))}  # files with one mesh count together
    wanted: Counter[tuple[str, str]] = Counter()
    names: dict[tuple[str, str], str] = {}
    for piece in pieces:
        same = first[tried[piece.file].key], piece.material
        wanted[same] += piece.count
        names.setdefault(same, piece.name)
    for same, count in wanted.items():
        if printed[same] != count:
            text = f"{some(printed[same], 'copy lies', 'copies lie')} on beds of trials; {count} are to be tried."
            yield Finding("piece-count", Severity.STOP, names[same], text, OURS)


def _materials(load: TrialBedful, content: ThreeMF, kit: Kit, room: Room) -> Iterator[Finding]:
    """A material that the printer does not have, or that the file has in another colour."""
    loaded = {printer.id: printer.materials for printer in room.printer}.get(load.printer, ())
    if load.material not in loaded:
        text = f"The printer {load.printer} is to print {load.material}, but has only {', '.join(loaded)} for it."
        yield Finding("material-not-loaded", Severity.STOP, load.id, text, OURS)
    colour = next((one.colour.lower() for one in kit.materials if one.id == load.material), "")
    found = {content.materials[body.material].colour.lower() for body in content.bodies}
    if found - {colour}:
        text = f"Its file has the colour {', '.join(sorted(found))}; {load.material} has {colour} by kit.json."
        yield Finding("bed-file-differs", Severity.STOP, load.id, text, _REMEDY)


def _on_bed(load: TrialBedful, kit: Kit, bodies: list[Body], overlaps: Overlaps) -> Iterator[Finding]:
    """Copies that reach past the bed less its margin, or lie in each other."""
    printer = next(one for one in kit.printers if one.id == load.printer)
    margin = np.array([printer.margin, printer.margin, 0.0])
    for body in bodies:
        low, high = body.box
        past = max(float((margin - low).max()), float((high - np.array(printer.bed) + margin).max()))
        if past > GRID:
            text = f"{body.owner} reaches {length(past)} past what may be printed on."
            yield Finding("item-off-bed", Severity.STOP, load.id, text, OURS)
    for number, one in enumerate(bodies):
        for other in bodies[number + 1 :]:
            apart = np.maximum(one.box[0] - other.box[1], other.box[0] - one.box[1]).max() >= 0
            if not apart and overlaps.shared_mm3(one, other) > SHARED_VOLUME_MM3:
                text = f"{one.owner} and {other.owner} take the same room."
                yield Finding("items-collide", Severity.STOP, load.id, text, OURS)
