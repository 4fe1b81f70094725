"""What came of a print, as a person notes it down: what estimates learn from and schedules go on from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Outcome(StrEnum):
    """How a print ended."""

    DONE = "done"
    FAILED = "failed"


@dataclass(frozen=True, kw_only=True)
class PrintRecord:
    """One bedful that was printed, or tried.

    Attributes:
        id: of the record, unique among all.
        when: date on which it ended, as ``2031-05-17``.
        printer: id of the printer.
        material: id of the material.
        bedful: what was on the bed: the id of a bedful, or the ids of pieces with blanks between them.
        outcome: whether it came out.
        time_s: how long it took, heating included; ``None`` where nobody looked.
        mass_g: what it weighs with all that was cut off it; ``None`` where nobody weighed it.
        note: whatever there is to say.
    """

    id: str
    when: str
    printer: str
    material: str
    bedful: str
    outcome: Outcome = Outcome.DONE
    time_s: float | None = None
    mass_g: float | None = None
    note: str = ""
