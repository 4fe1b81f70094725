"""Press-on lids, which are made to order: their skirt against the inside of the tray that they are made for.

Such a lid has no place in a kit; it fits every plain tray of its cells, whose inside follows from the module. A snug
one may touch, since walls give way; one that presses must still press where printers make it small. What it does not
know: trays whose rims are cut away.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import moved_by
from nookwright.checks.gathering import gathered
from nookwright.checks.seats.lids import GOES_IN, room_in_words
from nookwright.checks.seats.lines import extent, section_at
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.checks.seats.words import stop
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import outer_size

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.sizing.printers.errors import PrinterErrors

GIVES_WAY = Fact(
    0.4, unit="mm", kind=Kind.CALCULATED, source="Two walls 1.2 thick that bow by 0.2 each in the middle of a side."
)
STAYS_ON = Fact(0.8, unit="mm", kind=Kind.CHOICE, source="Room, both sides together, with which a snug lid falls off.")
SKIRT = Fact(2.0, unit="mm", kind=Kind.CHOICE, source="Above the plate: past its chamfer, below ridges and tips.")
_PLATE = 1.6  # mm, where a skirt begins; it only has to be past it
_SIDES = ("x", "y")


def check_press_lids(members: Mapping[str, Member], drawn: Drawn, errors: PrinterErrors) -> tuple[Finding, ...]:
    """Press-on lids that do not go into their trays, or do not stay on them.

    Args:
        members: parts by id.
        drawn: the seat of the household.
        errors: of its printers.
    """
    lids = [one for one in members.values() if one.part.kind == "lid" and "fit" in one.part.parameters]
    return gathered(finding for lid in lids for axis in (0, 1) for finding in _lid(lid, axis, drawn, errors))


def skirt(lid: Member, axis: int) -> tuple[float, float]:
    """The outer size of a lid's skirt along an axis, and with what presses on it, mm.

    Args:
        lid: on its head, as it is printed.
        axis: 0 or 1.
    """
    level = _PLATE + SKIRT
    low, high = extent(section_at(lid.made, np.eye(4), level), axis)
    points = np.concatenate([moved_by(at, shape.vertices) for shape, at in lid.made])
    above = points[points[:, 2] > level, axis]
    return high - low, max(high - low, float(np.ptp(above)))


def _lid(lid: Member, axis: int, drawn: Drawn, errors: PrinterErrors) -> Iterator[Finding]:
    """Findings about a lid along one axis."""
    given = lid.part.parameters
    cells, wall, fit = given.get(("cols", "rows")[axis]), given.get("wall"), given["fit"]
    if not isinstance(cells, int) or not isinstance(wall, int | float):
        return
    inside = outer_size(cells, drawn.pitch) - 2 * wall
    size, widest = skirt(lid, axis)
    edges = of_two_prints(errors, size)
    left = inside - size - edges.tight
    least = float(GOES_IN) if fit == "easy" else -float(GIVES_WAY)
    if left < least:
        text = (
            f"Along {_SIDES[axis]} its skirt has {room_in_words(inside - size)} in a tray of its cells; printers may "
            f"take {edges.tight:.2f} mm, which leaves {room_in_words(left)}; it goes on from {least:.2f} mm on."
        )
        remedy = "Print the coupon of each printer, or ask for an easier fit."
        yield stop("lid-tight", lid.part.id, text, remedy, Against(left, least, "mm"))
    loose = inside - size + edges.loose
    if fit == "easy" and loose > 2 * wall:
        text = (
            f"Along {_SIDES[axis]} it may have {loose:.2f} mm of room in its tray: more than {2 * wall:g} mm, its two "
            "walls, and it falls in."
        )
        yield _falls_off(lid, text, Against(loose, 2 * float(wall), "mm"))
    if fit == "snug" and loose > STAYS_ON:
        text = (
            f"Along {_SIDES[axis]} it may have {loose:.2f} mm of room in its tray; it stays on up to {STAYS_ON:g} mm."
        )
        yield _falls_off(lid, text, Against(loose, float(STAYS_ON), "mm"))
    if fit == "press" and size < widest and inside - widest + edges.loose > 0:
        gap = inside - widest + edges.loose
        text = f"Along {_SIDES[axis]} its ridges may stand {gap:.2f} mm off the wall instead of pressing on it."
        yield _falls_off(lid, text, Against(gap, 0.0, "mm"))


def _falls_off(lid: Member, text: str, against: Against) -> Finding:
    """A lid that may not hold by itself."""
    remedy = "Print the coupon of each printer; a strip of tape inside the skirt takes up the room."
    return Finding("lid-loose", Severity.NOTE, lid.part.id, text, remedy, against)
