"""saw_list.csv: long fillers and fences that may be sawn of wood instead of printed, bar by bar.

Nothing is left out of the print for it: who saws a strip takes its piece off the bed. Strips of one width come off bars
of that width; lengths and widths are rounded down to what a rule shows.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.exchange import csv_table
from nookwright.ground.sources import Fact, Kind
from nookwright.making.savings.liners import LONG_FILLER
from nookwright.making.saw_list import BAR, KERF, saw_list

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.csv_table import Cell
    from nookwright.exchange.kit import Kit, KitPart

FENCE_WIDTH = Fact(10.0, unit="mm", kind=Kind.CHOICE, source="A batten as wide stands, and takes tape along its foot.")
FILLER_HEIGHT = Fact(
    3.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Plywood of 3: as high as the lips of a printed filler, 2.6."
)
RULE = Fact(0.5, unit="mm", kind=Kind.COMMON_PRACTICE, source="What a rule shows.")
HEAD = (
    "stock_width_mm", "stock_height_mm", "bar", "from_mm", "length_mm", "instead_of", "space", "bars_needed",
    "bars_at_least", "bar_mm", "kerf_mm",
)  # fmt: skip


@dataclass(frozen=True)
class Strip:
    """One strip to saw."""

    width: float
    height: float
    length: float
    instead_of: str
    space: str


def strips(kit: Kit) -> tuple[Strip, ...]:
    """Everything long and straight that is printed and might be sawn, in the order of the placements.

    Args:
        kit: the whole kit.
    """
    parts = {part.id: part for part in kit.parts}
    found = ((_strip_of(parts[one.part]), parts[one.part], one) for one in kit.placements)
    return tuple(
        Strip(_down(size[0]), size[1], _down(size[2]), part.name, one.space) for size, part, one in found if size
    )


def saw_csv(kit: Kit) -> str:
    """The list as a file; empty where nothing is long enough.

    Args:
        kit: the whole kit.
    """
    by_stock: dict[tuple[float, float], list[Strip]] = defaultdict(list)
    for strip in strips(kit):
        by_stock[strip.width, strip.height].append(strip)
    rows = [row for stock in sorted(by_stock) for row in _rows(by_stock[stock])]
    return csv_table.table(HEAD, rows) if rows else ""


def _rows(alike: list[Strip]) -> Iterator[tuple[Cell, ...]]:
    """The rows of strips of one width and height."""
    done = saw_list([strip.length for strip in alike])
    for cut in done.cuts:
        strip = alike[cut.strip]
        yield (
            strip.width, strip.height, cut.bar + 1, cut.start, cut.length, strip.instead_of, strip.space, done.bars,
            done.least, float(BAR), float(KERF),
        )  # fmt: skip


def _strip_of(part: KitPart) -> tuple[float, float, float] | None:
    """Width, height and length of the strip that takes a part's place; ``None`` where none does."""
    if part.kind == "filler":
        length, width = part.parameters.get("length"), part.parameters.get("width")
        plain = not {"height", "travel"} & part.parameters.keys()
        if plain and isinstance(length, float) and isinstance(width, float) and LONG_FILLER <= length <= BAR:
            return width, float(FILLER_HEIGHT), length
    if part.kind == "fence" and LONG_FILLER <= part.size[0] <= BAR:
        return float(FENCE_WIDTH), part.size[2], part.size[0]
    return None


def _down(length: float) -> float:
    return math.floor(round(length / RULE, 6)) * RULE
