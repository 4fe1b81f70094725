"""Pads of pieces in the file of a bedful: one object for the pads of each piece, one item for each copy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.printing_models import BedPads
from nookwright.exchange.rounding import rounded
from nookwright.exchange.threemf import Body, Item
from nookwright.exchange.threemf_model import PADS
from nookwright.making.pads import corner_pads
from nookwright.module.estimates import MM3_PER_CM3

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.making.bedfuls import Load
    from nookwright.solids.triangles import Mesh


def pad_objects(
    load: Load, mesh_of: Callable[[str], Mesh], items: Sequence[Item], *, layer: float, density_g_cm3: float, first: int
) -> tuple[tuple[Body, ...], tuple[Item, ...], tuple[BedPads, ...]]:
    """The pads of a bedful: bodies, their copies on the bed, and what kit.json says of them.

    Args:
        load: the bedful.
        mesh_of: mesh of a piece, by its id.
        items: the copies of the pieces, in the order of the load.
        layer: of the printer, mm.
        density_g_cm3: of the material.
        first: number of the first body of pads in the file.
    """
    bodies: list[Body] = []
    copies: list[Item] = []
    records: list[BedPads] = []
    for name, reach in load.pads:
        pads = corner_pads(mesh_of(name), reach, layer)
        copies += [
            Item(first + len(bodies), item.bed_from_body, f"{item.part_number}{PADS}")
            for item, one in zip(items, load.items, strict=True)
            if one.piece == name
        ]
        bodies.append(Body(f"pads of {name}", f"{name}{PADS}", pads.mesh.vertices, pads.mesh.triangles))
        mass_g = pads.area_mm2 * layer / MM3_PER_CM3 * density_g_cm3
        records.append(BedPads(piece=name, reach=reach, height=layer, count=pads.count, mass_g=rounded(mass_g)))
    return tuple(bodies), tuple(copies), tuple(records)
