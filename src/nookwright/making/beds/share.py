"""Which printer prints which copy: what only one can print goes there, the rest to the one that is free first."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import beds_of
from nookwright.making.pace import ALWAYS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.beds.model import Job
    from nookwright.making.pace import Pace
    from nookwright.survey.models import Printer

Shares = dict[tuple[int, str], list["Job"]]  # by number of the printer and material: what each copy is of


def fits(job: Job, printer: Printer) -> bool:
    """Whether a piece is meant for a printer, fits its bed, turned or not, and is of one of its materials."""
    if job.material not in printer.materials or (job.printers and printer.id not in job.printers):
        return False
    return any(bed.holds(job.width, job.depth, job.height) for bed in beds_of(printer))


def homeless(jobs: Sequence[Job], printers: Sequence[Printer]) -> tuple[Job, ...]:
    """Jobs that no printer can take."""
    return tuple(job for job in jobs if not any(fits(job, printer) for printer in printers))


def shared_out(jobs: Sequence[Job], printers: Sequence[Printer], paces: Mapping[str, Pace]) -> Shares:
    """Copies by printer and material.

    What fits fewest printers comes first, then the longest; each copy goes to the printer that is through with what it
    has by then first. Copies of one job may be printed on several.

    Args:
        jobs: what is to be printed; one that fits no printer is left out.
        printers: of the household.
        paces: of the printers, by id; one that has none always prints.
    """
    pace = [paces.get(printer.id, ALWAYS) for printer in printers]
    able = {job: [number for number, printer in enumerate(printers) if fits(job, printer)] for job in jobs}
    busy = [0.0] * len(printers)
    through = [one.done_s(0.0) for one in pace]
    shares: Shares = defaultdict(list)
    for job in sorted(jobs, key=lambda job: (len(able[job]), -job.time_s, job.piece, job.printers)):
        for _ in range(job.count if able[job] else 0):
            number = min(able[job], key=lambda n: (through[n], n))
            busy[number] += job.time_s
            through[number] = pace[number].done_s(busy[number])
            shares[number, job.material].append(job)
    return dict(shares)
