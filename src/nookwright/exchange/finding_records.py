"""A finding as it stands in kit.json."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.kit import KitAgainst, KitFinding
from nookwright.exchange.rounding import rounded

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding


def finding_record(finding: Finding) -> KitFinding:
    """The record of a finding.

    Args:
        finding: of any stage or check.
    """
    against = finding.against and KitAgainst(
        computed=rounded(finding.against.computed), limit=rounded(finding.against.limit), unit=finding.against.unit
    )
    return KitFinding(
        code=finding.code,
        severity=finding.severity,
        subject=finding.subject,
        text=finding.text,
        remedy=finding.remedy,
        against=against,
    )
