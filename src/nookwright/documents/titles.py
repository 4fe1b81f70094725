"""What stands over the findings of each severity, worst first; the same on the page and on paper."""

from __future__ import annotations

from typing import Final

from nookwright.ground.findings import Severity

TITLES: Final = {
    Severity.STOP: "Do not print before this is settled",
    Severity.WARN: "Think about this before printing",
    Severity.NOTE: "Good to know",
}
