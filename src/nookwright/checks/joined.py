"""Whether the pieces of a cut part, put back together, are the part: looked at in the files, with the solid kernel.

No piece reaches out of the part but with the laps that the kit names, each within its box and grown on to its piece;
together they have its outer size, and what they lack lies at the joints and is no more than the gaps for glue, the play
of dovetails and the holes for pins. That they do not lie in each other or in what is kept there is looked at where the
part stands. Panels are left out: each of their pieces has a frame of its own.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import NOISE, matrix_of
from nookwright.checks.in_words import OURS, length, volume
from nookwright.ground.errors import SolidError
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from manifold3d import Manifold

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.joint_models import KitJoint, KitLap
    from nookwright.exchange.kit import Kit, KitPart, Piece

MOST_GAP = Fact(
    0.45, unit="mm", kind=Kind.CHOICE, source="Glue fills 0.2 well, and this where a first layer lies back."
)
TONGUE_MM3 = Fact(
    40.0,
    unit="mm3",
    kind=Kind.CALCULATED,
    source="The play round a dovetail: 20 long, at most 0.4 wide and 5 high.",
)
REACH = Fact(8.0, unit="mm", kind=Kind.CALCULATED, source="A dovetail reaches 6 across its joint, its slot 0.4 more.")
SLAB = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Half of the slab that a section's area is measured with.")


def check_joined(kit: Kit, shapes: Mapping[str, Shape], verdicts: Verdicts) -> tuple[Finding, ...]:
    """Check every part that is printed in pieces.

    Args:
        kit: the kit, its references sound.
        shapes: sound meshes by file; a part that is not whole among them is passed over.
        verdicts: those reached before.

    Raises:
        SolidError: the kernel refuses one of the shapes.
    """
    made: dict[str, dict[tuple[str, object], Piece]] = defaultdict(dict)
    for piece in kit.pieces:
        made[piece.part][piece.recipe, piece.part_from_piece] = piece
    findings: list[Finding] = []
    for part in kit.parts:
        pieces = tuple(made[part.id].values())
        if part.kind != "panel" and len(pieces) > 1 and all(f in shapes for f in (part.stl, *(p.file for p in pieces))):
            findings += _check(part, pieces, shapes, verdicts)
    return tuple(findings)


def _check(
    part: KitPart, pieces: tuple[Piece, ...], shapes: Mapping[str, Shape], verdicts: Verdicts
) -> Iterator[Finding]:
    """Findings about one part."""
    places = [(shapes[piece.file].key, piece.part_from_piece) for piece in pieces]
    question = f"joined {shapes[part.stl].key} {places} {[joint.model_dump() for joint in part.joints]}"
    outside, box, stray, gap, allowed = verdicts.of(question, lambda: _measured(part, pieces, shapes))
    if outside > 0:
        yield _stop("piece-outside-part", part.id, f"Of one of its pieces {volume(outside)} lie outside of the part.")
    if box > GRID:
        yield _stop("joined-size", part.id, f"Put together, its pieces are off its outer size by {length(box)}.")
    if stray > 0:
        yield _stop(
            "joined-hole",
            part.id,
            f"Put together, its pieces lack {volume(stray)} of it away from the joints: there is a hole.",
        )
    if gap > allowed:
        text = f"Put together, its pieces lack {volume(gap)} at the joints; allowed {volume(allowed)}."
        yield _stop("joined-gap", part.id, text)


def _measured(part: KitPart, pieces: tuple[Piece, ...], shapes: Mapping[str, Shape]) -> tuple[float, ...]:
    """Volume outside, box error, volume lacking away from joints, at joints, and what is allowed there."""
    whole = _solid(shapes[part.stl])
    placed = [
        _solid(shapes[piece.file]).transform(np.ascontiguousarray(matrix_of(piece.part_from_piece)[:3]))
        for piece in pieces
    ]
    together = _union(placed)
    noise = float(NOISE) * whole.surface_area()
    missing = whole - together
    stray = missing
    for joint in part.joints:
        stray -= _slab(joint, max(float(REACH), joint.pin.depth + 1 if joint.pin else 0.0))
    corners = np.array(together.bounding_box()) - np.array(whole.bounding_box())
    added = together - whole
    for joint in part.joints:
        for lap in joint.laps:
            added -= _box(lap)
    return (
        _beyond(added.volume(), noise),
        float(np.abs(corners).max()),
        _beyond(stray.volume(), noise),
        float(missing.volume() - stray.volume()),
        noise + sum(_allowed_mm3(joint, whole) for joint in part.joints),
    )


def _beyond(volume_mm3: float, noise_mm3: float) -> float:
    return float(volume_mm3) if volume_mm3 > noise_mm3 else 0.0


def _allowed_mm3(joint: KitJoint, whole: Manifold) -> float:
    """What may be lacking at a joint: the gap for the glue over its section, and what its tongues or pins take."""
    if joint.axis == "z":  # faces lie on each other; only holes are lacking
        return float(len(joint.places) * 2 * joint.pin.depth * joint.pin.hole**2) if joint.pin else 0.0
    section = whole ^ _slab(joint, float(SLAB), within=joint.span)
    allowed = section.volume() / (2 * SLAB) * MOST_GAP
    if joint.pin:
        return float(allowed + len(joint.places) * 2 * joint.pin.depth * joint.pin.hole**2)
    return float(allowed + len(joint.places) * TONGUE_MM3)


def _slab(joint: KitJoint, half: float, within: tuple[float, float] = (-1e4, 1e4)) -> Manifold:
    """Everything within a distance from a cut."""
    from manifold3d import Manifold

    along, across = {"x": (0, 1), "y": (1, 0), "z": (2, 0)}[joint.axis]
    size, low = [2e4, 2e4, 2e4], [-1e4, -1e4, -1e4]
    size[along], low[along] = 2 * half, joint.at - half
    size[across], low[across] = within[1] - within[0], within[0]
    return Manifold.cube(size).translate(low)


def _box(lap: KitLap) -> Manifold:
    """The box of a lap, a little wider: its faces are those of its wall."""
    from manifold3d import Manifold

    low, high = np.array(lap.low) - GRID, np.array(lap.high) + GRID
    return Manifold.cube(list(high - low)).translate(list(low))


def _union(solids: list[Manifold]) -> Manifold:
    from manifold3d import Manifold, OpType

    return Manifold.batch_boolean(solids, OpType.Add)


def _solid(shape: Shape) -> Manifold:
    from manifold3d import Error, Manifold, Mesh64

    solid = Manifold(Mesh64(shape.vertices, shape.triangles.astype(np.uint64)))
    if solid.status() != Error.NoError:
        raise SolidError(f"the solid kernel refuses a mesh: {solid.status().name}")
    return solid


def _stop(code: str, subject: str, text: str) -> Finding:
    return Finding(code, Severity.STOP, subject, text, OURS)
