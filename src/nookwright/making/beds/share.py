"""Which printer prints which copy: what only one can print goes there, the rest to the least busy."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.cutting.bed_space import beds_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.making.beds.model import Job
    from nookwright.survey.models import Printer

Shares = dict[tuple[int, str], list["Job"]]  # by number of the printer and material: what each copy is of


def fits(job: Job, printer: Printer) -> bool:
    """Whether a piece fits a printer's bed, turned or not, and its material is one of the printer's."""
    return job.material in printer.materials and any(
        bed.holds(job.width, job.depth, job.height) for bed in beds_of(printer)
    )


def homeless(jobs: Sequence[Job], printers: Sequence[Printer]) -> tuple[Job, ...]:
    """Jobs that no printer can take."""
    return tuple(job for job in jobs if not any(fits(job, printer) for printer in printers))


def shared_out(jobs: Sequence[Job], printers: Sequence[Printer]) -> Shares:
    """Copies by printer and material.

    What fits fewest printers comes first, then the longest; each copy goes to the printer that has least to print by
    then. Copies of one job may be printed on several.

    Args:
        jobs: what is to be printed; one that fits no printer is left out.
        printers: of the household.
    """
    able = {job: [number for number, printer in enumerate(printers) if fits(job, printer)] for job in jobs}
    busy = [0.0] * len(printers)
    shares: Shares = defaultdict(list)
    for job in sorted(jobs, key=lambda job: (len(able[job]), -job.time_s, job.piece)):
        for _ in range(job.count if able[job] else 0):
            number = min(able[job], key=lambda n: (busy[n], n))
            busy[number] += job.time_s
            shares[number, job.material].append(job)
    return dict(shares)
