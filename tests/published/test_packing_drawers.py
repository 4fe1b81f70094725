"""The packer in generated perfect drawers, read in place from ``../shared/published/packing``.

The file names the seeds: each drawer was cut into its footprints without a gap, so that a packing of 100 % exists.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nookwright.layout.packing import Packing, pack

FOLDER = Path(__file__).parents[2].parent / "shared" / "published" / "packing"
FILE = FOLDER / "drawer_perfect_generated.json"

pytestmark = pytest.mark.skipif(not FILE.is_file(), reason=f"perfect drawers are not at {FILE}")

DRAWERS: list[dict[str, Any]] = json.loads(FILE.read_text(encoding="utf-8"))["instances"] if FILE.is_file() else []


def space_of(drawer: dict[str, Any]) -> tuple[int, int, set[tuple[int, int]]]:
    """Columns, rows and blocked cells."""
    blocked = {(col, row) for x, y, w, d in drawer["blocked"] for col in range(x, x + w) for row in range(y, y + d)}
    return drawer["container"]["width"], drawer["container"]["height"], blocked


def packed_cells(packing: Packing, items: list[tuple[int, int]], drawer: dict[str, Any]) -> int:
    """The cells packed, after checking one by one that it is a packing."""
    cols, rows, blocked = space_of(drawer)
    free = {(col, row) for col in range(cols) for row in range(rows)} - blocked
    before = len(free)
    for (wide, deep), spot in zip(items, packing.spots, strict=True):
        if spot is None:
            continue
        if spot.turned:
            wide, deep = deep, wide  # noqa: PLW2901 - as it lies
        cells = {(spot.col + i, spot.row + j) for i in range(wide) for j in range(deep)}
        assert cells <= free
        free -= cells
    return before - len(free)


def items_of(drawer: dict[str, Any]) -> list[tuple[int, int]]:
    """The footprints, largest first."""
    return sorted(((w, d) for w, d in drawer["items"]), key=lambda size: (-size[0] * size[1], size))


@pytest.mark.parametrize("drawer", DRAWERS, ids=lambda one: one["name"])
def test_a_perfect_drawer_less_three_percent_is_packed(drawer: dict[str, Any]) -> None:
    """The smallest footprints dropped until it is at most 97 % full: all that is left goes in, in 20,000 tries."""
    cols, rows, blocked = space_of(drawer)
    items, cells = items_of(drawer), cols * rows - len(blocked)
    assert sum(w * d for w, d in items) == cells, "the drawer is perfect"
    while sum(w * d for w, d in items) > 0.97 * cells:
        items.pop()
    packing = pack(cols, rows, blocked, items, tries=20_000, seed=1)
    assert packed_cells(packing, items, drawer) == sum(w * d for w, d in items)


def test_perfect_drawers_are_filled_to_99_percent_and_a_third() -> None:
    """All footprints of all sixty, 20,000 tries each: 99.60 % full on average, 38 without a gap, when written."""
    fills = []
    for drawer in DRAWERS:
        cols, rows, blocked = space_of(drawer)
        items = items_of(drawer)
        packing = pack(cols, rows, blocked, items, tries=20_000, seed=1)
        fills.append(packed_cells(packing, items, drawer) / (cols * rows - len(blocked)))
    assert sum(fills) / len(fills) >= 0.993
    assert sum(fill == 1 for fill in fills) >= 30
