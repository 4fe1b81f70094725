"""What the numbers of a tray's options must be before anything is worked out from them: finite, and not negative."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.parts.refusals import refuse_part

if TYPE_CHECKING:
    from nookwright.parts.trays.tray_options import TrayOptions


def check_numbers(subject: str, options: TrayOptions, *, cells: tuple[int, int], height: float) -> None:
    """Refuse numbers that no part can have.

    Args:
        subject: the tray, in words.
        options: of the tray.
        cells: of its footprint, along x and y.
        height: outer height, mm.

    Raises:
        RecipeError: a count that is not whole or below one, a length that is negative or no number.
    """
    if not all(isinstance(count, int) and count > 0 for count in cells):
        refuse_part(
            subject, "a footprint is whole cells", found=cells, allowed="1 or more each way", remedy="Give whole cells."
        )
    for name, value in _numbers(options, height).items():
        if not (math.isfinite(value) and value >= 0):
            refuse_part(
                subject, f"{name} is a length or a share", found=value, allowed="0 or more", remedy="Give a number."
            )


def _numbers(options: TrayOptions, height: float) -> dict[str, float]:
    found = {
        "height": height,
        "inlay": options.inlay,
        "notch width": options.notch_width,
        "notch depth": options.notch_depth,
        "hole width": options.hole_width,
        "hole height": options.hole_height,
        "strip height": options.strip_height,
        "strip length": options.strip_length,
    }
    if options.low_side:
        found["share of a low side"] = options.low_side.share
    for number, entry in enumerate(options.dividers, start=1):
        found |= {f"card of dividers {number}": entry.card, f"drop of dividers {number}": entry.below_rim}
        found |= {f"position {n} of dividers {number}": at for n, at in enumerate(entry.at, start=1)}
        found[f"compartments of dividers {number}"] = entry.compartments
    return found
