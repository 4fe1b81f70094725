"""What a thicker layer or a wider nozzle would save on liners, risers and tall trays, and whether they print so.

What looks worth it by plastic and flow is estimated once more, from the solids themselves, for that nozzle and layer. A
piece prints in layers of a thickness as it is drawn where all of its flat faces lie on whole layers: roofs of sockets,
floors, lettering. Where they do not, the room must be planned for that thickness, which makes every height of the seat
whole in it; the hours saved are then near those of the pieces as they are drawn now. Lettering must be a line wide.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.progress import Silent
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import HOUR_MIN, MINUTE_S
from nookwright.ground.tolerances import MESH
from nookwright.making.estimate.kinds import Laid
from nookwright.making.estimate.many import estimate_all
from nookwright.making.estimate.settings import settings_of
from nookwright.module.lines import lines_of
from nookwright.parts.model import Kind as PartKind
from nookwright.survey.consistency import TEXT

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path

    from nookwright.ground.progress import Progress
    from nookwright.making.estimate.many import Estimates
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.making.jobs import MadePiece, Making
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Printer, Room

MOST_LAYER = Fact(0.75, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="Thicker layers do not bond on a nozzle.")
LAYER_STEP = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="Layers that people set: 0.2, 0.3, 0.4.")
WIDER = Fact(0.2, unit="mm", kind=Kind.COMMON_PRACTICE, source="From one nozzle of a set to the next: 0.4, 0.6, 0.8.")
TALL_TRAY = Fact(60.0, unit="mm", kind=Kind.CHOICE, source="From here on most of a tray is plain wall.")
LOOKED_AT = Fact(0.6, unit="1", kind=Kind.CHOICE, source="Share of that, roughly, from which it is worth a look.")
WORTH_H = Fact(2.0, unit="h", kind=Kind.CHOICE, source="Less is not worth a change of nozzle or another plan.")
_NOBODY = Silent()
_COARSE = (PartKind.PANEL, PartKind.FILLER, PartKind.RISER, PartKind.FENCE)


@dataclass(frozen=True)
class Coarser:
    """A thicker layer, on the nozzle that is there or a wider one.

    Attributes:
        printer: id.
        nozzle, layer: that are proposed, mm.
        now_s, saved_s: of all that would be printed so.
        copies: how many that are.
        off_layer: of these, copies with flat faces between layers, such as roofs of sockets.
        blurred: of these, copies with lettering that is thinner than a line of that nozzle.
        line: width of that line, mm.
    """

    printer: str
    nozzle: float
    layer: float
    now_s: float
    saved_s: float
    copies: int
    off_layer: int
    blurred: int
    line: float


def coarser(
    room: Room,
    making: Making,
    meshes: Mapping[str, Mesh],
    wall: float,
    *,
    progress: Progress = _NOBODY,
    folder: Path | None = None,
    processes: int = 1,
) -> tuple[Coarser, ...]:
    """What could be printed more coarsely, printer by printer.

    Args:
        room: as surveyed.
        making: pieces with their estimates, and bedfuls.
        meshes: by the digest of their recipe.
        wall: thickness of the room's walls, mm.
        progress: who is told how far it is.
        folder: that remembers estimates; ``None`` to remember nothing.
        processes: how many may be started.
    """
    pieces = {piece.id: piece for piece in making.pieces if _is_coarse(piece, making)}
    found: list[Coarser] = []
    for printer in room.printer:
        mine = _on_printer(printer, pieces, making)
        for other in _proposed(printer, wall) if mine else ():
            now, then = settings_of(printer, wall), settings_of(other, wall)
            rough_s = sum((piece.time_s - _time_s(piece, now, then)) * number for piece, number in mine)
            if rough_s < WORTH_H * HOUR_MIN * MINUTE_S * LOOKED_AT:
                continue
            recipes = [piece.piece.recipe.digest for piece, _ in mine]
            made = estimate_all(
                recipes, meshes, [printer, other], wall=wall, folder=folder, processes=processes, progress=progress
            )
            found.append(_weighed(printer, other, mine, meshes, made=made, line=then.line_width))
    return tuple(found)


def _on_printer(printer: Printer, pieces: Mapping[str, MadePiece], making: Making) -> list[tuple[MadePiece, int]]:
    """The pieces of a printer that could be printed coarsely, and how many copies of each it prints."""
    count: dict[str, int] = defaultdict(int)
    for load in making.loads:
        for item in load.items:
            if load.printer == printer.id and item.piece in pieces:
                count[item.piece] += 1
    return [(pieces[name], number) for name, number in sorted(count.items())]


def _weighed(
    printer: Printer,
    other: Printer,
    mine: Sequence[tuple[MadePiece, int]],
    meshes: Mapping[str, Mesh],
    *,
    made: Estimates,
    line: float,
) -> Coarser:
    """A proposal with its hours, by estimates of the same pieces in both ways."""
    now_s, then_s = (
        sum(made.of(piece.piece.recipe.digest, one.id).time_in_company_s * number for piece, number in mine)
        for one in (printer, other)
    )
    shapes = [(meshes[piece.piece.recipe.digest], number) for piece, number in mine]
    return Coarser(
        printer=printer.id,
        nozzle=other.nozzle,
        layer=other.layer,
        now_s=now_s,
        saved_s=now_s - then_s,
        copies=sum(number for _, number in mine),
        off_layer=sum(number for mesh, number in shapes if not on_layers(mesh, other.layer)),
        blurred=sum(number for mesh, number in shapes if 0 < stroke_of(mesh) < line),
        line=line,
    )


def coarser_findings(found: Sequence[Coarser]) -> Iterator[Finding]:
    """The proposals that are worth it, as notes with their figures.

    Args:
        found: all of them.
    """
    for one in found:
        if one.saved_s < WORTH_H * HOUR_MIN * MINUTE_S:
            continue
        hours = f"about {one.saved_s / (HOUR_MIN * MINUTE_S):.0f} h of {one.now_s / (HOUR_MIN * MINUTE_S):.0f} h"
        text = (
            f"Layers of {one.layer:g} mm on a nozzle of {one.nozzle:g} for liners, risers and tall trays "
            f"({one.copies} pieces) would save {hours}."
        )
        remedy = "Their flat faces lie on whole layers: print them so as they are."
        if one.off_layer:
            which = "All" if one.off_layer == one.copies else f"{one.off_layer}"
            text += f" {which} of them have socket roofs or other flat faces between such layers."
            remedy = f"Set layer = {one.layer:g} and nozzle = {one.nozzle:g} for this printer and build again."
        if one.blurred:
            text += f" Lettering on {one.blurred} of them is thinner than its line of {one.line:.2f} mm: it would blur."
        yield Finding("coarser-prints", Severity.NOTE, one.printer, text, remedy)


def _is_coarse(piece: MadePiece, making: Making) -> bool:
    kinds = {made.id: made.part.kind for made in making.parts}
    tall = kinds[piece.part] is PartKind.TRAY and piece.piece.size[2] >= TALL_TRAY
    return piece.estimate is not None and (tall or kinds[piece.part] in _COARSE)


def _proposed(printer: Printer, wall: float) -> Iterator[Printer]:
    """The printer with the thickest layer of whole steps that a nozzle bonds, where walls are whole lines of it."""
    for nozzle in (printer.nozzle, round(printer.nozzle + WIDER, 3)):
        layer = round(int((MOST_LAYER * nozzle + MESH) / LAYER_STEP) * LAYER_STEP, 6)
        if layer > printer.layer and lines_of(wall, nozzle, layer) is not None:
            name = f"{printer.id} {nozzle:g} {layer:g}"
            yield printer.model_copy(update={"id": name, "nozzle": nozzle, "layer": layer})


def _time_s(piece: MadePiece, now: PrintSettings, then: PrintSettings) -> float:
    """What a piece would take: the laying by plastic and flow, all else by the number of layers."""
    if piece.estimate is None:
        return piece.time_s
    laid = piece.estimate.laid_mm3
    before = sum(laid[kind] / _flow_mm3_s(kind, now) for kind in Laid)
    after = sum(laid[kind] / _flow_mm3_s(kind, then) for kind in Laid)
    laying = min(piece.time_s, before)
    return laying * after / before + (piece.time_s - laying) * now.layer / then.layer


def _flow_mm3_s(kind: Laid, settings: PrintSettings) -> float:
    """Plastic laid in a second of a kind of line."""
    speeds = settings.speeds
    speed = {
        Laid.OUTER: speeds.outer_mm_s,
        Laid.INNER: speeds.inner_mm_s,
        Laid.SKIN: speeds.skin_mm_s,
        Laid.INFILL: speeds.infill_mm_s,
        Laid.GAP: speeds.gap_mm_s,
    }.get(kind, speeds.first_mm_s)
    return speed * settings.bead_mm2


def on_layers(mesh: Mesh, layer: float) -> bool:
    """Whether all flat faces of a mesh lie on whole layers.

    Args:
        mesh: as it lies on the bed.
        layer: its height, mm.
    """
    import numpy as np

    z = mesh.vertices[:, 2][mesh.triangles]
    levels = np.unique(z[np.ptp(z, axis=1) < MESH][:, 0])
    return bool((np.abs(levels / layer - np.round(levels / layer)) * layer < MESH).all())


def stroke_of(mesh: Mesh) -> float:
    """How wide the strokes of a mesh's lettering are, mm; 0 where it has none.

    A long stroke of width w has an area of w and an outline of 2 for each mm.

    Args:
        mesh: whose flat faces of lettering are looked at.
    """
    import numpy as np

    faces = [mesh.triangles[one.first : one.first + one.count] for one in mesh.features if one.name == TEXT]
    if not faces:
        return 0.0
    triangles = np.concatenate(faces).astype(np.int64)
    flat = triangles[np.ptp(mesh.vertices[:, 2][triangles], axis=1) < MESH]
    points = mesh.vertices[:, :2]
    one, other = points[flat[:, 1]] - points[flat[:, 0]], points[flat[:, 2]] - points[flat[:, 0]]
    area = np.abs(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]).sum() / 2
    edges = np.sort(flat[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    edges, count = np.unique(edges, axis=0, return_counts=True)
    outer = edges[count == 1]
    outline = np.hypot(*(points[outer[:, 1]] - points[outer[:, 0]]).T).sum()
    return float(2 * area / outline) if outline else 0.0
