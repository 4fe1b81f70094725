"""What a layout costs, in the words of who lives with it: names, what each is, and which belong to one another.

The layout counts in points: figures for comparing two layouts, of which the lower is the better one. What it does not
know: how they are counted; ``docs/layout.md`` says that.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

    from nookwright.studio.sheets import Cost


class Words(NamedTuple):
    """One part of the cost.

    Attributes:
        title: for people.
        about: what it is, in a line.
    """

    title: str
    about: str


GROUPS: Final[dict[str, dict[str, Words]]] = {
    "Floor and plastic": {
        "open": Words("Spaces in use", "each one needs a liner"),
        "footprint": Words("Floor taken", "more than the handiest way to keep each lot would take"),
        "grown": Words("Trays larger than needed", "grown so that rows line up"),
        "crumbs": Words("Free floor in scraps", "too small for the next purchase"),
        "stacks": Words("Trays on trays", "one is lifted off to get at the other"),
    },
    "For the hand": {
        "reach": Words("Reaching", "stooping and stretching for what is used often"),
        "handy": Words("Often used, but at the back", "within its space"),
        "one hand": Words("No room for a hand", "trays between higher ones"),
        "far": Words("Heavy things at the back", "lifted at arm's length"),
        "backed": Words("Tall, with nothing behind", "may tip when the drawer is shut"),
    },
    "For finding things": {
        "split": Words("Company in another space", "things that should be near each other"),
        "beside": Words("Company not side by side", "in one space, but apart"),
        "alike": Words("Groups scattered", "things of one group that do not lie together"),
        "order": Words("Out of your order", "as the room file gives it"),
        "rows": Words("Many rows", "the fewer, the easier a drawer reads"),
        "widths": Words("Many widths", "along the rows of a space"),
        "edges": Words("Edges that do not line up", "from row to row"),
        "rims": Words("Rims of different height", "within a row"),
        "sizes": Words("Many sizes of tray", "the fewer, the more of them can change places"),
    },
}
_OTHER: Final = "Besides"


def grouped(cost: Iterable[Cost]) -> dict[str, list[tuple[Words, float]]]:
    """The parts of a cost that are not nought, by group, the dearest first.

    Args:
        cost: of a layout.
    """
    found: dict[str, list[tuple[Words, float]]] = {name: [] for name in (*GROUPS, _OTHER)}
    for one in cost:
        if one.value:
            group, words = _words(one.name)
            found[group].append((words, one.value))
    return {name: sorted(rows, key=lambda row: -row[1]) for name, rows in found.items() if rows}


def _words(name: str) -> tuple[str, Words]:
    """The group and the words of a part; as the layout calls it where none are known."""
    for group, parts in GROUPS.items():
        if name in parts:
            return group, parts[name]
    return _OTHER, Words(name.capitalize(), "")
