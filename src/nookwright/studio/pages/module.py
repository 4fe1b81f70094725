"""The module: every pitch and rise that was judged, what each costs the household, and the choice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nicegui import ui

from nookwright.studio.pages.frame import button, follow, page, text
from nookwright.studio.pages.tables import scrolling
from nookwright.studio.room_text import with_value
from nookwright.studio.state import Topic
from nookwright.studio.typed_fields import as_length

if TYPE_CHECKING:
    from nookwright.exchange.layout_models import KitModule, KitModuleRow
    from nookwright.studio.state import Studio

_HEAD = (
    "Pitch, mm", "Rise, mm", "Lost at edges, dm\u00b2", "Lost inside trays, dm\u00b2", "Plastic, g", "Hours",
    "Kinds of part", "Too high, mm", "Lots without room", "Judged, g", "",
)  # fmt: skip


_NOTHING_YET = (
    "The sizes of all parts are chosen for the whole household once the room can be planned; then all that were tried "
    "stand here, with what each costs."
)


def build(studio: Studio) -> None:
    """The page."""
    with page(studio, "module", "Module"):
        ModulePage(studio)


class ModulePage:
    """One page of it."""

    def __init__(self, studio: Studio) -> None:
        """Draw it, and follow what changes."""
        self.studio = studio
        self._drawn: object = None
        self.body = ui.element("section").classes("stack").props('aria-label="The module"')
        with self.body:
            text(_NOTHING_YET, "p")
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        planned = self.studio.planned
        if topic not in {Topic.PLAN, Topic.ROOM} or planned is None or planned is self._drawn:
            return
        self._drawn = planned
        self.body.clear()
        with self.body:
            self._draw(planned.kit.module, planned.sha256)

    def _draw(self, module: KitModule, sha: str) -> None:
        text(f"Cells of {module.pitch:g} mm, heights in steps of {module.rise:g} mm", "h2").props("data-module")
        text(f"{module.chosen[:1].upper()}{module.chosen[1:]}.", "p")
        fixed = self.studio.room is not None and self.studio.room.module.pitch is not None
        if fixed:
            button("Let the tool choose", lambda: self._fix(None, None), data_do="free")
        if len(module.pitches) > 1:
            alt = "Floor lost against plastic, a dot a pitch; the table says the same"
            ui.element("img").classes("chart").props(f'src="/module.svg?of={sha[:16]}" alt="{alt}"')
            self._table("Pitches", module.pitches, module)
        if len(module.rises) > 1:
            self._table("Rises, at this pitch", module.rises, module)
        text("Every lot is judged in the tray that it would get by itself, so grams and hours are for comparing. "
             "Judged is all of it on one scale, in grams; the least is the best.", "p")  # fmt: skip

    def _table(self, title: str, rows: tuple[KitModuleRow, ...], module: KitModule) -> None:
        text(title, "h3")
        with scrolling(title), ui.element("table").classes("rows"):
            with ui.element("thead"), ui.element("tr"):
                for word in _HEAD:
                    text(word or "Choice", "th", "n" if word else "").props('scope="col"')
            with ui.element("tbody"):
                for row in rows:
                    self._row(row, taken=(row.pitch, row.rise) == (module.pitch, module.rise))

    def _row(self, row: KitModuleRow, *, taken: bool) -> None:
        with ui.element("tr").classes("chosen" if taken else ""):
            text(f"{row.pitch:g}", "th", "n").props('scope="row"')
            for word in _cells(row):
                text(word, "td", "n")
            with ui.element("td"):
                if taken:
                    text("taken")
                    return
                words = f"Take {row.pitch:g} and {row.rise:g}"
                made = button(words, lambda _: self._fix(row.pitch, row.rise))
                made.props["data-take"] = f"{row.pitch:g} {row.rise:g}"

    def _fix(self, pitch: float | None, rise: float | None) -> None:
        """Write the choice into the room file, or take it out of it."""
        changed = self.studio.desk.text
        for key, length in (("pitch", pitch), ("rise", rise)):
            value = None if length is None else as_length(length, self.studio.unit)
            changed = with_value(changed, ("module", key), value)
        self.studio.edit(f"pitch {pitch:g}, rise {rise:g}" if pitch and rise else "module left to the tool", changed)
        self.studio.say("The plan is being made with it.")


def _cells(row: KitModuleRow) -> tuple[str, ...]:
    return (
        f"{row.rise:g}", f"{row.edge_dm2:.1f}", f"{row.inside_dm2:.1f}", f"{row.mass_g:.0f}",
        f"{row.time_s / 3600:.0f}", f"{row.parts}", f"{row.dead:.1f}", f"{row.homeless}", f"{row.judged_g:.0f}",
    )  # fmt: skip
