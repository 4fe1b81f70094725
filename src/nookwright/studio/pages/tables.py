"""Tables and lists of facts, as every page draws them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.studio.pages.frame import text

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence


def table(label: str, head: Sequence[str], rows: Iterable[Sequence[str]], *, numbers: Iterable[int] = ()) -> None:
    """A table of texts.

    Args:
        label: what it is, for screen readers.
        head: over the columns.
        rows: the first cell of each names it.
        numbers: columns that are set to the right.
    """
    right = set(numbers)
    with scrolling(label), ui.element("table").classes("rows"):
        with ui.element("thead"), ui.element("tr"):
            for number, word in enumerate(head):
                text(word, "th", "n" if number in right else "").props('scope="col"')
        with ui.element("tbody"):
            for row in rows:
                with ui.element("tr"):
                    for number, word in enumerate(row):
                        classes = "n" if number in right else ""
                        text(word, "td" if number else "th", classes).props("" if number else 'scope="row"')


def scrolling(label: str) -> ui.element:
    """A box that scrolls sideways where what is in it is wider than the page.

    Args:
        label: what is in it, for screen readers.
    """
    return ui.element("div").classes("scroll").props(f'role="region" tabindex="0" aria-label="{label}"')


def facts(rows: Iterable[tuple[str, str]]) -> None:
    """Names and values in two columns."""
    with ui.element("dl").classes("facts"):
        for name, value in rows:
            with ui.element("div"):
                text(name, "dt")
                text(value, "dd", "num")
