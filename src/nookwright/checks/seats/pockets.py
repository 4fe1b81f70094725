"""Pockets of every lot at both edges of the tolerances, measured in the files: do the things go in, do they rattle?

The diameter of a pocket is that of the largest circle about the middle of its thing, at several heights. It is held
against the sum that the room asks for (largest thing, printer, clearance of the fit), worked out anew, and against what
kit.json says was drawn. A box on a shoe has its gap measured all along its outline. What it does not know: things that
are no rounder than their caliper readings say.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.seats.play import asks_for_quiet
from nookwright.checks.seats.tolerances import of_one_print
from nookwright.checks.seats.words import OURS, at, stop
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.fits.judgement import SLIDES_AT, loose_at
from nookwright.sizing.lot_sizes import fit_of, pocket_of, terms_of
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.boxes import Floats
    from nookwright.checks.seats.members import Member
    from nookwright.exchange.kit import Kit, KitLot, LotPlace
    from nookwright.sizing.fits.chain import PocketSize
    from nookwright.sizing.printers.errors import PrinterErrors
    from nookwright.survey.models import Lot, Room
EXACT = Fact(
    0.05,
    unit="mm",
    kind=Kind.CALCULATED,
    source="A circle of ours is flat by 0.01 in radius; sums are whole hundredths.",
)
HALF_CLEARANCE = Fact(
    0.5,
    unit="1",
    kind=Kind.CHOICE,
    source="With less of the fit's clearance left, a thing goes in as another fit would.",
)
MOUTH = Fact(1.5, unit="mm", kind=Kind.CALCULATED, source="Below a mouth: deeper than the chamfers that lead in.")
ABOVE_FLOOR = Fact(1.0, unit="mm", kind=Kind.CHOICE, source="Above a pocket's floor: past where a layer spreads.")
SAMPLE = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="From point to point along the outline of a box.")
Bore = tuple[float, tuple[float, float]]  # diameter and middle of a pocket, mm
_NAMED = 3  # lots that a finding names; the rest is counted
_SHARES = (0.0, 0.5, 1.0)  # of the height of a pocket at which it is measured


def check_pockets(kit: Kit, room: Room, members: Mapping[str, Member], errors: PrinterErrors) -> Iterator[Finding]:
    """Pockets and shoes that are too tight or too loose for what they hold.

    Args:
        kit: the kit, its references sound.
        room: with the readings of every lot.
        members: parts by id.
        errors: of the household's printers.
    """
    lots = {lot.id: lot for lot in room.lot}
    terms, quiet = terms_of(room, errors), {}
    for one in kit.lots:
        drawn = next((size.pocket for size in one.sizes if size.pocket), None)
        # The same part holds the same things in the same places, however many copies of it there are.
        distinct = tuple({(place.part, place.at): place for place in one.places if place.part in members}.values())
        distinct = tuple(place for place in distinct if place.at)
        if drawn and distinct:
            lot = lots[one.id]
            asked = pocket_of(lot, terms, pockets=capacity(lot))
            found = [bore for place in distinct for bore in bores(members[place.part], place)]
            yield from _tight(one, lot, drawn.size, asked, found)
            yield from _wide(one, drawn.size, found)
            if asks_for_quiet(lot) and lot.diameter:
                room_left = max(found)[0] + of_one_print(errors, max(found)[0], round_hole=True).loose
                quiet[one.id] = one.name, room_left - min(lot.diameter.all), loose_at(fit_of(lot))
        for place in distinct:
            if place.box:
                yield from _shoe(one, place, members[place.part], errors)
    yield from _rattling(quiet)


def bores(holder: Member, place: LotPlace) -> list[Bore]:
    """The pockets of a place: the diameter of each at its narrowest, mm, and where its middle is in the part.

    Args:
        holder: the part.
        place: upright round things in it.
    """
    middles = np.array(place.at)
    low, high = float(middles[:, 2].max()) + ABOVE_FLOOR, holder.part.size[2] - MOUTH
    clear = np.min([holder.clear(middles[:, :2], low + share * max(0.0, high - low)) for share in _SHARES], axis=0)
    return [(2 * radius, (x, y)) for radius, (x, y, _) in zip(clear.tolist(), middles.tolist(), strict=True)]


def _tight(one: KitLot, lot: Lot, drawn: float, asked: PocketSize, found: list[Bore]) -> Iterator[Finding]:
    """The tightest pocket of a lot, where too little of the clearance is left beside its largest thing."""
    (least, where), fit = min(found), fit_of(lot)
    left = least - (asked.pocket - asked.clearance)
    needed = max(HALF_CLEARANCE * asked.clearance, float(SLIDES_AT)) if asked.clearance else -float(EXACT)
    if least < drawn - EXACT or left < needed - EXACT / 2:
        text = (
            f"The tightest of its pockets, at {at(where)}, measures {least:.2f} mm; its sum asks for "
            f"{asked.pocket:.2f} mm. Beside the largest thing and what printers may take, {left:.2f} mm are left of "
            f"the {asked.clearance:g} mm that '{fit.value}' asks for; at least {needed:.2f} mm."
        )
        yield stop("pocket-tight", one.id, text, OURS, Against(left, float(needed), "mm"))


def _wide(one: KitLot, drawn: float, found: list[Bore]) -> Iterator[Finding]:
    """The widest pocket of a lot, where it is wider than it was drawn."""
    most, where = max(found)
    if most > drawn + EXACT:
        text = f"The widest of its pockets, at {at(where)}, measures {most:.2f} mm; {drawn:.2f} mm were drawn."
        yield stop("pocket-loose", one.id, text, OURS, Against(most, drawn, "mm"))


def _rattling(rooms: Mapping[str, tuple[str, float, float]]) -> Iterator[Finding]:
    """Quiet lots whose smallest things may have more room than their fit allows, in one finding.

    Args:
        rooms: by lot its name, the room, and from where on it is called loose, mm.
    """
    loose = {name: one for name, one in rooms.items() if one[1] > one[2]}
    if not loose:
        return
    worst = max(loose, key=lambda name: loose[name][1] - loose[name][2])
    _, room, limit = loose[worst]
    names = ", ".join(name for name, _, _ in list(loose.values())[:_NAMED])
    more = f" and {len(loose) - _NAMED} more" if len(loose) > _NAMED else ""
    text = (
        f"{names}{more} should lie quietly: where a printer prints insides large, the smallest of {loose[worst][0]} "
        f"has {room:.1f} mm of room in its pocket; its fit is called loose from {limit:.1f} mm on."
    )
    remedy = "Line the pockets with felt, print a gauge and say what you found, or ask for a closer fit."
    yield Finding("pocket-loose", Severity.NOTE, worst, text, remedy, Against(room, limit, "mm"))


def _shoe(one: KitLot, place: LotPlace, holder: Member, errors: PrinterErrors) -> Iterator[Finding]:
    """A box of the person's own on its shoe."""
    outline = _outline(place)
    low, high = place.at[0][2] + ABOVE_FLOOR, holder.part.size[2] - MOUTH
    if holder.part.kind != "shoe" or high <= low:
        return
    side = min(float(holder.clear(outline, low + share * (high - low)).min()) for share in _SHARES)
    edges = of_one_print(errors, max(place.size[:2]), round_hole=False)
    left = 2 * side - edges.tight
    if left < SLIDES_AT:
        text = (
            f"Its box has {2 * side:.2f} mm of room in {holder.part.name}, both sides together; printers may take "
            f"{edges.tight:.2f} mm, which leaves {left:.2f} mm; it slides in from {SLIDES_AT:g} mm on."
        )
        remedy = "Measure the box again, or print the coupon of each printer."
        yield stop("pocket-tight", one.id, text, remedy, Against(left, float(SLIDES_AT), "mm"))


def _outline(place: LotPlace) -> Floats:
    """Points along the outline of a box, (n, 2), its round corners included."""
    width, depth, _ = place.size
    radius = min(place.corner_radius, width / 2, depth / 2) if not place.round_axis else min(width, depth) / 2
    count = max(8, int(2 * (width + depth) / SAMPLE))
    turn = np.arange(count) * (2 * np.pi / count)
    arms = np.array([width / 2 - radius, depth / 2 - radius])
    corners = np.sign(np.column_stack([np.cos(turn), np.sin(turn)])) * arms
    arc = corners + radius * np.column_stack([np.cos(turn), np.sin(turn)])
    along = np.linspace(-1.0, 1.0, count)[:, None]
    level = np.column_stack([along * arms[0], np.full(count, depth / 2)])
    upright = np.column_stack([np.full(count, width / 2), along * arms[1]])
    outline: Floats = np.concatenate([arc, level, -level, upright, -upright]) + np.array(place.at[0][:2])
    return outline
