"""Removable dividers in their slots at both edges of the tolerances, measured in the files.

A divider is a plate that stands on edge between ribs at both its ends. It is printed lying, so its thickness is layers
and exact; its slot and its length are drawn outlines, which printers change. What it does not know: the way down into
the slot (that is looked at elsewhere), sheets of card.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.gathering import gathered
from nookwright.checks.seats.lids import GOES_IN
from nookwright.checks.seats.lines import opening, section_at
from nookwright.checks.seats.play import QUIET
from nookwright.checks.seats.tolerances import of_one_print, of_two_prints
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.members import Member
    from nookwright.checks.seats.tolerances import Edges
    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.sizing.printers.errors import PrinterErrors

UPRIGHT_BY = Fact(
    1.5, unit="mm", kind=Kind.CHOICE, source="More room than this beside a plate 1.2 thick, and it leans and rattles."
)
HELD_BY = Fact(
    0.3, unit="mm", kind=Kind.CHOICE, source="Of a rib, beside the end of a divider that is pushed to the other end."
)
INSIDE_END = Fact(0.7, unit="mm", kind=Kind.CALCULATED, source="From a divider's end, where its ribs still reach: 1.4.")
_SHARES = (0.3, 0.6)  # of its height at which it is looked at
_STEPS = 24  # how finely the reach of a rib is felt for
_FARTHEST = 3.0  # how far from its end a rib may reach, mm


@dataclass(frozen=True)
class SlotGap:
    """A divider in its slots, as drawn, mm.

    Attributes:
        length: of the divider.
        beside: room beside it in its tightest slot, both sides together.
        ends: room before and behind it, both together.
        reach: of the shortest rib beyond the divider's end.
    """

    length: float
    beside: float
    ends: float
    reach: float


@dataclass(frozen=True)
class Slotted:
    """A divider in its tray.

    Attributes:
        part: id of the divider.
        tray: name of its tray.
        thickness: of the divider, mm.
        gap: between the two, as drawn.
    """

    part: str
    tray: str
    thickness: float
    gap: SlotGap

    def edges(self, errors: PrinterErrors) -> tuple[Edges, Edges]:
        """What printers do to the room beside it, and to the room at its ends."""
        beside = of_one_print(errors, self.thickness, round_hole=False)
        return beside, of_two_prints(errors, self.gap.length)


def check_dividers(kit: Kit, members: Mapping[str, Member], errors: PrinterErrors) -> tuple[Finding, ...]:
    """Dividers that do not drop into their slots, or do not stay there; and how far the loosest moves.

    Args:
        kit: the kit, its references sound.
        members: parts by id.
        errors: of the household's printers.
    """
    parts, placements = {part.id: part for part in kit.parts}, {one.id: one for one in kit.placements}
    seen: dict[tuple[str, str, bytes], Slotted] = {}
    for divider in kit.placements:
        for tray in (placements[name] for name in divider.stands_on):
            if parts[divider.part].kind == "divider" and tray.part in members:
                between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(divider.space_from_part)
                key = divider.part, tray.part, np.round(between, 3).tobytes()
                if key not in seen:
                    part, member = parts[divider.part], members[tray.part]
                    gap = slot_gap(part, member, between)
                    seen[key] = Slotted(divider.part, member.part.name, part.size[2], gap)
    found = [finding for one in seen.values() for finding in about_slot(one, errors)]
    return (*gathered(found), *_play(tuple(seen.values()), errors))


def slot_gap(divider: KitPart, tray: Member, between: Floats) -> SlotGap:
    """A divider in its slots.

    Args:
        divider: a plate; its box is what counts.
        tray: its tray.
        between: takes the divider to the tray's axes, 4 x 4.
    """
    corners = moved_by(between, np.array([(0.0, 0.0, 0.0), divider.size]))
    low, high = corners.min(axis=0), corners.max(axis=0)
    across = int(np.argmin((high - low)[:2]))
    along = 1 - across
    middle, thick = float((low + high)[across] / 2), float((high - low)[across])
    beside, ends, reach = np.inf, np.inf, np.inf
    for share in _SHARES:
        section = section_at(tray.made, np.eye(4), float(low[2] + share * (high[2] - low[2])))
        before, _ = opening(section, along, [middle], float(low[along]))
        _, behind = opening(section, along, [middle], float(high[along]))
        ends = min(ends, float(low[along]) - before + behind - float(high[along]))
        for end, inwards in ((float(low[along]), 1.0), (float(high[along]), -1.0)):
            slot = opening(section, across, [end + inwards * INSIDE_END], middle)
            beside = min(beside, slot[1] - slot[0] - thick)
            steps = end + inwards * np.linspace(0.0, _FARTHEST, _STEPS)
            held = [opening(section, across, [float(line)], middle) for line in steps]
            wide = [right - left - thick > 2 * UPRIGHT_BY for left, right in held]
            reach = min(reach, float(abs(steps[wide.index(True)] - end)) if True in wide else _FARTHEST)
    return SlotGap(float((high - low)[along]), float(beside), float(ends), reach)


def about_slot(one: Slotted, errors: PrinterErrors) -> Iterator[Finding]:
    """Findings about a divider in its tray.

    Args:
        one: the divider, as drawn.
        errors: of the household's printers.
    """
    gap = one.gap
    beside, ends = one.edges(errors)
    for room, edges, where in ((gap.beside, beside, "in its slot"), (gap.ends, ends, "from end to end")):
        left = room - edges.tight
        if left < GOES_IN:
            text = (
                f"It has {room:.2f} mm of room {where} of {one.tray}; printers may take {edges.tight:.2f} mm, "
                f"which leaves {left:.2f} mm; it drops in from {GOES_IN:g} mm on."
            )
            remedy = "Print the coupon of each printer, or file the divider until it drops in."
            # Where it likely goes in, a file helps the one in twenty that does not: no reason not to print.
            severity = Severity.STOP if room + edges.likeliest < GOES_IN else Severity.WARN
            yield Finding("divider-tight", severity, one.part, text, remedy, Against(left, float(GOES_IN), "mm"))
    wide, held = gap.beside + beside.loose, gap.reach - gap.ends / 2 - max(0.0, ends.loose)
    if wide > UPRIGHT_BY:
        text = f"It may have {wide:.2f} mm of room in its slot of {one.tray}; it stands up to {UPRIGHT_BY:g} mm."
        yield _loose(one, text, Against(wide, float(UPRIGHT_BY), "mm"), sure=gap.beside > UPRIGHT_BY)
    elif held < HELD_BY:
        text = (
            f"Pushed to one end of {one.tray}, {max(0.0, held):.2f} mm of its other end stand between ribs; "
            f"at least {HELD_BY:g} mm."
        )
        sure = gap.reach - gap.ends / 2 < HELD_BY
        yield _loose(one, text, Against(held, float(HELD_BY), "mm"), sure=sure)


def _play(dividers: Sequence[Slotted], errors: PrinterErrors) -> Iterator[Finding]:
    """How far dividers move in their slots at most, in one finding."""
    standing = [one for one in dividers if max(one.gap.beside, one.gap.ends) <= _FARTHEST]  # of others there is a stop
    if not standing:
        return
    moves = {one: one.gap.ends + max(0.0, one.edges(errors)[1].loose) for one in standing}
    longest = max(moves, key=lambda one: (moves[one], one.part))
    across = max(one.gap.beside + max(0.0, one.edges(errors)[0].loose) for one in standing)
    text = (
        f"Loose dividers move by up to {moves[longest]:.1f} mm from end to end in their slots, that of "
        f"{longest.gap.length:.0f} mm in {longest.tray} the most, and by up to {across:.1f} mm from side to side. "
        f"Quiet is up to {QUIET:g} mm."
    )
    remedy = (
        "Where one should not rattle, put a strip of felt or a dot of rubber behind one of its ends; a coupon of each "
        "printer keeps long ones closer."
    )
    against = Against(moves[longest], float(QUIET), "mm")
    yield Finding("divider-play", Severity.NOTE, longest.part, text, remedy, against)


def _loose(one: Slotted, text: str, against: Against, *, sure: bool) -> Finding:
    """A divider that does not stay; as drawn, or only where printers add to its slot."""
    remedy = "Make the divider longer or thicker, or take a fixed one."
    return Finding("divider-loose", Severity.STOP if sure else Severity.WARN, one.part, text, remedy, against)
