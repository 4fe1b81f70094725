"""What the room file says of parts moved by hand: a ``[[place]]`` for each part of a space that was touched."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.module.seat import outer_size
from nookwright.studio.typed_fields import as_length

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.studio.arrangement import Arrangement
    from nookwright.studio.sheets import Item, Sheets
    from nookwright.studio.toml_values import Value


def places_of(arrangement: Arrangement, unit: str) -> Iterator[tuple[str, dict[str, Value | None]]]:
    """The lot of every part in the spaces that were touched, with the keys of its place.

    Args:
        arrangement: what stands where.
        unit: of plain numbers in the room file.
    """
    sizes: dict[int, float] = {}
    for one in arrangement.items:
        if one.lot and not one.level and one.space in arrangement.touched:
            yield one.lot, _place(one, arrangement.sheets, unit, sizes)


def corner_of(item: Item, sheets: Sheets) -> tuple[float, float]:
    """The front left corner of a part from the walls of its space, mm.

    Args:
        item: of the plan.
        sheets: it.
    """
    at = zip(sheets.sheet(item.space).origin, (item.col, item.row), (item.cols, item.rows), strict=True)
    first, second = (
        round(start + cell * sheets.pitch + (cells * sheets.pitch - outer_size(cells, sheets.pitch)) / 2, 1)
        for start, cell, cells in at
    )
    return first, second


def _place(one: Item, sheets: Sheets, unit: str, sizes: dict[int, float]) -> dict[str, Value | None]:
    """The keys of a place; sizes that were worked out before are not worked out again."""
    width, depth = (
        sizes.setdefault(cells, round(outer_size(cells, sheets.pitch), 1)) for cells in (one.cols, one.rows)
    )
    x, y = corner_of(one, sheets)
    lengths = {"x": x, "y": y, "width": width, "depth": depth, "height": round(one.height, 1)}
    return {
        "space": one.space,
        **{name: as_length(length, unit) for name, length in lengths.items()},
        "may_move": None if one.stays else True,
    }
