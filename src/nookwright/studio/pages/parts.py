"""The parts: what holds each lot in section, with dimensions that are clicked and typed, its solid, and its pockets."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from nicegui import background_tasks, ui

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.studio.arrangement import RefusedError
from nookwright.studio.pages.choices import Choices
from nookwright.studio.pages.elements import SectionSheet, SolidView
from nookwright.studio.pages.frame import button, follow, page, reword, text
from nookwright.studio.pages.tables import table
from nookwright.studio.room_text import with_value
from nookwright.studio.section import pocket_rows, section_of
from nookwright.studio.state import Topic
from nookwright.studio.typed_fields import number_or_text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nookwright.studio.state import Studio


def build(studio: Studio, *, lot: str = "") -> None:
    """The page.

    Args:
        studio: of the room.
        lot: id of the lot whose part is shown first.
    """
    with page(studio, "parts", "Parts"):
        PartsPage(studio, lot)


class PartsPage:
    """One page of it, with one part at a time."""

    def __init__(self, studio: Studio, lot: str) -> None:
        """Draw it, and follow what changes."""
        self.studio, self.lot = studio, lot
        with ui.element("div").classes("layout-grid"):
            with ui.element("nav").classes("stack").props('aria-label="Things"'):
                self.lists = Choices(self._show, "data-lot")
            with ui.element("section").classes("stack").props('aria-label="The part"'):
                self.title = text("No part yet", "h2").props("data-part")
                self.section = SectionSheet(self._typed)
                self.said = text("", "p", "words").props('role="status" aria-live="polite" data-part-said')
                self.sums = ui.element("div").classes("stack")
            with ui.element("section").classes("stack").props('aria-label="In the round"'):
                button("See it in the round", self._see, data_do="solid")
                self.round = ui.element("div")
                self.solid: SolidView | None = None
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        planned = self.studio.planned
        if planned is None or topic is Topic.WORDS:
            return
        if topic is Topic.JOB:
            self._draw_solid()
            return
        placed = [one for one in planned.kit.lots if one.places]
        if self.lot not in {one.id for one in placed}:
            self.lot = placed[0].id if placed else ""
        self.lists.show([(one.id, one.name) for one in placed], self.lot)
        self._draw_part()
        self._draw_solid()
        if self.solid is not None and topic is Topic.PLAN:
            background_tasks.create(self.studio.make_solid(lot=self.lot))

    def _draw_part(self) -> None:
        planned = self.studio.planned
        found = section_of(planned.kit, self.lot) if planned else None
        self.section.show(part=None if found is None else asdict(found))
        if planned is None or found is None:
            return
        name = next(one.name for one in planned.kit.lots if one.id == self.lot)
        reword(self.title, f"{name}: {found.part}")
        self.sums.clear()
        with self.sums:
            things = [one for one in found.dimensions if one.key.startswith("lot.")]
            sizes = [(one.name, f"{one.value:g}") for one in things]
            table("Its things", ("Its things", "mm"), sizes, numbers=(1,))
            rows = pocket_rows(planned.kit, self.lot)
            if rows:
                text("How its pockets got their diameter, mm", "h3")
                head = ("Dimension", "Measured", "Limit", "Printer", "Clearance", "Found", "Pocket")
                table("Pockets", head, rows, numbers=range(1, 7))
            text("Change what was measured in the survey:", "p")
            text("to its form", "a").props(f'href="/survey?at=lot.{self.lot}"')

    def _draw_solid(self) -> None:
        made, planned = self.studio.solids.get(f"lot {self.lot}"), self.studio.planned
        if self.solid is not None and made is not None and planned is not None:
            self.solid.show(f"/solids/lot {self.lot}.glb?of={planned.sha256[:16]}")

    # -- what people do

    def _show(self, lot: str) -> None:
        self.lot = lot
        reword(self.said, "")
        self.refresh(Topic.PLAN)

    async def _see(self) -> None:
        if self.solid is None:
            with self.round:
                self.solid = SolidView("The part in the round; arrow keys turn the view", lambda _: None)
        await self.studio.make_solid(lot=self.lot)
        self._draw_solid()

    def _typed(self, said: Mapping[str, Any]) -> None:
        """A dimension was typed; whatever is said may be forged."""
        key, typed = str(said.get("key", "")), str(said.get("typed", ""))[:60]
        try:
            length = read_length(number_or_text(typed))
            if key in {"width", "depth", "height"}:
                reword(self.said, self._resize(key, length))
            elif key.startswith("lot."):
                self.studio.edit(
                    f"{key[4:]} typed", with_value(self.studio.desk.text, ("lot", self.lot, key[4:]), length)
                )
        except LengthError as error:
            reword(self.said, str(error))
        except RefusedError as error:
            why = str(error).partition(": letting go")[0].rstrip(".")  # nothing is in hand here that could be let go
            reword(self.said, f"{why}. Nothing was changed; make room for it on the page Layout.")
        except KeyError:
            reword(self.said, "The room was changed meanwhile: choose the part again.")

    def _resize(self, key: str, length: float) -> str:
        """Make the part another size: the nearest that parts of this module have."""
        now = self.studio.arrangement
        if now is None:
            return "There is no plan yet."
        item = now.item(self.lot)
        if key == "height":
            height = round(length / now.sheets.rise) * now.sheets.rise
            now.raised(self.lot, height)
            self.studio.arrange(f"{item.name} made {height:g} high", lambda one: one.raised(self.lot, height))
            return "" if abs(height - length) < _SAME else f"Heights go in steps of {now.sheets.rise:g} mm: {height:g}."
        cells = max(1, round((length + now.sheets.gap) / now.sheets.pitch))
        turned = self.studio.turned(self.lot)
        across = (key == "width") != turned
        cols, rows = (cells, item.rows) if across else (item.cols, cells)
        now.resized(self.lot, cols, rows)
        self.studio.arrange(f"{item.name} resized", lambda one: one.resized(self.lot, cols, rows))
        became = cells * now.sheets.pitch - now.sheets.gap
        return (
            ""
            if abs(became - length) < _SAME
            else f"Parts of this module are cells of {now.sheets.pitch:g} mm: {became:.1f}."
        )


_SAME = 0.5
