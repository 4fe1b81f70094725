"""Findings: what a stage or a check has to say to the person, with a stable code and a remedy."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters."""

    STOP = "stop"  # do not print this
    WARN = "warn"  # think before printing
    NOTE = "note"  # good to know


@dataclass(frozen=True)
class Against:
    """What was computed, against what limit, for whoever reads findings by machine.

    Attributes:
        computed: the figure that was found, in the unit.
        limit: what it may be at most, or must be at least: the text says which.
        unit: of both; ``1`` for a share or a ratio.
    """

    computed: float
    limit: float
    unit: str


@dataclass(frozen=True, order=True)
class Finding:
    """One finding, said in the same words on the command line, in the page and in kit.json.

    Attributes:
        code: stable and lower case with hyphens, such as ``lot-left-out``.
        severity: stop, warn or note.
        subject: id of the lot, part, piece, space or file that it is about.
        text: what was found, with the figure and the limit.
        remedy: what a person can do about it.
        against: the figure and its limit once more, as numbers; ``None`` where there is none. Findings that differ in
            nothing else are the same finding.
    """

    code: str
    severity: Severity
    subject: str
    text: str
    remedy: str
    against: Against | None = field(default=None, compare=False)
