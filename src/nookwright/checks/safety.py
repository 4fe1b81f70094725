"""What could hurt somebody or break something although everything fits."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.held import covered
from nookwright.ground.findings import Finding, Severity
from nookwright.survey.models import Hazard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Lot, Room

_CELLS = ("CR", "BR", "LR", "SR", "PR")  # letters of the lithium, alkaline, silver and zinc-air systems, round


def check_safety(kit: Kit, room: Room) -> tuple[Finding, ...]:
    """Findings about blades, children's reach, loads and glue.

    Args:
        kit: the kit, its references sound.
        room: says what is dangerous, who reaches what and what a space may carry.
    """
    return (*_lots(kit, room), *_overloaded(kit, room), *_glued(kit))


def _lots(kit: Kit, room: Room) -> Iterator[Finding]:
    """Findings about lots where they were put."""
    children = {space.id for space in room.space if space.children}
    space_of = {placement.id: placement.space for placement in kit.placements}
    kind_of = {part.id: part.kind for part in kit.parts}
    placed = {lot.id: lot.places for lot in kit.lots}
    for lot in room.lot:
        places = placed.get(lot.id, ())
        reached = sorted({space_of[place.placement] for place in places} & children)
        if lot.out_of_reach and reached:
            yield _within_reach(lot, reached[0])
        if reached and _is_button_cell(lot):
            yield _button_cell(lot, reached[0])
        if lot.hazard is Hazard.BLADE and any(kind_of[place.part] == "tray" for place in places):
            yield _blade(lot)
        if lot.hazard is Hazard.BLADE and any(place.held_by and not covered(kit, place) for place in places):
            yield _bare(lot)


def _within_reach(lot: Lot, space: str) -> Finding:
    text = f"It is marked to be out of children's reach but lies in {space}, which children can reach."
    remedy = "Keep it elsewhere, or take away what lets children reach that space."
    return Finding("out-of-reach", Severity.STOP, lot.id, text, remedy)


def _is_button_cell(lot: Lot) -> bool:
    """Whether things are cells by their designation (IEC 60086) and wider than high, as 16 CFR 1263 has it."""
    if not (lot.standard and lot.standard.upper().startswith(_CELLS) and lot.diameter and lot.height):
        return False
    return lot.diameter.largest > lot.height.largest


def _button_cell(lot: Lot, space: str) -> Finding:
    text = f"These are button or coin cells and lie in {space}, which children can reach. Swallowing one can kill."
    return Finding("button-cell-in-reach", Severity.WARN, lot.id, text, "Keep them where children cannot reach.")


def _blade(lot: Lot) -> Finding:
    text = "It has a blade and lies loose in a plain tray, where a hand may run into it."
    return Finding(
        "blade-in-tray",
        Severity.WARN,
        lot.id,
        text,
        "Put a guard on the blade, or measure it: with [lot.blade] it gets a rest.",
    )


def _bare(lot: Lot) -> Finding:
    text = "Its blade lies in a rest that leaves some of its edge free."
    remedy = "Do not print it. This is a fault of the tool: please report it with the room file."
    return Finding("blade-bare", Severity.STOP, lot.id, text, remedy)


def _overloaded(kit: Kit, room: Room) -> Iterator[Finding]:
    """Spaces that carry more than they may; the load is added up anew from parts and things."""
    limits_g = {space.id: space.load_kg * 1000 for space in room.space}
    loads_g = dict.fromkeys(limits_g, 0.0)
    mass_g = {part.id: part.mass_g for part in kit.parts}
    for placement in kit.placements:
        loads_g[placement.space] += mass_g[placement.part]
    space_of = {placement.id: placement.space for placement in kit.placements}
    one_g = {lot.id: lot.mass_g or 0.0 for lot in room.lot}
    box_g = {box.id: box.mass_g for box in room.box}
    for lot in kit.lots:
        for place in lot.places:
            loads_g[space_of[place.placement]] += one_g[lot.id] * place.count + box_g.get(place.box, 0.0)
    for space, load_g in sorted(loads_g.items()):
        if load_g > limits_g[space]:
            text = f"Prints and things weigh {load_g / 1000:.2f} kg; allowed {limits_g[space] / 1000:.2f} kg."
            remedy = "Take heavy things elsewhere, or state a higher load if the space can bear it."
            yield Finding("load-over", Severity.STOP, space, text, remedy)


def _glued(kit: Kit) -> Iterator[Finding]:
    """What to mind with glue, once a kit, where a part is printed in pieces."""
    count = sum(any(not joint.dry for joint in part.joints) for part in kit.parts)
    if any(part.joints for part in kit.parts):
        text = f"Parts in pieces: {sum(bool(part.joints) for part in kit.parts)}, of which {count} must be glued."
        remedy = (
            "Superglue joins skin in seconds and its vapour stings: open a window, wear thin gloves (not cotton, which "
            "it heats) and glasses, keep children away, read the label. Pull nothing apart that sticks to skin: soak "
            "it in warm soapy water."
        )
        yield Finding("glue", Severity.NOTE, "kit", text, remedy)
