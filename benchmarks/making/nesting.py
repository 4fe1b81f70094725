"""Published two-dimensional bin packing instances through our nesting and through rectpack, each packing checked.

    .venv/bin/python -m benchmarks.making.nesting              # table, and exit code 1 where a target is missed
    .venv/bin/python -m benchmarks.making.nesting --renew      # the same, into docs/bedfuls.md
    .venv/bin/python -m benchmarks.making.nesting --every 10   # every tenth instance

Berkey and Wang's classes 1 to 6 and Martello and Vigo's 7 to 10, no turning. Both have so many seconds of one processor
an instance (2; loading and compiling before): ours ends earlier where its bound is met, rectpack where all of its
algorithms have been tried with all of its sortings. Ours starts from one seed. The instances are read in place.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import rectpack
from benchmarks.layout.packing_peers import OTHERS, SKYLINES, SORTINGS

from nookwright.making.nesting import Bin, nestings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.nesting import Nested

FILE = Path(__file__).parents[2].parent / "shared" / "published" / "packing" / "bpp2d_classes.json"
PAGE = Path(__file__).parents[2] / "docs" / "bedfuls.md"
BEGIN, END = "<!-- nesting -->\n", "<!-- end -->"
SECONDS = 2.0
LEAST_EQUAL = 0.9  # share of the instances that must reach the best known number of bins
SEED = 1


@dataclass(frozen=True)
class Outcome:
    """One instance: bins by ours, by rectpack, best known, and our bound."""

    name: str
    ours: int
    peer: int
    best: int
    bound: int
    seconds: float

    @property
    def group(self) -> str:
        """Its class."""
        return self.name.split("_", maxsplit=1)[0]


def ours(boxes: Sequence[tuple[int, int]], into: Bin, seconds: float) -> Nested:
    """Our nesting after so many seconds, or earlier at its bound; checked box by box."""
    begin = time.process_time()
    for found in nestings(boxes, into, seed=SEED):  # noqa: B007 - the last one counts
        if time.process_time() - begin > seconds:
            break
    check(boxes, into, [(spot.bin, spot.x, spot.y) for spot in found.spots])
    return found


def peer(boxes: Sequence[tuple[int, int]], into: Bin, seconds: float) -> int:
    """The fewest bins of rectpack's algorithms and sortings within so many seconds; the first is always ended."""
    best = len(boxes) + 1
    begin = time.process_time()
    for algorithm in (*SKYLINES, *OTHERS):
        for sorting in SORTINGS:
            if best <= len(boxes) and time.process_time() - begin > seconds:
                return best
            packer: Any = rectpack.newPacker(
                mode=rectpack.PackingMode.Offline,
                bin_algo=rectpack.PackingBin.BBF,
                pack_algo=getattr(rectpack, algorithm),
                sort_algo=getattr(rectpack, sorting),
                rotation=False,
            )
            packer.add_bin(into.width, into.depth, count=len(boxes))
            for box in boxes:
                packer.add_rect(*box)
            packer.pack()
            placed = packer.rect_list()
            if len(placed) == len(boxes):
                best = min(best, len({one[0] for one in placed}))
    return best


def check(boxes: Sequence[tuple[int, int]], into: Bin, places: Sequence[tuple[int, int, int]]) -> None:
    """Raise where boxes overlap or leave their bin."""
    by_bin: dict[int, list[tuple[int, int, int, int]]] = defaultdict(list)
    if len(places) != len(boxes):
        raise ValueError(f"{len(places)} of {len(boxes)} boxes have a place")
    for (width, depth), (number, x, y) in zip(boxes, places, strict=True):
        if not (0 <= x <= into.width - width and 0 <= y <= into.depth - depth):
            raise ValueError(f"a box of {width} x {depth} at {x}, {y} leaves its bin")
        for left, front, right, back in by_bin[number]:
            if x < right and left < x + width and y < back and front < y + depth:
                raise ValueError(f"a box of {width} x {depth} at {x}, {y} overlaps another")
        by_bin[number].append((x, y, x + width, y + depth))


def outcomes(instances: Sequence[dict[str, Any]], seconds: float) -> list[Outcome]:
    """All instances, one after the other."""
    warm = [(3, 4), (6, 6), (7, 5), (6, 7), (2, 9)] * 4
    ours(warm, Bin(10, 10, may_turn=False), 0.1)
    found = []
    for one in instances:
        boxes = [(width, depth) for width, depth in one["items"]]
        into = Bin(one["container"]["width"], one["container"]["height"], may_turn=False)
        begin = time.process_time()
        nested = ours(boxes, into, seconds)
        used = time.process_time() - begin
        best = one["best_known"]["bins_fixed"]
        found.append(Outcome(one["name"], nested.bins, peer(boxes, into, seconds), best, nested.bound, used))
    return found


def table(found: Sequence[Outcome]) -> str:
    """The figures class by class, in Markdown."""
    rows = [
        "| class | instances | bins | best known | as few as known | rectpack | ours fewer | ours more | mean time |"
    ]
    rows.append("|" + " --- |" * 9)
    groups: dict[str, list[Outcome]] = defaultdict(list)
    for one in found:
        groups[one.group].append(one)
    for name, some in [*sorted(groups.items()), ("all", list(found))]:
        rows.append(
            f"| {name} | {len(some)} | {sum(one.ours for one in some)} | {sum(one.best for one in some)} "
            f"| {sum(one.ours <= one.best for one in some)} | {sum(one.peer for one in some)} "
            f"| {sum(one.ours < one.peer for one in some)} | {sum(one.ours > one.peer for one in some)} "
            f"| {sum(one.seconds for one in some) / len(some):.2f} s |"
        )
    return "\n".join(rows)


def said(found: Sequence[Outcome], seconds: float) -> str:
    """The table with what there is to say of it."""
    above = [one for one in found if one.ours > one.best]
    load = f"load {os.getloadavg()[0]:.0f} on {os.cpu_count()} processors at the end"
    lines = [
        f"{seconds:g} s of one processor an instance at most, on a machine that others used too ({load}).",
        "",
        table(found),
        "",
        "More bins than the best known: "
        + (", ".join(f"{one.name} ({one.ours}, known {one.best})" for one in above) or "none")
        + ".",
    ]
    proven = sum(one.ours == one.bound for one in found)
    lines.append(f"Proven to be the fewest by our own bound: {proven} of {len(found)}.")
    return "\n".join(lines)


def main() -> int:
    """Run, print, and say whether the targets are met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=float, default=SECONDS)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--renew", action="store_true", help="write the table into docs/bedfuls.md")
    args = parser.parse_args()
    if not FILE.is_file():
        print(f"the instances are not at {FILE}")
        return 1
    found = outcomes(json.loads(FILE.read_text(encoding="utf-8"))["instances"][:: args.every], args.seconds)
    text = said(found, args.seconds)
    print(text)
    if args.renew:
        page = PAGE.read_text(encoding="utf-8")
        head, _, rest = page.partition(BEGIN)
        _, _, tail = rest.partition(END)
        PAGE.write_text(f"{head}{BEGIN}\n{text}\n\n{END}{tail}", encoding="utf-8", newline="\n")
    equal = sum(one.ours <= one.best for one in found)
    met = equal >= LEAST_EQUAL * len(found) and not any(one.ours > one.peer for one in found)
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
