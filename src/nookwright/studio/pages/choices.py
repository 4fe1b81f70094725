"""A list of buttons of which one is chosen, as the pages have it at their side."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nicegui import ui

from nookwright.studio.pages.frame import button, reword

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence


class _Row(NamedTuple):
    item: ui.element
    button: ui.element
    words: ui.html


class Choices:
    """The buttons that stay are the same elements, so that neither the focus nor a click under way is lost."""

    def __init__(self, pick: Callable[[str], object], mark: str) -> None:
        """An empty list.

        Args:
            pick: is handed the key of what was chosen.
            mark: name of the attribute that carries the key.
        """
        self._pick, self._mark = pick, mark
        self._list = ui.element("ul").classes("space-list")
        self._rows: dict[str, _Row] = {}
        self._chosen: str | None = None

    def show(self, rows: Sequence[tuple[str, str]], chosen: str | None) -> None:
        """Show other rows.

        Args:
            rows: key and words of each; no key twice.
            chosen: key of the one that is chosen; nothing where none is ever.
        """
        keys = [key for key, _ in rows]
        for gone in self._rows.keys() - set(keys):
            self._rows.pop(gone).item.delete()
        for key, words in rows:
            if key not in self._rows:
                self._rows[key] = self._made(key, words)
            row = self._rows[key]
            reword(row.words, words)
            pressed = None if chosen is None else "true" if key == chosen else "false"
            if row.button.props.get("aria-pressed") != pressed:
                row.button.props["aria-pressed"] = pressed
                row.button.update()
        if [key for key in self._rows if key in set(keys)] != keys:
            self._rows = {key: self._rows[key] for key in keys}
            for number, row in enumerate(self._rows.values()):
                row.item.move(target_index=number)
        self._list.set_visibility(bool(rows))
        if chosen in self._rows and chosen != self._chosen:  # which may lie beyond the edge of a long list
            self._rows[str(chosen)].button.run_method("scrollIntoView", {"block": "nearest"})
        self._chosen = chosen

    def _made(self, key: str, words: str) -> _Row:
        """One more row."""
        with self._list, ui.element("li") as item:
            made = button(words, lambda _: self._pick(key))
            made.props[self._mark] = key
        inside = made.default_slot.children[0]
        assert isinstance(inside, ui.html)  # noqa: S101 - as button makes it
        return _Row(item, made, inside)
