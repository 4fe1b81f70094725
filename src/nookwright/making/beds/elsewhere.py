"""Bedfuls that another printer could print as they are: the same pieces in the same places, moved as one.

Then a bedful need not wait for the printer that it is planned for. What the other bed must have: the material, room for
all of it inside its margins, nothing that must stay free, and no more room wanted between pieces. Layers must be the
same, since flat faces lie on whole layers. Whether it is worth it is for the person to say.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.beds.model import Job, Load
    from nookwright.survey.models import Printer

Sizes = tuple[float, float, float]


def others_for(
    load: Load, printers: Sequence[Printer], sizes: Mapping[str, Sizes], jobs: Sequence[Job]
) -> tuple[Printer, ...]:
    """The other printers that could print a bedful as it is.

    Args:
        load: what lies on the bed, its own printer among the printers.
        printers: of the household.
        sizes: of each piece, by its id, mm.
        jobs: that say which printers pieces are meant for.
    """
    pieces = {item.piece for item in load.items}
    meant = [job.printers for job in jobs if job.piece in pieces and job.printers]
    own = next(printer for printer in printers if printer.id == load.printer)
    return tuple(
        printer
        for printer in printers
        if printer is not own and all(printer.id in one for one in meant) and _could(load, own, printer, sizes)
    )


def _could(load: Load, own: Printer, other: Printer, sizes: Mapping[str, Sizes]) -> bool:
    if load.material not in other.materials or other.layer != own.layer:
        return False
    if load.one_by_one or other.one_by_one or other.keep_out or _apart(other) > _apart(own):
        return False
    width, depth, height = _box(load, sizes)
    reach = max((one for _, one in load.pads), default=0.0)
    beds = [
        (side - 2 * other.margin, side - 2 * reach) for side in sorted((other.bed_width, other.bed_depth))
    ]  # pieces inside the margins, pads on the bed
    free = [min(pair) + GRID for pair in beds]
    return height <= other.bed_height and all(
        side <= most for side, most in zip(sorted((width, depth)), free, strict=True)
    )


def _apart(printer: Printer) -> float:
    """What two pieces are apart on a bed, mm."""
    return printer.spacing + 2 * printer.profile.brim


def _box(load: Load, sizes: Mapping[str, Sizes]) -> Sizes:
    """Width, depth and height of all that lies on a bed, mm."""
    spans = [
        (item.x, item.y, *(sizes[item.piece][1::-1] if item.turned else sizes[item.piece][:2])) for item in load.items
    ]
    width = max(x + wide for x, _, wide, _ in spans) - min(x for x, *_ in spans)
    depth = max(y + deep for _, y, _, deep in spans) - min(y for _, y, *_ in spans)
    return width, depth, max(sizes[item.piece][2] for item in load.items)
