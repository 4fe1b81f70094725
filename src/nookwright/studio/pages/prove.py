"""Proving: what was found, each finding leading to what it is about."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote

from nicegui import ui

from nookwright.documents import words
from nookwright.documents.titles import TITLES
from nookwright.studio.pages.frame import follow, page, text
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit, KitFinding
    from nookwright.studio.state import Studio


def build(studio: Studio) -> None:
    """The page."""
    with page(studio, "prove", "Prove"):
        ProvePage(studio)


class ProvePage:
    """One page of it."""

    def __init__(self, studio: Studio) -> None:
        """Draw it, and follow what changes."""
        self.studio = studio
        self._drawn: object = None
        self.found = ui.element("section").classes("stack").props('aria-label="Findings"')
        with ui.element("section").classes("panel stack").props('aria-label="What is printed"'):
            text("What is printed", "h2")
            text(
                f"Note every print in prints.csv beside {studio.file.name}: its bedful, how long it took, what it "
                "weighed, whether it failed. The next kit plans only what is left, with what your printers showed.",
                "p",
            )
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        built = self.studio.fresh_kit
        planned = self.studio.planned
        kit = built or (planned.kit if planned else None)
        if topic is Topic.WORDS or kit is None or kit is self._drawn:
            return
        self._drawn = kit
        self.found.clear()
        with self.found:
            text(_verdict(kit, built=built is not None), "p", "words").props("data-verdict")
            subjects = _subjects(kit)
            for severity, title in TITLES.items():
                group = [one for one in kit.findings if one.severity is severity]
                if group:
                    text(f"{title} ({len(group)})", "h2", severity)
                    with ui.element("ul").classes("findings"):
                        for one in group:
                            self._draw(one, subjects.get(one.subject, ""))

    @staticmethod
    def _draw(one: KitFinding, address: str) -> None:
        with ui.element("li").classes(one.severity).props(f'data-code="{one.code}"'):
            with ui.element("p"):
                if address:
                    text(one.subject, "a").props(f'href="{address}"')
                else:
                    text(one.subject, "strong")
                text(f": {one.text}")
            text(one.remedy, "p", "remedy")
            if one.against is not None:
                text(words.against(one.against), "p", "num")


def _verdict(kit: Kit, *, built: bool) -> str:
    counts = [sum(one.severity is level for one in kit.findings) for level in TITLES]
    said = "{} to settle first, {} to think about, {} good to know.".format(*counts)
    if built:
        return f"Looked at in the files of the kit, as written: {said}"
    return f"Said of the plan: {said} The files are proven when the kit is built."


def _subjects(kit: Kit) -> dict[str, str]:
    """Where each thing that a finding may be about is shown."""
    found = {space.id: f"/layout?space={quote(space.id)}" for space in kit.spaces}
    part_of: dict[str, str] = {}
    for one in kit.placements:
        part_of.setdefault(one.part, f"/layout?space={quote(one.space)}")
    found |= part_of
    for piece in kit.pieces:
        if piece.part in part_of:
            found[piece.id] = part_of[piece.part]
    found |= {
        lot.id: f"/layout?pick={quote(lot.id)}" if lot.places else f"/survey?at=lot.{quote(lot.id)}" for lot in kit.lots
    }
    found |= {bed.id: f"/make#bed-{quote(bed.id)}" for bed in kit.bedfuls}
    return found | {printer.id: "/make" for printer in kit.printers}
