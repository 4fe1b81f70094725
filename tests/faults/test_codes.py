"""Every code that stops a kit or warns of one has a fault that comes to it, or a reason why none can be sown."""

from __future__ import annotations

from nookwright.ground.findings import Severity

from .codes import codes_said, load_faults
from .table import FAULTS

UNSOWN = {
    ("mesh-not-finite", "stop"): "an STL whose corners are no numbers is refused while it is read: file-unreadable",
    ("cap-tight", "warn"): "between what printers likely and seldom take; see tests/checks/seats/test_strips.py",
    ("strip-loose", "warn"): "only where printers err far; see tests/checks/seats/test_strips.py",
    ("divider-loose", "warn"): "only of dividers longer than any here; see tests/checks/seats/test_dividers.py",
    ("lift-long", "warn"): "no part here is longer than a hand keeps level; see tests/checks/test_care.py",
    ("lid-jams", "warn"): "only of lids wider than those here; see tests/checks/room_fit/test_sliding.py",
    ("seat-unlikely", "warn"): "only within the half per cent that the trials cannot tell from what is allowed",
}


def _grave() -> set[tuple[str, str]]:
    """All codes that stop or warn, each with the severity."""
    worst = {Severity.STOP.value, Severity.WARN.value}
    return {(said.code, severity) for said in codes_said() for severity in said.severities if severity in worst}


def test_every_code_says_how_grave_it_is() -> None:
    """The severity of each finding is read from the source; a new way of saying it must be taught to ``codes``."""
    assert [said for said in codes_said() if not set(said.severities) <= {one.value for one in Severity}] == []


def test_every_stop_and_every_warning_has_a_fault() -> None:
    """A check without a fault fails here, until one is sown or the reason stands above why none can be."""
    load_faults()
    sown = {(fault.code, fault.severity.value) for fault in FAULTS}
    assert sorted(_grave() - sown - UNSOWN.keys()) == []


def test_no_reason_stands_for_what_is_sown_or_gone() -> None:
    """Reasons are for codes that there are, and that no fault comes to."""
    load_faults()
    sown = {(fault.code, fault.severity.value) for fault in FAULTS}
    assert UNSOWN.keys() <= _grave() - sown
