"""Profiles of printers that no nozzle could print."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.survey.models import Printer

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.typed import Typed

NARROWEST = Fact(
    0.5, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="A narrower line breaks; 0.9 is what is laid reliably."
)
WIDEST = Fact(
    2.0, unit="nozzle", kind=Kind.COMMON_PRACTICE, source="A wider line than the nozzle's face is not pressed."
)


def profile_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every line width that does not go with its nozzle or its layer."""
    for path, printer in typed.tables("printer"):
        profile = printer.get("profile")
        width = _length(typed, profile.get("line_width")) if isinstance(profile, dict) else None
        nozzle, layer = (
            _length(typed, printer[key]) if key in printer else Printer.model_fields[key].default
            for key in ("nozzle", "layer")
        )
        if width is None or nozzle is None or layer is None:
            continue
        least, most = max(NARROWEST * nozzle, layer), WIDEST * nozzle
        if not least <= width <= most:
            yield typed.fault(
                (*path, "profile", "line_width"),
                allowed=f"a length from {least:g} to {most:g} mm, for a nozzle of {nozzle:g} and layers of {layer:g}",
                remedy="Delete it, so that it is solved from the walls, or check nozzle and layer.",
            )


def _length(typed: Typed, value: object) -> float | None:
    """A length in mm; nothing where it is none, which the models say."""
    room = typed.data.get("room")
    unit = room.get("units", "mm") if isinstance(room, dict) else "mm"
    try:
        return read_length(value, unit if unit in ("mm", "cm", "in") else "mm")
    except LengthError:
        return None
