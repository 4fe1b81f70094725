"""Whether spaces, printers and materials stand in kit.json as they were surveyed: what plans and beds are held against.

A blocked place may be larger in the kit than it was read, for readings err, and never smaller; a corner no sharper, an
edge of the floor no squarer. A bow that was read stands as it was read. Service paths are looked at elsewhere, and so
are width, depth and height. What this does not know: a bow that is worked out from a board and its load.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import length, names, outer, the
from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit, KitSpace
    from nookwright.survey.models import Room, Space

_REMEDY = "Build the kit again; if it stays, this is a fault of the tool: please report it with the room file."


def check_surveyed(kit: Kit, room: Room) -> Iterator[Finding]:
    """What stands in kit.json otherwise than in the room file.

    Args:
        kit: the kit, its references sound.
        room: as surveyed.
    """
    surveyed = {space.id: space for space in room.space}
    for space in kit.spaces:
        yield from _blocked(space, surveyed[space.id])
        yield from _shape(space, surveyed[space.id])
    yield from _printers(kit, room)
    yield from _materials(kit, room)


def _blocked(space: KitSpace, read: Space) -> Iterator[Finding]:
    """Blocked places, service paths aside, that the kit does not keep free as they were read."""
    known = [(np.array(box.low) - GRID, np.array(box.high) + GRID) for box in space.blocked]
    for box in read.blocked:
        top = space.height if box.height is None else min(space.height, box.z + box.height - read.mat)
        low = np.array([box.x, box.y, max(0.0, box.z - read.mat)])
        high = np.array([box.x + box.width, box.y + box.depth, top])
        kept = any((least <= low).all() and (most >= high).all() for least, most in known)
        if not box.service and high[2] > low[2] and not kept:
            text = f"{the(box.reason, first=True)} is blocked, and kit.json does not keep all of it free."
            yield Finding("blocked-forgotten", Severity.STOP, space.id, text, _REMEDY)


def _shape(space: KitSpace, read: Space) -> Iterator[Finding]:
    """Corners and edges that are rounder than the kit reckons, and a bow that it does not know."""
    for what, said, true in (
        ("Its corners have a radius", space.corner_radius, read.corner_radius),
        ("The edge between its walls and its floor has a radius", space.cove_radius, read.cove_radius),
    ):
        if said < true - GRID:
            text = f"{what} of {length(true)} by the room file; kit.json reckons with {length(said)}."
            yield Finding("space-otherwise", Severity.STOP, space.id, text, _REMEDY, Against(said, true, "mm"))
    if read.bow is not None and abs(space.bow - read.bow) > GRID:
        text = f"Its floor was read to be bowed by {length(read.bow)}; kit.json reckons with {length(space.bow)}."
        yield Finding("space-otherwise", Severity.STOP, space.id, text, _REMEDY, Against(space.bow, read.bow, "mm"))


def _printers(kit: Kit, room: Room) -> Iterator[Finding]:
    """Printers with another bed, margin or layer than the room file has."""
    known = {printer.id: printer for printer in room.printer}
    for printer in kit.printers:
        if printer.id not in known:
            text = "It is not in the room file."
            yield Finding("printer-otherwise", Severity.STOP, printer.id, text, _REMEDY)
            continue
        read = known[printer.id]
        bed = (read.bed_width, read.bed_depth, read.bed_height)
        if max(abs(said - true) for said, true in zip(printer.bed, bed, strict=True)) > GRID:
            text = f"It prints {outer(bed)} by the room file; kit.json says {outer(printer.bed)}."
            yield Finding("printer-otherwise", Severity.STOP, printer.id, text, _REMEDY)
        for what, said, true in (("margin", printer.margin, read.margin), ("layer", printer.layer, read.layer)):
            if abs(said - true) > GRID:
                text = f"Its {what} is {length(true)} by the room file; kit.json says {length(said)}."
                yield Finding("printer-otherwise", Severity.STOP, printer.id, text, _REMEDY, Against(said, true, "mm"))


def _materials(kit: Kit, room: Room) -> Iterator[Finding]:
    """Materials of another colour than the room file has, and what is printed in them."""
    colours = {material.id: material.colour.lower() for material in room.material}
    wrong: dict[tuple[str, str], list[str]] = defaultdict(list)
    for user, material, colour in (
        *((f"the material {one.id}", one.id, one.colour) for one in kit.materials),
        *((one.id, one.material, one.colour) for one in kit.pieces),
        *((one.id, one.material, one.colour) for one in kit.bedfuls),
    ):
        if colour.lower() != colours.get(material):
            wrong[material, colour].append(user)
    for (material, colour), users in sorted(wrong.items()):
        true = f"has {colours[material]} there" if material in colours else "is not there"
        text = f"By kit.json its colour is {colour}, by the room file it {true}: {names(users)}."
        yield Finding("material-otherwise", Severity.STOP, material, text, _REMEDY)
