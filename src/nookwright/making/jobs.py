"""What has to be printed: every distinct piece in every material, counted; its mesh, mass and time; and its bedfuls."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from nookwright.cutting.claims import claim_of
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.slugs import slug
from nookwright.making.bed_times import BedTimes
from nookwright.making.bedfuls import Group, Job, Load, fill_beds, fits, homeless
from nookwright.making.beds.model import ColourChange
from nookwright.making.beds.silhouettes import Silhouettes
from nookwright.making.colours import lettering_of
from nookwright.making.pace import paces_of
from nookwright.making.pads import wants_pads
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

    from nookwright.cutting.model import CutPart, Piece
    from nookwright.making.estimate.many import Estimates
    from nookwright.making.estimate.model import PieceEstimate
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.making.estimate.together import BedfulEstimate
    from nookwright.parts.design import Copy
    from nookwright.parts.model import Part
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Printer, Room


@dataclass(frozen=True)
class MadePiece:
    """A distinct piece in one material.

    Attributes:
        id: unique in the kit.
        part: id of its part.
        piece: its recipe and place in the part.
        material: id of the material.
        count: copies needed.
        mass_g, time_s: of one copy, on a bed with others.
        volume_mm3: of its body.
        estimate: what that rests on, on the first printer that takes it; ``None`` where it is in closed form.
    """

    id: str
    part: str
    piece: Piece
    material: str
    count: int
    mass_g: float
    time_s: float
    volume_mm3: float
    estimate: PieceEstimate | None = None


@dataclass(frozen=True)
class MadePart:
    """A distinct part with its id and how it is cut."""

    id: str
    cut: CutPart

    @property
    def part(self) -> Part:
        """The part."""
        return self.cut.part


@dataclass(frozen=True)
class Making:
    """Everything that is to be printed.

    Attributes:
        parts: distinct parts, in the order of the copies.
        part_ids: id of a part by the digest of its recipe.
        pieces: distinct pieces.
        loads: bedfuls.
        findings: pieces that fit no printer.
        estimates: of each bedful, in the order of the loads; none in closed form.
        groups: how few bedfuls each printer needs of each material, held against a bound.
        settings: what each printer prints with, by its id; none in closed form.
    """

    parts: tuple[MadePart, ...]
    part_ids: Mapping[str, str]
    pieces: tuple[MadePiece, ...]
    loads: tuple[Load, ...]
    findings: tuple[Finding, ...]
    estimates: tuple[BedfulEstimate, ...] = ()
    groups: tuple[Group, ...] = ()
    settings: Mapping[str, PrintSettings] = field(default_factory=dict)


def unique(names: Sequence[str]) -> tuple[str, ...]:
    """The names made unique, in order: the second of a name gets ``-b``, and so on.

    >>> unique(("a", "a", "b", "a"))
    ('a', 'a-b', 'b', 'a-c')
    """
    seen: Counter[str] = Counter()
    taken: set[str] = set()
    found = []
    for name in names:
        chosen = name
        while chosen in taken:
            seen[name] += 1
            chosen = f"{name}-{_letters(seen[name])}"
        taken.add(chosen)
        found.append(chosen)
    return tuple(found)


def _letters(number: int) -> str:
    """1 is b, 2 is c, 26 is aa: the first of a name has no letter."""
    number += 1
    text = ""
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text


def make(
    room: Room,
    copies: Sequence[Copy],
    cut: Mapping[str, CutPart],
    volume_of: Callable[[Piece], float],
    *,
    estimates: Estimates | None = None,
    meshes: Mapping[str, Mesh] | None = None,
) -> Making:
    """Count the pieces, weigh them, and put them on beds.

    Args:
        room: as surveyed.
        copies: all copies of all parts, loose keys included.
        cut: every distinct part and its pieces, by the digest of its recipe.
        volume_of: volume of a piece, mm3: of its mesh, or in closed form before there is one.
        estimates: of all pieces on all printers; mass and time are in closed form without them.
        meshes: by the digest of their recipe; pieces are nested by outline with them, by their boxes without.
    """
    ids = unique([slug(part.part.name) for part in cut.values()])
    parts = tuple(MadePart(name, part) for name, part in zip(ids, cut.values(), strict=True))
    part_ids = dict(zip(cut, ids, strict=True))
    parts_by_id = {part.id: part for part in parts}
    needed = Counter((copy.part.recipe.digest, copy.material) for copy in copies)
    materials = {material.id: material for material in room.material}
    density = {material.id: material.density_g_cm3 for material in room.material}
    layer = {
        material: max(printer.layer for printer in room.printer if material in printer.materials)
        for material in {material for _, material in needed}
    }
    pieces = []
    for (digest, material), count in sorted(needed.items(), key=lambda item: (part_ids[item[0][0]], item[0][1])):
        for number, piece in enumerate(cut[digest].pieces, start=1):
            volume = volume_of(piece)
            plastic = replace(piece.plastic, body_mm3=volume)
            suffix = f"-p{number}" if len(cut[digest].pieces) > 1 else ""
            pieces.append(
                MadePiece(
                    id=f"{part_ids[digest]}{suffix}_{material}",
                    part=part_ids[digest],
                    piece=piece,
                    material=material,
                    count=count,
                    mass_g=plastic.mass_g(density[material]),
                    time_s=plastic.time_s(layer[material]),
                    volume_mm3=volume,
                )
            )
    if estimates:
        pieces = [_estimated(piece, estimates, room.printer, density[piece.material]) for piece in pieces]
    order = [space.id for space in room.space]
    waiting = _spaces(copies, order, room)
    digests = {piece.id: piece.piece.recipe.digest for piece in pieces}
    jobs = [
        replace(
            _job(piece),
            count=len(spaces),
            spaces=spaces,
            printers=printers,
            pads=wants_pads(materials[piece.material], max(piece.piece.size[:2])),
        )
        for piece in pieces
        for printers, spaces in waiting[parts_by_id[piece.part].part.recipe.digest, piece.material].items()
    ]
    lost = homeless(jobs, room.printer)
    outlines = Silhouettes(digests, meshes or {})
    filled = fill_beds(jobs, room.printer, spaces=order, outlines=outlines, paces=paces_of(room))
    loads = filled.loads
    findings = (
        *(_no_bed(job) for job in lost),
        *(_gap(group) for group in filled.groups if group.gap > 1),
        *_without_pads(jobs, loads, {printer.id for printer in room.printer if printer.profile.brim}),
    )
    if not estimates:
        return Making(parts, part_ids, tuple(pieces), loads, findings, groups=filled.groups)
    sizes = {piece.id: piece.piece.size for piece in pieces}
    times = BedTimes(digests, sizes, estimates, meshes or {}, outlines, jobs)
    timed = [times.of(load, room.printer) for load in loads]
    beds = tuple(bed for _, bed in timed)
    loads = tuple(
        _weighed(load, bed, density[load.material], _change(load, bed, room, digests, meshes or {}))
        for load, bed in timed
    )
    return Making(parts, part_ids, tuple(pieces), loads, findings, beds, filled.groups, estimates.settings)


def _weighed(load: Load, bed: BedfulEstimate, density_g_cm3: float, change: ColourChange | None) -> Load:
    """A bedful with its time and mass, and with a change of filament on the way, which nobody makes at night."""
    return replace(
        load,
        time_s=bed.time_s,
        mass_g=bed.plastic_mm3 / MM3_PER_CM3 * density_g_cm3 + (change.purge_g if change else 0.0),
        night=load.night and change is None,
        change=change,
    )


def _change(
    load: Load, bed: BedfulEstimate, room: Room, digests: Mapping[str, str], meshes: Mapping[str, Mesh]
) -> ColourChange | None:
    """The change of filament for lettering on a bedful, where one at a height does it."""
    distinct = dict.fromkeys(digests[item.piece] for item in load.items)
    found = lettering_of(load, room, [meshes[digest] for digest in distinct if digest in meshes])
    if found is None or found.layer is None:
        return None
    return ColourChange(found.material.id, found.layer, found.height, bed.until_s(found.layer), found.purge_g)


def _spaces(
    copies: Sequence[Copy], order: Sequence[str], room: Room
) -> dict[tuple[str, str], dict[tuple[str, ...], tuple[str, ...]]]:
    """The spaces that wait for each part in each material, by the digest of its recipe: one a copy, in order.

    They are told apart by the printers that the copies are meant for.
    """
    place = {space: at for at, space in enumerate(order)}
    found: dict[tuple[str, str], dict[tuple[str, ...], list[str]]] = {}
    for copy in copies:
        meant = claim_of(copy, room.making.printed_on, room.printer).printers
        found.setdefault((copy.part.recipe.digest, copy.material), {}).setdefault(meant, []).append(copy.space)
    return {
        key: {
            meant: tuple(sorted(spaces, key=lambda space: place.get(space, len(place))))
            for meant, spaces in sorted(by_printer.items())
        }
        for key, by_printer in found.items()
    }


def _gap(group: Group) -> Finding:
    text = (
        f"{group.bedfuls} bedfuls of {group.material}; the bounds that are known need only {group.bound}. "
        "Perhaps fewer are possible."
    )
    return Finding("bedfuls-gap", Severity.NOTE, group.printer, text, "Nothing needs to be done.")


def _estimated(piece: MadePiece, estimates: Estimates, printers: Sequence[Printer], density_g_cm3: float) -> MadePiece:
    """A piece with mass and time by its estimate on the first printer that takes it, or the first of all."""
    able = [printer for printer in printers if fits(_job(piece), printer)]
    found = estimates.of(piece.piece.recipe.digest, (able or printers)[0].id)
    return replace(piece, mass_g=found.mass_g(density_g_cm3), time_s=found.time_in_company_s, estimate=found)


def _without_pads(jobs: Sequence[Job], loads: Sequence[Load], brims: Collection[str]) -> Iterator[Finding]:
    """Pieces that should have pads, and lie where there is no room for them and no brim."""
    wanted = {job.piece for job in jobs if job.pads}
    bare = [load for load in loads if load.printer not in brims]
    lost = sorted(wanted & {item.piece for load in bare for item in load.items if item.piece not in dict(load.pads)})
    if lost:
        text = f"{len(lost)} kinds of long pieces fill their bed: there is no room for pads at their corners."
        yield Finding("pads-no-room", Severity.NOTE, lost[0], text, "Print them with a brim, or on a larger bed.")


def _job(piece: MadePiece) -> Job:
    width, depth, height = piece.piece.size
    return Job(
        piece=piece.id,
        count=piece.count,
        width=width,
        depth=depth,
        height=height,
        material=piece.material,
        mass_g=piece.mass_g,
        time_s=piece.time_s,
    )


def _no_bed(job: Job) -> Finding:
    text = (
        f"{job.width:.1f} x {job.depth:.1f} x {job.height:.1f} mm in {job.material} fits no printer that has it loaded."
    )
    return Finding("piece-no-bed", Severity.STOP, job.piece, text, "Load the material in a larger printer.")
