"""Bedfuls saved between printers: the emptiest of one whose copies all find room, by their boxes, on those of another.

That is done where the printing does not end later for it: two printers that share the work are quicker than one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.making.beds.bed import Bed
from nookwright.making.beds.share import fits
from nookwright.making.pace import ALWAYS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.beds.model import Job
    from nookwright.making.beds.share import Shares
    from nookwright.making.pace import Pace
    from nookwright.survey.models import Printer


def with_beds_saved(shares: Shares, printers: Sequence[Printer], paces: Mapping[str, Pace]) -> Shares:
    """Copies by printer and material, with bedfuls saved.

    Args:
        shares: copies by number of the printer and material.
        printers: of the household.
        paces: of the printers, by id.
    """
    work = _Work(dict(shares), printers, paces)
    for number, material in sorted(shares):
        others = [other for other, same in sorted(shares) if same == material and other != number]
        if others:
            work.save(number, material, others)
    return {key: copies for key, copies in work.shares.items() if copies}


@dataclass
class _Work:
    """Shares while bedfuls are saved."""

    shares: Shares
    printers: Sequence[Printer]
    paces: Mapping[str, Pace]

    def save(self, number: int, material: str, others: Sequence[int]) -> None:
        """Give the emptiest bedful of a printer away where the beds of the others take it all."""
        copies = self.shares[number, material]
        bed = Bed(self.printers[number], copies)
        if not copies:
            return
        fills = bed.all(range(len(copies)))
        weakest = min(([place.copy for place in fill] for fill in fills), key=lambda fill: sum(map(bed.area, fill)))
        homes = self._rehomed(
            [copies[copy] for copy in sorted(weakest, key=lambda one: -bed.area(one))], material, others
        )
        if homes is not None:
            self.shares[number, material] = [job for at, job in enumerate(copies) if at not in set(weakest)]
            self.shares.update({(other, material): jobs for other, jobs in homes.items()})

    def _rehomed(self, jobs: Sequence[Job], material: str, others: Sequence[int]) -> dict[int, list[Job]] | None:
        """The copies of other printers with some more among them, on no more beds; nothing where they do not fit."""
        latest = max(self._through_s(number) for number in range(len(self.printers)))
        homes = {other: list(self.shares.get((other, material), [])) for other in others}
        before = {other: self._beds(other, jobs) for other, jobs in homes.items()}
        for job in jobs:
            for other in others:
                tried = [*homes[other], job]
                more_s = sum(one.time_s for one in tried) - sum(
                    one.time_s for one in self.shares.get((other, material), [])
                )
                later = self._through_s(other, more_s)
                can = fits(job, self.printers[other]) and later <= latest
                if can and self._beds(other, tried) <= before[other]:
                    homes[other] = tried
                    break
            else:
                return None
        return homes

    def _beds(self, number: int, copies: Sequence[Job]) -> int:
        return len(Bed(self.printers[number], copies).all(range(len(copies))))

    def _through_s(self, number: int, more_s: float = 0.0) -> float:
        """When a printer is through with all that it has to print, and so much more, s."""
        work_s = sum(job.time_s for (one, _), jobs in self.shares.items() if one == number for job in jobs)
        return self.paces.get(self.printers[number].id, ALWAYS).done_s(work_s + more_s)
