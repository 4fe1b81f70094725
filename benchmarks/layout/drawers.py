"""Perfect drawers through our packer: how full they get by the number of tries; each packing is checked.

    .venv/bin/python -m benchmarks.layout.drawers             # table, and exit code 1 where a target is missed
    .venv/bin/python -m benchmarks.layout.drawers --renew     # the same, into docs/packing.md and its picture

The drawers are generated (seeds in their file), 18 to 28 by 20 to 26 cells, cut into 18 to 39 footprints without a gap,
some with blocked cells. They are packed whole, and with the smallest footprints dropped until 97 % are left.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from benchmarks.layout.packing_sets import DrawerCase, check_strip, drawer_cases, rectangles

from nookwright.layout.packing import Footprint, pack

if TYPE_CHECKING:
    from collections.abc import Sequence

TRIES = (200, 2_000, 20_000, 200_000)
LOOSE = 0.97
LOOSE_TRIES = 20_000
LEAST_FILL = 0.993


@dataclass(frozen=True)
class Filled:
    """What so many tries reach.

    Attributes:
        tries: for each drawer.
        drawers: how many there are.
        mean_fill: of the free cells of all footprints.
        perfect: drawers filled without a gap.
        loose: drawers that took all footprints with the smallest dropped.
        ms: processor's time for a whole drawer, in milliseconds.
    """

    tries: int
    drawers: int
    mean_fill: float
    perfect: int
    loose: int
    ms: float


def loosened(case: DrawerCase) -> list[tuple[int, int]]:
    """The footprints with the smallest dropped until at most 97 % of the cells are asked for."""
    items = sorted(case.items, key=lambda size: (-size[0] * size[1], size))
    while sum(w * d for w, d in items) > LOOSE * case.cells:
        items.pop()
    return items


def packed_cells(case: DrawerCase, sizes: Sequence[tuple[int, int]], tries: int) -> int:
    """How many cells are covered; the packing is checked.

    Raises:
        ValueError: it is none.
    """
    packing = pack(case.cols, case.rows, case.blocked, sizes, tries=tries, seed=1)
    items = [Footprint(cols, rows, may_turn=True) for cols, rows in sizes]
    inside = [(item, spot) for item, spot in zip(items, packing.spots, strict=True) if spot is not None]
    placed, spots = [item for item, _ in inside], [spot for _, spot in inside]
    check_strip(case.cols, case.rows, placed, spots)
    for left, front, right, back in rectangles(placed, spots):
        if any(left <= col < right and front <= row < back for col, row in case.blocked):
            raise ValueError(f"{case.name}: ({left}, {front}) to ({right}, {back}) lies on blocked cells")
    return sum(item.cols * item.rows for item in placed)


def filled(cases: Sequence[DrawerCase], tries: int) -> Filled:
    """All drawers with so many tries."""
    begin = time.process_time()
    fills = [packed_cells(case, case.items, tries) / case.cells for case in cases]
    spent = time.process_time() - begin
    asked = [loosened(case) for case in cases]
    loose = [
        packed_cells(case, some, tries) == sum(w * d for w, d in some) for case, some in zip(cases, asked, strict=True)
    ]
    perfect = sum(fill == 1 for fill in fills)
    return Filled(tries, len(cases), fmean(fills), perfect, sum(loose), 1000 * spent / len(cases))


def table(found: Sequence[Filled]) -> str:
    """A row for each number of tries."""
    rows = [
        ["tries", "mean fill", "filled without a gap", "97 % of the cells: all packed", "time a drawer"],
        ["---"] * 5,
    ]
    rows += [
        [
            f"{one.tries:,}",
            f"{one.mean_fill:.2%}",
            f"{one.perfect} of {one.drawers}",
            f"{one.loose} of {one.drawers}",
            f"{one.ms:.1f} ms",
        ]
        for one in found
    ]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def misses(found: Sequence[Filled]) -> list[str]:
    """Targets that are missed, in words."""
    texts = [
        f"{one.loose} of {one.drawers} are packed at 97 % within {one.tries} tries, all are asked for"
        for one in found
        if one.tries == LOOSE_TRIES and one.loose < one.drawers
    ]
    if found[-1].mean_fill < LEAST_FILL:
        texts.append(f"mean fill {found[-1].mean_fill:.2%}, at least {LEAST_FILL:.1%} is asked for")
    return texts


def main() -> int:
    """Run, print, renew the page if asked, and tell whether all targets are met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--renew", action="store_true", help="put the table and the plot into docs/")
    given = parser.parse_args()
    cases = drawer_cases()
    if not cases:
        return 0
    filled(cases[:1], LOOSE_TRIES * 10)  # load and compile
    found = [filled(cases, tries) for tries in TRIES]
    print(table(found))
    if given.renew:
        from benchmarks.layout.packing_page import renew_drawers

        renew_drawers(found)
    missed = misses(found)
    print("\n".join(missed) or "all targets are met")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
