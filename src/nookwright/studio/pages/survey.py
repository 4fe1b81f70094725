"""The survey: spaces, things, printers and materials as forms, with the space drawn beside, and what is still wrong."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from nicegui import ui

from nookwright.ground.sources import Fact, Kind
from nookwright.studio.assumed import follows, is_assumed
from nookwright.studio.beginning import MADE, MISSING, Step, completed, next_step
from nookwright.studio.forms import FORMS, LENGTHS, Field, label_of
from nookwright.studio.pages.choices import Choices
from nookwright.studio.pages.frame import at_address, button, follow, page, reword, text
from nookwright.studio.pages.survey_form import SurveyForm, said_of
from nookwright.studio.pages.survey_sides import Picture, SeveralThings
from nookwright.studio.room_text import with_table, with_value, without_table
from nookwright.studio.section_orders import ORDERED
from nookwright.studio.state import Topic
from nookwright.studio.thing_lines import Typed, new_id
from nookwright.studio.typed_fields import as_length
from nookwright.survey.new import ASSUMED_FLOOR_HEIGHT, ASSUMED_LOAD_KG

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.ground.errors import Fault
    from nookwright.studio.room_text import Path
    from nookwright.studio.state import Studio

_LISTS = (
    ("space", "Spaces", "Add a space"),
    ("lot", "Things", "Add a thing"),
    ("printer", "Printers", "Add a printer"),
    ("material", "Materials", "Add a material"),
)
_NEW: Mapping[str, Mapping[str, Any]] = {
    "space": {"kind": "drawer", "floor_height": int(ASSUMED_FLOOR_HEIGHT), "load_kg": int(ASSUMED_LOAD_KG)},
    "lot": {"count": 1},
    "printer": {key: value for key, value in MADE["printer"].items() if key.startswith("bed_")},
    "material": {key: value for key, value in MADE["material"].items() if key not in {"id", "name"}},
}
_WORDS = {"space": "Space", "lot": "Thing", "printer": "Printer", "material": "Material"}
_ROOM: Path = ("room",)
NEW_BOX = Fact(40.0, unit="mm", kind=Kind.CHOICE, source="Of what is in the way, until it is measured: a waste pipe.")
_SHOWN_FAULTS = 12  # a screenful


def build(studio: Studio, *, at: str = "") -> None:
    """The page.

    Args:
        studio: of the room.
        at: what to show first, such as ``lot.hex-keys``.
    """
    with page(studio, "survey", "Survey"):
        SurveyPage(studio, at)


class SurveyPage:
    """One page of it, with one form at a time."""

    def __init__(self, studio: Studio, at: str) -> None:
        """Draw it, and follow what changes."""
        self.studio = studio
        self.data: dict[str, Any] = {}
        self.path: Path = tuple(at.split(".", 1)) if at else _ROOM
        self._step = Step("")
        with ui.element("section").classes("panel row next").props('aria-label="What to do next"'):
            self._next = text("", "p", "words").props('role="status" data-next')
            self._do_next = button("", self._follow_step, main=True, once=True, data_do="next")
            self._done = text("To the layout", "a", "plain main").props('href="/layout" data-do="layout"')
        with ui.element("div").classes("survey-grid"):
            with ui.element("nav").classes("side-list").props('aria-label="What is surveyed"'):
                self._lists = self._made_lists()
            with ui.element("div").classes("stack"):
                self.several = SeveralThings(self._known, self._unit, self._take)
                self.form = SurveyForm(self.typed, self)
            with ui.element("div").classes("stack"):
                self.picture = Picture(self._moved)
                with ui.element("section").classes("panel stack").props('aria-label="What is still wrong"'):
                    self._verdict = text("", "h2").props("data-verdict")
                    self._faults = Choices(self._to_fault, "data-fault")
                    self._more = text("", "p")
        self.refresh(Topic.ROOM)
        follow(studio, self.refresh)

    def _made_lists(self) -> dict[str, Choices]:
        """A list of choices for each kind of table."""
        made = {"room": Choices(self._choose, "data-at")}
        for table, title, add in _LISTS:
            text(title, "h3")
            made[table] = Choices(self._choose, "data-at")
            button(add, lambda _, table=table: self._add(table), once=True, data_add=table)
        return made

    # -- drawing

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed; a field that is being typed into stays as it is."""
        if topic is not Topic.ROOM:
            return
        found = _values(self.studio.desk.text)
        if (
            found is None
        ):  # somebody edits it and is not done yet: what was shown stays, with why nothing can be written
            self._draw_step()
            self._draw_faults()
            return
        self.data = found
        if self._table() is None:
            self.path = _ROOM
        values = self._table() or {}
        unit = self._unit()
        self._draw_lists()
        self._draw_step()
        self.several.show(unfold=self._step.add == "lot")
        self.form.show(self.path, values)
        assumed = self.path[0] == "lot" and is_assumed(values, unit)
        self.form.say(self.studio.all_faults, unit, {"mass_g": "assumed from its size"} if assumed else None)
        self.picture.show(values if self.path[0] == "space" else None, unit)
        self._draw_faults()

    def _unit(self) -> str:
        """Of plain numbers in the text as it is."""
        room = self.data.get("room")
        unit = room.get("units", "mm") if isinstance(room, dict) else "mm"
        return unit if unit in {"mm", "cm", "in"} else "mm"

    def _table(self) -> dict[str, Any] | None:
        """The values of the table that is shown; nothing where it is not there."""
        if self.path == _ROOM:
            found = self.data.get("room", {})
            return found if isinstance(found, dict) else {}
        table, name = (*self.path, "")[:2]
        return next((one for one in self._listed(str(table)) if one["id"] == name), None)

    def _listed(self, table: str) -> list[dict[str, Any]]:
        """The tables of a list that can be shown."""
        found = self.data.get(table) if table in FORMS else None
        listed = found if isinstance(found, list) else []
        known = [one for one in listed if isinstance(one, dict) and isinstance(one.get("id"), str)]
        return list({one["id"]: one for one in reversed(known)}.values())[::-1]

    def _draw_lists(self) -> None:
        shown = ".".join(map(str, self.path))
        self._lists["room"].show([("room", self._with_count("The room", "room"))], shown)
        for table, _, _ in _LISTS:
            rows = [(f"{table}.{one['id']}", str(one.get("name") or one["id"])) for one in self._listed(table)]
            self._lists[table].show([(key, self._with_count(words, key)) for key, words in rows], shown)

    def _with_count(self, words: str, key: str) -> str:
        wrong = sum(fault.key.startswith(f"{key}.") for fault in self.studio.all_faults)
        return f"{words} ({wrong} to settle)" if wrong else words

    def _draw_step(self) -> None:
        self._step = step = next_step(self.data, self.studio.all_faults)
        reword(self._next, step.words)
        words = self._do_next.default_slot.children[0]
        assert isinstance(words, ui.html)  # noqa: S101 - as button makes it
        reword(words, step.button)
        self._do_next.set_visibility(bool(step.button))
        self._done.set_visibility(step.done)

    def _draw_faults(self) -> None:
        faults = {fault.key: fault for fault in reversed(self.studio.all_faults)}
        shown = sorted(faults.items(), key=lambda one: _place(one[0]))[:_SHOWN_FAULTS]
        missing = all(fault.found in MISSING for fault in faults.values())
        wrong = "Still to fill in" if missing else "What is still wrong"
        reword(self._verdict, wrong if faults else "Nothing is wrong")
        self._faults.show([(key, f"{self._called(fault)}: {said_of(fault)}") for key, fault in shown], None)
        left = len(faults) - len(shown)
        unplanned = self.studio.unplanned
        if unplanned is not None and unplanned.error:
            reword(self._verdict, "It could not be planned")
            reword(self._more, f"{unplanned.error}. Take back what you did last; it is a fault of this program.")
            return
        reword(self._more, f"And {left} more." if left else "" if faults else "The room can be planned.")

    def _called(self, fault: Fault) -> str:
        """What a fault is about, for people."""
        titles = {table: title for table, title, _ in _LISTS}
        table, _, rest = fault.key.partition(".")
        name, _, key = rest.partition(".")
        one = next((one for one in self._listed(table) if one["id"] == name), None)
        line = f" (line {fault.line})" if fault.line else ""
        if table == "part" and name:
            return f"{name}, made to order{line}"
        return (
            f"{one.get('name') or name}, {label_of(key)}{line}"
            if one and key
            else f"{titles.get(fault.key, fault.key)}{line}"
        )

    # -- what people do

    def _choose(self, key: str) -> None:
        self._go(tuple(key.split(".", 1)))
        self.refresh(Topic.ROOM)

    def _go(self, path: Path) -> None:
        """Show another table, and have the address say so."""
        self.path = path
        at_address("/survey", at="" if path == _ROOM else ".".join(map(str, path)))

    def _to_fault(self, key: str) -> None:
        """Show the form of a fault, and put the focus into its field; another page where it is about no form."""
        table, _, rest = key.partition(".")
        if table == "part":
            order = rest.partition(".")[0]
            ui.navigate.to(f"/parts?lot={quote(f'{ORDERED}{order}/1', safe='')}")
        elif table.startswith("place"):
            ui.navigate.to("/layout")
        if key.partition(".")[0] not in {"room", "space", "lot", "printer", "material"}:
            return
        self._choose(".".join(key.split(".")[:2]))
        self.form.focus(key)

    def _follow_step(self) -> None:
        """Do what is next, or go where it is done."""
        step = self._step
        if step.makes:
            self._edit("usual printer and material", completed)
        elif step.add:
            self._add(step.add)
        elif step.at:
            key = ".".join(map(str, step.at))
            fault = next((fault.key for fault in self.studio.all_faults if fault.key.startswith(f"{key}.")), key)
            self._to_fault(fault)

    def typed(self, field: Field, path: Path, typed: str) -> None:
        """Something was typed into a field."""
        values, value = self._table() or {}, field.value(typed)
        name = str(values.get("name") or values.get("id") or "the room")
        more = follows(values, field.key, value, self.studio.unit) if path[0] == "lot" else {}

        def change(old: str) -> str:
            for key, one in {field.key: value, **more}.items():
                old = with_value(old, (*path, key), one)
            return old

        self._edit(f"{field.label} of {name}", change)
        if words := _said_of(more):
            self.studio.say(words)

    def block(self) -> None:
        """One more box that nothing may enter."""
        count = len((self._table() or {}).get("blocked", []))
        side = as_length(float(NEW_BOX), self._unit())
        box = {"reason": "in the way", "x": 0, "y": 0, "width": side, "depth": side}
        self._edit("blocked added", with_table, (*self.path, "blocked"), box)
        self.form.focus_box(count)

    def unblock(self, number: int) -> None:
        """One box less."""
        self._edit("blocked taken out", without_table, (*self.path, "blocked", number))
        self.form.focus()

    def remove(self) -> None:
        """The whole table goes."""
        gone, values = self.path, self._table() or {}
        name = str(values.get("name") or gone[-1])
        self._go(_ROOM)
        self._edit(f"{name} taken out", without_table, gone)
        self.studio.say(f"{name} is taken out of the room; Take back brings it back.")
        self.form.focus()

    def _edit(self, name: str, change: Callable[..., str], *how: object) -> None:
        try:
            self.studio.edit(name, change(self.studio.desk.text, *how))
        except (KeyError, ValueError) as error:
            self.studio.say(f"That could not be written into the room file: {error}. Correct the file in an editor.")

    def _known(self) -> set[str]:
        return {one["id"] for one in self._listed("lot")}

    def _add(self, table: str) -> None:
        new = new_id(_WORDS[table], {one["id"] for one in self._listed(table)})
        unit = self._unit()
        usual = {key: as_length(value, unit) if key in LENGTHS else value for key, value in _NEW[table].items()}
        keys = {"id": new, "name": f"{_WORDS[table]} {new.rpartition('-')[2]}", **usual}
        if table == "printer":
            keys["materials"] = [one["id"] for one in self._listed("material")][:1]
        before, self.path = self.path, (table, new)
        self._edit(f"{_WORDS[table]} added", with_table, (table,), keys)
        self._go(before if self.path == _ROOM else self.path)
        self.form.focus(select=self.path != before)

    def _moved(self, said: Mapping[str, Any]) -> None:
        """A box was dragged; whatever is said may be forged."""
        number, x, y = (_whole(said.get(key)) for key in ("n", "x", "y"))
        boxes = (self._table() or {}).get("blocked", [])
        if number is None or x is None or y is None or number >= len(boxes):
            self.studio.say("That gesture was not understood.")
            return
        where: Path = (*self.path, "blocked", number)
        there = {"x": self.picture.typed(x), "y": self.picture.typed(y)}

        def change(old: str) -> str:
            for key, value in there.items():
                old = with_value(old, (*where, key), value)
            return old

        self._edit(f"{boxes[number].get('reason', 'box')} moved", change)

    def _take(self, things: Typed) -> None:
        """Several things at once."""

        def change(old: str) -> str:
            for lot in things.lots:
                old = with_table(old, ("lot",), lot)
            return old

        count = f"{len(things.lots)} things" if len(things.lots) > 1 else "1 thing"
        self._edit(f"{count} added", change)
        rough = " Their masses are assumed from their sizes: weigh one of each when you can." if things.assumed else ""
        self.studio.say(f"{count} added.{rough}")


def _place(key: str) -> tuple[str, str, int]:
    """Where a fault stands in the list: tables as the room file has them, fields as the form has them."""
    table, _, rest = key.partition(".")
    name, _, field = rest.partition(".")
    _, first, more = FORMS.get(table, (None, (), ()))
    keys = (*first, *more)
    plain = field.partition(".")[0].partition("[")[0]
    return "" if table == "space" else table, name, keys.index(plain) if plain in keys else len(keys)


def _said_of(more: Mapping[str, Any]) -> str:
    """What else was changed in a thing, in words."""
    said = []
    gone = [key for key, value in more.items() if value is None and key != "mass_g"]
    if gone:
        said.append(f"Taken out with it: {', '.join(gone)}.")
    if more.get("mass_g") is not None:
        said.append(f"Its mass is assumed from its size, {more['mass_g']:g} g: weigh one when you can.")
    return " ".join(said)


def _values(room_text: str) -> dict[str, Any] | None:
    """The values of a text; nothing while it is no TOML."""
    try:
        return tomllib.loads(room_text)
    except ValueError:
        return None


def _whole(value: object) -> int | None:
    """A whole number from 0; nothing for anything else."""
    return value if type(value) is int and value >= 0 else None
