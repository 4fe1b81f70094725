"""Like findings in one, so that a fault of all parts is said once."""

from __future__ import annotations

from nookwright.checks.gathering import gathered
from nookwright.checks.seats.words import stop
from nookwright.ground.findings import Against, Finding, Severity


def tight(part: str, clearance: float) -> Finding:
    """A socket that is too tight, of some part."""
    return stop("socket-tight", part, f"It has {clearance}.", against=Against(clearance, 0.4, "mm"))


def test_the_worst_of_like_findings_names_the_others() -> None:
    """Of five parts the one farthest off its limit; three more by name, the rest by number."""
    (said,) = gathered([tight(part, 0.4 - 0.05 * number) for number, part in enumerate("abcde", start=1)])
    assert said.subject == "e"
    assert said.text.endswith("The same holds for a, b, c and 1 more.")
    assert said.against == Against(0.4 - 0.25, 0.4, "mm")


def test_a_finding_that_is_alone_stays_as_it_is() -> None:
    """So do those of another code or severity, and the same subject is not named twice."""
    one, other = tight("a", 0.3), stop("socket-wide", "a", "Wide.")
    warned = Finding("socket-tight", Severity.WARN, "b", "A little.", "Nothing.")
    assert gathered([one, other, warned]) == (one, other, warned)
    assert gathered([tight("a", 0.3), tight("a", 0.2)])[0].text == "It has 0.2."
    assert gathered([]) == ()
