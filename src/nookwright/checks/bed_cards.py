"""Whether the print card of a bedful says what kit.json says, and kit.json what the room file says of the printer.

A card is read as a person reads it: line by line, each with its word before the colon. The metadata of the 3MF must be
the same card. What is set wrongly before printing spoils the fit of every seat, so that is a reason to stop; hours and
grams that differ are one to think first. How the figures were worked out is not looked at here.
"""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from nookwright.ground.findings import Against, Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import HOUR_MIN, MINUTE_S
from nookwright.module.lines import WALL, lines_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from nookwright.checks.boxes import Floats
    from nookwright.exchange.kit import Bedful, Kit
    from nookwright.exchange.printing_models import BedSettings
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.survey.models import Printer, Room

HALF_G = Fact(0.51, unit="g", kind=Kind.CALCULATED, source="A card says whole grams; half of one, and rounding.")
HALF_TENTH_H = Fact(0.051, unit="h", kind=Kind.CALCULATED, source="A card says tenths of an hour; the same.")
LINE = Fact(0.0006, unit="mm", kind=Kind.CALCULATED, source="A card says thousandths of a line's width; the same.")
_ABOUT = re.compile(r"About ([0-9.]+) g and ([0-9.]+) h, heating included")
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_REMEDY = "Build the kit again; do not change its files by hand, and do not print by this card."


def check_card(folder: Path, bedful: Bedful, kit: Kit, content: ThreeMF, room: Room) -> Iterator[Finding]:
    """Read the card of a bedful and compare it; nothing where it has none.

    Args:
        folder: of the kit.
        bedful: whose card it is.
        kit: with its pieces and materials.
        content: of its 3MF, which has the card too.
        room: with the printers and how they print.
    """
    if not bedful.card:
        return
    try:
        lines = (folder / bedful.card).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        yield Finding("card-unreadable", Severity.STOP, bedful.id, f"{bedful.card} cannot be read.", _REMEDY)
        return
    said = dict(line.split(": ", 1) for line in lines[1:] if ": " in line)
    if bedful.settings is not None:
        yield from _figures(bedful, lines)
    for text in (
        *_metadata(lines, content),
        *_what(bedful, kit, content, said, room),
        *(_settings(bedful.settings, said) if bedful.settings else ()),
        *_profile(bedful, room),
        *_change(bedful, kit, content, said),
    ):
        yield Finding("card-differs", Severity.STOP, bedful.id, text, _REMEDY)


def _figures(bedful: Bedful, lines: list[str]) -> Iterator[Finding]:
    """Grams and hours that are not those of kit.json."""
    found = next((match for line in lines if (match := _ABOUT.fullmatch(line))), None)
    if found is None:
        text = "Its card says neither grams nor hours."
        yield Finding("card-figures", Severity.WARN, bedful.id, text, _REMEDY)
        return
    hours = bedful.time_s / (HOUR_MIN * MINUTE_S)
    figures = (("g", float(found[1]), bedful.mass_g, HALF_G), ("h", float(found[2]), hours, HALF_TENTH_H))
    for unit, says, known, within in figures:
        if abs(says - known) > within:
            text = f"Its card says {says:g} {unit}, kit.json {known:.1f} {unit}."
            yield Finding("card-figures", Severity.WARN, bedful.id, text, _REMEDY, against=Against(says, known, unit))


def _metadata(lines: list[str], content: ThreeMF) -> Iterator[str]:
    """A card that is another one in the 3MF."""
    metadata = dict(content.metadata)
    if metadata.get("Title") != lines[0] or metadata.get("Description") != "; ".join(lines[1:]):
        yield "The card in its 3MF is not the one in its text file."


def _what(bedful: Bedful, kit: Kit, content: ThreeMF, said: Mapping[str, str], room: Room) -> Iterator[str]:
    """Another printer, another material, other pieces."""
    printer = next(one for one in room.printer if one.id == bedful.printer)
    material = next(one for one in kit.materials if one.id == bedful.material)
    names = {body.part_number: body.name for body in content.bodies}
    count = Counter(item.piece for item in bedful.items)
    wanted = {
        "Printer": f"{printer.name or printer.id}, nozzle {printer.nozzle:g} mm",
        "Material": f"{material.name} ({bedful.colour})",
        "Pieces": ", ".join(f"{number} x {names.get(piece, piece)}" for piece, number in count.items()),
    }
    for key, text in wanted.items():
        if said.get(key) != text:
            yield f'Its card says {key.lower()} "{said.get(key, "")}"; it should be "{text}".'
    if not said.get("Scale", "").startswith("Print at 100 %"):
        yield "Its card does not say that it must not be scaled."
    has = "Pads" in said
    if has != bool(bedful.pads):
        yield f"Its card says {'something' if has else 'nothing'} of pads; kit.json has {len(bedful.pads)} with pads."


def _settings(settings: BedSettings, said: Mapping[str, str]) -> Iterator[str]:
    """Figures of the card that are not those of kit.json."""
    skirt = (settings.skirt_loops, settings.brim + settings.skirt) if settings.skirt_loops else ()
    wanted: dict[str, tuple[tuple[float, ...], str]] = {
        "Layers": ((settings.layer,), ""),
        "Line width": ((settings.line_width,), ""),
        "Walls": ((settings.walls,), ""),
        "Skins": ((settings.skin_below, settings.skin_above), ""),
        "Infill": ((settings.infill_percent,), settings.infill),
        "Seam": ((), settings.seam),
        "Brim": ((settings.brim,) if settings.brim else (), ""),
        "Skirt": (skirt, ""),
    }
    for key, (figures, word) in wanted.items():
        text = said.get(key, "")
        found = tuple(float(one) for one in _NUMBER.findall(text))
        within = 1 / 2 if key == "Infill" else float(LINE)
        same = len(found) == len(figures) and all(
            abs(one - other) <= within for one, other in zip(found, figures, strict=True)
        )
        if not text or not same or word not in text:
            known = " ".join([*(f"{one:g}" for one in figures), *([word] if word else [])]) or "none"
            yield f'Its card says {key.lower()} "{text}"; kit.json says {known}.'


def _profile(bedful: Bedful, room: Room) -> Iterator[str]:
    """Settings of kit.json that are not those of the printer in the room file."""
    settings = bedful.settings
    if settings is None:
        return
    printer = next(one for one in room.printer if one.id == bedful.printer)
    profile = printer.profile
    pairs: dict[str, tuple[object, object]] = {
        "nozzle": (settings.nozzle, printer.nozzle),
        "layer": (settings.layer, printer.layer),
        "walls": (settings.walls, profile.walls),
        "skin_below": (settings.skin_below, profile.skin_below),
        "skin_above": (settings.skin_above, profile.skin_above),
        "infill": (settings.infill, profile.infill.value),
        "infill_percent": (round(settings.infill_percent, 3), round(profile.infill_percent, 3)),
        "seam": (settings.seam, profile.seam.value),
        "brim": (settings.brim, profile.brim),
    }
    line = _line(printer)
    if line is not None and abs(settings.line_width - line) > LINE:
        pairs["line_width"] = settings.line_width, line
    if settings.skirt_loops and profile.skirt:
        pairs["skirt"] = (settings.skirt_loops, settings.skirt), (profile.skirt.loops, profile.skirt.distance)
    elif settings.skirt_loops:
        pairs["skirt"] = settings.skirt_loops, 0
    for key, (known, wanted) in pairs.items():
        if known != wanted:
            yield f"kit.json says {key} {known}; the room file says {wanted} for {printer.id}."


def _change(bedful: Bedful, kit: Kit, content: ThreeMF, said: Mapping[str, str]) -> Iterator[str]:
    """A change of filament that is not the one of kit.json, or not where the faces of its colour begin in the 3MF."""
    change, text = bedful.change, said.get("Colour change", "")
    if change is None:
        if text:
            yield f'Its card says "Colour change: {text}"; kit.json has none.'
        return
    name = next((one.name for one in kit.materials if one.id == change.material), change.material)
    if not text.startswith(f"to {name} before layer {change.layer} ({change.height:.2f} mm)"):
        yield f'Its card says "Colour change: {text}"; kit.json says to {name} before layer {change.layer}.'
    painted, plain = _heights(content)
    if not painted.size:
        yield "The filament changes, but in its 3MF nothing has a second colour."
        return
    low, high = painted.min(), plain.max() if plain.size else 0.0
    layer = bedful.settings.layer if bedful.settings else change.height / max(1, change.layer - 1)
    begins = (change.layer - 1) * layer
    if abs(begins - change.height) > layer / 2 or abs(low - begins) > layer / 2 or high > begins + layer / 2:
        yield (
            f"The filament changes at {begins:.2f} mm; in its 3MF the second colour begins at {low:.2f}, "
            f"and the first ends at {high:.2f}."
        )


def _heights(content: ThreeMF) -> tuple[Floats, Floats]:
    """Heights of all faces of a second colour, and of all others."""
    painted, plain = [np.zeros(0)], [np.zeros(0)]
    for body in content.bodies:
        second = np.zeros(len(body.triangles), np.bool_)
        for paint in body.paint:
            second[paint.first : paint.first + paint.count] = True
        heights = body.vertices[:, 2][body.triangles]
        painted.append(heights[second].ravel())
        plain.append(heights[~second].ravel())
    return np.concatenate(painted), np.concatenate(plain)


def _line(printer: Printer) -> float | None:
    """Width of a printer's lines by the room file; nothing where none makes whole walls of it."""
    lines = lines_of(WALL, printer.nozzle, printer.layer)
    width = printer.profile.line_width or (lines.width if lines else None)
    return None if width is None else max(width, printer.layer)
