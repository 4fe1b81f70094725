"""Whether pads hold what they should: beside the first layer of their piece, touching it, and nothing else.

What is looked at is the 3MF as it was written. A pad that lies in its piece would become a part of it; one that touches
nothing holds nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import CrossSection as Section
from manifold3d import Manifold
from manifold3d import Mesh64 as Triangles

from nookwright.checks.bed_room import TOUCH_MM2, common_mm2, covered
from nookwright.checks.bodies import Body, Sort, matrix_of, shape_of
from nookwright.checks.soundness import volume_of
from nookwright.checks.weights import MM3_PER_CM3
from nookwright.exchange.printing_models import BedPads
from nookwright.exchange.threemf_model import PADS
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from manifold3d import CrossSection

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Bedful, Kit, Matrix
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.exchange.threemf_model import Body as FileBody
    from nookwright.survey.models import Printer, Room

TOUCH = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Lines that are so far apart still join in the first layer.")
SHARED_MM2 = Fact(0.05, unit="mm2", kind=Kind.CHOICE, source="Common area of a pad and its piece: a rounded edge.")
ROUND = Fact(0.1, unit="mm", kind=Kind.CALCULATED, source="Of a disc's reach: its outline has corners.")
LEAST_REACH = Fact(
    0.75, unit="1", kind=Kind.CALCULATED, source="Of a disc's reach, straight beyond a side; it is all over corners."
)
MASS_SHARE = Fact(0.02, unit="1", kind=Kind.CALCULATED, source="Of the mass of discs: their outlines have corners.")
_REMEDY = "Do not print this bedful. This is a fault of the tool: please report it with the room file."
_LOOSE = 'Tear it off before printing, or say pads = "never" for the material.'


def check_pads(
    bedful: Bedful, kit: Kit, content: ThreeMF, shapes: Mapping[str, Shape], room: Room
) -> Iterator[Finding]:
    """Check the pads of a bedful.

    Args:
        bedful: the bedful.
        kit: with its pieces.
        content: of its 3MF.
        shapes: meshes of the pieces by their STL file.
        room: with the printers.
    """
    files = {piece.id: piece.file for piece in kit.pieces}
    printer = next(one for one in room.printer if one.id == bedful.printer)
    there = {body.part_number: body for body in content.bodies if body.part_number.endswith(PADS)}
    wanted = {f"{one.piece}{PADS}" for one in bedful.pads}
    for name in sorted(there.keys() ^ wanted):
        yield _stop("bed-file-differs", bedful.id, f"Only one of its 3MF and kit.json has {name}.")
    if len(wanted) < len(bedful.pads):
        yield _stop("bed-file-differs", bedful.id, "Pads of a piece are listed twice in kit.json.")
    density = next((one.density_g_cm3 for one in room.material if one.id == bedful.material), 0.0)
    on_bed = [
        (item.piece, Body(item.piece, Sort.PART, shapes[files[item.piece]], matrix_of(item.bed_from_piece)))
        for item in bedful.items
        if files[item.piece] in shapes
    ]
    placed: list[_Placed] = []
    for one in bedful.pads:
        body = there.get(f"{one.piece}{PADS}")
        if body is None or files[one.piece] not in shapes:
            continue
        yield from _figures(bedful, printer, one, body)
        yield from _weights(bedful, one, body, density)
        yield from _beside(bedful.id, one, body, shapes[files[one.piece]])
        matrices = [item.bed_from_body for item in content.items if content.bodies[item.body] is body]
        if not _same(matrices, [item.bed_from_piece for item in bedful.items if item.piece == one.piece]):
            yield _stop("bed-file-differs", bedful.id, f"Pads of {one.piece} do not lie where its copies lie.")
        placed += [_placed(one.piece, _body(body, matrix_of(matrix))) for matrix in matrices]
    yield from _off_bed(bedful, printer, placed)
    if placed:
        yield from _near(bedful, printer, placed, [_placed(name, body) for name, body in on_bed])


def check_trial_pads(subject: str, content: ThreeMF) -> Iterator[Finding]:
    """Check the pads of a bedful of trials, of which kit.json says nothing: beside the piece of the same file.

    Args:
        subject: of the findings.
        content: of its 3MF.
    """
    there = {body.part_number: body for body in content.bodies}
    for name, body in there.items():
        piece = there.get(name.removesuffix(PADS))
        if not name.endswith(PADS):
            continue
        if piece is None:
            yield _stop("bed-file-differs", subject, f"Its 3MF has {name} without the piece.")
            continue
        count = len(covered(_body(body, np.eye(4))).decompose())
        reach, height = -float(body.vertices.min()), float(body.vertices[:, 2].max())
        pads = BedPads(piece=piece.part_number, reach=reach, height=height, count=count, mass_g=0.0)
        yield from _beside(subject, pads, body, shape_of(piece.part_number, piece.vertices, piece.triangles))


def _same(one: Sequence[Matrix], other: Sequence[Matrix]) -> bool:
    rows = [sorted(np.asarray(matrices, np.float64).reshape(-1, 16).round(2).tolist()) for matrices in (one, other)]
    return len(rows[0]) == len(rows[1]) and np.allclose(rows[0], rows[1], rtol=0, atol=GRID)


def _figures(bedful: Bedful, printer: Printer, pads: BedPads, body: FileBody) -> Iterator[Finding]:
    """Pads that are not one layer high, or reach further than kit.json says."""
    low, high = body.vertices.min(axis=0), body.vertices.max(axis=0)
    if abs(low[2]) > GRID or abs(high[2] - pads.height) > GRID or abs(pads.height - printer.layer) > GRID:
        text = (
            f"Pads of {pads.piece} reach from {low[2]:.2f} to {high[2]:.2f} mm; wanted: one layer, {printer.layer:g}."
        )
        yield _stop("pads-height", bedful.id, text)


def _weights(bedful: Bedful, pads: BedPads, body: FileBody, density_g_cm3: float) -> Iterator[Finding]:
    """Pads that reach as far, or weigh as much, in kit.json as they do not in the file."""
    reach = -float(body.vertices[:, :2].min())
    if not LEAST_REACH * pads.reach <= reach <= pads.reach + ROUND:
        text = f"Pads of {pads.piece} reach {reach:.2f} mm beyond it; kit.json says up to {pads.reach:.2f} mm."
        yield Finding("pads-otherwise", Severity.WARN, bedful.id, text, _REMEDY)
    mass_g = volume_of(body.vertices[body.triangles]) / MM3_PER_CM3 * density_g_cm3
    if abs(mass_g - pads.mass_g) > MASS_SHARE * mass_g:
        text = f"Pads of {pads.piece} weigh {mass_g:.3f} g by their file; kit.json says {pads.mass_g:.3f} g."
        yield Finding("pads-otherwise", Severity.WARN, bedful.id, text, _REMEDY)


def _beside(subject: str, pads: BedPads, body: FileBody, piece: Shape) -> Iterator[Finding]:
    """Pads that lie in their piece, or do not touch it."""
    first = Manifold(Triangles(np.array(piece.vertices), np.array(piece.triangles, np.uint64))).slice(pads.height / 2)
    discs = covered(_body(body, np.eye(4))).decompose()
    shared = sum((disc ^ first).area() for disc in discs)
    if shared > SHARED_MM2:
        text = f"Pads of {pads.piece} share {shared:.2f} mm2 with its first layer; allowed {SHARED_MM2:g}."
        yield _stop("pads-in-piece", subject, text)
    loose = sum(common_mm2(disc, first, float(TOUCH)) <= TOUCH_MM2 for disc in discs)
    if loose or len(discs) != pads.count:
        text = f"{pads.piece} has {len(discs)} pads, of which {loose} touch nothing; kit.json says {pads.count}."
        yield Finding("pads-loose", Severity.WARN, subject, text, _LOOSE)


@dataclass(frozen=True)
class _Placed:
    """A copy of a piece, or the pads of one, on the bed: whose it is, the body, what it covers."""

    owner: str
    body: Body
    area: CrossSection


def _placed(owner: str, body: Body) -> _Placed:
    return _Placed(owner, body, covered(body))


def _off_bed(bedful: Bedful, printer: Printer, pads: Sequence[_Placed]) -> Iterator[Finding]:
    """Pads that leave the bed, or lie on a place that must stay free."""
    bed = np.array([printer.bed_width, printer.bed_depth])
    zones = [Section.square((zone.width, zone.depth)).translate((zone.x, zone.y)) for zone in printer.keep_out]
    for one in pads:
        low, high = one.body.box
        if (low[:2] < -GRID).any() or (high[:2] > bed + GRID).any():
            yield _stop("pads-off-bed", bedful.id, f"Pads of {one.owner} reach beyond the printable area.")
        if any(common_mm2(one.area, zone, 0.0) > TOUCH_MM2 for zone in zones):
            yield _stop("item-kept-free", bedful.id, f"Pads of {one.owner} lie on a place that stays free.")


def _near(bedful: Bedful, printer: Printer, pads: Sequence[_Placed], pieces: Sequence[_Placed]) -> Iterator[Finding]:
    """Pads that are nearer to another copy, or to its pads, than pieces are to each other."""
    for number, one in enumerate(pads):
        for other in (*pieces, *pads[number + 1 :]):
            if other.owner == one.owner and np.allclose(one.body.matrix, other.body.matrix, atol=GRID):
                continue  # its own piece
            gap = np.maximum(one.body.box[0] - other.body.box[1], other.body.box[0] - one.body.box[1])[:2].max()
            if gap < printer.spacing - GRID and common_mm2(one.area, other.area, printer.spacing) > TOUCH_MM2:
                text = f"Pads of {one.owner} are nearer to {other.owner} than {printer.spacing:g} mm."
                yield _stop("items-near", bedful.id, text)


def _body(body: FileBody, matrix: np.ndarray) -> Body:
    return Body(body.part_number, Sort.PART, shape_of(body.part_number, body.vertices, body.triangles), matrix)


def _stop(code: str, subject: str, text: str) -> Finding:
    return Finding(code, Severity.STOP, subject, text, _REMEDY)
