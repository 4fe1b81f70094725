"""All copies on beds: shared out, few bedfuls first, then spaces together and lengths even."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.making.beds.bed import Bed
from nookwright.making.beds.model import Filled, Group, Item, Load
from nookwright.making.beds.saving import with_beds_saved
from nookwright.making.beds.share import shared_out
from nookwright.making.beds.together import arranged

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.beds.bed import Fill, Place
    from nookwright.making.beds.model import Contours, Job, Outlines
    from nookwright.making.pace import Pace
    from nookwright.survey.models import Printer

HEAT_UP_S = Fact(300.0, unit="s", kind=Kind.COMMON_PRACTICE, source="Heating, homing and the first line of a bedful.")
LONGEST_DAY_S = Fact(
    36000.0, unit="s", kind=Kind.CHOICE, source="Ten hours: what is shorter can be printed while someone is up."
)


def no_outlines(_piece: str) -> Contours | None:
    """Outlines that are not known: boxes count."""
    return None


def fill_beds(
    jobs: Sequence[Job],
    printers: Sequence[Printer],
    *,
    spaces: Sequence[str] = (),
    outlines: Outlines = no_outlines,
    paces: Mapping[str, Pace] | None = None,
) -> Filled:
    """All copies on beds, in order of printer and material.

    Args:
        jobs: what is to be printed; one that fits no printer is left out.
        printers: of the household.
        spaces: ids in the order in which they are to be ready.
        outlines: of pieces seen from above, by their id.
        paces: of the printers, by id; without, all of them always print.
    """
    jobs = sorted(jobs, key=lambda job: (job.piece, job.printers))
    paces = paces or {}
    shares = with_beds_saved(shared_out(jobs, printers, paces), printers, paces)
    places = {space: at for at, space in enumerate(spaces)}
    waiting = {job: list(job.spaces) for job in jobs}
    loads, groups = [], []
    for (number, material), copies in sorted(shares.items()):
        ranks = []
        for job in copies:
            space = waiting[job].pop(0) if waiting[job] else ""
            ranks.append(places.get(space, len(places)))
        bed = Bed(printers[number], copies, outlines)
        fills = bed.all(range(len(copies)))
        fills = arranged(bed, fills, ranks.__getitem__)
        loads += [_load(bed, fill, material) for fill in fills]
        groups.append(Group(printers[number].id, material, len(fills), _bound(bed, len(fills))))
    return Filled(tuple(loads), tuple(groups))


def _bound(bed: Bed, beds: int) -> int:
    """No filling needs fewer beds; without its pads, a piece needs no more room, and is more often a plain box."""
    copies = range(len(bed.copies))
    bound = bed.bound(copies)
    if bound == beds or not any(bed.pads):
        return bound
    bare = Bed(bed.printer, [replace(job, pads=False) for job in bed.copies], bed.outlines)
    return max(bound, bare.bound(copies))


def _load(bed: Bed, fill: Fill, material: str) -> Load:
    """A bedful, its items in the order in which they are printed."""
    jobs = [bed.copies[place.copy] for place in fill]
    head = bed.printer.one_by_one

    def order(at: int) -> tuple[bool, float, float, str]:
        place, job = fill[at], jobs[at]
        if head:
            return job.height > head.height, place.y, place.x, job.piece
        return False, 0.0, 0.0, job.piece

    items = [_item(bed, fill[at]) for at in sorted(range(len(fill)), key=order)]
    time_s = HEAT_UP_S + sum(job.time_s for job in jobs)
    return Load(
        printer=bed.printer.id,
        material=material,
        items=tuple(items),
        mass_g=sum(job.mass_g for job in jobs),
        time_s=time_s,
        night=time_s > LONGEST_DAY_S or not any(job.slender for job in jobs),
        one_by_one=head is not None,
        pads=_pads(bed, fill),
    )


def _item(bed: Bed, place: Place) -> Item:
    """A copy where it lies: in the middle of the box that it was nested with, its pads round it."""
    job, (width, depth) = bed.copies[place.copy], bed.sides[bed.kinds[place.copy]]
    off = (width - job.width) / 2, (depth - job.depth) / 2
    right, back = off[::-1] if place.turns % 2 else off
    return Item(job.piece, round(place.x + right, 6), round(place.y + back, 6), place.turns)


def _pads(bed: Bed, fill: Fill) -> tuple[tuple[str, float], ...]:
    """The pieces on a bed that have pads, by id, and how far these reach."""
    kinds = {bed.kinds[place.copy] for place in fill}
    return tuple(sorted({(bed.jobs[kind].piece, bed.pads[kind]) for kind in kinds if bed.pads[kind]}))
