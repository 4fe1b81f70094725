"""Proving: what was found, and the place for the record of what is printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.documents.titles import TITLES
from nookwright.studio.pages.findings import draw_findings
from nookwright.studio.pages.frame import follow, page, text
from nookwright.studio.pages.record import draw_record
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit
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
        self.record = ui.element("section").classes("panel stack").props('aria-label="What is printed"')
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        if topic is Topic.WORDS:
            return
        built, planned = self.studio.fresh_kit, self.studio.planned
        kit = built or (planned.kit if planned else None)
        old = kit is not None and (self.studio.room is None or (built is None and self.studio.outdated))
        shown = kit, built is not None, old
        if shown == self._drawn:
            return
        self._drawn = shown
        self.found.clear()
        self.record.clear()
        with self.found:
            text(_verdict(kit, built=built is not None, old=old), "p", "words").props("data-verdict")
            if kit is not None:
                draw_findings(kit)
        with self.record:
            draw_record(kit if built else None, self.studio.file.name)


def _verdict(kit: Kit | None, *, built: bool, old: bool) -> str:
    """What was looked at, and how many findings there are of each severity."""
    if kit is None:
        return "Nothing is planned yet, so that nothing can be said of it."
    counts = [sum(one.severity is level for one in kit.findings) for level in TITLES]
    said = "{} to settle first, {} to think about, {} good to know.".format(*(count or "none" for count in counts))
    if built:
        return f"Looked at in the files of the kit, as written: {said}"
    before = "The room was changed since; of the plan before: " if old else "Said of the plan: "
    return f"{before}{said} The files are proven when the kit is built."
