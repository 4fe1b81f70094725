"""Proving a kit: everything that must be true of the files that were written, looked at in those files.

What is known of the room comes from the room file; nothing is taken over from the stages that made the kit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.assembly import check_assembly
from nookwright.checks.bed_files import check_bed_file
from nookwright.checks.beds import check_beds
from nookwright.checks.care.check import check_care
from nookwright.checks.cautions.check import check_cautions
from nookwright.checks.files import read_meshes, wrong_figures, wrong_pieces
from nookwright.checks.forces.check import check_forces
from nookwright.checks.gathering import few, merged
from nookwright.checks.held import tipping_things
from nookwright.checks.joined import check_joined
from nookwright.checks.kept_free import check_kept_free
from nookwright.checks.liner_whole import check_liner_whole
from nookwright.checks.loads import overloaded
from nookwright.checks.masses import check_masses
from nookwright.checks.meant_for import check_meant_for
from nookwright.checks.prints import check_prints
from nookwright.checks.record.belongs import check_belongs
from nookwright.checks.record.household import check_household
from nookwright.checks.record.judged import check_judged
from nookwright.checks.record.names import check_names
from nookwright.checks.record.places import check_places
from nookwright.checks.record.recipes import check_recipes
from nookwright.checks.record.sawing import check_sawing
from nookwright.checks.record.sizes import check_sizes
from nookwright.checks.record.spaces import check_spaces
from nookwright.checks.record.surveyed import check_surveyed
from nookwright.checks.record.things import check_things
from nookwright.checks.record.totals import check_totals
from nookwright.checks.record.trials import check_trials
from nookwright.checks.record.turned import check_turned
from nookwright.checks.references import dangling, uncounted
from nookwright.checks.room_fit.check import check_room_fit
from nookwright.checks.schedule.check import check_schedule
from nookwright.checks.seats.check import check_seats
from nookwright.checks.shared import Overlaps
from nookwright.checks.sheets import check_sheets
from nookwright.checks.soundness import is_sound, self_crossing, unsoundness
from nookwright.checks.strength.check import check_strength
from nookwright.checks.things import colliding_things, straying_things
from nookwright.checks.trial_beds import check_trial_beds
from nookwright.checks.usable import check_usable
from nookwright.checks.verdicts import Verdicts
from nookwright.ground.progress import Silent

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from pathlib import Path

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.survey.models import Room

_NOBODY = Silent()


@dataclass(frozen=True)
class Looked:
    """One thing that was looked at.

    Attributes:
        what: in words that a person understands.
        count: how many there are of it in the kit.
        findings: what was found of it.
    """

    what: str
    count: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Proof:
    """What came of proving a kit.

    Attributes:
        findings: sorted, each once.
        looked: all that was looked at; nothing where the kit does not hold together.
    """

    findings: tuple[Finding, ...]
    looked: tuple[Looked, ...] = ()


def prove(
    folder: Path, kit: Kit, *, room: Room, cache: Path | None = None, progress: Progress = _NOBODY
) -> tuple[Finding, ...]:
    """Check a kit as it was written, and say only what was found; see ``proof_of``."""
    return proof_of(folder, kit, room=room, cache=cache, progress=progress).findings


def proof_of(folder: Path, kit: Kit, *, room: Room, cache: Path | None = None, progress: Progress = _NOBODY) -> Proof:
    """Check a kit as it was written.

    Args:
        folder: the folder with its files.
        kit: what they should be, with the findings of the stages before.
        room: the room that it is for.
        cache: folder for verdicts on content that was seen before; ``None`` to remember nothing.
        progress: hears how far it has come.

    Returns:
        What was found, without the findings that the kit already has, and what was looked at.
    """
    broken = dangling(kit, room) or tuple(check_turned(kit))
    if broken:
        return Proof(tuple(sorted(set(broken))))
    looked = tuple(_looked(folder, kit, room, Verdicts(cache), progress))
    return Proof(tuple(sorted({finding for one in looked for finding in one.findings})), looked)


def look_at_schedule(kit: Kit, room: Room) -> Looked:
    """Check the schedule of printing, which is made after all the rest is proven.

    Args:
        kit: the kit, its references sound, with its schedule.
        room: the room that it is for.
    """
    found = check_schedule(kit, room)
    return Looked("the schedule: hours, spools, purchases, costs", len(kit.printing.slots), found)


def _looked(folder: Path, kit: Kit, room: Room, verdicts: Verdicts, progress: Progress) -> Iterator[Looked]:
    """Everything that is looked at, one after the other."""
    overlaps = Overlaps(verdicts)
    written = read_meshes(folder, kit)
    shapes = written.shapes
    unsound = _unsound(shapes, verdicts, progress)
    sound = {file: shape for file, shape in shapes.items() if not unsound[shape.key]}
    stand, lots, spaces = len(kit.placements), len(kit.lots), len(kit.spaces)
    pieces, beds = sum(piece.count for piece in kit.pieces), len(kit.bedfuls)

    def of(what: str, count: int, *found: Iterable[Finding]) -> Looked:
        return Looked(what, count, tuple(finding for some in found for finding in some))

    yield of("different solids, read back: closed, no face through another", len(unsound), *unsound.values())
    yield of("files of solids: as stated, in content, size, volume and mass", len(shapes), written.findings,
             wrong_figures(kit, shapes), wrong_pieces(kit), check_masses(kit, room),
             check_recipes(folder, kit))  # fmt: skip
    yield of("lots: counted, as large as measured, apart from each other, in their parts, balanced", lots,
             uncounted(kit, room), check_things(kit, room), check_sizes(kit, room), check_places(kit, room),
             colliding_things(kit), straying_things(kit), tipping_things(kit))  # fmt: skip
    yield of("spaces and printers: as surveyed, no larger than measured; what must stay free is free", spaces,
             check_surveyed(kit, room), check_usable(kit.spaces, room.space), check_spaces(kit, room),
             check_household(kit, room), check_kept_free(kit, room, sound, overlaps))  # fmt: skip
    yield of("sheets to cut, strips to saw, and all that belongs to a tray or a liner", len(kit.sheets),
             check_sheets(folder, kit), check_sawing(kit, room, sound), check_belongs(kit, room),
             check_liner_whole(kit))  # fmt: skip
    yield of("sums, names, and what is told of layout and chances", len(kit.parts), check_totals(kit, room),
             check_names(kit, room), check_judged(kit, room))  # fmt: skip
    yield of("parts in their places: inside, clear of what is blocked and of each other", stand,
             check_assembly(kit, sound, overlaps, progress))  # fmt: skip
    yield of("parts and things: room at the largest printed size, on the travel, in and out, for a hand", stand,
             check_room_fit(kit, room, sound, overlaps, verdicts))  # fmt: skip
    yield of("seats: cones and sockets found in the solids, going on, holding, play", stand,
             check_seats(kit, room, sound, verdicts, progress))  # fmt: skip
    yield of("parts in pieces: together they are the part", sum(len(part.joints) > 0 for part in kit.parts),
             check_joined(kit, sound, verdicts))  # fmt: skip
    yield of("pieces: each prints without support as it lies", pieces,
             check_prints(kit, room, sound, verdicts, progress))  # fmt: skip
    yield of("bedfuls: on the bed, apart, and their files read back with their cards", beds,
             few(check_beds(kit, room, sound, overlaps)),
             few(merged(_bed_files(folder, kit, room, shapes, progress))))  # fmt: skip
    yield of("trials: all that is needed, printed as often, entered as they are", len(kit.first.trials),
             check_trials(kit, room, shapes), few(check_trial_beds(folder, kit, room, shapes, overlaps)))  # fmt: skip
    if kit.printing.slots or kit.printing.unplaced:
        yield look_at_schedule(kit, room)
    yield of("forces: slams, pulls, loads, tipping furniture", stand, overloaded(kit, room),
             check_forces(kit, room, sound))  # fmt: skip
    yield of("strength, and material against place", len(kit.parts), check_strength(kit, room, sound, verdicts))
    yield of("care, safety, and what each space is meant for", lots, check_meant_for(kit, room),
             check_cautions(kit, room, sound, verdicts), check_care(kit, room, shapes, sound, verdicts))  # fmt: skip


def _bed_files(
    folder: Path, kit: Kit, room: Room, shapes: Mapping[str, Shape], progress: Progress
) -> Iterator[Finding]:
    """Findings about the files of bedfuls."""
    for bedful in progress.track(kit.bedfuls, len(kit.bedfuls), "reading bedfuls back"):
        yield from check_bed_file(folder, bedful, kit, shapes, room=room)


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
