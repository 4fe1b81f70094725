"""Whether kit.json tells rightly how the printers err, and which module the household has.

Sizes and seats stand on both. Errors are worked out once more from the coupons of the room file; the module must be the
one that parts are made in. What this does not know: how other modules would have done; those are figures to compare.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.record.claims import WRITTEN, Wrong, figure, said_once, words
from nookwright.ground.findings import Severity
from nookwright.ground.tolerances import MESH
from nookwright.sizing.printers.errors import ERRORS
from nookwright.sizing.printers.household import household_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room


def check_household(kit: Kit, room: Room) -> Iterator[Finding]:
    """What is said otherwise of printers and of the module.

    Args:
        kit: the kit, its references sound.
        room: with coupons, and the module where it is decided.
    """
    yield from said_once("printer-errors-otherwise", Severity.STOP, _errors(kit, room))
    yield from said_once("module-otherwise", Severity.STOP, _module(kit, room))


def _errors(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Errors of printers, material by material."""
    household = household_of(room)
    for printer in kit.printers:
        known = {one.material: one for one in household.known if one.printer == printer.id}
        said = tuple(one.material for one in printer.errors)
        yield from words(printer.id, "Materials in which its errors are told", said, tuple(known))
        for one in printer.errors:
            if one.material not in known:
                continue
            true = known[one.material]
            what = f"In {one.material}"
            yield from words(printer.id, f"{what} they are known from", one.basis, true.basis.value)
            named = tuple(error.name for error in one.components)
            yield from words(printer.id, f"{what} it errs in", named, tuple(error.value for error in ERRORS))
            for component, error in zip(one.components, ERRORS, strict=False):
                value, doubt = true.errors.value(error), true.errors.uncertainty(error)
                yield from figure(printer.id, f"{what} its {error.value} errs by", component.value, value, off=WRITTEN)
                yield from figure(
                    printer.id, f"{what} its {error.value} is in doubt by", component.uncertainty, doubt, off=WRITTEN
                )


def _module(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Pitch and rise: as decided, as judged, and as trays are high."""
    module = kit.module
    for what, said, read in (("pitch", module.pitch, room.module.pitch), ("rise", module.rise, room.module.rise)):
        if read is not None:
            yield from figure("module", f"The {what}", said, read, unit="mm")
    for what, rows in (("pitches", module.pitches), ("rises", module.rises)):
        key = what.removesuffix("s") if what == "rises" else "pitch"
        judged = [getattr(one, key) for one in rows]
        if rows and not any(abs(one - getattr(module, key)) < MESH for one in judged):
            yield Wrong(
                "module", f"Its {key} is {getattr(module, key):g} mm by kit.json, and was not among those judged."
            )
        if len(set(judged)) < len(judged):
            yield Wrong("module", f"One of the {what} was judged twice.")
    if any(place.height is not None for place in room.place):
        return  # heights that were asked for are in whole layers, not in rises
    placed = {one.part for one in kit.placements}  # those to order are as high as they are ordered
    trays = [part for part in kit.parts if part.kind == "tray" and part.id in placed]
    odd = [part for part in trays if abs(part.size[2] - round(part.size[2] / module.rise) * module.rise) > MESH]
    if len(odd) * 2 > len(trays):  # a single one may be cut to another height on purpose
        text = f"{odd[0].name} is {odd[0].size[2]:g} mm high, which is no whole number of rises of {module.rise:g} mm."
        yield Wrong("module", text)
