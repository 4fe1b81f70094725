"""Where the parts of a kit stand, and where those of the kit stood that a folder holds: for what changed."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.errors import FileFormatError
from nookwright.layout.changes import Stand
from nookwright.parts.model import Kind

if TYPE_CHECKING:
    from pathlib import Path

    from nookwright.exchange.kit import Kit, Matrix, Placement, Size

MOVABLE = frozenset({Kind.TRAY, Kind.CRADLE, Kind.SHOE, Kind.REST, Kind.RISER, Kind.DRAWER, Kind.FENCE})
KIT_FILE = "kit.json"


def stands_of_kit(kit: Kit) -> tuple[Stand, ...]:
    """Where everything stands that a person puts into a space: no liner, and nothing that lies in another part.

    Args:
        kit: that was built.
    """
    parts = {part.id: part for part in kit.parts}
    lots = {place.placement: lot.id for lot in reversed(kit.lots) for place in lot.places}
    found = (
        _stand(one, lots.get(one.id, one.label), parts[one.part].size)
        for one in kit.placements
        if parts[one.part].kind in MOVABLE
    )
    return tuple(sorted(found))


def earlier_stands(folder: Path) -> tuple[Stand, ...] | None:
    """Where the parts of the kit in a folder stand; ``None`` where there is none that this version can read.

    Args:
        folder: of a kit, or one that is yet to be.
    """
    try:
        return stands_of_kit(read_kit(folder / KIT_FILE))
    except (FileFormatError, OSError, KeyError):
        return None  # nothing is there, or it is of another version


def _stand(one: Placement, name: str, size: Size) -> Stand:
    corners = [_moved(one.space_from_part, corner) for corner in product(*((0.0, side) for side in size))]
    low, high = (tuple(pick(axis) for axis in zip(*corners, strict=True)) for pick in (min, max))
    width, depth, height = (round(b - a, 6) for a, b in zip(low, high, strict=True))
    x, y, z = (round(value, 6) for value in low)
    return Stand(name, one.space, x, y, z, width, depth, height)


def _moved(matrix: Matrix, point: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(
        sum(a * b for a, b in zip(row[:3], point, strict=True)) + row[3] for row in (matrix[0], matrix[1], matrix[2])
    )
