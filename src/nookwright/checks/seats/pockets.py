"""Pockets of every lot at both edges of the tolerances, measured in the files: do the things go in, do they rattle?

The diameter of a pocket is that of the largest circle about the middle of its thing, at several heights: the narrowest
of them lets the thing in, the widest lets it lean. Each pocket by itself is held against the sum that the room asks for
(largest thing, printer, clearance of the fit), worked out anew, and against what kit.json says was drawn. A box on a
shoe has its gap measured on each of its sides. What it does not know: things that are no rounder than their caliper
readings say.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import OURS, names
from nookwright.checks.seats.lids import room_in_words
from nookwright.checks.seats.play import asks_for_quiet
from nookwright.checks.seats.tolerances import of_one_print
from nookwright.checks.seats.words import at, stop
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
SLACK = Fact(
    2.0, unit="mm", kind=Kind.CHOICE, source="Twice the clearance of 0.5 a side that a shoe is drawn with: a box rocks."
)
SAMPLE = Fact(5.0, unit="mm", kind=Kind.CHOICE, source="From point to point along the outline of a box.")
_SIDE = 0.999  # of half a box's width: what of its outline lies on a side of it
_SHARES = (0.0, 0.5, 1.0)  # of the height of a pocket at which it is measured


@dataclass(frozen=True)
class Pocket:
    """A pocket as it is in a file.

    Attributes:
        narrow: its diameter where it is narrowest, mm.
        wide: the same where it is widest below its mouth.
        at: its middle in the part, mm.
        part: name of that.
    """

    narrow: float
    wide: float
    at: tuple[float, float]
    part: str


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
            found = [pocket for place in distinct for pocket in pockets_in(members[place.part], place)]
            yield from _tight(one, lot, drawn.size, asked, found)
            yield from _wide(one, drawn.size, found)
            if asks_for_quiet(lot) and lot.diameter:
                widest = max(pocket.wide for pocket in found)
                room_left = widest + of_one_print(errors, widest, round_hole=True).loose
                quiet[one.id] = one.name, room_left - min(lot.diameter.all), loose_at(fit_of(lot))
        for place in distinct:
            if place.box:
                yield from _shoe(one, place, members[place.part], errors)
    yield from _rattling(quiet)


def pockets_in(holder: Member, place: LotPlace) -> list[Pocket]:
    """The pockets of a place as they are in the file.

    Args:
        holder: the part.
        place: upright round things in it.
    """
    middles = np.array(place.at)
    low, high = float(middles[:, 2].max()) + ABOVE_FLOOR, holder.part.size[2] - MOUTH
    levels = [holder.clear(middles[:, :2], low + share * max(0.0, high - low)) for share in _SHARES]
    narrow, wide = 2 * np.min(levels, axis=0), 2 * np.max(levels, axis=0)
    return [
        Pocket(least, most, (x, y), holder.part.name)
        for least, most, (x, y, _) in zip(narrow.tolist(), wide.tolist(), middles.tolist(), strict=True)
    ]


def _tight(one: KitLot, lot: Lot, drawn: float, asked: PocketSize, found: list[Pocket]) -> Iterator[Finding]:
    """The pockets of a lot in which too little of the clearance is left beside its largest thing: the tightest."""
    fit, taken = fit_of(lot), asked.pocket - asked.clearance
    needed = max(HALF_CLEARANCE * asked.clearance, float(SLIDES_AT)) if asked.clearance else -float(EXACT)
    bad = [each for each in found if each.narrow < drawn - EXACT or each.narrow - taken < needed - EXACT / 2]
    if bad:
        tightest = min(bad, key=lambda each: each.narrow)
        left = tightest.narrow - taken
        room = f"{left:.2f} mm are left" if left > 0 else "nothing is left"
        text = (
            f"{_of_them(bad, found, 'tight')} in {tightest.part}, {at(tightest.at)}, measures {tightest.narrow:.2f} "
            f"mm; its sum asks for {asked.pocket:.2f} mm. Beside the largest thing and what printers may take, {room} "
            f"of the {asked.clearance:g} mm that '{fit.value}' asks for; at least {needed:.2f} mm must be."
        )
        yield stop("pocket-tight", one.id, text, OURS, Against(left, float(needed), "mm"))


def _wide(one: KitLot, drawn: float, found: list[Pocket]) -> Iterator[Finding]:
    """The pockets of a lot that are wider than they were drawn: the widest."""
    bad = [each for each in found if each.wide > drawn + EXACT]
    if bad:
        widest = max(bad, key=lambda each: each.wide)
        text = (
            f"{_of_them(bad, found, 'wide')} in {widest.part}, {at(widest.at)}, measures {widest.wide:.2f} mm; "
            f"{drawn:.2f} mm were drawn."
        )
        yield stop("pocket-loose", one.id, text, OURS, Against(widest.wide, drawn, "mm"))


def _of_them(bad: list[Pocket], found: list[Pocket], how: str) -> str:
    """How many pockets are wrong, and the worst of them as the subject of a sentence."""
    if len(found) == 1:
        return "Its pocket"
    if len(bad) == len(found):
        return f"All of its {len(found)} pockets are too {how}. The worst"
    return f"Of its {len(found)} pockets {len(bad)} {'is' if len(bad) == 1 else 'are'} too {how}. The worst"


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
    said = names([name for name, _, _ in loose.values()])
    text = (
        f"{said} should lie quietly: where a printer prints insides large, the smallest of {loose[worst][0]} has "
        f"{room:.1f} mm of room in its pocket; its fit is called loose from {limit:.1f} mm on."
    )
    remedy = "Line the pockets with felt, print a gauge and say what you found, or ask for a closer fit."
    yield Finding("pocket-loose", Severity.NOTE, worst, text, remedy, Against(room, limit, "mm"))


def _shoe(one: KitLot, place: LotPlace, holder: Member, errors: PrinterErrors) -> Iterator[Finding]:
    """A box of the person's own on its shoe."""
    outline = _outline(place)
    low, high = place.at[0][2] + ABOVE_FLOOR, holder.part.size[2] - MOUTH
    if holder.part.kind != "shoe" or high <= low:
        return
    clear = np.min([holder.clear(outline, low + share * (high - low)) for share in _SHARES], axis=0)
    side = float(clear.min())
    edges = of_one_print(errors, max(place.size[:2]), round_hole=False)
    yield from _slack(one, place, holder, _across(outline - np.array(place.at[0][:2]), clear, place), edges.loose)
    left = 2 * side - edges.tight
    if left < SLIDES_AT:
        text = (
            f"Its box has {room_in_words(2 * side)} in {holder.part.name}, both sides together; printers may take "
            f"{edges.tight:.2f} mm, which leaves {room_in_words(left)}; it slides in from {SLIDES_AT:g} mm on."
        )
        remedy = "Measure the box again, or print the coupon of each printer."
        yield stop("pocket-tight", one.id, text, remedy, Against(left, float(SLIDES_AT), "mm"))


def _across(outline: Floats, clear: Floats, place: LotPlace) -> float:
    """Room beside a box in its shoe, both sides together, along the side on which it is larger, mm.

    Args:
        outline: (n, 2), about its middle.
        clear: (n,), room about each of these points.
        place: of the box.
    """
    room = 0.0
    for axis in (0, 1):
        reach = outline[:, axis] / (place.size[axis] / 2)
        room = max(room, float(clear[reach > _SIDE].min() + clear[reach < -_SIDE].min()))
    return room


def _slack(one: KitLot, place: LotPlace, holder: Member, room: float, more: float) -> Iterator[Finding]:
    """A box that moves about on its shoe."""
    if room > SLACK:
        text = (
            f"Its box has {room:.2f} mm of room in {holder.part.name}, both sides together, where it has most, and "
            f"printers may add {max(0.0, more):.2f} mm; it stands still with up to {SLACK:g} mm."
        )
        remedy = f"Measure the box {place.box} again; line a shoe that is printed already with felt."
        yield Finding("pocket-loose", Severity.WARN, one.id, text, remedy, Against(room, float(SLACK), "mm"))


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
