"""Outlines of pieces seen from above, from their meshes, each made when it is asked for and once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.beds.footprints import LEAST_ROOM

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.making.beds.model import Contours
    from nookwright.solids.triangles import Mesh


class Silhouettes:
    """The outlines of pieces by their id; nothing where a piece has no mesh yet."""

    def __init__(self, recipes: Mapping[str, str], meshes: Mapping[str, Mesh]) -> None:
        """Keep what they are made from.

        Args:
            recipes: digest of the recipe of each piece, by its id.
            meshes: by the digest of their recipe.
        """
        self._recipes, self._meshes = recipes, meshes
        self._known: dict[str, Contours | None] = {}

    def __call__(self, piece: str) -> Contours | None:
        """The contours of a piece, outer ones counter-clockwise, holes clockwise, mm.

        Args:
            piece: its id.
        """
        recipe = self._recipes[piece]
        if recipe not in self._known:
            mesh = self._meshes.get(recipe)
            self._known[recipe] = silhouette(mesh) if mesh and may_leave_room(mesh) else None
        return self._known[recipe]


def may_leave_room(mesh: Mesh) -> bool:
    """Whether the faces that look down are together less than the box; what they cover is at most that.

    Args:
        mesh: of a piece.
    """
    import numpy as np

    corners = mesh.vertices[:, :2][mesh.triangles]
    one, other = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    down = np.minimum(0.0, one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]).sum() / -2
    return bool(down <= (1 - LEAST_ROOM) * np.ptp(mesh.vertices[:, :2], axis=0).prod())


def silhouette(mesh: Mesh) -> Contours:
    """What a mesh covers of the plane below it.

    Args:
        mesh: of a piece.
    """
    import numpy as np
    from manifold3d import Manifold
    from manifold3d import Mesh as Triangles

    body = Manifold(Triangles(np.array(mesh.vertices, np.float32), np.array(mesh.triangles, np.uint32)))
    contours: Contours = body.project().to_polygons()
    return contours
