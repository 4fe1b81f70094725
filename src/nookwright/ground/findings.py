"""Findings: what a stage or a check has to say to the person, with a stable code and a remedy."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters."""

    STOP = "stop"  # do not print this
    WARN = "warn"  # think before printing
    NOTE = "note"  # good to know


@dataclass(frozen=True, order=True)
class Finding:
    """One finding, said in the same words on the command line, in the page and in kit.json.

    Attributes:
        code: stable and lower case with hyphens, such as ``lot-left-out``.
        severity: stop, warn or note.
        subject: id of the lot, part, piece, space or file that it is about.
        text: what was found, with the figure and the limit.
        remedy: what a person can do about it.
    """

    code: str
    severity: Severity
    subject: str
    text: str
    remedy: str
