"""Print cards: what a bedful is meant to be printed with, in words for the person who loads the printer.

The figures are the very record that the estimates rest on. A card stands beside its 3MF as a text, and in its metadata.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nookwright.ground.times import HOUR_MIN, MINUTE_S

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.making.beds.model import ColourChange, Load
    from nookwright.making.colours import Lettering
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.survey.models import Material, Printer

NOT_SCALED = "Print at 100 % in every axis, as it lies: sockets, cones and pockets are sized for this printer already."


@dataclass(frozen=True)
class PrintCard:
    """What one bedful is meant to be printed with.

    Attributes:
        title: of the bedful, with the room.
        load: what lies on the bed.
        printer, material: where and in what.
        settings: what it is printed with; ``None`` before anything is estimated.
        names: of the pieces, by their id.
        printers: names of all printers, by their id.
        lettering: in a second colour, if any.
    """

    title: str
    load: Load
    printer: Printer
    material: Material
    settings: PrintSettings | None
    names: Mapping[str, str]
    lettering: Lettering | None = None
    printers: Mapping[str, str] = field(default_factory=dict)

    def lines(self) -> tuple[str, ...]:
        """The card, line by line."""
        return tuple(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.title
        yield f"Printer: {self.printer.name or self.printer.id}, nozzle {self.printer.nozzle:g} mm"
        yield f"Material: {self.material.name or self.material.id} ({self.material.colour})"
        yield f"About {self.load.mass_g:.0f} g and {_hours(self.load.time_s)}, heating included"
        if self.settings:
            yield from _setting_lines(self.settings)
            yield _skirt_line(self.settings, skirt=self.load.skirt)
        yield from self._pad_lines()
        yield "Supports: none; every piece lies as it is printed"
        yield f"Scale: {NOT_SCALED}"
        if self.load.one_by_one:
            yield "Order: one piece after the other, in the order of the list; the last may be the highest"
        if self.load.also_on:
            yield "Also on: " + ", ".join(
                f"{self.printers[name]} ({_hours(time_s)})" for name, time_s in self.load.also_on
            )
        if not self.load.night:
            why = "something tall and thin on it could be knocked over"
            if self.load.change:
                why = "someone must change its filament on the way"
            yield f"Not at night: {why}"
        if self.lettering:
            yield _lettering_line(self.lettering, self.load.change)
        count = Counter(item.piece for item in self.load.items)
        yield "Pieces: " + ", ".join(f"{number} x {self.names[piece]}" for piece, number in count.items())

    def _pad_lines(self) -> Iterator[str]:
        """Which pieces have pads."""
        if self.load.pads:
            pieces = dict(self.load.pads)
            count = sum(item.piece in pieces for item in self.load.items)
            yield f"Pads: discs of one layer at the corners of {count} long pieces; tear them off after"

    def text(self) -> str:
        """The card as a file."""
        return "\n".join(self.lines()) + "\n"

    def in_one_line(self) -> str:
        """The card as metadata."""
        return "; ".join(self.lines()[1:])


def _hours(time_s: float) -> str:
    return f"{time_s / (HOUR_MIN * MINUTE_S):.1f} h"


def _skirt_line(settings: PrintSettings, *, skirt: bool) -> str:
    if not settings.skirt_loops:
        return "Skirt: none"
    if not skirt:
        return "Skirt: none here, there is no room for it"
    return f"Skirt: {settings.skirt_loops} lines round all pieces, {settings.brim + settings.skirt:g} mm away"


def _setting_lines(settings: PrintSettings) -> Iterator[str]:
    """What is set before slicing."""
    yield f"Layers: {settings.layer:g} mm, the first as high as the others"
    yield f"Line width: {settings.line_width:.3f} mm for everything; walls are whole lines of it"
    yield f"Walls: {settings.walls} lines"
    yield f"Skins: {settings.skin_below} solid layers below, {settings.skin_above} above"
    yield f"Infill: {settings.infill_share:.0%}, {settings.pattern.value}"
    yield f"Seam: {settings.seam.value}"
    yield f"Brim: {settings.brim:g} mm" if settings.brim else "Brim: none"


def _lettering_line(lettering: Lettering, change: ColourChange | None) -> str:
    name = lettering.material.name or lettering.material.id
    if lettering.layer is None:
        return (
            f"Lettering: its faces are marked as {name} for printers that change by themselves; "
            "by hand, leave it in the colour of the piece"
        )
    return (
        f"Colour change: to {name} before layer {lettering.layer} ({lettering.height:.2f} mm), "
        f"{f'about {_hours(change.after_s)} after the start, ' if change else ''}"
        f"{lettering.purge_g:.1f} g purged"
    )
