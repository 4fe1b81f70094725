"""Beds that leave no place for a piece: places kept free that lie beside the bed, brims and skirts over its edge."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.survey.first_layer_wishes import SKIRT_DISTANCE, SKIRT_LINE, SKIRT_LOOPS
from nookwright.survey.models import Printer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.locate import Path
    from nookwright.survey.typed import Typed


def bed_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault of a printer's bed."""
    for path, printer in typed.tables("printer"):
        sizes = [_length(typed, printer.get(key)) for key in ("bed_width", "bed_depth", "bed_height")]
        zones = printer.get("keep_out")
        for index, zone in enumerate(zones if isinstance(zones, list) else ()):
            if isinstance(zone, dict):
                yield from _keep_out(typed, (*path, "keep_out", index), zone, sizes)
        yield from _brim(typed, path, printer)
        yield from _skirt(typed, path, printer)
        yield from _head(typed, path, printer, sizes[2])


def _keep_out(typed: Typed, path: Path, zone: dict[str, Any], sizes: list[float | None]) -> Iterator[Fault]:
    """A place that begins or ends beyond the printable area."""
    for start, length, key, bed in (("x", "width", "bed_width", sizes[0]), ("y", "depth", "bed_depth", sizes[1])):
        begin, size = _length(typed, zone.get(start)), _length(typed, zone.get(length))
        if begin is None or size is None or bed is None or begin + size <= bed:
            continue
        which, most = (start, bed) if begin >= bed else (length, bed - begin)
        yield typed.fault(
            (*path, which),
            allowed=f"up to {most:g} mm: {start} and {length} together within {key} ({bed:g} mm)",
            remedy="Measure from the front left corner of the printable area, or make the place smaller.",
        )


def _brim(typed: Typed, path: Path, printer: dict[str, Any]) -> Iterator[Fault]:
    """A brim that would reach over the edge of the bed."""
    profile = printer.get("profile")
    brim = _length(typed, profile.get("brim")) if isinstance(profile, dict) else None
    margin = _length(typed, printer.get("margin", Printer.model_fields["margin"].default))
    if brim is not None and margin is not None and brim > margin:
        yield typed.fault(
            (*path, "profile", "brim"),
            allowed=f"a length up to the margin of the bed, {margin:g} mm",
            remedy="Make the brim narrower, or the margin as wide as the brim.",
        )


def _skirt(typed: Typed, path: Path, printer: dict[str, Any]) -> Iterator[Fault]:
    """A skirt that would reach over the edge of the bed where pieces lie up to its margin."""
    profile = printer.get("profile")
    skirt = profile.get("skirt") if isinstance(profile, dict) else None
    if not isinstance(profile, dict) or not isinstance(skirt, dict):
        return
    brim, line = _length(typed, profile.get("brim", 0.0)), _length(typed, profile.get("line_width"))
    nozzle = _length(typed, printer.get("nozzle", Printer.model_fields["nozzle"].default))
    distance = _length(typed, skirt.get("distance", float(SKIRT_DISTANCE)))
    margin = _length(typed, printer.get("margin", Printer.model_fields["margin"].default))
    loops = skirt.get("loops", int(SKIRT_LOOPS))
    if brim is None or nozzle is None or distance is None or margin is None or not isinstance(loops, int):
        return
    wide = loops * (line or SKIRT_LINE * nozzle)
    if brim + distance + wide > margin:
        yield typed.fault(
            (*path, "profile", "skirt"),
            allowed=f"brim, distance and lines ({wide:g} mm) together up to the margin of the bed, {margin:g} mm",
            remedy="Have fewer lines, a smaller distance, or a wider margin.",
        )


def _head(typed: Typed, path: Path, printer: dict[str, Any], height: float | None) -> Iterator[Fault]:
    """A head that clears more than the printer is high."""
    head = printer.get("one_by_one")
    clears = _length(typed, head.get("height")) if isinstance(head, dict) else None
    if clears is not None and height is not None and clears > height:
        yield typed.fault(
            (*path, "one_by_one", "height"),
            allowed=f"a length up to bed_height, {height:g} mm",
            remedy="Measure from the tip of the nozzle up to the lowest thing that passes over the whole bed.",
        )


def _length(typed: Typed, value: object) -> float | None:
    """A length in mm; nothing where it is none, which the models say."""
    room = typed.data.get("room")
    unit = room.get("units", "mm") if isinstance(room, dict) else "mm"
    try:
        return read_length(value, unit if unit in ("mm", "cm", "in") else "mm")
    except LengthError:
        return None
