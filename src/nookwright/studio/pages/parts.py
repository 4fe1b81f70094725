"""The parts: each in section, with dimensions that are clicked and typed, its solid, its sizes, what its tray has."""

from __future__ import annotations

import tomllib
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from nicegui import background_tasks, ui

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.studio.arrangement import RefusedError
from nookwright.studio.pages.choices import Choices
from nookwright.studio.pages.elements import SectionSheet, SolidView
from nookwright.studio.pages.frame import at_address, follow, page, reword, text
from nookwright.studio.pages.survey_form import SurveyForm, said_of
from nookwright.studio.pages.tables import facts, table
from nookwright.studio.room_text import with_value
from nookwright.studio.rough import rough_part
from nookwright.studio.section import others, pocket_rows, section_of, size_rows
from nookwright.studio.section_orders import ORDERED, orders_of
from nookwright.studio.solid_queue import solid_name
from nookwright.studio.state import Topic
from nookwright.studio.typed_fields import as_length, number_or_text

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.exchange.kit import Kit
    from nookwright.studio.forms import Field
    from nookwright.studio.room_text import Path
    from nookwright.studio.section import Section
    from nookwright.studio.section_dimensions import Dimension
    from nookwright.studio.state import Studio
    from nookwright.studio.toml_values import Value

SAME = Fact(0.5, unit="mm", kind=Kind.CHOICE, source="What is typed and what comes of it read the same on a ruler.")
_POCKETS = ("Dimension", "Measured", "Limit", "Printer", "Clearance", "Found", "Pocket")
_NAME = 60  # letters of a name of a dimension that may be meant


def build(studio: Studio, *, lot: str = "") -> None:
    """The page.

    Args:
        studio: of the room.
        lot: id of the lot whose part is shown first, or ``part:`` and the id of a part without things.
    """
    with page(studio, "parts", "Parts"):
        PartsPage(studio, lot)


class PartsPage:
    """One page of it, with one part at a time."""

    def __init__(self, studio: Studio, lot: str) -> None:
        """Draw it, and follow what changes."""
        self.studio, self.lot = studio, lot
        self._shown: object = None
        self._drawn: dict[str, Any] | None = None
        with ui.element("div").classes("layout-grid parts-grid"):
            with ui.element("nav").classes("side-list").props('aria-label="Parts"') as self.side:
                text("What holds things", "h3")
                self.lists = Choices(self._show, "data-lot")
                text("Liner and small parts", "h3")
                self.others = Choices(self._show, "data-lot")
                self.ordered_title = text("Made to order", "h3")
                self.ordered = Choices(self._show, "data-lot")
            with ui.element("section").classes("stack part").props('aria-label="The part"'):
                self.title = text("No part yet", "h2").props("data-part")
                self.section = SectionSheet(self._typed)
                self.said = text("", "p", "words").props('role="status" aria-live="polite" data-part-said')
                self.sums = ui.element("div").classes("stack")
            with ui.element("section").classes("stack round").props('aria-label="In the round"'):
                self.solid = SolidView("The part in the round; arrow keys turn the view", lambda _: None)
                self.solid.classes("inset")
                self.facts = ui.element("div").classes("panel")
            with ui.element("section").classes("wishes").props('aria-label="What its tray has"') as self.wishes:
                self.tray = SurveyForm(self._wished, table="tray", title="What its tray has")
        self.wishes.set_visibility(False)
        self.refresh(Topic.PLAN)
        self._say_unplanned()
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        planned = self.studio.planned
        for one in (self.side, self.facts, self.solid):
            if one.visible != (planned is not None):
                one.set_visibility(planned is not None)
        if planned is None or topic is Topic.WORDS:
            return
        if topic is Topic.JOB:
            self._draw_solid(planned.kit)
            return
        if topic is Topic.ROOM:
            self._say_unplanned()
        placed = [(one.id, one.name) for one in planned.kit.lots if one.places]
        rest, ordered = others(planned.kit), orders_of(planned.kit)
        if self.lot not in {key for key, _ in (*placed, *rest, *ordered)}:
            self.lot = placed[0][0] if placed else ""
        self.lists.show(placed, self.lot)
        self.others.show(rest, self.lot)
        self.ordered_title.set_visibility(bool(ordered))
        self.ordered.show(ordered, self.lot)
        self._draw_part(planned.kit)
        self._draw_solid(planned.kit)

    def _say_unplanned(self) -> None:
        """Say why what was typed cannot be made, where that shows only now."""
        unplanned = self.studio.unplanned
        if unplanned is None:
            return
        mine = f"part.{_order(self.lot)}." if self.lot.startswith(ORDERED) else f"lot.{self.lot}."
        fault = next((one for one in unplanned.faults if one.key.startswith(mine)), None)
        words = said_of(fault) if fault else "The page Survey says why."
        reword(self.said, f"It cannot be planned so. {words} Or take it back.")

    def _draw_part(self, kit: Kit) -> None:
        found = section_of(kit, self.lot, self.studio.room)
        self._draw_wishes(found)
        shown = self.lot, kit, self.studio.room if self.lot.startswith(ORDERED) else None
        if shown == self._shown:
            return
        self._shown = shown
        self._drawn = None if found is None else asdict(found)
        self.sums.clear()
        self.facts.clear()
        if found is None:
            return
        name = next((one.name for one in kit.lots if one.id == self.lot), "")
        called = name or (_order(self.lot) if self.lot.startswith(ORDERED) else "")
        reword(self.title, f"{called}: {found.part}" if called else found.part)
        with self.facts:
            facts(found.facts)
        with self.sums:
            if name:
                self._draw_sizes(kit)
            elif self.lot.startswith(ORDERED):
                text("What its order says is typed in the drawing and below it. It is printed with the kit; you put it "
                     "where you like.", "p")  # fmt: skip
            else:
                text("Nothing of it is typed: it follows from the space, the module and what stands there.", "p")
        if self.studio.settled:
            background_tasks.create(self.studio.make_solid(part=found.shape))

    def _draw_sizes(self, kit: Kit) -> None:
        """How large its things are, and how its pockets got their size."""
        head = ("Its things", "Measured, mm", "Limit, mm", "How that is known")
        table("Its things", head, size_rows(kit, self.lot), numbers=(1, 2))
        text("The limit is what no thing of the lot is taken to exceed: room is kept for that.", "p", "help")
        rows = pocket_rows(kit, self.lot)
        if rows:
            text("How its pockets got their diameter, mm", "h3")
            table("Pockets", _POCKETS, rows, numbers=range(1, len(_POCKETS)))
        published = all(one.published for lot in kit.lots if lot.id == self.lot for one in lot.sizes)
        with ui.element("p"):
            text("Its sizes are published; another one is named " if published
                 else "What was measured may be typed in the drawing, or ")  # fmt: skip
            text("in its form of the survey", "a").props["href"] = f"/survey?at=lot.{self.lot}"
            text(".")

    def _draw_wishes(self, found: Section | None) -> None:
        """What the tray has, as the room file says it."""
        has_tray = found is not None and found.kind == "tray" and ":" not in self.lot
        self.wishes.set_visibility(has_tray)
        if has_tray:
            values = _table(self.studio.desk.text, self.lot).get("tray", {})
            self.tray.show(("lot", self.lot, "tray"), values if isinstance(values, dict) else {})
            self.tray.say(self.studio.faults, self.studio.unit)

    def _draw_solid(self, kit: Kit) -> None:
        """Show the part, and cut it once it is solid."""
        name = solid_name(part=self._drawn["shape"]) if self._drawn else ""
        address = f"/solids/{name}.glb?of={kit.room_sha256[:16]}" if name in self.studio.solids else ""
        if self._drawn:  # until its solid is there, or where its file is another plan's, it is drawn roughly
            shape = str(self._drawn["shape"])
            rough = () if address else rough_part(kit, shape)
            self.solid.show_parts(shape, (address,) if address else (), rough, ())
        self.section.show(part=self._drawn, src=address)

    # -- what people do

    def _show(self, lot: str) -> None:
        self.lot = lot
        reword(self.said, "")
        at_address("/parts", lot=lot)
        self.refresh(Topic.PLAN)

    def _wished(self, field: Field, path: Path, typed: str) -> None:
        """Something was typed into the form of the tray."""
        name = next((one.name for one in (self.studio.room.lot if self.studio.room else ()) if one.id == path[1]), "")
        self._write(f"{field.label} of {name or path[1]}", {(*path, field.key): field.value(typed)})

    def _typed(self, said: Mapping[str, Any]) -> None:
        """A dimension was typed; whatever is said may be forged."""
        planned = self.studio.planned
        found = section_of(planned.kit, self.lot, self.studio.room) if planned else None
        key, typed = str(said.get("key", ""))[:_NAME], str(said.get("typed", ""))[:60]
        meant = next((one for one in (found.dimensions if found else ()) if one.key == key and one.typed), None)
        if meant is None:
            reword(self.said, "The room was changed meanwhile: choose the part again.")
            return
        try:
            lengths = [read_length(number_or_text(one)) for one in typed.split(";") if one.strip()]
            if meant.path and lengths and (len(lengths) == 1 or meant.key.startswith("lot.")):
                self._change(meant, lengths)
            else:
                length = read_length(number_or_text(typed)) + meant.more
                reword(self.said, self._resize(meant.sets or key, length, meant.more))
        except LengthError as error:
            reword(self.said, str(error))
        except RefusedError as error:
            why = str(error).partition(": letting go")[0].rstrip(".")  # nothing is in hand here that could be let go
            room = "" if meant.sets == "height" or key == "height" else "; make room for it on the page Layout"
            reword(self.said, f"{why}. Nothing was changed{room}.")
        except KeyError:
            reword(self.said, "The room was changed meanwhile: choose the part again.")

    def _change(self, meant: Dimension, lengths: Sequence[float]) -> None:
        """Write a dimension that has its own place in the room file: one length, or several readings."""
        each = [self._written(meant, length) for length in lengths]
        value: Value = each[0] if len(each) == 1 else list(each)
        path = meant.path
        if path[0] == "lot" and isinstance(path[-1], int):  # a divider: from equal compartments to where they are
            planned = self.studio.planned
            assert planned is not None  # noqa: S101 - the dimension is of it
            found = section_of(planned.kit, self.lot)
            same = [one for one in (found.dimensions if found else ()) if one.path[:-1] == path[:-1]]
            all_at = [value if one is meant or one == meant else as_length(one.value, self.studio.unit) for one in same]
            equal = str(path[-2]).removesuffix("_at")
            self._write(f"{meant.name} typed", {path[:-1]: all_at, (*path[:-2], equal): None})
        else:
            self._write(f"{meant.name} typed", {path: value})
        said = " and ".join(f"{length:g}" for length in lengths)
        up = " The part gets the next size that the module has." if str(path[-1]).startswith("outer_") else ""
        reword(self.said, f"Written down: {meant.name} {said} mm.{up} The layout is being made with it.")

    def _written(self, meant: Dimension, length: float) -> Value:
        """What stands for a typed length in the room file.

        Raises:
            LengthError: there would be nothing left of it.
        """
        if meant.share_of:
            return round(length / meant.share_of, 3)
        length += meant.more
        if meant.step:
            return max(1, round(length / meant.step))
        if length < 0:
            raise LengthError(f"The {meant.name} must be at least {-meant.more:g} mm.")
        return as_length(length, self.studio.unit)

    def _write(self, name: str, values: Mapping[Path, Any]) -> None:
        """Write values into the room file, as one gesture."""
        try:
            changed = self.studio.desk.text
            for path, value in values.items():
                changed = with_value(changed, path, value)
        except (KeyError, ValueError) as error:
            reword(self.said, f"That could not be written into the room file: {error}. Correct the file in an editor.")
            return
        self.studio.edit(name, changed)

    def _resize(self, key: str, length: float, more: float) -> str:
        """Make the part another size: the nearest that parts of this module have.

        Args:
            key: which of its outer sizes.
            length: of that, mm.
            more: by which it is more than what was typed, mm.

        Raises:
            RefusedError: it cannot be of that size, or not where it stands.
        """
        now = self.studio.arrangement
        if now is None:
            return "There is no plan yet."
        item = now.item(self.lot)
        if key == "height":
            height = round(length / now.sheets.rise) * now.sheets.rise
            now.raised(self.lot, height)
            self.studio.arrange(f"{item.name} made {height:g} high", lambda one: one.raised(self.lot, height))
            return (
                "" if _alike(height, length) else f"Heights go in steps of {now.sheets.rise:g} mm: {height - more:g}."
            )
        cells = max(1, round((length + now.sheets.gap) / now.sheets.pitch))
        turned = self.studio.turned(self.lot)
        across = (key == "width") != turned
        cols, rows = (cells, item.rows) if across else (item.cols, cells)
        now.resized(self.lot, cols, rows)
        self.studio.arrange(f"{item.name} resized", lambda one: one.resized(self.lot, cols, rows))
        became = cells * now.sheets.pitch - now.sheets.gap
        if _alike(became, length):
            return ""
        return f"Parts of this module are cells of {now.sheets.pitch:g} mm: {became - more:.1f}."


def _order(key: str) -> str:
    """The id of an order in the key of a part of it."""
    return key.removeprefix(ORDERED).partition("/")[0]


def _alike(became: float, typed: float) -> bool:
    return abs(became - typed) < SAME


def _table(room_text: str, lot: str) -> dict[str, Any]:
    """The table of a lot in a text; empty where there is none."""
    try:
        listed = tomllib.loads(room_text).get("lot", [])
    except ValueError:
        return {}
    tables = [one for one in listed if isinstance(one, dict)] if isinstance(listed, list) else []
    return next((one for one in tables if one.get("id") == lot), {})
