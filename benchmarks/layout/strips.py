"""Published strips through our packer and through others, each packing checked.

    .venv/bin/python -m benchmarks.layout.strips              # table, and exit code 1 where a target is missed
    .venv/bin/python -m benchmarks.layout.strips --renew      # the same, into docs/packing.md and its picture
    .venv/bin/python -m benchmarks.layout.strips --sets ngcut beng --seconds 1

Ours has so many seconds of one processor (2; loading and compiling before), CP-SAT twice as many of the clock with two
workers, for each of its two tasks: to minimise the height, and to decide whether ours can be undercut by one. The
packages have no limit. The sets are read in place; one that is not there is left out, and said so.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from benchmarks.layout.packing_peers import Answer, rectpack_height, rpack_height, solver_answer, solver_height
from benchmarks.layout.packing_sets import STRIP_SETS, StripCase, check_strip, strip_cases

from nookwright.layout.packing import Footprint
from nookwright.layout.packing.strip import Strip, strips

if TYPE_CHECKING:
    from collections.abc import Sequence

SECONDS = 2.0
MOST_MEAN_GAP = {"C1-C7": 0.001, "N1-N12": 0.001, "beng": 0.0}
MOST_ABOVE = {"ngcut": 1}
OURS, RECTPACK, RPACK, SOLVER = "nookwright", "rectpack", "rectangle-packer", "CP-SAT"
METHODS = (OURS, RECTPACK, RPACK, SOLVER)


@dataclass(frozen=True)
class Outcome:
    """What all reached on one strip.

    Attributes:
        case: the strip.
        heights: by method; missing where it found nothing or was not asked.
        bound: that no packing is lower than.
        seconds: of a processor that ours took to its height.
        answer: of CP-SAT, whether there is a packing lower than ours by one.
    """

    case: StripCase
    heights: dict[str, int]
    bound: int
    seconds: float
    answer: Answer

    def gap(self, method: str) -> float | None:
        """How much higher than the best known, as a share."""
        return self.heights[method] / self.case.known - 1 if method in self.heights else None

    @property
    def proven(self) -> bool:
        """Whether no packing is lower than ours."""
        ours = self.heights[OURS]
        return ours == self.bound or self.answer is Answer.NO or (self.case.optimal and ours == self.case.known)

    @property
    def ahead_of_us(self) -> tuple[str, ...]:
        """Who is lower than we are."""
        ahead = [method for method, height in self.heights.items() if height < self.heights[OURS]]
        if self.answer is Answer.YES and SOLVER not in ahead:
            ahead.append(f"{SOLVER} as a decision")
        return tuple(ahead)


def ours(case: StripCase, seconds: float) -> tuple[Strip, float]:
    """Our lowest strip, and the processor's seconds after which it was there."""
    begin = time.process_time()
    best, reached = None, 0.0
    for strip in strips(case.width, case.items, seed=1):
        now = time.process_time() - begin
        if best is None or strip.height < best.height:
            best, reached = strip, now
        if now > seconds:
            break
    if best is None:
        raise ValueError(f"{case.name} has no footprints")
    check_strip(case.width, best.height, case.items, best.spots)
    return best, reached


def outcome(case: StripCase, seconds: float) -> Outcome:
    """All methods on one strip.

    Args:
        case: the strip.
        seconds: for ours; CP-SAT has twice as many.
    """
    strip, reached = ours(case, seconds)
    found = {
        OURS: strip.height,
        RECTPACK: rectpack_height(case.width, case.items),
        RPACK: rpack_height(case.width, case.items),
        SOLVER: solver_height(case.width, case.items, 2 * seconds),
    }
    answer = Answer.NO if strip.proven else solver_answer(case.width, case.items, strip.height - 1, 2 * seconds)
    heights = {method: height for method, height in found.items() if height is not None}
    return Outcome(case, heights, strip.bound, reached, answer)


def warm_up() -> None:
    """Load and compile before anything is timed."""
    for _, strip in zip(
        range(200),
        strips(9, [Footprint(4, 3, may_turn=True), Footprint(2, 5, may_turn=True)] * 9, seed=1),
        strict=False,
    ):
        if strip.proven:
            break


def misses(found: Sequence[Outcome]) -> list[str]:
    """Targets that are missed, in words."""
    texts = []
    for group in dict.fromkeys(one.case.group for one in found):
        some = [one for one in found if one.case.group == group]
        mean = fmean(one.gap(OURS) or 0.0 for one in some)
        most = MOST_MEAN_GAP.get(group)
        if most is not None and mean > most:
            texts.append(f"{group}: mean gap {mean:.3%}, at most {most:.1%} is asked for")
        above = max(one.heights[OURS] - one.case.known for one in some)
        if above > MOST_ABOVE.get(group, above):
            texts.append(f"{group}: {above} above the optimum, at most {MOST_ABOVE[group]} is asked for")
    return texts


def table(found: Sequence[Outcome]) -> str:
    """A row a set: mean and worst gap of each method, how many it packed, how many as low as the best known."""
    rows = [["set", *METHODS], ["---"] * (1 + len(METHODS))]
    for group in dict.fromkeys(one.case.group for one in found):
        some = [one for one in found if one.case.group == group]
        cells = []
        for method in METHODS:
            gaps = [gap for one in some if (gap := one.gap(method)) is not None]
            text = (
                f"{fmean(gaps):.2%}, worst {max(gaps):.1%}, {sum(gap <= 0 for gap in gaps)} of {len(some)}"
                if gaps
                else "-"
            )
            cells.append(text + (f", none found for {len(some) - len(gaps)}" if 0 < len(gaps) < len(some) else ""))
        rows.append([f"{group} ({len(some)})", *cells])
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def remarks(found: Sequence[Outcome]) -> str:
    """Each strip on which ours is not proven lowest, or on which it is lower than what is published, one a line."""
    lines = []
    for one in found:
        height, name = one.heights[OURS], f"{one.case.name} ({len(one.case.items)} footprints)"
        known = f"{'optimum' if one.case.optimal else 'best known'} {one.case.known}"
        if one.ahead_of_us:
            lines.append(f"* {name}: {height}, {known}; lower: {', '.join(one.ahead_of_us)}.")
        elif height < one.case.known:
            lines.append(
                f"* {name}: {height}, lower than {one.case.known}, the best known at hand; "
                f"no packing is below {one.bound}."
            )
        elif not one.proven:
            lines.append(f"* {name}: {height}, {known}; nobody here is lower.")
    return "\n".join(lines)


def main() -> int:
    """Run, print, renew the page if asked, and tell whether all targets are met."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sets", nargs="*", default=[], choices=[one.name for one in STRIP_SETS])
    parser.add_argument("--seconds", type=float, default=SECONDS, help="for each strip")
    parser.add_argument("--renew", action="store_true", help="put the table and the plot into docs/")
    given = parser.parse_args()
    warm_up()
    found = []
    for case in strip_cases(given.sets):
        found.append(outcome(case, given.seconds))
        one = found[-1]
        print(
            f"{case.group} {case.name}: {one.heights} known {case.known} {one.seconds:.2f} s, {one.answer}", flush=True
        )
    print(table(found), remarks(found), sep="\n\n")
    print(f"load of the machine at the end: {os.getloadavg()[1]:.1f} on {os.cpu_count()} processors")
    if given.renew and found:
        from benchmarks.layout.packing_page import renew_strips

        renew_strips(found, given.seconds)
    missed = misses(found)
    print("\n".join(missed) or "all targets are met")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
