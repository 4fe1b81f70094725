"""Whether the two kernels made the same solid of one recipe."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground import tolerances

if TYPE_CHECKING:
    from nookwright.solids.exact import ExactSolid
    from nookwright.solids.triangles import Mesh


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
