"""The packer on published strips, read in place from ``../shared/published/packing``.

Sources: E. Hopper, B.C.H. Turton, EJOR 128 (2001) 34-57, the authors' own data sheet (C1 to C7, perfect packings of
known height, turning allowed); E.K. Burke, G. Kendall, G. Whitwell, Operations Research 52 (2004) 655-671 (N1 to N12,
the same); J.E. Beasley, Operations Research 33 (1985) 49-64 (ngcut, no turning) and B.E. Bengtsson, The Computer
Journal 25 (1982) 353-357 (beng, no turning), optima from T. Soh et al., Fundamenta Informaticae 102 (2010) 467-487,
table 2.
Here by counts of tries; ``benchmarks/layout/strips.py`` does it by seconds and beside other packers.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nookwright.layout.packing import Footprint
from nookwright.layout.packing.strip import Strip, pack_strip

FOLDER = Path(__file__).parents[2].parent / "shared" / "published" / "packing"

pytestmark = pytest.mark.skipif(not FOLDER.is_dir(), reason=f"published packings are not at {FOLDER}")


def instances(file: str, *, most: int = 200) -> list[dict[str, Any]]:
    """The instances of one file with so many footprints; none where the folder is absent (then all tests skip)."""
    path = FOLDER / file
    found = json.loads(path.read_text(encoding="utf-8"))["instances"] if path.is_file() else []
    return [one for one in found if len(one["items"]) <= most]


def packed(instance: dict[str, Any], *, turn: bool, tries: int) -> Strip:
    """The strip packed, after marking its cells one by one."""
    width = instance["container"]["width"]
    items = [Footprint(w, d, turn and w != d) for w, d in instance["items"]]
    strip = pack_strip(width, items, tries=tries, seed=1)
    free = {(col, row) for col in range(width) for row in range(strip.height)}
    for item, spot in zip(items, strip.spots, strict=True):
        assert item.may_turn or not spot.turned
        wide, deep = (item.rows, item.cols) if spot.turned else item[:2]
        cells = {(spot.col + i, spot.row + j) for i in range(wide) for j in range(deep)}
        assert cells <= free
        free -= cells
    return strip


@pytest.mark.parametrize("instance", instances("ht_c1_c7.json", most=80), ids=lambda one: one["name"])
def test_hopper_and_turton_up_to_c5_are_packed_without_waste(instance: dict[str, Any]) -> None:
    """C1 to C5, 16 to 73 footprints: the known height, at which nothing is lost."""
    strip = packed(instance, turn=True, tries=400_000)
    assert strip.height == strip.bound == instance["optimum"]["height"]


@pytest.mark.parametrize("instance", instances("burke_n1_n13.json", most=80), ids=lambda one: one["name"])
def test_burke_kendall_whitwell_are_within_one_of_the_optimum(instance: dict[str, Any]) -> None:
    """N1 to N8, 10 to 80 footprints cut from one rectangle."""
    strip = packed(instance, turn=True, tries=60_000)
    assert strip.height <= instance["optimum"]["height"] + 1


@pytest.mark.parametrize("instance", instances("orlib_ngcut_strip.json"), ids=lambda one: one["name"])
def test_beasley_strips_are_optimal(instance: dict[str, Any]) -> None:
    """ngcut01 to ngcut12, no turning, 7 to 22 footprints, optima proved by SAT in the source."""
    strip = packed(instance, turn=False, tries=60_000)
    assert strip.bound <= strip.height == instance["optimum"]["height"]


@pytest.mark.parametrize("instance", instances("orlib_beng_strip.json"), ids=lambda one: one["name"])
def test_bengtsson_strips_are_optimal(instance: dict[str, Any]) -> None:
    """beng01 to beng10, no turning, 20 to 200 footprints: the bound by area is reached."""
    strip = packed(instance, turn=False, tries=60_000)
    assert strip.height == strip.bound == instance["optimum"]["height"]
