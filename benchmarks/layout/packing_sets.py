"""The published packing sets, read in place, and a check of packings that shares nothing with the packer."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, Any

from nookwright.layout.packing import Footprint

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.packing import Spot

FOLDER = Path(__file__).resolve().parents[2].parent / "shared" / "published" / "packing"


@dataclass(frozen=True)
class StripSet:
    """One published set of strips.

    Attributes:
        name: as it is known.
        file: its name.
        turn: whether footprints may be turned.
        only: names of the instances taken; all where empty.
    """

    name: str
    file: str
    turn: bool
    only: tuple[str, ...] = ()


STRIP_SETS = (
    StripSet("C1-C7", "ht_c1_c7.json", turn=True),
    StripSet("N1-N12", "burke_n1_n13.json", turn=True, only=tuple(f"N{n}" for n in range(1, 13))),
    StripSet("N13", "burke_n1_n13.json", turn=True, only=("N13",)),
    StripSet("ngcut", "orlib_ngcut_strip.json", turn=False),
    StripSet("cgcut", "orlib_cgcut_strip.json", turn=False),
    StripSet("gcut1-4", "orlib_gcut_strip.json", turn=False, only=tuple(f"gcut0{n}" for n in range(1, 5))),
    StripSet("beng", "orlib_beng_strip.json", turn=False),
)


@dataclass(frozen=True)
class StripCase:
    """One published strip.

    Attributes:
        group: name of its set.
        name: of the instance.
        width: of the strip.
        items: that are packed.
        known: the optimum, or the lowest height that has been published.
        optimal: whether it is known to be the optimum.
    """

    group: str
    name: str
    width: int
    items: tuple[Footprint, ...]
    known: int
    optimal: bool


def _instances(file: str) -> list[dict[str, Any]]:
    path = FOLDER / file
    if not path.is_file():
        print(f"left out: {path} is not there", file=sys.stderr)
        return []
    return list(json.loads(path.read_text(encoding="utf-8"))["instances"])


def strip_cases(groups: Sequence[str]) -> list[StripCase]:
    """The strips of the named sets, all where none is named; says on standard error which file is not there."""
    found = []
    for one in STRIP_SETS:
        for instance in _instances(one.file) if one.name in groups or not groups else []:
            if one.only and instance["name"] not in one.only:
                continue
            items = tuple(Footprint(w, d, one.turn and w != d) for w, d in instance["items"])
            optimum = (instance.get("optimum") or {}).get("height")
            known = optimum or instance["best_known"]["upper"]
            width = instance["container"]["width"]
            found.append(StripCase(one.name, instance["name"], width, items, known, optimum is not None))
    return found


@dataclass(frozen=True)
class DrawerCase:
    """A drawer that is known to be filled without a gap."""

    name: str
    cols: int
    rows: int
    blocked: frozenset[tuple[int, int]]
    items: tuple[tuple[int, int], ...]

    @property
    def cells(self) -> int:
        """Free cells."""
        return self.cols * self.rows - len(self.blocked)


def drawer_cases() -> list[DrawerCase]:
    """The generated perfect drawers."""
    return [
        DrawerCase(
            one["name"],
            one["container"]["width"],
            one["container"]["height"],
            frozenset((c, r) for x, y, w, d in one["blocked"] for c in range(x, x + w) for r in range(y, y + d)),
            tuple((w, d) for w, d in one["items"]),
        )
        for one in _instances("drawer_perfect_generated.json")
    ]


def rectangles(items: Sequence[Footprint], spots: Sequence[Spot]) -> list[tuple[int, int, int, int]]:
    """Left, front, right and back of each footprint as it lies.

    Raises:
        ValueError: one is turned that may not be.
    """
    found = []
    for item, spot in zip(items, spots, strict=True):
        if spot.turned and not item.may_turn:
            raise ValueError(f"{item} may not be turned")
        wide, deep = (item.rows, item.cols) if spot.turned else item[:2]
        found.append((spot.col, spot.row, spot.col + wide, spot.row + deep))
    return found


def check_strip(width: int, height: int, items: Sequence[Footprint], spots: Sequence[Spot]) -> None:
    """Check a packing pair by pair.

    Raises:
        ValueError: two overlap, or one is outside the strip of this height.
    """
    found = rectangles(items, spots)
    for left, front, right, back in found:
        if left < 0 or front < 0 or right > width or back > height:
            raise ValueError(f"({left}, {front}) to ({right}, {back}) is outside {width} x {height}")
    for one, other in combinations(found, 2):
        if one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]:
            raise ValueError(f"{one} and {other} overlap")
