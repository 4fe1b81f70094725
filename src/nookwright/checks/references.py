"""Whether what kit.json names is there: every id once, every reference to something, every lot accounted for."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from nookwright.checks.in_words import called, some
from nookwright.ground.findings import Finding, Severity
from nookwright.sizing.lot_sizes import dimensions_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.survey.models import Room

_REMEDY = "This is a fault of the tool: please report it with the room file."


def dangling(kit: Kit, room: Room) -> tuple[Finding, ...]:
    """References to what is not there, and ids that are not the only ones of their kind.

    Args:
        kit: the kit.
        room: the room that it is for.
    """
    findings = [
        Finding("id-twice", Severity.STOP, name, f"{count} {what} have this id; each needs one of its own.", _REMEDY)
        for what, names in _ids(kit).items()
        for name, count in sorted(Counter(names).items())
        if count > 1
    ]
    known = {what: frozenset(names) for what, names in _ids(kit).items()}
    known |= {"room spaces": frozenset(space.id for space in room.space)}
    known |= {"room lots": frozenset(lot.id for lot in room.lot)}
    known |= {"room boxes": frozenset(box.id for box in room.box) | {""}}
    known |= {"room orders": frozenset(order.id for order in room.part)}
    known |= {"room dimensions": frozenset(f"{lot.id} {side}" for lot in room.lot for side in dimensions_of(lot))}
    for user, what, wanted in _references(kit):
        if wanted not in known[what]:
            text = f"It names {wanted!r}, which is not among the {what}."
            findings.append(Finding("reference-dangling", Severity.STOP, user, text, _REMEDY))
    for space in kit.spaces:
        if not space.usable:
            text = "kit.json does not say how wide and deep it is inside."
            findings.append(Finding("reference-dangling", Severity.STOP, space.id, text, _REMEDY))
    return tuple(findings)


def _ids(kit: Kit) -> dict[str, list[str]]:
    """All ids by what they name."""
    return {
        "spaces": [space.id for space in kit.spaces],
        "lots": [lot.id for lot in kit.lots],
        "parts": [part.id for part in kit.parts],
        "placements": [placement.id for placement in kit.placements],
        "pieces": [piece.id for piece in kit.pieces],
        "printers": [printer.id for printer in kit.printers],
        "materials": [material.id for material in kit.materials],
        "bedfuls": [bedful.id for bedful in kit.bedfuls],
        "sheets": [sheet.id for sheet in kit.sheets],
        "boxes": [box.id for box in kit.boxes],
        "trials": [trial.id for trial in kit.first.trials],
        "loads of trials": [load.id for load in kit.first.bedfuls],
    }


def _references(kit: Kit) -> Iterator[tuple[str, str, str]]:
    """Who names what: the user's id, what is named, and the name."""
    yield from ((space.id, "room spaces", space.id) for space in kit.spaces)
    yield from ((lot.id, "room lots", lot.id) for lot in kit.lots)
    for placement in kit.placements:
        yield placement.id, "parts", placement.part
        yield placement.id, "spaces", placement.space
        yield from ((placement.id, "placements", carrier) for carrier in placement.stands_on)
    for order in kit.orders:
        yield order.id, "parts", order.part
        yield order.id, "room orders", order.id
    yield from ((box.id, "room boxes", box.id) for box in kit.boxes)
    yield from _of_trials(kit)
    for sheet in kit.sheets:
        yield from ((sheet.id, "placements", placement) for placement in sheet.placements)
    for piece in kit.pieces:
        yield piece.id, "parts", piece.part
        yield piece.id, "materials", piece.material
    for bedful in kit.bedfuls:
        yield bedful.id, "printers", bedful.printer
        yield bedful.id, "materials", bedful.material
        yield from ((bedful.id, "pieces", item.piece) for item in bedful.items)
    for lot in kit.lots:
        yield from ((lot.id, "room dimensions", f"{lot.id} {size.dimension}") for size in lot.sizes)
        for place in lot.places:
            yield lot.id, "room boxes", place.box
            yield lot.id, "placements", place.placement
            yield lot.id, "parts", place.part
            yield from ((lot.id, "placements", other) for other in place.held_by)


def _of_trials(kit: Kit) -> Iterator[tuple[str, str, str]]:
    """The same of what is tried first, and of other printers that could print a bedful."""
    for load in kit.first.bedfuls:
        yield load.id, "printers", load.printer
        yield load.id, "materials", load.material
    for trial in kit.first.trials:
        yield from ((trial.id, "materials", piece.material) for piece in trial.pieces)
    for bedful in kit.bedfuls:
        yield from ((bedful.id, "printers", other.printer) for other in bedful.also_on)
        if bedful.change:
            yield bedful.id, "materials", bedful.change.material
    for printer in kit.printers:
        yield from ((printer.id, "materials", errors.material) for errors in printer.errors)
    yield from ((step.file, "parts", step.part) for step in kit.steps)


def uncounted(kit: Kit, room: Room) -> Iterable[Finding]:
    """Lots whose things are not all placed although no finding says so.

    Args:
        kit: the kit, with the findings of the stages before.
        room: the room, which says how many things there are.
    """
    excused = {finding.subject for finding in kit.findings}
    placed = {lot.id: lot for lot in kit.lots}
    part_of = {placement.id: placement.part for placement in kit.placements}
    labels = {placement.id: called(placement) for placement in kit.placements}
    for lot in room.lot:
        places = placed[lot.id].places if lot.id in placed else ()
        count = sum(place.count for place in places)
        said = placed[lot.id].count if lot.id in placed else lot.count
        if said != lot.count:
            text = f"By kit.json there are {said} of it; the room file says {lot.count}."
            yield Finding("lot-count", Severity.STOP, lot.id, text, _REMEDY)
        if count > lot.count or (count < lot.count and lot.id not in excused):
            text = f"Of its {some(lot.count, 'thing')} {count or 'none'} lie in a place, and nothing says why."
            yield Finding("lot-count", Severity.STOP, lot.id, text, _REMEDY)
        for place in places:
            held = sum(place.held) if place.held else len(place.at)
            if held != place.count or (place.held and len(place.held) != len(place.at)):
                text = f"{labels[place.placement]} should hold {some(place.count, 'thing')} but has places for {held}."
                yield Finding("lot-count", Severity.STOP, lot.id, text, _REMEDY)
            if part_of[place.placement] != place.part:
                text = f"{labels[place.placement]} is {part_of[place.placement]}, not {place.part} as its place says."
                yield Finding("reference-dangling", Severity.STOP, lot.id, text, _REMEDY)
