"""Making: what it costs and could be left out, the kit with its progress, bedfuls in the order of the schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.ground.findings import Severity
from nookwright.studio.jobs import State
from nookwright.studio.leaving_out import without_it
from nookwright.studio.pages.frame import button, follow, hindered, page, reword, text
from nookwright.studio.pages.make_costs import draw_costs
from nookwright.studio.pages.make_prints import draw_prints
from nookwright.studio.pages.tables import table
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from nookwright.exchange.kit import Kit
    from nookwright.exchange.layout_models import KitSaving
    from nookwright.studio.state import Studio

_WORDS = {
    State.RUNNING: "The kit is being built.",
    State.DONE: "The kit is built.",
    State.FAULTY: "The room file cannot be used; what is wrong stands below.",
    State.STOPPED: "Stopped. The kit that lay there before is as it was.",
    State.FAILED: "It could not be built.",
}


def build(studio: Studio) -> None:
    """The page."""
    with page(studio, "make", "Make"):
        MakePage(studio)


class MakePage:
    """One page of it."""

    def __init__(self, studio: Studio) -> None:
        """Draw it, and follow what changes."""
        self.studio = studio
        self._drawn: object = None
        with ui.element("section").classes("panel stack").props('aria-label="The kit"'):
            text("The kit", "h2")
            self.says = text("", "p", "words").props('role="status" aria-live="polite" data-build')
            self.bar = ui.element("progress").props('max="1" value="0" aria-label="How far the kit is"')
            with ui.element("div").classes("row"):
                self.go = button("Build the kit", self._build, main=True, data_do="build")
                self.halt = button("Stop", self._stop, data_do="stop")
                self.fetch = text("Download the kit", "a").props('href="/kit.zip" download data-do="download"')
            self.faults = ui.element("div")
            with ui.element("p") as self.proven:
                self.verdict = text("").props("data-proven")
                text(" ")
                text("See what was found", "a").props('href="/prove"')
        self.old = text("", "p", "words warn").props('role="status" data-old')
        self.costs = ui.element("section").classes("stack").props('aria-label="What it costs"')
        self.prints = ui.element("section").classes("stack").props('aria-label="What to print when"')
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        if topic is not Topic.WORDS:
            self._draw_job()
        kit, planned = self.studio.fresh_kit, self.studio.planned
        shown = kit or (planned.kit if planned else None)
        old = self.studio.room is None or (kit is None and self.studio.outdated)
        self.proven.set_visibility(kit is not None)
        reword(self.verdict, _verdict(kit) if kit is not None else "")
        self.verdict.classes(replace="stop" if kit is not None and _stops(kit) else "")
        reword(self.old, _old(self.studio, shown) if old else "")
        if (shown, old) == self._drawn:
            return
        self._drawn = shown, old
        self.costs.clear()
        self.prints.clear()
        if shown is not None:
            with self.costs:
                draw_costs(shown, self._leave_out, may=not old)
            with self.prints:
                draw_prints(shown, built=kit is not None)

    def _draw_job(self) -> None:
        job = self.studio.running.get("kit")
        running = job is not None and job.state is State.RUNNING
        fresh = self.studio.fresh_kit is not None
        said = _WORDS[job.state] if job is not None else _WORDS[State.DONE] if fresh else "Not built yet."
        if not running and self.studio.kit is not None and not fresh and (job is None or job.state is State.DONE):
            said = "The room was changed since the kit was built: build it again."
        if job is not None and running:
            said += f" {job.stage.capitalize()}."
        if job is not None and job.error:
            said += f" {job.error}"
        reword(self.says, said)
        self.bar.props["value"] = "" if job is None or job.share is None else f"{job.share:.2f}"
        self.bar.set_visibility(running)
        for element, off in ((self.go, running or self.studio.room is None), (self.halt, not running)):
            element.props["disabled"] = off
            element.update()
        self.fetch.set_visibility(fresh)
        self.bar.update()
        self.faults.clear()
        if job is not None and job.faults:
            with self.faults:
                rows = [
                    (str(one["line"]), one["key"], one["found"], one["allowed"], one["remedy"]) for one in job.faults
                ]
                table("What is wrong", ("Line", "Key", "Found", "Allowed", "What to do"), rows, numbers=(0,))

    def _leave_out(self, saving: KitSaving) -> None:
        """Write the lines of a saving into the room file."""
        try:
            changed = without_it(self.studio.desk.text, saving.toml)
        except (KeyError, ValueError) as error:
            self.studio.say(f"That could not be written into the room file: {error}. Write it by hand: {saving.toml}")
            return
        self.studio.edit(f"left out: {saving.text}", changed)
        self.studio.say(f"Left out: {saving.text}. The plan is being made without; Take back brings it back.")

    async def _build(self) -> None:
        await self.studio.build()

    async def _stop(self) -> None:
        await self.studio.jobs.stop("kit")


def _stops(kit: Kit) -> int:
    """How many findings must be settled before anything is printed."""
    return sum(one.severity is Severity.STOP for one in kit.findings)


def _verdict(kit: Kit) -> str:
    """Whether it may be printed, in words."""
    stops, warns = _stops(kit), sum(one.severity is Severity.WARN for one in kit.findings)
    if stops:
        return f"Do not print it yet: {stops} {'finding' if stops == 1 else 'findings'} must be settled first."
    return f"Proven from its files: nothing to settle, {warns or 'nothing'} to think about."


def _old(studio: Studio, shown: Kit | None) -> str:
    """Why what is shown is not what the room says now."""
    if shown is None:
        return ""  # the head of the page says it
    if fault := hindered(studio):
        return f"{fault} Below is the last plan that could be made."
    return "The plan is being made; below is the one before."
