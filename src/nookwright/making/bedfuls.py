"""Pieces on beds: which printer, which colour, where on the bed, bedful by bedful."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.cutting.cut import bed_of
from nookwright.ground.sources import Fact, Kind
from nookwright.making.nesting import nest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.survey.models import Printer

SPACING = Fact(3.0, unit="mm", kind=Kind.COMMON_PRACTICE, source="Between two pieces on a bed: brims and a scraper.")
HEAT_UP_S = Fact(300.0, unit="s", kind=Kind.COMMON_PRACTICE, source="Heating, homing and the first line of a bedful.")
_TENTHS = 10  # nesting works in whole tenths of a millimetre


@dataclass(frozen=True)
class Job:
    """Copies of one piece to be printed in one material.

    Attributes:
        piece: id of the piece.
        count: copies.
        width, depth, height: outer size, mm.
        material: id of the material.
        mass_g, time_s: of one copy.
    """

    piece: str
    count: int
    width: float
    depth: float
    height: float
    material: str
    mass_g: float
    time_s: float


@dataclass(frozen=True)
class Item:
    """One copy on a bed: its front left corner, from the corner of the printable area, and whether it is turned."""

    piece: str
    x: float
    y: float
    turned: bool


@dataclass(frozen=True)
class Load:
    """One bedful.

    Attributes:
        printer, material: ids.
        items: in order of the piece.
        mass_g, time_s: of all, heating up included.
    """

    printer: str
    material: str
    items: tuple[Item, ...]
    mass_g: float
    time_s: float


def fits(job: Job, printer: Printer) -> bool:
    """Whether a piece fits a printer's bed, turned or not, and its material is one of the printer's."""
    return job.material in printer.materials and bed_of(printer).holds(job.width, job.depth, job.height)


def bedfuls(jobs: Sequence[Job], printers: Sequence[Printer]) -> tuple[Load, ...]:
    """All copies on beds, in order of printer and material.

    Args:
        jobs: what is to be printed; one that fits no printer is left out (see ``homeless``).
        printers: of the household.
    """
    found: list[Load] = []
    for (number, material), mine in sorted(_shared_out(jobs, printers).items()):
        found += _loads(mine, printers[number], material)
    return tuple(found)


def homeless(jobs: Sequence[Job], printers: Sequence[Printer]) -> tuple[Job, ...]:
    """Jobs that no printer can take."""
    return tuple(job for job in jobs if not any(fits(job, printer) for printer in printers))


def _shared_out(jobs: Sequence[Job], printers: Sequence[Printer]) -> dict[tuple[int, str], list[Job]]:
    """Jobs by printer and material: those that fit only one printer first, then the longest to the least busy."""
    busy = [0.0] * len(printers)
    shares: dict[tuple[int, str], list[Job]] = defaultdict(list)
    able = {job.piece: [n for n, printer in enumerate(printers) if fits(job, printer)] for job in jobs}
    for job in sorted(jobs, key=lambda job: (len(able[job.piece]), -job.time_s * job.count, job.piece)):
        if able[job.piece]:
            number = min(able[job.piece], key=lambda n: (busy[n], n))
            busy[number] += job.time_s * job.count
            shares[number, job.material].append(job)
    return shares


def _loads(jobs: list[Job], printer: Printer, material: str) -> list[Load]:
    """The bedfuls of one printer and material."""
    copies = [job for job in sorted(jobs, key=lambda job: job.piece) for _ in range(job.count)]
    bed = bed_of(printer)
    boxes = [(_tenths(job.width + SPACING), _tenths(job.depth + SPACING)) for job in copies]
    spots = nest(boxes, _tenths(bed.width + SPACING), _tenths(bed.depth + SPACING))
    loads = []
    for number in range(max(spot.bin for spot in spots) + 1):
        mine = [spot for spot in spots if spot.bin == number]
        loads.append(
            Load(
                printer=printer.id,
                material=material,
                items=tuple(
                    Item(copies[s.box].piece, printer.margin + s.x / _TENTHS, printer.margin + s.y / _TENTHS, s.turned)
                    for s in mine
                ),
                mass_g=sum(copies[spot.box].mass_g for spot in mine),
                time_s=HEAT_UP_S + sum(copies[spot.box].time_s for spot in mine),
            )
        )
    return loads


def _tenths(length: float) -> int:
    return math.ceil(round(length * _TENTHS, 6))
