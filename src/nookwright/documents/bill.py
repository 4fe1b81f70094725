"""bill.csv: what is printed, one row a piece, for a spreadsheet.

Masses are those of the pieces as made, times are printing times of the pieces alone; the bedfuls add their
own heating and moving, which is why the page's hours are a little more. Prices are in the currency of the
room file.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nookwright.documents.words import listed
from nookwright.exchange import csv_table

if TYPE_CHECKING:
    from nookwright.exchange.csv_table import Cell
    from nookwright.exchange.kit import Kit, Piece

HEAD = (
    "piece",
    "what",
    "part",
    "width_mm",
    "depth_mm",
    "height_mm",
    "count",
    "colour",
    "material",
    "mass_g_each",
    "mass_g_all",
    "time_min_each",
    "time_min_all",
    "price_all",
    "file",
    "printer",
    "bedfuls",
)


def bill_csv(kit: Kit) -> str:
    """The bill of a kit.

    Args:
        kit: the whole kit.

    Returns:
        The text of the file, with the line ends of RFC 4180 (write it without translating them).
    """
    return csv_table.table(HEAD, (_row(kit, piece) for piece in kit.pieces))


def price_of(kit: Kit, material_id: str, mass_g: float) -> float:
    """What so much of a material costs, at the price of the kit.

    Args:
        kit: the whole kit.
        material_id: which material.
        mass_g: how much of it.
    """
    material = next((one for one in kit.materials if one.id == material_id), None)
    if material is None or material.mass_g <= 0:
        return 0.0
    return material.price * mass_g / material.mass_g


def _row(kit: Kit, piece: Piece) -> tuple[Cell, ...]:
    part = next(part for part in kit.parts if part.id == piece.part)
    labels = [placement.label for placement in kit.placements if placement.part == part.id]
    beds = Counter(bed.id for bed in kit.bedfuls for item in bed.items if item.piece == piece.id)
    printers = dict.fromkeys(bed.printer for bed in kit.bedfuls if bed.id in beds)
    mass_g = piece.mass_g * piece.count
    return (
        piece.id,
        listed(labels, at_most=len(labels)),
        part.name,
        *(round(length, 2) for length in piece.size),
        piece.count,
        piece.colour,
        piece.material,
        round(piece.mass_g, 2),
        round(mass_g, 2),
        round(piece.time_s / 60, 1),
        round(piece.time_s * piece.count / 60, 1),
        round(price_of(kit, piece.material, mass_g), 2),
        piece.file,
        "; ".join(printers),
        "; ".join(f"{bed} ({count})" for bed, count in beds.items()),
    )
