"""What proving a spoilt kit says that it does not say of the sound one, and how tests of faults are called."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.findings import Severity

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding

    from .harness import Sample
    from .table import Fault


def named(fault: Fault) -> str:
    """How a test of a fault is called."""
    return f"{fault.area}: {fault.name}"


def new(spoilt: Sample, sound: Sample) -> set[Finding]:
    """What proving says of a spoilt kit and not of the sound one."""
    return set(spoilt.findings) - set(sound.findings)


def stops(findings: set[Finding]) -> set[str]:
    """The codes of those that say do not print."""
    return {one.code for one in findings if one.severity is Severity.STOP}
