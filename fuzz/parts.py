"""Random parameters of every kind of part, under a watchdog: a sound solid or a clear refusal, nothing else.

    python -m fuzz.parts --minutes 10            # from the root of the repository; a table a kind at the end
    python -m fuzz.parts --kind tray --minutes 1 # one kind alone
    python -m fuzz.parts --case 12345            # one case again, with its parameters

Every case is a number: the same number is the same kind, module and parameters. Exit code 1 where a case was neither
a part as it should be nor refused in words that help.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter, defaultdict
from dataclasses import dataclass, field

from fuzz import watch
from fuzz.chance import Chance
from fuzz.part_cases import KINDS, Case, case
from fuzz.verdicts import Verdict, judged

BATCH, CASE_S = 200, 30.0
TOLD = 3  # cases of one kind whose words differ in numbers alone are told in full, and only counted from then on
COLUMNS = (
    Verdict.REFUSED,
    Verdict.SOLID,
    Verdict.BROKEN,
    Verdict.CRASH,
    Verdict.UNCLEAR,
    Verdict.UNPRINTABLE,
    Verdict.VOLUME_OFF,
    Verdict.TIME_OUT,
)


def kind_of(number: int, only: str = "") -> str:
    """The kind of a case: all kinds in turn."""
    return only or KINDS[number % len(KINDS)]


def drawn(number: int, only: str = "") -> Case:
    """The case of a number."""
    return case(Chance.of(number), kind_of(number, only))


def tried(number: int, only: str) -> watch.Told:
    """One case: how it ended, and how long it took."""
    start = time.monotonic()
    found = judged(drawn(number, only))
    return {"verdict": found.verdict.value, "words": found.words, "took_s": time.monotonic() - start}


@dataclass
class Row:
    """What became of the cases of one kind."""

    verdicts: Counter[str] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    slowest_s: float = 0.0

    def add(self, told: watch.Told) -> None:
        """Count one case."""
        self.verdicts[told["verdict"]] += 1
        self.slowest_s = max(self.slowest_s, told.get("took_s", 0.0))
        if told["verdict"] == Verdict.REFUSED:
            self.reasons[told["words"]] += 1

    def words(self, kind: str) -> str:
        """Its row of the table."""
        drawn_ = sum(self.verdicts.values())
        counts = " | ".join(str(self.verdicts[verdict]) for verdict in COLUMNS)
        often = "; ".join(f"{count} x {why[:70]}" for why, count in self.reasons.most_common(2))
        return f"| {kind} | {drawn_} | {counts} | {self.slowest_s:.1f} | {often} |"


def run(minutes: float, seed: int, only: str) -> int:
    """Cases until the time is up; the table at the end."""
    until, first = time.monotonic() + 60 * minutes, seed
    rows: dict[str, Row] = defaultdict(Row)
    extra = ("--kind", only) if only else ()
    while time.monotonic() < until:
        for told in watch.cases("fuzz.parts", first, BATCH, limit_s=CASE_S, extra=extra):
            _count(rows[told["kind"]], told)
            if time.monotonic() > until:
                break
        first += BATCH
    heads = ("kind", "drawn", *(verdict.value for verdict in COLUMNS), "slowest s", "commonest refusals")
    sys.stdout.write(f"| {' | '.join(heads)} |\n|{'---|' * len(heads)}\n")
    for kind in KINDS:
        if kind in rows:
            sys.stdout.write(rows[kind].words(kind) + "\n")
    total = sum((row.verdicts for row in rows.values()), Counter[str]())
    sys.stdout.write(f"{sum(total.values())} cases from {seed} in {minutes:g} min: {dict(sorted(total.items()))}\n")
    return int(any(not Verdict(verdict).fine for verdict in total))


def _count(row: Row, told: watch.Told) -> None:
    row.add(told)
    if Verdict(told["verdict"]).fine:
        return
    alike = told["verdict"] + "".join(letter for letter in told["words"] if not letter.isdigit())[-80:]
    row.faults[alike] += 1
    if row.faults[alike] <= TOLD:
        sys.stdout.write(f"{told['verdict']}: {told['kind']}, case {told['case']}: {told['words'][:400]}\n")
        sys.stdout.flush()


def main() -> int:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--minutes", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", choices=KINDS, default="", help="one kind alone; its cases have numbers of their own")
    parser.add_argument("--case", type=int, help="one case again")
    parser.add_argument("--from", type=int, dest="first", help=argparse.SUPPRESS)
    parser.add_argument("--count", type=int, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.case is not None:
        found = drawn(given.case, given.kind)
        sys.stdout.write(f"{found.kind}, {found.module}\n{found.parameters}\n{found.refusal}\n{judged(found)}\n")
        return 0
    if given.first is not None:
        kind = given.kind
        watch.tell(given.first, given.count, lambda n: {"kind": kind_of(n, kind)}, lambda n: tried(n, kind))
        return 0
    return run(given.minutes, given.seed, given.kind)


if __name__ == "__main__":
    sys.exit(main())
