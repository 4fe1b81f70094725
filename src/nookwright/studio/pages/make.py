"""Making: what it costs and could be left out, the kit with its progress, bedfuls in the order of the schedule."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.documents import words
from nookwright.documents.printing_view import printing_view, when
from nookwright.studio.jobs import State
from nookwright.studio.pages.frame import button, follow, page, reword, text
from nookwright.studio.pages.tables import facts, table
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from nookwright.exchange.kit import Bedful, Kit
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
        self.costs = ui.element("section").classes("stack").props('aria-label="What it costs"')
        self.prints = ui.element("section").classes("stack").props('aria-label="What to print when"')
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        if topic is not Topic.WORDS:
            self._draw_job()
        kit = self.studio.fresh_kit
        planned = self.studio.planned
        shown = kit or (planned.kit if planned else None)
        if shown is not None and shown is not self._drawn:
            self._drawn = shown
            self._draw_costs(shown)
            self._draw_prints(shown, built=kit is not None)

    def _draw_job(self) -> None:
        job = self.studio.running.get("kit")
        running = job is not None and job.state is State.RUNNING
        fresh = self.studio.fresh_kit is not None
        said = "Not built yet." if job is None else _WORDS[job.state]
        if job is not None and job.state is State.DONE and not fresh:
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

    def _draw_costs(self, kit: Kit) -> None:
        totals = kit.totals
        self.costs.clear()
        with self.costs:
            text("What it costs", "h2")
            facts([
                ("Prints", words.grams(totals.mass_g)),
                ("Printing time", words.duration(totals.time_s)),
                ("For each dm2 of floor", f"{totals.g_per_dm2:.1f} g"),
                ("Material", f"{totals.price:.2f}"),
                ("Pieces", str(totals.pieces)),
                ("Bedfuls", str(totals.bedfuls)),
            ])  # fmt: skip
            rows = [(one.name, words.grams(one.mass_g), words.duration(one.time_s)) for one in kit.spaces if one.mass_g]
            table("By space", ("Space", "Prints", "Time"), rows, numbers=(1, 2))
            spools = [(one.name, words.grams(one.mass_g), str(one.spools), f"{one.price:.2f}") for one in kit.materials]
            table("Material needed", ("Material", "Mass", "Spools", "Price"), spools, numbers=(1, 2, 3))
            if kit.savings:
                text("What you could leave out", "h3")
                less = [
                    (one.text, f"{one.mass_g:.0f} g", words.duration(one.time_s), one.gives_up) for one in kit.savings
                ]
                table("What you could leave out", ("What", "Saves", "Time", "What it gives up"), less, numbers=(1, 2))

    def _draw_prints(self, kit: Kit, *, built: bool) -> None:
        self.prints.clear()
        with self.prints:
            text("What to print when", "h2")
            if not built:
                text(
                    "Bedfuls are shared out here from boxes; built, the kit has them by outline, with the schedule.",
                    "p",
                )
            elif kit.printing.slots:
                view = printing_view(kit)
                text(f"{len(kit.printing.slots)} bedfuls in {view.length}; the last one ends {view.end}.", "p")
                ui.element("img").props(
                    'src="/kit/schedule.svg" alt="The schedule, a band a day; the list below says the same"'
                ).classes("chart")
            spaces = {one.id: one.name for one in kit.spaces}
            beds = {bed.id: bed for bed in kit.bedfuls}
            for name, starts in _in_order(kit):
                bed = beds.get(name)
                if bed is None:
                    _draw_trial(kit, name, starts)
                    continue
                with ui.element("article").classes("bed").props(f'id="bed-{bed.id}" data-bed="{bed.id}"'):
                    ui.html(_drawing(kit, bed), sanitize=False)
                    with ui.element("div"):
                        text(bed.id, "h3")
                        costs = f"{words.grams(bed.mass_g)}, {words.duration(bed.time_s)}"
                        text(f"{bed.printer}, {bed.material}: {costs}. {starts}", "p", "num")
                        text(_what(kit, bed, spaces), "p")

    async def _build(self) -> None:
        await self.studio.build()

    async def _stop(self) -> None:
        await self.studio.jobs.stop("kit")


def _in_order(kit: Kit) -> list[tuple[str, str]]:
    """Ids of bedfuls and trials in the order of the schedule, each with when it starts; as they come without one."""
    listed = [(slot.bedful, f"Starts {when(kit.printing, slot.start_s)}.") for slot in kit.printing.slots]
    return listed or [(bed.id, "") for bed in kit.bedfuls]


def _draw_trial(kit: Kit, name: str, starts: str) -> None:
    """A print that is no bedful of the kit: what is tried before the rest is printed."""
    found = next((one for one in kit.first.bedfuls if one.id == name), None)
    costs = ""
    if found is not None:
        costs = f"{found.printer}, {found.material}: {words.grams(found.mass_g)}, {words.duration(found.time_s)}. "
    with ui.element("article").classes("bed").props(f'id="bed-{name}" data-bed="{name}"'):
        ui.element("div")
        with ui.element("div"):
            text(name, "h3")
            text(costs + starts, "p", "num")
            text(f"Tried before the rest is printed: {'; '.join(one.name for one in kit.first.trials)}.", "p")


def _what(kit: Kit, bed: Bedful, spaces: dict[str, str]) -> str:
    """What lies on a bed, counted, and for which spaces."""
    part_of = {piece.id: piece.part for piece in kit.pieces}
    names = {part.id: part.name for part in kit.parts}
    counts: dict[str, int] = {}
    for item in bed.items:
        name = names[part_of[item.piece]]
        counts[name] = counts.get(name, 0) + 1
    used = {part_of[item.piece] for item in bed.items}
    where = dict.fromkeys(spaces[one.space] for one in kit.placements if one.part in used)
    return "; ".join(f"{count} x {name}" for name, count in counts.items()) + (
        f". For {', '.join(where)}." if where else "."
    )


def _drawing(kit: Kit, bed: Bedful) -> str:
    """A bed from above: boxes of what lies on it, to scale."""
    printer = next(one for one in kit.printers if one.id == bed.printer)
    sizes = {piece.id: piece.size for piece in kit.pieces}
    wide, deep = printer.bed[:2]
    boxes = []
    for item in bed.items:
        (a, b, _, x), (c, d, _, y) = item.bed_from_piece[:2]
        width, depth, _ = sizes[item.piece]
        xs = [x + a * u + b * v for u in (0, width) for v in (0, depth)]
        ys = [y + c * u + d * v for u in (0, width) for v in (0, depth)]
        boxes.append(
            f'<rect x="{min(xs):.1f}" y="{deep - max(ys):.1f}" width="{max(xs) - min(xs):.1f}" '
            f'height="{max(ys) - min(ys):.1f}"/>'
        )
    return (
        f'<svg class="bed-picture" viewBox="-2 -2 {wide + 4:g} {deep + 4:g}" role="img" aria-label="Bed with '
        f'{len(bed.items)} pieces"><rect class="edge" width="{wide:g}" height="{deep:g}"/>{"".join(boxes)}</svg>'
    )
