"""What stands beside the plan: the chosen part, what the layout costs, what has no place.

Promise: what is the same is not drawn anew, so that a drop costs no more than what it changes, and neither the focus
nor a list that somebody has open is lost.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.studio.pages.cost_words import grouped
from nookwright.studio.pages.elements import PickList
from nookwright.studio.pages.frame import button, reword, text

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from nookwright.exchange.layout_models import KitLayout
    from nookwright.studio.arrangement import Arrangement
    from nookwright.studio.pages.cost_words import Words
    from nookwright.studio.sheets import Item, Left, Sheets


class Panel:
    """A part of a page that is drawn anew only when it shows something else."""

    def __init__(self, classes: str = "panel stack") -> None:
        """An empty one."""
        self._box = ui.element("div").classes(classes)
        self._shown: Hashable = None

    def show(self, what: Hashable, draw: Callable[[], None]) -> None:
        """Show something.

        Args:
            what: all that is shown.
            draw: makes its elements.
        """
        if what != self._shown:
            self._shown = what
            self._box.clear()
            with self._box:
                draw()


class Choice:
    """A labelled list of which one is taken; the same element however often its rows change."""

    def __init__(self, label: str, pick: Callable[[str], object], mark: str) -> None:
        """An empty list.

        Args:
            label: for people.
            pick: is handed the key of a choice; it may be forged.
            mark: value of ``data-do``.
        """
        with ui.element("label").classes("row"):
            text(label)
            self._list = PickList(pick)
            self._list.props["data-do"] = mark

    def show(self, rows: tuple[tuple[str, str], ...], chosen: str) -> None:
        """Show other rows.

        Args:
            rows: key and words of each.
            chosen: key of the one that holds now.
        """
        self._list.show(rows, chosen)

    def reset(self) -> None:
        """Show what holds, whatever was chosen in it."""
        self._list.reset()


class PartPanel:
    """The part that is chosen, with what can be done with it."""

    def __init__(self, do: Callable[[str], object], to: Callable[[str], object], swap: Callable[[str], object]) -> None:
        """One without a part.

        Args:
            do: is handed ``turn`` or ``stay``.
            to: is handed the id of another space.
            swap: is handed the id of another part.
        """
        with ui.element("div").classes("panel stack"):
            text("The part", "h3")
            with ui.element("div").classes("stack") as self._help:
                text("Choose a part in the plan. Arrows move it, with Shift they resize it.", "p")
                text("T turns it, S lets it stay. With Alt, arrows go to the next part.", "p")
            with ui.element("div").classes("stack") as self._all:
                self._name = text("", "p").props("data-part")
                self._size = text("", "p", "num")
                with ui.element("div").classes("stack") as self._hand:
                    with ui.element("div").classes("row"):
                        button("Turn", lambda: do("turn"), data_do="turn")
                        self._stay = button("Let it stay", lambda: do("stay"), data_do="stay")
                    self.to = Choice("Move to", to, "to")
                    self.swap = Choice("Swap with", swap, "swap")

    def show(self, now: Arrangement, picked: str) -> None:
        """Show a part.

        Args:
            now: what stands where.
            picked: id of the part; of none, where it is no more.
        """
        item = next((one for one in now.items if one.id == picked), None)
        _visible(self._help, item is None)
        _visible(self._all, item is not None)
        if item is None:
            return
        free = bool(item.lot) and not item.level
        reword(self._name, item.name)
        reword(self._size, measures(item, now.sheets))
        _visible(self._hand, free)
        if free:
            words = self._stay.default_slot.children[0]
            assert isinstance(words, ui.html)  # noqa: S101 - as button makes it
            reword(words, "Need not stay" if item.stays else "Let it stay")
            self.to.show(tuple((one.id, one.name) for one in now.sheets.spaces), item.space)
            others = sorted(one for one in _named(now) if one[1] != item.id)
            self.swap.show((("", "choose a part"), *((key, name) for name, key in others)), "")


def _named(now: Arrangement) -> list[tuple[str, str]]:
    """Names and ids of what can be swapped."""
    return [(one.name, one.id) for one in now.items if one.lot and not one.level]


def _visible(element: ui.element, visible: bool) -> None:  # noqa: FBT001 - as the toolkit's own
    if element.visible != visible:
        element.set_visibility(visible)


def draw_costs(sheets: Sheets) -> None:
    """What the layout costs: a line for each group, which unfolds.

    Args:
        sheets: planned.
    """
    text("What the layout costs", "h3")
    text(f"{sheets.total:.1f} points", "p", "num total").props("data-total")
    text("Figures for comparing two layouts of the whole room: the fewer points, the better.", "p", "help")
    text(
        f"{sheets.counted:.1f} of them are for what goes where: spaces in use, floor taken, reaching, company apart. "
        f"For these it is proven that no layout of this room can have fewer than {sheets.bound:.1f}.",
        "p",
        "help",
    ).props("data-bound")
    for name, rows in grouped(sheets.cost).items():
        with ui.element("details").classes("costs"):
            with ui.element("summary"):
                text(name)
                text(f"{sum(value for _, value in rows):.1f}", "span", "num")
            with ui.element("table").classes("rows"), ui.element("tbody"):
                for words, value in rows:
                    _row(words, value)


def _row(words: Words, value: float) -> None:
    with ui.element("tr"):
        with ui.element("th").props('scope="row"'):
            text(words.title)
            if words.about:
                text(words.about, "p", "help")
        text(f"{value:.1f}", "td", "n")


class StylePanel:
    """Whether the layout is calm or the tightest, with the price of calm."""

    def __init__(self, take: Callable[[str], object]) -> None:
        """One that knows nothing yet.

        Args:
            take: is handed the style that is wished.
        """
        self._take = take
        with ui.element("div").classes("panel stack"):
            text("Calm or tightest", "h3")
            self._price = text("", "p").props("data-style")
            self._other = Panel("row")

    def show(self, layout: KitLayout) -> None:
        """Show what holds, and offer the other.

        Args:
            layout: of the last plan.
        """
        reword(self._price, f"This is the {layout.style} layout. Calm stands in rows that read, and {_price(layout)}.")
        other = "tightest" if layout.style == "calm" else "calm"
        words = f"Take the {other} one"

        def draw() -> None:
            button(words, lambda: self._take(other), data_do="style")

        self._other.show(other, draw)


def _price(layout: KitLayout) -> str:
    """What calm takes against the tightest, in words."""
    parts = [
        f"{abs(value):{form}} {unit} {'more' if value > 0 else 'less'} {what}"
        for value, form, unit, what in (
            (layout.calm_dm2, ".1f", "dm\u00b2", "floor"),
            (layout.calm_g, ".0f", "g", "plastic"),
        )
        if float(f"{value:{form}}")
    ]
    return f"takes {' and '.join(parts)} than the tightest" if parts else "costs nothing here"


def draw_offer(now: Arrangement, offered: Sheets | None, *, running: bool, **do: Callable[..., object]) -> None:
    """What the tool could do better, and whether to take it.

    Args:
        now: what stands where.
        offered: by the tool.
        running: whether it is looking.
        do: ``improve``, ``take`` and ``leave``.
    """
    if offered is None:
        text("What may move (without a cross) can be placed anew round what stays.", "p")
        made = button("Improve the rest", do["improve"], data_do="improve")
        made.props["disabled"] = running
        if running:
            text("A better layout is being looked for.", "p", "words")
        return
    gain = now.sheets.total - offered.total
    then = {one.lot: one for one in offered.items}
    pairs = [(one, then[one.lot]) for one in now.items if one.lot in then]
    moved = sum((one.space, one.col, one.row) != (two.space, two.col, two.row) for one, two in pairs if one.lot)
    text(
        f"It would cost {offered.total:.1f} points instead of {now.sheets.total:.1f}: {abs(gain):.1f} "
        f"{'less' if gain > 0 else 'more'}, with {moved} parts in other places.",
        "p",
        "good" if gain > 0 else "warn",
    ).props("data-offer")
    with ui.element("div").classes("row"):
        button("Take it", do["take"], main=gain > 0, data_do="take")
        button("Leave it", do["leave"], data_do="leave")


def draw_left(left: tuple[Left, ...], place: Callable[[str], object]) -> None:
    """What has no place, and why.

    Args:
        left: all that.
        place: is handed the id of a lot that shall go here.
    """
    if not left:
        return
    with ui.element("div").classes("panel stack"):
        text("Not placed", "h3")
        for out in left:
            text(f"{out.name}: {out.reason} {out.remedy}", "p", "words warn").props["data-left"] = out.lot
            button(f"Put {out.name} here", lambda _, lot=out.lot: place(lot), data_place=out.lot)


def measures(item: Item, sheets: Sheets) -> str:
    """What a part is, in millimetres."""
    wide, deep = (cells * sheets.pitch - sheets.gap for cells in (item.cols, item.rows))
    size = f"{item.kind}, {wide:.1f} x {deep:.1f} mm, {item.height:.0f} high"
    return f"{size}; with its things {item.tall:.0f} mm" if item.tall > item.height else size
