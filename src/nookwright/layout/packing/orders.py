"""Orders that are worth a first look: large before small, by several measures."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nookwright.layout.packing.found import Footprint, Order

# How large a footprint of a short and a long side is, first by area, long side, short side, girth; largest first.
_MEASURES: tuple[Callable[[int, int], tuple[int, int]], ...] = (
    lambda short, long: (-short * long, -long),
    lambda short, long: (-long, -short),
    lambda short, long: (-short, -long),
    lambda short, long: (-short - long, -long),
)


def first_orders(items: Sequence[Footprint]) -> list[Order]:
    """Orders worth a first look: large before small by several measures, lying wide or deep."""
    return [
        tuple(
            (number, (items[number].cols < items[number].rows) == wide)
            for number in sorted(range(len(items)), key=lambda one: (*measure(*sorted(items[one][:2])), one))
        )
        for measure in _MEASURES
        for wide in (True, False)
    ]
