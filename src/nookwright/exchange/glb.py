"""Binary glTF 2.0 (ISO/IEC 12113): solids in their places, for looking at.

Units are metres and y is up, as glTF has it; nodes carry the names that are given. Meshes that are equal are stored
once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.module.estimates import MM_PER_M

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.exchange.kit import Matrix
    from nookwright.solids.triangles import Mesh


@dataclass(frozen=True)
class Body:
    """A solid in its place.

    Attributes:
        name: of its node.
        shape: name of its mesh; bodies of one shape share it.
        mesh: the solid, mm.
        place: takes it to where it stands.
        colour: as #rrggbb.
    """

    name: str
    shape: str
    mesh: Mesh
    place: Matrix
    colour: str


def glb(bodies: Iterable[Body]) -> bytes:
    """The file of some bodies.

    Args:
        bodies: in the order of their nodes.
    """
    import trimesh
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    scene = trimesh.Scene()
    for body in bodies:
        shape = f"{body.shape} {body.colour}"
        if shape not in scene.geometry:
            solid = trimesh.Trimesh(body.mesh.vertices, body.mesh.triangles, process=False)
            solid.visual = TextureVisuals(
                material=PBRMaterial(name=body.colour, baseColorFactor=_rgba(body.colour), metallicFactor=0.0)
            )
            scene.add_geometry(solid, geom_name=shape, node_name=body.name, transform=_UP @ np.array(body.place))
        else:
            scene.graph.update(frame_to=body.name, matrix=_UP @ np.array(body.place), geometry=shape)
    return bytes(scene.export(file_type="glb"))


_UP = np.array([[1.0, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, MM_PER_M]]) / MM_PER_M  # to metres, z to y


def _rgba(colour: str) -> tuple[int, int, int, int]:
    """A colour as numbers."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16), 255
