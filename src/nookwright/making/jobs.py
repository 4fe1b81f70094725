"""What has to be printed: every distinct piece in every material, counted; its mesh, mass and time; and its bedfuls."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.findings import Finding, Severity
from nookwright.making.bedfuls import Group, Job, Load, fill_beds, fits, homeless
from nookwright.making.beds.silhouettes import Silhouettes
from nookwright.making.colours import lettering_of
from nookwright.making.estimate.together import together
from nookwright.making.estimate.travel import tour
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

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


def slug(text: str) -> str:
    """A name as it may stand in a file's name.

    >>> slug("tray 107x143 h48"), slug("filler, left")
    ('tray-107x143-h48', 'filler-left')
    """
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")


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
    waiting = _spaces(copies, order)
    digests = {piece.id: piece.piece.recipe.digest for piece in pieces}
    jobs = [
        replace(_job(piece), spaces=waiting[parts_by_id[piece.part].part.recipe.digest, piece.material])
        for piece in pieces
    ]
    lost = homeless(jobs, room.printer)
    filled = fill_beds(jobs, room.printer, spaces=order, outlines=Silhouettes(digests, meshes or {}))
    loads = filled.loads
    findings = (*(_no_bed(job) for job in lost), *(_gap(group) for group in filled.groups if group.gap > 1))
    if not estimates:
        return Making(parts, part_ids, tuple(pieces), loads, findings, groups=filled.groups)
    beds = tuple(_bed(load, pieces, estimates) for load in loads)
    loads = tuple(
        replace(
            load,
            time_s=bed.time_s,
            mass_g=bed.plastic_mm3 / MM3_PER_CM3 * density[load.material]
            + _purged_g(load, room, digests, meshes or {}),
        )
        for load, bed in zip(loads, beds, strict=True)
    )
    return Making(parts, part_ids, tuple(pieces), loads, findings, beds, filled.groups, estimates.settings)


def _purged_g(load: Load, room: Room, digests: Mapping[str, str], meshes: Mapping[str, Mesh]) -> float:
    """What a change of filament for lettering costs on a bedful."""
    distinct = dict.fromkeys(digests[item.piece] for item in load.items)
    lettering = lettering_of(load, room, [meshes[digest] for digest in distinct if digest in meshes])
    return lettering.purge_g if lettering else 0.0


def _spaces(copies: Sequence[Copy], order: Sequence[str]) -> dict[tuple[str, str], tuple[str, ...]]:
    """The spaces that wait for each part in each material, by the digest of its recipe: one a copy, in order."""
    place = {space: at for at, space in enumerate(order)}
    found: dict[tuple[str, str], list[str]] = {}
    for copy in copies:
        found.setdefault((copy.part.recipe.digest, copy.material), []).append(copy.space)
    return {key: tuple(sorted(spaces, key=lambda space: place.get(space, len(place)))) for key, spaces in found.items()}


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


def _bed(load: Load, pieces: Sequence[MadePiece], estimates: Estimates) -> BedfulEstimate:
    """What a bedful takes on its printer."""
    recipe = {piece.id: piece.piece.recipe.digest for piece in pieces}
    count = Counter(item.piece for item in load.items)
    ways = tour(np.array([(item.x, item.y) for item in load.items]))
    return together(
        [(estimates.of(recipe[name], load.printer), number) for name, number in sorted(count.items())],
        estimates.settings[load.printer].machine,
        between=float(ways.mean()) if len(ways) else 0.0,
    )


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
