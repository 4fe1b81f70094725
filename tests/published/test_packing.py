"""The packer against published packings, read in place from ``../shared/published/packing``.

Sources: E. Hopper, B.C.H. Turton, EJOR 128 (2001) 34-57, the authors' own data sheet (C1 to C7, perfect packings of
known height, turning allowed); B.E. Bengtsson, The Computer Journal 25 (1982) 353-357 (no turning), optima from T. Soh
et al., Fundamenta Informaticae 102 (2010) 467-487, table 2. The perfect drawers are generated (their file names the
seeds), so their fill is known to be 100 % by construction.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nookwright.layout.packing import Packing, pack

FOLDER = Path(__file__).parents[2].parent / "shared" / "published" / "packing"
TRIES = 20_000

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason=f"published packings are not at {FOLDER}")


def instances(file: str) -> list[dict[str, Any]]:
    """The instances of one file; none where the folder is absent (then all tests here are skipped)."""
    path = FOLDER / file
    return list(json.loads(path.read_text(encoding="utf-8"))["instances"]) if path.is_file() else []


def blocked_of(instance: dict[str, Any]) -> list[tuple[int, int]]:
    """The blocked rectangles as cells."""
    return [(col, row) for x, y, w, d in instance["blocked"] for col in range(x, x + w) for row in range(y, y + d)]


def packed_area(
    packing: Packing, items: list[tuple[int, int]], cols: int, rows: int, blocked: list[tuple[int, int]]
) -> int:
    """The area packed, after checking cell by cell that it is a packing."""
    free = {(col, row) for col in range(cols) for row in range(rows)} - set(blocked)
    area = 0
    for (wide, deep), spot in zip(items, packing.spots, strict=True):
        if spot is None:
            continue
        if spot.turned:
            wide, deep = deep, wide  # noqa: PLW2901 - as it lies
        cells = {(spot.col + i, spot.row + j) for i in range(wide) for j in range(deep)}
        assert cells <= free
        free -= cells
        area += wide * deep
    return area


def items_of(instance: dict[str, Any]) -> list[tuple[int, int]]:
    """The footprints, largest first."""
    return sorted(((w, d) for w, d in instance["items"]), key=lambda size: (-size[0] * size[1], size))


@pytest.mark.parametrize("instance", instances("drawer_perfect_generated.json"), ids=lambda one: one["name"])
def test_a_perfect_drawer_less_three_percent_is_packed(instance: dict[str, Any]) -> None:
    """The smallest pieces of a perfect drawer dropped until it is at most 97 % full: everything left goes in."""
    cols, rows = instance["container"]["width"], instance["container"]["height"]
    blocked, items = blocked_of(instance), items_of(instance)
    cells = cols * rows - len(blocked)
    assert sum(w * d for w, d in items) == cells, "the drawer is perfect"
    while sum(w * d for w, d in items) > 0.97 * cells:
        items.pop()
    packing = pack(cols, rows, blocked, items, tries=TRIES, seed=1)
    assert packed_area(packing, items, cols, rows, blocked) == sum(w * d for w, d in items)


def test_perfect_drawers_are_filled_to_98_percent() -> None:
    """All pieces of twenty perfect drawers, a tenth of the tries: 98.7 % full on average when this was written."""
    fills = []
    for instance in instances("drawer_perfect_generated.json")[::3]:
        cols, rows = instance["container"]["width"], instance["container"]["height"]
        blocked, items = blocked_of(instance), items_of(instance)
        packing = pack(cols, rows, blocked, items, tries=TRIES // 10, seed=1)
        fills.append(packed_area(packing, items, cols, rows, blocked) / (cols * rows - len(blocked)))
    assert sum(fills) / len(fills) >= 0.98


@pytest.mark.parametrize("instance", instances("ht_c1_c7.json")[:3], ids=lambda one: one["name"])
def test_hopper_and_turton_c1_is_packed_without_waste(instance: dict[str, Any]) -> None:
    """C1P1 to C1P3: 16 or 17 pieces fill 20 x 20 exactly, turning allowed."""
    cols, rows, items = instance["container"]["width"], instance["optimum"]["height"], items_of(instance)
    packing = pack(cols, rows, (), items, tries=10 * TRIES, seed=1)
    assert packed_area(packing, items, cols, rows, []) == cols * rows


@pytest.mark.parametrize("instance", instances("orlib_beng_strip.json"), ids=lambda one: one["name"])
def test_bengtsson_strips_are_full_at_their_optimal_height(instance: dict[str, Any]) -> None:
    """beng01 to beng10, no turning, up to 200 pieces: at least 97.5 % of their area goes in at the optimal height.

    All of it goes in for four of them; the others would need a search made for strips.
    """
    cols, rows, items = instance["container"]["width"], instance["optimum"]["height"], items_of(instance)
    packing = pack(cols, rows, (), items, tries=TRIES // 4, seed=1, turn=False)
    assert packed_area(packing, items, cols, rows, []) >= 0.975 * sum(w * d for w, d in items)
    assert not any(spot and spot.turned for spot in packing.spots)
