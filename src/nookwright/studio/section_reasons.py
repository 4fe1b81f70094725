"""Why a dimension of a part cannot be typed, and what to do instead: sentences for people.

What it does not know: which dimension has which reason; ``section_dimensions`` says that.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Mapping

WHY: Final[Mapping[str, str]] = {
    "panel": "Its size follows from the space and the module.",
    "filler": "It takes up what is left beside the cells of its space.",
    "key": "It holds two panels edge to edge.",
    "lid": "It goes with its tray.",
    "divider": "It goes into the slots of its tray.",
    "name strip": "It slides into the front of its tray.",
    "rest": "It comes in pairs, tied by dowels, as high and wide as what lies in it asks for.",
}
FOLLOWS: Final = "It follows from the space, the module and what stands there."
HEIGHT_OF_THINGS: Final = "Its height follows from its things: type what they measure."
STANDING: Final = "Things stand on the sockets below them, and on the loose sheet where there is one."
PUBLISHED: Final = (
    "This is a published size. In its form of the survey, name another one, or empty that field, choose a shape and "
    "type what you measured."
)
POCKET: Final = (
    "It follows from what was measured, from the printer and from the clearance; the table below adds it up. Type what "
    "was measured; or, where a print came out tight or loose, say so in the room file with [[found]]."
)
APART: Final = "Pockets stand as close as they go, or spread over the part: type another width or depth of the part."
GRIP: Final = "All grips are cut so deep; which grip it has is chosen below the drawing."
IN_REST: Final = "It follows from what lies in it: type what that measures."
MODULE: Final = "All cells of the household are of this size; the page Module shows others, with what each costs."
SEAT: Final = "All liners are of this thickness, so that parts stand equally high everywhere."
ORDERED: Final = "It follows from the sizes that its order says: type those."
GOES_WITH: Final = "It goes with the part that was ordered: type the sizes of that one."
WAITS: Final = "Something in the room file is wrong, or the order is not in it any more: the page Survey says what."
