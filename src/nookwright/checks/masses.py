"""Whether the masses that a kit states are true: what things weigh, what prints weigh, and the sums of both.

Who plans a load or a spool by kit.json takes these figures as they stand. Things weigh what the room file says; a piece
weighs no more than its solid in its material and no less than thin walls and sparse infill leave of it; a part is the
sum of its pieces, a space that of what it holds, a bedful about that of what lies on it. What this does not know: how
much of a solid is infill. A part that is printed in several materials has the mass of any of them.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.checks.copies import bounds_by_space, sums_of_pieces
from nookwright.checks.in_words import names
from nookwright.checks.weights import G_PER_KG, MM3_PER_CM3, known_g, loads_g
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room

ROUNDED_G = Fact(0.01, unit="g", kind=Kind.CALCULATED, source="Sums of a thousand masses, each rounded to 1e-6 g.")
ROUNDED_SHARE = Fact(1e-5, unit="1", kind=Kind.CHOICE, source="Of a mass: what is nearer is the same.")
LIGHTEST = Fact(
    0.1, unit="1", kind=Kind.CALCULATED, source="Of the solid: a block with three walls and an infill of 5 % has 0.15."
)
HEAVIEST = Fact(
    1.3, unit="1", kind=Kind.CALCULATED, source="Of the solid: 1, and what finished prints teach of too much flow."
)
OTHER_FLOW = Fact(
    0.8,
    unit="1",
    kind=Kind.CHOICE,
    source="Of the pieces of a bedful, where another printer lays down less than it says.",
)
OTHER_LINES = Fact(
    0.5,
    unit="1",
    kind=Kind.CALCULATED,
    source="The same with other layers and lines: a plate of 2.4, solid in 0.3 with 8 skins, has 0.6 in 0.16 at 15 %.",
)
BRIM_ROUND = Fact(1.5, unit="1", kind=Kind.CHOICE, source="Outline of a piece, of that of its box: notches and tabs.")
HANDLING = Fact(
    1.5, unit="1", kind=Kind.CHOICE, source="Of the pieces of a bedful: pads, skirt, brim and purge come on top."
)
PURGE_G = Fact(30.0, unit="g", kind=Kind.CHOICE, source="No bedful purges or lays down more beside its pieces.")
_BESIDE = {"seam": "", "skirt_loops": 0, "skirt": 0.0}  # of settings: what changes nothing about pieces
_CODE = "mass-wrong"
_REMEDY = "Build the kit again; do not change its files by hand."


def check_masses(kit: Kit, room: Room) -> Iterator[Finding]:
    """One finding about masses that are not what they should be: the worst, and which are wrong as well.

    Masses of things and pieces come first: where one of them is wrong, sums that have it in them are.

    Args:
        kit: the kit, its references sound.
        room: says what things, materials and boxes weigh.
    """
    first = [*_lots(kit, room), *_pieces(kit, room)]  # what the sums follow from
    found = [*first, *_parts(kit), *_spaces(kit, room), *_bedfuls(kit)]
    if found:
        worst = max(first or found, key=lambda one: (_off(one), one.subject))
        others = sorted({one.subject for one in found} - {worst.subject})
        more = f" Wrong as well: {names(others)}." if others else ""
        yield replace(worst, text=worst.text + more)


def _off(finding: Finding) -> float:
    """How many times over a mass is wrong."""
    against = finding.against
    if against is None:
        return 0.0
    low, high = sorted((abs(against.computed), abs(against.limit)))
    return high / max(low, ROUNDED_G)


def _lots(kit: Kit, room: Room) -> Iterator[Finding]:
    """Lots that weigh something else than the room file says; one that nobody weighed is stated as 0."""
    surveyed = {lot.id: lot for lot in room.lot}
    for lot in kit.lots:
        read = surveyed[lot.id]
        yield from _wrong(lot.id, "All of it together weighs", lot.mass_g, known_g(read) * read.count)


def _pieces(kit: Kit, room: Room) -> Iterator[Finding]:
    """Pieces that weigh more or less than their solid can."""
    densities = {material.id: material.density_g_cm3 for material in room.material}
    brims = brims_of(kit)
    for piece in kit.pieces:
        if piece.material not in densities or piece.volume_mm3 <= 0:
            continue
        g_mm3 = densities[piece.material] / MM3_PER_CM3
        solid_g, brim_g = piece.volume_mm3 * g_mm3, brim_mm3(piece.size, brims) * g_mm3
        least, most = may_weigh_g(solid_g, brim_g)
        if not least <= piece.mass_g <= most:
            brim = f", and its brim {brim_g:.3g} g" if brim_g else ""
            text = (
                f"By kit.json it weighs {piece.mass_g:.4g} g; printed full, its solid would weigh {solid_g:.4g} g in "
                f"{piece.material}{brim}: between {least:.3g} g and {most:.3g} g can be."
            )
            against = Against(piece.mass_g, most if piece.mass_g > most else least, "g")
            yield Finding(_CODE, Severity.STOP, piece.id, text, _REMEDY, against)


def brims_of(kit: Kit) -> frozenset[tuple[float, float]]:
    """Height and width of all brims that bedfuls of a kit are printed with, mm."""
    beds = (bedful.settings for bedful in kit.bedfuls if bedful.settings)
    return frozenset((one.layer, one.brim) for one in beds if one.brim)


def brim_mm3(size: Sequence[float], brims: Iterable[tuple[float, float]]) -> float:
    """The most that any of some brims may hold, mm3: it is weighed with its piece.

    Args:
        size: of the piece, mm.
        brims: height and width of each, mm.
    """
    round_mm = BRIM_ROUND * 2 * (size[0] + size[1])
    return max((high * (round_mm * wide + math.pi * wide**2) for high, wide in brims), default=0.0)


def may_weigh_g(solid_g: float, brim_g: float) -> tuple[float, float]:
    """The least and the most that a piece may weigh as printed, g.

    Args:
        solid_g: its solid in its material.
        brim_g: of its brim.
    """
    return LIGHTEST * solid_g, HEAVIEST * (solid_g + brim_g)


def _parts(kit: Kit) -> Iterator[Finding]:
    """Parts that are not the sum of their pieces."""
    masses = sums_of_pieces(kit, lambda piece: piece.mass_g)
    for part in kit.parts:
        if part.id in masses:
            nearest = min(masses[part.id], key=lambda mass_g: abs(mass_g - part.mass_g))
            yield from _wrong(part.id, "As printed it weighs", part.mass_g, nearest)


def _spaces(kit: Kit, room: Room) -> Iterator[Finding]:
    """Spaces whose load, or what they may carry, is not what it comes to."""
    surveyed = {space.id: space for space in room.space}
    masses = sums_of_pieces(kit, lambda piece: piece.mass_g)
    prints, things = bounds_by_space(kit, masses, lambda part: part.mass_g), loads_g(kit, room, known_g, prints=False)
    for space in kit.spaces:
        least, most = prints[space.id]
        near = min(max(space.mass_g, least), most)
        yield from _wrong(space.id, "The prints in it weigh", space.mass_g, near)
        yield from _wrong(space.id, "Prints and things in it weigh", space.load_g, near + things[space.id])
        limit_g = surveyed[space.id].load_kg * G_PER_KG
        yield from _wrong(space.id, "It may carry", space.load_limit_g, limit_g)


def _bedfuls(kit: Kit) -> Iterator[Finding]:
    """Bedfuls that weigh less than their pieces, or far more.

    A piece states its mass on one printer: on another it may weigh less, and more so where that has other lines.
    """
    lines = {bedful.settings and bedful.settings.model_copy(update=_BESIDE) for bedful in kit.bedfuls}
    alone = len({bedful.printer for bedful in kit.bedfuls}) == 1
    share = float(OTHER_LINES if len(lines) > 1 else 1.0 if alone else OTHER_FLOW)
    pieces = {piece.id: piece.mass_g for piece in kit.pieces}
    for bedful in kit.bedfuls:
        held_g = sum(pieces[item.piece] for item in bedful.items)
        nearest = min(max(bedful.mass_g, share * held_g), HANDLING * held_g + PURGE_G)
        yield from _wrong(bedful.id, "All on it weighs", bedful.mass_g, nearest)


def _wrong(subject: str, what: str, said_g: float, true_g: float) -> Iterator[Finding]:
    """A finding where two masses differ by more than sums round off."""
    if abs(said_g - true_g) > ROUNDED_G + ROUNDED_SHARE * abs(true_g):
        text = f"{what} {_grams(said_g)} by kit.json; it should be {_grams(true_g)}."
        yield Finding(_CODE, Severity.STOP, subject, text, _REMEDY, Against(said_g, true_g, "g"))


def _grams(mass_g: float) -> str:
    """A mass in words.

    >>> _grams(12345.678), _grams(72.0), _grams(0.02)
    ('12.35 kg', '72.0 g', '0.02 g')
    """
    if abs(mass_g) >= G_PER_KG:
        return f"{mass_g / G_PER_KG:.2f} kg"
    return f"{mass_g:.1f} g" if abs(mass_g) >= 1 else f"{mass_g:.2g} g"
