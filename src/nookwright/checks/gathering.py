"""Many findings that say the same as one: so that a fault that is everywhere is read once, with where it is worst."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.checks.in_words import names
from nookwright.ground.findings import Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.ground.findings import Finding

MANY = Fact(3, unit="1", kind=Kind.CHOICE, source="So many like findings are said one by one; more are one finding.")
_NAMED = 3  # subjects that a finding names besides its own; the rest is counted
_LEAST = 1e-9  # of a limit that a figure is divided by


def few(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings as they are; of more than a few of one code the worst, which says how many more there are and where.

    Args:
        findings: of one kind of check, of one space or of all beds.
    """
    alike: dict[str, list[Finding]] = defaultdict(list)
    for one in findings:
        alike[one.code].append(one)
    return tuple(said for same in alike.values() for said in (same if len(same) <= MANY else [_worst(same)]))


def merged(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings as they are; those that say the same of several subjects as one, about the first of them.

    Args:
        findings: of several subjects.
    """
    alike: dict[tuple[str, str, str, str], list[Finding]] = defaultdict(list)
    for one in findings:
        alike[one.code, one.severity.value, one.text, one.remedy].append(one)
    return tuple(_of_all(same) for same in alike.values())


def gathered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same with like findings in one: the worst of them, which says of which others it is true too.

    Args:
        findings: those of one kind of check, each about another part or place.
    """
    alike: dict[tuple[str, Severity], list[Finding]] = defaultdict(list)
    for one in findings:
        alike[one.code, one.severity].append(one)
    return tuple(_one_of(same) for same in alike.values())


def _of_all(same: list[Finding]) -> Finding:
    """One of some findings that say the same, with the other subjects named."""
    others = sorted({one.subject for one in same} - {same[0].subject})
    return replace(same[0], text=f"{same[0].text} The same holds for {names(others)}.") if others else same[0]


def _worst(same: list[Finding]) -> Finding:
    """The worst of some findings, the gravest first, with how many others there are and what they are about."""
    gravest = min((one.severity for one in same), key=list(Severity).index)
    worst = max((one for one in same if one.severity is gravest), key=lambda one: (_excess(one), one.subject))
    others = sorted({one.subject for one in same} - {worst.subject})
    about = f", about {names(others)}" if others else ""
    return replace(worst, text=f"{worst.text} There are {len(same) - 1} more like it{about}.")


def _excess(finding: Finding) -> float:
    """By how much a figure is off its limit, as a share of that."""
    against = finding.against
    return abs(against.computed - against.limit) / max(_LEAST, abs(against.limit)) if against else 0.0


def _one_of(same: list[Finding]) -> Finding:
    """The worst of some like findings, with the others named."""
    worst = max(same, key=_beyond)
    others = sorted({one.subject for one in same} - {worst.subject})
    if not others:
        return worst
    more = f" and {len(others) - _NAMED} more" if len(others) > _NAMED else ""
    return replace(worst, text=f"{worst.text} The same holds for {', '.join(others[:_NAMED])}{more}.")


def _beyond(finding: Finding) -> float:
    """How far a figure is off its limit."""
    return abs(finding.against.computed - finding.against.limit) if finding.against else 0.0
