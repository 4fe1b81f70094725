"""Lettering in a second colour on a bedful: one change of filament at a height where that does it, else an own piece.

A change at a height colours everything above it. It serves where lettering stands on top of all else on the bed, and
all grows together; what it costs is the plastic that is purged, and that someone is there. Lettering on a side wall
would need changes in every layer: the file names its faces for printers that change by themselves; by hand it stays in
the colour of the piece, or becomes an inlaid piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import GRID
from nookwright.module.estimates import MM3_PER_CM3
from nookwright.survey.consistency import TEXT

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.beds.model import Load
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Material, Room

PURGE_MM3 = Fact(
    700.0, unit="mm3", kind=Kind.MEMORY, source="Of new filament until the old colour is gone: a little under 1 g."
)


@dataclass(frozen=True)
class Lettering:
    """Lettering in a second colour on a bedful.

    Attributes:
        material: of the lettering.
        layer: the first of the new filament, counted from 1; ``None`` where no single height does it.
        height: where that layer begins, mm.
        purge_g: what the change costs.
    """

    material: Material
    layer: int | None
    height: float
    purge_g: float


def second_material(load: Load, room: Room) -> Material | None:
    """The material of lettering where it is another one than the bedful's, and the printer has it too.

    Args:
        load: the bedful.
        room: as surveyed.
    """
    wanted = room.choices.colours.get(TEXT, load.material)
    printer = next(one for one in room.printer if one.id == load.printer)
    if wanted == load.material or wanted not in printer.materials:
        return None
    return next(one for one in room.material if one.id == wanted)


def lettering_of(load: Load, room: Room, meshes: Sequence[Mesh]) -> Lettering | None:
    """What a bedful's lettering asks for; nothing where it has none in another colour.

    Args:
        load: the bedful.
        room: as surveyed.
        meshes: of the distinct pieces on it.
    """
    material = second_material(load, room)
    texts = [low for low, _ in (_heights(mesh, text=True) for mesh in meshes) if low is not None]
    if material is None or not texts:
        return None
    height = min(texts)
    top = max((high for _, high in (_heights(mesh, text=False) for mesh in meshes) if high is not None), default=0.0)
    if top > height + GRID or (load.one_by_one and len(load.items) > 1):
        return Lettering(material, None, height, 0.0)
    layer = next(one.layer for one in room.printer if one.id == load.printer)
    purge_g = PURGE_MM3 / MM3_PER_CM3 * material.density_g_cm3
    return Lettering(material, round(height / layer) + 1, height, purge_g)


def _heights(mesh: Mesh, *, text: bool) -> tuple[float | None, float | None]:
    """Lowest and highest point of the faces that are lettering, or of the others; nothing where there are none."""
    import numpy as np

    lettering = np.zeros(len(mesh.triangles), np.bool_)
    for feature in mesh.features:
        if feature.name == TEXT:
            lettering[feature.first : feature.first + feature.count] = True
    z = mesh.vertices[:, 2][mesh.triangles[lettering == text]]
    return (float(z.min()), float(z.max())) if z.size else (None, None)
