"""Whether the inside that a kit reckons with is less than what was read, at every height and under all it passes.

How much less is a matter of statistics, which stand elsewhere; that no outline is wider than a reading is not.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from nookwright.checks.in_words import unlike
from nookwright.ground.findings import Finding, Severity
from nookwright.ground.tolerances import GRID

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from nookwright.exchange.kit import KitSpace
    from nookwright.survey.models import Space

_REMEDY = "This is a fault of the tool: please report it with the room file."


def check_usable(spaces: Iterable[KitSpace], surveyed: Iterable[Space]) -> tuple[Finding, ...]:
    """Spaces of a kit that are larger than what was read of them.

    Args:
        spaces: of the kit, as written.
        surveyed: the same spaces, as surveyed.
    """
    read = {space.id: space for space in surveyed}
    return tuple(
        Finding("space-too-large", Severity.STOP, space.id, text, _REMEDY)
        for space in spaces
        for text in _too_large(space, read[space.id])
    )


def _too_large(space: KitSpace, read: Space) -> Iterator[str]:
    """What is larger than it was read, in words."""
    heights = [at.z for at in space.usable]
    rim = read.height.smallest
    for name, sides, usable in (
        ("width", read.width, [at.width for at in space.usable]),
        ("depth", read.depth, [at.depth for at in space.usable]),
    ):
        for z, readings in sides.levels(rim):
            found = float(np.interp(z - read.mat, heights, usable))
            if found > min(readings) + GRID:
                said, least = unlike(found, min(readings))
                yield f"At a height of {z:g} mm its {name} is reckoned as {said} mm, but {least} mm was read there."
    lowest = min((rim, *(one.height.smallest for one in read.passes_under))) - read.mat
    if max(space.height, heights[-1]) > lowest + GRID:
        said, least = unlike(max(space.height, heights[-1]), lowest)
        yield f"Its clear height is reckoned as {said} mm, but only {least} mm are clear by what was read."
