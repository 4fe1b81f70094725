"""Whether the two kernels made the same solid of one recipe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.solids.exact import ExactSolid
    from nookwright.solids.triangles import Mesh

LEFT = Fact(
    0.6,
    unit="1",
    kind=Kind.CHOICE,
    source="At a quarter of the tolerance a quarter of a difference is left, but for chords coming in steps of four.",
)
NEAR = Fact(
    1 / 30,
    unit="1",
    kind=Kind.CHOICE,
    source="Of surface times tolerance; outer and inner rounds cancel in part, so that one mesh may be near by chance.",
)
BOX = Fact(
    1e-6, unit="mm", kind=Kind.CHOICE, source="Extreme points are points of the mesh; 1e-7 is the library's own."
)


@dataclass(frozen=True)
class Gap:
    """By how much a mesh differs from the true solid.

    Attributes:
        tolerance: of the mesh, mm.
        volume_mm3: how far its volume is off, either way.
        area_mm2: how far its surface is off, either way.
    """

    tolerance: float
    volume_mm3: float
    area_mm2: float


def gaps(meshes: Mapping[float, Mesh], true: ExactSolid) -> tuple[Gap, ...]:
    """By how much each mesh differs, from the coarsest to the finest.

    Args:
        meshes: by tolerance, mm.
        true: from the exact kernel.
    """
    return tuple(
        Gap(tolerance, abs(mesh.volume_mm3 - true.volume_mm3), abs(mesh.area_mm2 - true.area_mm2))
        for tolerance, mesh in sorted(meshes.items(), reverse=True)
    )


def disagreements(meshes: Mapping[float, Mesh], true: ExactSolid) -> tuple[str, ...]:
    """In what meshes of several tolerances differ from the true solid by more than they may.

    Each has its box, its closed surfaces and handles, and its volume to within its tolerance; and what is left of the
    differences shrinks with the tolerance, so that nothing else is between them.

    Args:
        meshes: by tolerance, mm; the finest at most a quarter of the coarsest.
        true: from the exact kernel.

    Returns:
        What is different, in words with the values; nothing where they agree.
    """
    found = [] if true.valid else ["the exact solid is not valid"]
    for tolerance, mesh in sorted(meshes.items(), reverse=True):
        wrong = disagreement(mesh, true, tolerance)
        off = max(abs(a - b) for a, b in zip(mesh.bounds, true.bounds, strict=True))
        found += [f"at {tolerance:g} mm, {wrong}"] if wrong else []
        found += [f"at {tolerance:g} mm, the boxes differ by {off:.7f} mm"] if off > BOX else []
    return (*found, *_not_shrinking(gaps(meshes, true), true.area_mm2))


def _not_shrinking(found: tuple[Gap, ...], area_mm2: float) -> Iterator[str]:
    """Differences that the finest mesh keeps although its tolerance is so much smaller."""
    finest = found[-1]
    near = NEAR * area_mm2 * finest.tolerance
    for measure in ("volume_mm3", "area_mm2"):
        most, left = max(getattr(gap, measure) for gap in found[:-1]), getattr(finest, measure)
        if left > max(LEFT * most, near):
            yield f"the difference of {measure} does not shrink: {most:.4f}, then {left:.4f}"


def disagreement(mesh: Mesh, other: ExactSolid, tolerance: float = tolerances.MESH) -> str:
    """In what the two differ by more than a mesh may differ from the true surface; empty where they do not.

    Args:
        mesh: from the mesh kernel.
        other: from the exact kernel.
        tolerance: of the mesh, mm.

    Returns:
        What is different, in words with both values.
    """
    # The true volume lies between that of the mesh shrunk and that of the mesh grown by the tolerance.
    slack = (tolerance + tolerances.FLAT) * mesh.area_mm2 + tolerances.SHARED_VOLUME_MM3
    if abs(mesh.volume_mm3 - other.volume_mm3) > slack:
        return f"volume: {mesh.volume_mm3:.4f} mm3 as a mesh, {other.volume_mm3:.4f} exactly, {slack:.4f} allowed"
    if (mesh.components, mesh.genus) != (other.components, other.genus):
        found = f"{mesh.components} and {mesh.genus} as a mesh, {other.components} and {other.genus} exactly"
        return f"closed surfaces and handles: {found}"
    return ""
