"""Lids in their trays at both edges of the tolerances, measured in the files: do they go in, do they stay?

A deck lid lies on a ledge in the rim: pushed to one side as far as it goes, the other edge must still lie on it. A
sliding lid runs in grooves: pushed to one side, its other edge must still be under the leaning wall. What it does not
know: whether the way is free (that is looked at elsewhere), how rims bend under a hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of
from nookwright.checks.seats.lines import extent, opening, section_at
from nookwright.checks.seats.rounds import BESIDE
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.checks.seats.words import stop
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.module.dispensers import BOW_SHARE

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.members import Member
    from nookwright.exchange.kit import Kit, Placement
    from nookwright.sizing.printers.errors import PrinterErrors

GOES_IN = Fact(
    0.1, unit="mm", kind=Kind.COMMON_PRACTICE, source="Gap, both sides together, from which two prints slide by hand."
)
LIES_ON = Fact(
    0.4, unit="mm", kind=Kind.CHOICE, source="Of a ledge, under the edge of a lid that is pushed away: a line's width."
)
STAYS_IN = Fact(
    0.2, unit="mm", kind=Kind.CHOICE, source="Of the leaning wall, over the edge of a lid that is pushed away."
)
STEP = Fact(0.1, unit="mm", kind=Kind.CHOICE, source="From level to level where the widest of a sliding lid is sought.")
DEEPEST = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="How far below its top the upright edge of a sliding lid ends.")
_LINES = (0.3, 0.5, 0.7)  # shares of a side at which openings are measured
_UPRIGHT = 0.75  # share of a deck lid's thickness at which its edge is no longer drawn in
_SIDES = ("x", "y")


@dataclass(frozen=True)
class LidGap:
    """A lid and what it lies in, along one axis, as drawn, mm.

    Attributes:
        size: of the lid.
        left, right: gaps beside it; infinite to a side that is open.
        over: how far its edges overlap what keeps it, left and right.
    """

    size: float
    left: float
    right: float
    over: tuple[float, float]

    @property
    def gap(self) -> float:
        """Both gaps together."""
        return self.left + self.right

    def kept(self, more: float) -> float:
        """What of the overlap is left when the lid is pushed to the other side, the gap being wider by some.

        Args:
            more: mm.
        """
        return min(self.over[0] - self.right, self.over[1] - self.left) - more


def check_lids(kit: Kit, members: Mapping[str, Member], errors: PrinterErrors) -> Iterator[Finding]:
    """Lids that do not go into their trays, or do not stay there.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        errors: of the household's printers.
    """
    placements = {one.id: one for one in kit.placements}
    seen = set()
    for lid in kit.placements:
        for tray in (placements[name] for name in lid.stands_on):
            if not _is_pair(members.get(lid.part), members.get(tray.part)):
                continue
            between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(lid.space_from_part)
            key = lid.part, tray.part, np.round(between, 3).tobytes()
            if key not in seen:
                seen.add(key)
                yield from _pair(lid, members[lid.part], members[tray.part], between, errors)


def _is_pair(lid: Member | None, tray: Member | None) -> bool:
    return bool(lid and tray and lid.part.kind == "lid" and tray.part.kind != "panel")


def _pair(lid: Placement, one: Member, tray: Member, between: Floats, errors: PrinterErrors) -> Iterator[Finding]:
    """Findings about a lid in its tray."""
    deck = "first_has_cone" in one.part.parameters
    for axis in (0, 1) if deck else (0,):
        found = deck_gap(one, tray, between, axis) if deck else sliding_gap(one, tray, between)
        edges = of_two_prints(errors, found.size)
        bow = 0.0 if deck else float(BOW_SHARE) * tray.part.size[1]
        tight, kept = found.gap - edges.tight - bow, found.kept(edges.loose)
        if tight < GOES_IN:
            text = (
                f"Along {_SIDES[axis]} it has {room_in_words(found.gap)} in {tray.part.name}; printers may take "
                f"{edges.tight:.2f} mm{f' and bowed rims {bow:.2f} mm' if bow else ''}, which leaves "
                f"{room_in_words(tight)}; it goes in from {GOES_IN:g} mm on."
            )
            remedy = "Print the coupon of each printer, or make the lid narrower."
            yield stop("lid-tight", lid.part, text, remedy, Against(tight, float(GOES_IN), "mm"))
        least = float(LIES_ON if deck else STAYS_IN)
        if kept < least:
            how = "lies on its ledge" if deck else "is under the rim"
            text = (
                f"Pushed to one side along {_SIDES[axis]} in {tray.part.name}, {max(0.0, kept):.2f} mm of its other "
                f"edge {how}, where printers make its gap wider by {edges.loose:.2f} mm; at least {least:g} mm must."
            )
            remedy = "Print the coupon of each printer, or make the lid wider."
            # What two coupled prints never are at once is no reason to stop, as long as it holds as it is drawn.
            severity = Severity.STOP if found.kept(0.0) < least else Severity.WARN
            yield Finding("lid-loose", severity, lid.part, text, remedy, Against(kept, least, "mm"))


def room_in_words(left: float) -> str:
    """What is left of a gap; of one that is less than none, how much is lacking.

    >>> room_in_words(0.31), room_in_words(-2.6)
    ('0.31 mm of room', 'no room (2.60 mm too little)')
    """
    return f"{left:.2f} mm of room" if left >= 0 else f"no room ({-left:.2f} mm too little)"


def deck_gap(lid: Member, tray: Member, between: Floats, axis: int) -> LidGap:
    """A deck lid in the rim of its tray.

    Args:
        lid: the lid.
        tray: its tray.
        between: takes the lid to the tray's axes, 4 x 4.
        axis: along which, 0 or 1.
    """
    thick = float(lid.cones.face[0]) if len(lid.cones) else lid.part.size[2]
    foot = float(between[2, 3])
    upright = foot + _UPRIGHT * thick
    edge = extent(section_at(lid.made, between, upright), axis)
    beside = _opening(tray, axis, upright)
    below = _opening(tray, axis, foot - BESIDE)
    return LidGap(edge[1] - edge[0], edge[0] - beside[0], beside[1] - edge[1], (below[0] - edge[0], edge[1] - below[1]))


def sliding_gap(lid: Member, tray: Member, between: Floats) -> LidGap:
    """A sliding lid in the grooves of its tray, across the way that it slides.

    Args:
        lid: the lid.
        tray: its tray.
        between: takes the lid to the tray's axes, 4 x 4.
    """
    height = tray.part.size[2]
    levels = np.arange(height - STEP / 2, height - DEEPEST, -STEP)
    widths = np.array([_width(extent(section_at(lid.made, between, float(level)), 0)) for level in levels])
    widest = levels[widths >= widths.max() - STEP / 100]
    edge = extent(section_at(lid.made, between, float(widest.mean())), 0)
    beside = _opening(tray, 0, float(widest.mean()))
    above = _opening(tray, 0, height - float(STEP))
    return LidGap(edge[1] - edge[0], edge[0] - beside[0], beside[1] - edge[1], (above[0] - edge[0], edge[1] - above[1]))


def _width(reach: tuple[float, float]) -> float:
    return max(0.0, reach[1] - reach[0])


def _opening(tray: Member, axis: int, height: float) -> tuple[float, float]:
    """The inside of a tray at a height, along an axis."""
    section = section_at(tray.made, np.eye(4), height)
    size = tray.part.size
    return opening(section, axis, [share * size[1 - axis] for share in _LINES], size[axis] / 2)
