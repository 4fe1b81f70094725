"""saw_list.csv: long fillers and fences that may be sawn of wood instead of printed, bar by bar.

Nothing is left out of the print for it: who saws a strip takes its pieces off the bed. Strips of one width and height
come off bars of that stock; lengths and widths are rounded down to what a rule shows.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.exchange import csv_table
from nookwright.ground.sources import Fact, Kind
from nookwright.making.saw_list import saw_list

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.csv_table import Cell
    from nookwright.exchange.kit import Kit
    from nookwright.exchange.saw_models import KitHoles, KitSawing, KitStrip

RULE = Fact(0.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="What a rule shows.")
HEAD = (
    "stock_width_mm", "stock_height_mm", "bar", "from_mm", "length_mm", "instead_of", "space", "held_by", "bars_needed",
    "bars_at_least", "bar_mm", "kerf_mm",
)  # fmt: skip
TAPE = "double-sided tape"


def saw_csv(kit: Kit) -> str:
    """The list as a file; empty where nothing is long enough.

    Args:
        kit: the whole kit.
    """
    by_stock: dict[tuple[float, float], list[KitStrip]] = defaultdict(list)
    for strip in kit.sawing.strips:
        by_stock[_down(strip.width), strip.height].append(strip)
    rows = [row for stock in sorted(by_stock) for row in _rows(kit.sawing, stock, by_stock[stock])]
    return csv_table.table(HEAD, rows) if rows else ""


def _rows(sawing: KitSawing, stock: tuple[float, float], alike: list[KitStrip]) -> Iterator[tuple[Cell, ...]]:
    """The rows of strips of one width and height."""
    done = saw_list([_down(strip.length) for strip in alike], bar=sawing.bar, kerf=sawing.kerf)
    for cut in done.cuts:
        strip = alike[cut.strip]
        yield (
            *stock, cut.bar + 1, cut.start, cut.length, " + ".join(strip.instead_of), strip.space, held_by(strip.holes),
            done.bars, done.least, sawing.bar, sawing.kerf,
        )  # fmt: skip


def held_by(holes: KitHoles | None) -> str:
    """What holds a strip where it stands, in words."""
    if holes is None:
        return TAPE
    return (
        f"{holes.count} holes over cones: {holes.diameter:g} wide and {holes.depth:g} deep, {holes.from_face:g} from "
        f"the side that faces the trays, the first {holes.first:g} from the end, then every {holes.apart:g}"
    )


def _down(length: float) -> float:
    return math.floor(round(length / RULE, 6)) * RULE
