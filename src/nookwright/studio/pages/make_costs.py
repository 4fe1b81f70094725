"""What a kit costs: grams, hours, spools, price, and what could be left out with what that gives up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.documents import words
from nookwright.documents.printing_view import printing_view
from nookwright.studio.pages.frame import button, text
from nookwright.studio.pages.tables import facts, scrolling, table

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.exchange.kit import Kit
    from nookwright.exchange.layout_models import KitSaving


def draw_costs(kit: Kit, leave_out: Callable[[KitSaving], object], *, may: bool) -> None:
    """The sums, by space, by material, what is paid for, what could be left out.

    Args:
        kit: planned or built.
        leave_out: is handed what shall be left out.
        may: whether anything can be left out now.
    """
    totals = kit.totals
    text("What it costs", "h2")
    facts([
        ("Prints", words.grams(totals.mass_g)),
        ("Printing time", words.duration(totals.time_s)),
        ("For each dm\u00b2 of floor", f"{totals.g_per_dm2:.1f} g"),
        ("Filament", f"{totals.price:.2f}" if totals.price else "no price given"),
        ("Pieces", str(totals.pieces)),
        ("Bedfuls", str(totals.bedfuls)),
    ])  # fmt: skip
    if kit.first.bedfuls:
        words_ = "What is printed for trials is not counted here; it is in the schedule, and in what is paid for."
        text(words_, "p", "help").props("data-without-trials")
    with ui.element("div").classes("pair"):
        _spaces(kit)
        _materials(kit)
    _paid(kit)
    _savings(kit, leave_out, may=may)


def _spaces(kit: Kit) -> None:
    ready = dict(printing_view(kit).ready) if kit.printing.slots else {}
    rows = [
        (one.name, words.grams(one.mass_g), words.duration(one.time_s), ready.get(one.name, ""))
        for one in kit.spaces
        if one.mass_g
    ]
    head = ("Space", "Prints", "Time", "Complete")
    table("By space", head if ready else head[:3], [row if ready else row[:3] for row in rows], numbers=(1, 2))


def _materials(kit: Kit) -> None:
    """How much of each material, on how many spools, and what of it must be bought by when."""
    buys = {one.material: (one, by) for one, by in printing_view(kit).purchases} if kit.printing.slots else {}
    rows = []
    for one in kit.materials:
        buy, by = buys.get(one.id, (None, ""))
        spare = f", {buy.spare} of them to spare" if buy is not None and buy.spare else ""
        bought = f"{buy.spools} by {by.removeprefix('on ')}{spare}" if buy is not None else ""
        price = f"{one.price:.2f}" if one.price else "not given"
        rows.append((one.name, words.grams(one.mass_g), str(one.spools), price, bought))
    head = ("Material", "Mass", "Spools", "Price", "To buy")
    width = len(head) if buys else len(head) - 1
    table("Material needed", head[:width], [row[:width] for row in rows], numbers=(1, 2, 3))


def _paid(kit: Kit) -> None:
    """What is paid for, line by line, where that is more than filament."""
    paid = printing_view(kit).costs if kit.printing.slots else ()
    if len(paid) > 1:
        table(
            "What is paid for",
            ("What is paid for", "Price"),
            [(name, f"{price:.2f}") for name, price in paid],
            numbers=(1,),
        )


def _savings(kit: Kit, leave_out: Callable[[KitSaving], object], *, may: bool) -> None:
    """What could be left out, each with what it gives up, and a button that does it."""
    text("What you could leave out", "h3")
    if not kit.savings:
        text("Nothing is left that could be left out cheaply.", "p")
        return
    head = ("What", "Saves", "Time", "What it gives up", "Choice")
    with scrolling("What you could leave out"), ui.element("table").classes("rows cards"):
        with ui.element("thead"), ui.element("tr"):
            for number, word in enumerate(head):
                text(word, "th", "n" if number in {1, 2} else "").props('scope="col"')
        with ui.element("tbody"):
            for number, one in enumerate(kit.savings):
                _saving(one, number, leave_out, may=may)


def _saving(one: KitSaving, number: int, leave_out: Callable[[KitSaving], object], *, may: bool) -> None:
    with ui.element("tr"):
        text(one.text, "th").props('scope="row"')
        text(f"{one.mass_g:.0f} g", "td", "n")
        text(words.duration(one.time_s), "td", "n")
        text(one.gives_up, "td")
        with ui.element("td"):
            if not one.toml:
                text("by hand")
                return
            made = button("Leave it out", lambda _: leave_out(one), data_leave=str(number))
            made.props["aria-label"] = f"Leave it out: {one.text}"
            made.props["disabled"] = not may
