"""Name strips behind their lips, and caps in their holes, where printers make the fit wide.

A strip slides in from above and is held by a lip over each of its ends: pushed to one end it must still stand behind
the lip at the other. A cap holds in its hole by friction alone, and ballast is behind it. Both are measured in the
files. What this does not know: the tight side of a strip, which is looked at where inserts are taken out; friction.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.bodies import matrix_of, moved_by
from nookwright.checks.gathering import gathered
from nookwright.checks.seats.dividers import HELD_BY
from nookwright.checks.seats.lines import extent, opening, section_at
from nookwright.checks.seats.press_lids import GIVES_WAY, STAYS_ON
from nookwright.checks.seats.tolerances import of_two_prints
from nookwright.checks.strength.outlines import signed_mm2, solid_of
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Kit, KitPart
    from nookwright.sizing.printers.errors import PrinterErrors

    Made = tuple[tuple[Shape, Floats], ...]

INTO_LIP = Fact(0.3, unit="mm", kind=Kind.CHOICE, source="Of a lip, past its chamfer: there it holds.")
BY_END = Fact(
    0.8, unit="mm", kind=Kind.CALCULATED, source="From a strip's end, where its lip still is: 2 reach over it."
)
PLATE = Fact(0.4, unit="mm", kind=Kind.CHOICE, source="Past the plate of a cap, where its skirt alone is.")
DEEPEST = Fact(8.0, unit="mm", kind=Kind.CHOICE, source="Below a roof: no skirt of a cap reaches farther.")
STEP = Fact(0.4, unit="mm", kind=Kind.CHOICE, source="Between the sections in which the hole of a cap is looked for.")
NEAR = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Of its skirt: another hole is not that of a cap.")
_SHARES = (0.4, 0.6)  # of a strip's height at which it is looked at


def check_strips(kit: Kit, made: Mapping[str, Made], errors: PrinterErrors) -> tuple[Finding, ...]:
    """Name strips that may slip past a lip, and caps that hold too little or go in too hard.

    Args:
        kit: the kit, its references sound.
        made: what each part is put together from, by id; nothing for one with a file that is not there.
        errors: of the household's printers.
    """
    return (*gathered(_strips(kit, made, errors)), *gathered(_caps(kit, made, errors)))


def _strips(kit: Kit, made: Mapping[str, Made], errors: PrinterErrors) -> Iterator[Finding]:
    parts, placements = {part.id: part for part in kit.parts}, {one.id: one for one in kit.placements}
    seen = set()
    for strip in kit.placements:
        for tray in (placements[name] for name in strip.stands_on):
            if parts[strip.part].kind != "name strip" or not made[tray.part]:
                continue
            between = np.linalg.inv(matrix_of(tray.space_from_part)) @ matrix_of(strip.space_from_part)
            key = strip.part, tray.part, np.round(between, 3).tobytes()
            if key not in seen:
                seen.add(key)
                held = behind_lips(parts[strip.part], made[tray.part], between)
                yield from about_strip(parts[strip.part], parts[tray.part].name, held, errors)


def behind_lips(strip: KitPart, tray: Made, between: Floats) -> float:
    """How much of a strip still stands behind a lip when it is pushed to its other end, as drawn, mm.

    Args:
        strip: a plate; its box is what counts.
        tray: what its tray is put together from.
        between: takes the strip to the tray's axes, 4 x 4.
    """
    corners = moved_by(between, np.array([(0.0, 0.0, 0.0), strip.size]))
    low, high = corners.min(axis=0), corners.max(axis=0)
    across = int(np.argmin((high - low)[:2]))
    along = 1 - across
    middle, length = (low + high) / 2, float((high - low)[along])
    held = np.inf
    for share in _SHARES:
        section = section_at(tray, np.eye(4), float(low[2] + share * (high[2] - low[2])))
        place = opening(section, along, [float(middle[across])], float(middle[along]))
        through = opening(section, across, [float(middle[along])], float(middle[across]))
        outwards = -1.0 if middle[across] - through[0] > through[1] - middle[across] else 1.0
        ends = [float(low[along] + BY_END), float(high[along] - BY_END)]
        pocket = opening(section, across, ends, float(middle[across]))
        lip = (pocket[0] if outwards < 0 else pocket[1]) + outwards * INTO_LIP
        window = opening(section, along, [float(lip)], float(middle[along]))
        held = min(held, place[0] + length - window[1], window[0] - (place[1] - length))
    return float(held)


def about_strip(strip: KitPart, tray: str, held: float, errors: PrinterErrors) -> Iterator[Finding]:
    """What to say of a strip that may slip past a lip.

    Args:
        strip: the part.
        tray: name of its tray.
        held: of it, behind a lip when it is pushed to its other end, as drawn, mm.
        errors: of the household's printers.
    """
    left = held - max(0.0, of_two_prints(errors, max(strip.size[:2])).loose)
    if left < HELD_BY:
        text = (
            f"Pushed to one end of its place in {tray}, {max(0.0, left):.2f} mm of its other end may stand behind the "
            f"lip; it stays from {HELD_BY:g} mm on."
        )
        remedy = "Print the coupon of each printer, or put a dot of glue or a strip of tape behind the strip."
        severity = Severity.STOP if held < HELD_BY else Severity.WARN
        yield Finding("strip-loose", severity, strip.id, text, remedy, Against(left, float(HELD_BY), "mm"))


def _caps(kit: Kit, made: Mapping[str, Made], errors: PrinterErrors) -> Iterator[Finding]:
    """Every cap in the part that it closes: the one that it stands on, or that was ordered with it."""
    parts, placements = {part.id: part for part in kit.parts}, {one.id: one for one in kit.placements}
    pairs = {(one.part, placements[name].part) for one in kit.placements for name in one.stands_on}
    pairs |= {(one.part, other.part) for one in kit.orders for other in kit.orders if one.id == other.id}
    for lid, below in sorted(pairs):
        hollow = parts[below].parameters.get("inside") == "hollow"
        if parts[lid].kind == "cap" and hollow and made[lid] and made[below]:
            room = cap_room(parts[lid].size[2], made[lid], made[below])
            yield from about_cap(parts[lid], parts[below].name, room, errors) if room else ()


def cap_room(high: float, cap: Made, below: Made) -> tuple[float, float] | None:
    """Room beside the skirt of a cap in its hole, both sides together, along the longer and the shorter side, mm.

    Args:
        high: height of the cap on its head, as it is printed, mm.
        cap: what it is put together from.
        below: the same of the part with the hole in its roof.

    Returns:
        The room, negative where the skirt is larger; nothing where there is no such hole.
    """
    section = section_at(cap, np.eye(4), high - PLATE)
    skirt = sorted(float(end - start) for start, end in (extent(section, axis) for axis in (0, 1)))
    best: tuple[float, float] | None = None
    for shape, _ in below:
        solid, top = solid_of(shape), float(shape.box[1][2])
        for level in np.arange(top - PLATE, max(0.0, top - DEEPEST), -STEP):
            for hole in solid.slice(float(level)).to_polygons():
                if signed_mm2(hole) >= 0:
                    continue  # an outline, not a hole
                sides = sorted(np.ptp(hole, axis=0).tolist())
                room = sides[1] - skirt[1], sides[0] - skirt[0]
                if max(map(abs, room)) <= NEAR and (best is None or sum(room) < sum(best)):
                    best = room
    return best


def about_cap(cap: KitPart, below: str, room: tuple[float, float], errors: PrinterErrors) -> Iterator[Finding]:
    """What to say of a cap.

    Args:
        cap: the part.
        below: name of the part that it closes.
        room: beside its skirt along both sides, mm.
        errors: of the household's printers.
    """
    edges = of_two_prints(errors, max(cap.size[:2]))
    tight, loose = min(room) - edges.tight, min(room) + edges.loose
    if tight < -GIVES_WAY:
        text = (
            f"In the hole of {below} it has {min(room):.2f} mm of room; printers may take {edges.tight:.2f} mm: it is "
            f"then {-tight:.2f} mm too large, and its skirt gives way by {GIVES_WAY:g} mm."
        )
        remedy = "Print the coupon of each printer, or file its skirt until it goes in."
        grave = Severity.STOP if min(room) + edges.likeliest < -GIVES_WAY else Severity.WARN
        yield Finding("cap-tight", grave, cap.id, text, remedy, Against(tight, -float(GIVES_WAY), "mm"))
    if loose > STAYS_ON:
        text = (
            f"In the hole of {below} it may have {loose:.2f} mm of room; it holds by itself up to {STAYS_ON:g} mm, and "
            "what is filled in runs out when the part is tipped."
        )
        remedy = "Print the coupon of each printer; a turn of tape round its skirt, or silicone, holds it."
        severity = Severity.WARN if min(room) > STAYS_ON else Severity.NOTE
        yield Finding("cap-loose", severity, cap.id, text, remedy, Against(loose, float(STAYS_ON), "mm"))
