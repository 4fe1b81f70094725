"""The files of a written kit, read once each, and whether they are what kit.json says."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import NOISE, Shape, shape_of
from nookwright.checks.in_words import unlike
from nookwright.checks.soundness import volume_of
from nookwright.exchange.stl import parse_stl
from nookwright.ground.digest import digest
from nookwright.ground.errors import FileFormatError
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.pattern import Pattern

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from nookwright.exchange.kit import Kit, KitPart, Piece, Size
    from nookwright.exchange.trial_models import TrialPiece

VOLUME_SHARE = Fact(
    1e-4, unit="1", kind=Kind.CALCULATED, source="A 32-bit STL of ours keeps the volume to some parts in a million."
)
LEAST_OF_PART = Fact(
    0.8,
    unit="1",
    kind=Kind.CHOICE,
    source="Joints take a little of a part that is cut; more than this is a piece too few.",
)
MOST_OF_PANEL = Fact(
    1.4,
    unit="1",
    kind=Kind.CALCULATED,
    source="Each piece of a cut panel has a frame of its own: 13 % more at 5 x 4 cells a piece, 30 % at 3 x 3.",
)
EDGE_OF_PIECE = Fact(
    7.0,
    unit="mm",
    kind=Kind.CALCULATED,
    source="Of full plate along the edge of each piece of a lean panel: a frame of 3.6, and as much for its slots.",
)
_LEAN = frozenset({Pattern.EVERY_SECOND, Pattern.UNDER_LAYOUT})
_REMEDY = "Build the kit again; do not change its files by hand."
_CHANGED = "Its content is not what it was when kit.json was written."


@dataclass(frozen=True)
class Written:
    """What was read.

    Attributes:
        shapes: by file, for those that could be read.
        findings: about the others.
    """

    shapes: Mapping[str, Shape]
    findings: tuple[Finding, ...]


def read_meshes(folder: Path, kit: Kit) -> Written:
    """Read every STL that a kit names; files with the same content share one shape.

    Args:
        folder: the folder of the kit.
        kit: what should be in it.
    """
    named = {part.stl: part.stl_sha256 for part in kit.parts} | {piece.file: piece.stl_sha256 for piece in kit.pieces}
    named |= {piece.file: piece.sha256 for piece in trial_pieces(kit)}
    shapes: dict[str, Shape] = {}
    by_content: dict[str, Shape] = {}
    findings = []
    for name, expected in sorted(named.items()):
        try:
            data = _bytes(folder, name)
            found = digest(data)
            if found not in by_content:
                by_content[found] = shape_of(found, *parse_stl(data, name))
        except FileFormatError as error:
            findings.append(Finding("file-unreadable", Severity.STOP, name, _why(name, error), _REMEDY))
            continue
        shapes[name] = by_content[found]
        if found != expected:
            findings.append(Finding("file-changed", Severity.STOP, name, _CHANGED, _REMEDY))
    return Written(shapes, tuple(findings))


def _why(name: str, error: FileFormatError) -> str:
    """Why a file cannot be read, its name left out: the finding is about it.

    >>> _why("parts/a.stl", FileFormatError("parts/a.stl: 3 bytes"))
    '3 bytes.'
    """
    said = str(error).removeprefix(f"{name}: ")
    return f"{said[:1].upper()}{said[1:]}."


def trial_pieces(kit: Kit) -> tuple[TrialPiece, ...]:
    """The pieces of what is tried first, those of several trials once a file."""
    return tuple({piece.file: piece for trial in kit.first.trials for piece in trial.pieces}.values())


def _bytes(folder: Path, name: str) -> bytes:
    """The bytes of a file of the kit, which lies in its folder."""
    path = folder / name
    if not path.resolve().is_relative_to(folder.resolve()):
        raise FileFormatError(f"{name}: lies outside of the kit's folder")
    try:
        return path.read_bytes()
    except OSError as error:
        raise FileFormatError(f"{name}: cannot be read: {error.strerror}") from error


def wrong_figures(kit: Kit, shapes: Mapping[str, Shape]) -> tuple[Finding, ...]:
    """Parts and pieces whose size or volume in kit.json is not that of their file.

    Args:
        kit: with the figures.
        shapes: by file.
    """
    findings: list[Finding] = []
    things: Iterable[tuple[KitPart | Piece, str]] = [
        *((part, part.stl) for part in kit.parts),
        *((piece, piece.file) for piece in kit.pieces),
    ]
    for thing, file in things:
        if file in shapes:
            findings += _compare(thing, shapes[file])
    for piece in trial_pieces(kit):
        if piece.file in shapes:
            findings += _compare_size(piece.name, piece.size, shapes[piece.file])
    return tuple(findings)


def _compare(thing: KitPart | Piece, shape: Shape) -> Iterable[Finding]:
    """One part or piece against its mesh."""
    yield from _compare_size(thing.id, thing.size, shape)
    volume = volume_of(shape.corners)
    if abs(volume - thing.volume_mm3) > VOLUME_SHARE * abs(thing.volume_mm3) + NOISE:
        found, said = unlike(volume, thing.volume_mm3, 0)
        text = f"Its mesh holds {found} mm3; kit.json says {said} mm3."
        yield Finding("volume-wrong", Severity.STOP, thing.id, text, _REMEDY)


def _compare_size(subject: str, said: tuple[float, float, float], shape: Shape) -> Iterable[Finding]:
    """An outer size against a mesh, whose corner lies at 0."""
    low, high = shape.vertices.min(axis=0), shape.vertices.max(axis=0)
    if np.abs(low).max() > GRID or np.abs(high - said).max() > GRID:
        off = int(np.argmax(np.maximum(np.abs(low), np.abs(high - said))))
        begins, ends = (float(corner[off]) + 0.0 for corner in (low, high))
        text = (
            f"Its mesh reaches from {begins:.4g} to {ends:.6g} mm along {'xyz'[off]}; by kit.json it should reach from "
            f"0 to {said[off]:.6g} mm."
        )
        yield Finding("size-wrong", Severity.STOP, subject, text, _REMEDY)


def _most_of(part: KitPart, edges: float) -> float:
    """The most that the pieces of a part may hold, as a share of it.

    Args:
        part: the part.
        edges: of its pieces, all round, mm.
    """
    if part.kind != "panel":
        laps = [lap for joint in part.joints for lap in joint.laps]
        return 1 + VOLUME_SHARE + sum(_box_mm3(lap.low, lap.high) for lap in laps) / part.volume_mm3
    thickness = part.parameters.get("thickness")
    if part.parameters.get("pattern") not in _LEAN or not isinstance(thickness, float):
        return float(MOST_OF_PANEL)
    return max(float(MOST_OF_PANEL), 1 + edges * EDGE_OF_PIECE * thickness / part.volume_mm3)


def _box_mm3(low: Size, high: Size) -> float:
    return math.prod(end - start for start, end in zip(low, high, strict=True))


def wrong_pieces(kit: Kit) -> tuple[Finding, ...]:
    """Parts whose pieces together hold much more or much less than the part.

    Args:
        kit: with the figures, found true before.
    """
    pieces_mm3: dict[tuple[str, str], float] = defaultdict(float)
    edges: dict[tuple[str, str], float] = defaultdict(float)
    for piece in kit.pieces:
        pieces_mm3[piece.part, piece.material] += piece.volume_mm3
        edges[piece.part, piece.material] += 2 * (piece.size[0] + piece.size[1])
    parts = {part.id: part for part in kit.parts}
    findings = []
    for (name, material), volume_mm3 in sorted(pieces_mm3.items()):
        if parts[name].volume_mm3 <= 0:
            continue  # such a mesh is no solid, and is found as one that is none
        share = volume_mm3 / parts[name].volume_mm3
        most = _most_of(parts[name], edges[name, material])
        if not LEAST_OF_PART <= share <= most:
            allowed = f"{100 * LEAST_OF_PART:.0f} to {100 * most:.0f} %"
            text = f"Its pieces in {material} hold {100 * share:.2f} % of its volume; allowed {allowed}."
            findings.append(Finding("pieces-differ", Severity.STOP, name, text, _REMEDY))
    return tuple(findings)
