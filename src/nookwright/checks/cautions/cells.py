"""Cells: button and coin cells that a child could swallow, and lithium cells whose poles could meet metal."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from nookwright.checks.cautions.naming import named
from nookwright.checks.cautions.whereabouts import called
from nookwright.checks.cautions.words import caution

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.checks.cautions.whereabouts import Whereabouts
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Lot

_ROUND = ("CR", "BR", "LR", "SR", "PR")  # IEC 60086: lithium, alkaline, silver and zinc-air systems, round
_LITHIUM = re.compile(r"^(CR|BR|FR|ICR|INR|IFR|IMR|NCR)\d|^(10440|14500|16340|18350|18650|21700|26650)$")
_NINE_VOLT = frozenset({"6LR61", "6F22", "9V"})  # both poles on one face


def about_cells(where: Whereabouts) -> Iterator[Finding]:
    """Button cells within reach, each lot by itself; once that there are any; once that lithium cells lie loose.

    Args:
        where: the kit in its room.
    """
    placed = [(lot, places) for lot, places in where.lots() if places]
    buttons = [(lot, where.spaces_with(places)) for lot, places in placed if is_button_cell(lot)]
    for lot, spaces in buttons:
        reached = [space for space in spaces if where.reached(space)]
        if reached:
            text = f"These are button or coin cells and lie in {called(reached[0])}, which children can reach."
            yield caution("button-cell-in-reach", lot.id, text)
    if buttons:
        yield caution(
            "button-cells", "kit", f"There are button or coin cells: {named(called(lot) for lot, _ in buttons)}."
        )
    trays = {part.id for part in where.kit.parts if part.kind == "tray"}
    loose = [lot for lot, places in placed if _shorts(lot) and any(place.part in trays for place in places)]
    if loose:
        yield caution("cells-loose", "kit", f"Cells lie loose in trays: {named(called(lot) for lot in loose)}.")


def is_button_cell(lot: Lot) -> bool:
    """Whether things are cells by their designation (IEC 60086) and wider than high, as 16 CFR 1263 has it."""
    if not (lot.standard and lot.standard.upper().startswith(_ROUND) and lot.diameter and lot.height):
        return False
    return lot.diameter.largest > lot.height.largest


def _shorts(lot: Lot) -> bool:
    """Whether things are cells of lithium, or have both poles on one face."""
    name = (lot.standard or "").upper().replace(" ", "")
    return bool(_LITHIUM.match(name)) or name in _NINE_VOLT
