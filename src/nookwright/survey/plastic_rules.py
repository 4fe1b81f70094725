"""Warmth that contradicts itself: a plastic that may be warmer than where it softens, a warm space that stays cool."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.ground.errors import Fault
    from nookwright.survey.typed import Typed

LEAST_WARM_C = Fact(
    30.0, unit="degC", kind=Kind.CHOICE, source="What gets no warmer than a room in summer is not called warm."
)


def plastic_contradictions(typed: Typed) -> Iterator[Fault]:
    """Every fault of temperatures in materials and spaces."""
    for path, material in typed.tables("material"):
        sheet = material.get("sheet")
        most, softens = (
            _number(sheet.get(key)) if isinstance(sheet, dict) else None for key in ("most_c", "softens_c")
        )
        if most is not None and softens is not None and most > softens:
            yield typed.fault(
                (*path, "sheet", "most_c"),
                allowed=f"at most softens_c, {softens:g}",
                remedy="Look at the data sheet again: nothing stays in shape for good above where it softens.",
            )
    for path, space in typed.tables("space"):
        warmest = _number(space.get("warmest_c"))
        if space.get("warm") is True and warmest is not None and warmest < LEAST_WARM_C:
            yield typed.fault(
                (*path, "warmest_c"),
                allowed=f"at least {LEAST_WARM_C:g} beside `warm = true`",
                remedy="Delete `warm`, or read a thermometer in it on the hottest day.",
            )


def _number(value: object) -> float | None:
    """A number; nothing where it is none, which the models say."""
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None
