"""The cautions of a kit as the page shows them: what could hurt somebody, each with where that is said.

The words are those of the findings; nothing is worked out anew.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.checks.cautions.words import words_for

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, KitFinding


@dataclass(frozen=True)
class CautionRow:
    """A caution: its heading, the finding that says it, and its source."""

    title: str
    finding: KitFinding
    source: str


def caution_rows(kit: Kit) -> tuple[CautionRow, ...]:
    """All cautions of a kit, in the order of its findings, the gravest first.

    Args:
        kit: with its findings.
    """
    rank = {"stop": 0, "warn": 1, "note": 2}
    found = [(words_for(one.code), one) for one in kit.findings]
    rows = [CautionRow(words.title, one, words.source) for words, one in found if words]
    return tuple(sorted(rows, key=lambda row: rank[row.finding.severity.value]))
