"""What the checks of seats share in words: stops, and the worst of many like faults as one finding."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.findings import Against, Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_NAMED = 3  # subjects that a finding names besides its own; the rest is counted
OURS = "Do not print it. This is a fault of the tool: please report it with the room file."


def stop(code: str, subject: str, text: str, remedy: str = OURS, against: Against | None = None) -> Finding:
    """A finding that stops."""
    return Finding(code, Severity.STOP, subject, text, remedy, against)


def at(place: Sequence[float]) -> str:
    """A place of a part in plan, in words.

    >>> at((12.34, 5.0))
    '12.3 mm from its left and 5.0 mm from its front'
    """
    return f"{place[0]:.1f} mm from its left and {place[1]:.1f} mm from its front"


def some(count: int, one: str, more: str = "") -> str:
    """So many of something.

    >>> some(1, "socket"), some(3, "socket"), some(2, "box", "boxes")
    ('1 socket', '3 sockets', '2 boxes')
    """
    return f"{count} {one if count == 1 else more or one + 's'}"


def are(count: int, one: str) -> str:
    """So many of the like ones of a part, as the subject of a sentence.

    >>> are(1, "cone"), are(3, "cone")
    ('1 of its cones is', '3 of its cones are')
    """
    return f"{count} of its {one}s {'is' if count == 1 else 'are'}"


def gathered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same with like findings in one: the worst of them, which says of which others it is true too.

    Args:
        findings: those of one kind of check, each about another part or place.
    """
    alike: dict[tuple[str, Severity], list[Finding]] = defaultdict(list)
    for one in findings:
        alike[one.code, one.severity].append(one)
    return tuple(_one_of(same) for same in alike.values())


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
