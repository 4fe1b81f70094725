"""Binary glTF 2.0 (ISO/IEC 12113): solids in their places, for looking at.

Units are metres and y is up, as glTF has it; nodes carry the names that are given. Meshes that are equal are stored
once. Colours are linear, as glTF wants its factors (section 3.9.2): every reader shows the colour that was typed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from nookwright.ground.sources import Fact, Kind
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
            solid.visual = TextureVisuals(material=PBRMaterial(name=body.colour, metallicFactor=0.0))
            scene.add_geometry(solid, geom_name=shape, node_name=body.name, transform=_UP @ np.array(body.place))
        else:
            scene.graph.update(frame_to=body.name, matrix=_UP @ np.array(body.place), geometry=shape)
    return bytes(scene.export(file_type="glb", tree_postprocessor=_coloured))


_UP = np.array([[1.0, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, MM_PER_M]]) / MM_PER_M  # to metres, z to y

_SRGB: Final = "IEC 61966-2-1:1999 with amendment 1, 4.2: from a non-linear value to a linear one."
STRAIGHT = Fact(0.04045, unit="1", kind=Kind.STANDARD, source=f"{_SRGB} Up to here it is a straight line.")
SLOPE = Fact(12.92, unit="1", kind=Kind.STANDARD, source=f"{_SRGB} What the straight line divides by.")
OFFSET = Fact(0.055, unit="1", kind=Kind.STANDARD, source=f"{_SRGB} Added before the power, and to what divides.")
POWER = Fact(2.4, unit="1", kind=Kind.STANDARD, source=f"{_SRGB} The power.")
_MOST: Final = 0xFF


def _coloured(tree: dict[str, Any]) -> None:
    """Give materials their colours; the library would round linear ones to 8 bits, which dark colours do not bear."""
    for one in tree.get("materials", ()):
        one["pbrMetallicRoughness"]["baseColorFactor"] = [*linear(one["name"]), 1.0]


def linear(colour: str) -> tuple[float, float, float]:
    """A colour of a screen (sRGB) as shares of light.

    >>> linear("#000000"), linear("#ffffff")
    ((0.0, 0.0, 0.0), (1.0, 1.0, 1.0))

    Args:
        colour: as #rrggbb.

    Returns:
        Red, green and blue, each from 0 to 1.
    """
    red, green, blue = (_light(int(colour[at : at + 2], 16) / _MOST) for at in (1, 3, 5))
    return red, green, blue


def _light(value: float) -> float:
    """One channel."""
    return value / SLOPE if value <= STRAIGHT else float(((value + OFFSET) / (1 + OFFSET)) ** POWER)
