"""Proving a kit: everything that must be true of the files that were written, looked at in those files.

What is known of the room comes from the room file; nothing is taken over from the stages that made the kit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.assembly import check_assembly
from nookwright.checks.bed_files import check_bed_file, check_trial_bed_file
from nookwright.checks.beds import check_beds
from nookwright.checks.files import read_meshes, trial_pieces, wrong_figures, wrong_pieces
from nookwright.checks.held import tipping_things
from nookwright.checks.joined import check_joined
from nookwright.checks.prints import check_prints
from nookwright.checks.references import dangling, uncounted
from nookwright.checks.safety import check_safety
from nookwright.checks.shared import Overlaps
from nookwright.checks.sheets import check_sheets
from nookwright.checks.soundness import is_sound, self_crossing, unsoundness
from nookwright.checks.things import colliding_things, straying_things
from nookwright.checks.usable import check_usable
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.survey.models import Room

_NOBODY = Silent()


def prove(
    folder: Path, kit: Kit, *, room: Room, cache: Path | None = None, progress: Progress = _NOBODY
) -> tuple[Finding, ...]:
    """Check a kit as it was written.

    Args:
        folder: the folder with its files.
        kit: what they should be, with the findings of the stages before.
        room: the room that it is for.
        cache: folder for verdicts on content that was seen before; ``None`` to remember nothing.
        progress: hears how far it has come.

    Returns:
        What was found, sorted, each once; without the findings that the kit already has.
    """
    broken = dangling(kit, room)
    if broken:
        return tuple(sorted(set(broken)))
    verdicts = Verdicts(cache)
    overlaps = Overlaps(verdicts)
    written = read_meshes(folder, kit)
    unsound = _unsound(written.shapes, verdicts, progress)
    sound = {file: shape for file, shape in written.shapes.items() if not unsound[shape.key]}
    findings = [
        *written.findings,
        *(finding for found in unsound.values() for finding in found),
        *wrong_figures(kit, written.shapes),
        *wrong_pieces(kit),
        *uncounted(kit, room),
        *check_usable(kit.spaces, room.space),
        *check_sheets(folder, kit),
        *colliding_things(kit),
        *straying_things(kit),
        *tipping_things(kit),
        *check_assembly(kit, sound, overlaps, progress),
        *check_joined(kit, sound, verdicts),
        *check_beds(kit, room, sound, overlaps),
        *check_prints(kit, room, sound, verdicts, progress),
        *check_safety(kit, room),
    ]
    for bedful in progress.track(kit.bedfuls, len(kit.bedfuls), "reading bedfuls back"):
        findings += check_bed_file(folder, bedful, kit, written.shapes)
    tried = {piece.file: written.shapes[piece.file] for piece in trial_pieces(kit) if piece.file in written.shapes}
    for load in kit.first.bedfuls:
        findings += check_trial_bed_file(folder, load, tried)
    return tuple(sorted(set(findings)))


def _unsound(shapes: Mapping[str, Shape], verdicts: Verdicts, progress: Progress) -> dict[str, tuple[Finding, ...]]:
    """Findings about each distinct mesh, by its key; none for one that is sound."""
    distinct: dict[str, str] = {}
    for file, shape in shapes.items():
        distinct.setdefault(shape.key, file)
    findings = {}
    for key, file in progress.track(distinct.items(), len(distinct), "looking at meshes"):
        shape = shapes[file]
        mesh = shape.vertices, shape.triangles
        if is_sound(key, *mesh, verdicts):
            findings[key] = self_crossing(file, key, *mesh, verdicts)
        else:
            findings[key] = unsoundness(file, *mesh)
    return findings
