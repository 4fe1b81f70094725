"""The survey: spaces, things, printers and materials as forms, with the space drawn beside, and what is still wrong."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from typing import TYPE_CHECKING, Any

from nicegui import ui

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.studio.forms import FORMS, Field, Way, form
from nookwright.studio.pages.elements import SpaceSheet
from nookwright.studio.pages.frame import button, follow, page, text
from nookwright.studio.room_text import with_table, with_value, without_table
from nookwright.studio.state import Topic
from nookwright.studio.typed_fields import pasted, shown, understood
from nookwright.survey.standards import all_standards

if TYPE_CHECKING:
    from collections.abc import Mapping

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
    "space": {"kind": "drawer", "floor_height": 800, "load_kg": 10},
    "lot": {"count": 1},
    "printer": {},
    "material": {"colour": "#8a9199", "density_g_cm3": 1.24, "price_per_kg": 20},
}


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
        table, _, name = at.partition(".")
        self.path: Path = (table, name) if table in FORMS and name else ("room",)
        self._own = False
        self._messages: dict[str, tuple[ui.element, ui.html]] = {}
        with ui.element("div").classes("survey-grid"):
            self.lists = ui.element("nav").classes("stack").props('aria-label="What is surveyed"')
            self.form = ui.element("section").classes("panel stack").props('aria-label="Form"')
            with ui.element("div").classes("stack"):
                self.picture = ui.element("section").classes("panel").props('aria-label="The space"')
                self.faults = ui.element("section").classes("panel stack").props('aria-label="What is still wrong"')
        self.refresh(Topic.ROOM)
        follow(studio, self.refresh)

    # -- drawing

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed; a field that is being typed into stays as it is."""
        if topic is not Topic.ROOM:
            return
        self._draw_lists()
        if not self._own:
            self._draw_form()
        self._draw_messages()
        self._draw_picture()
        self._draw_faults()

    @property
    def data(self) -> dict[str, Any]:
        """The values of the text; nothing while it is no TOML."""
        try:
            return tomllib.loads(self.studio.desk.text)
        except ValueError:
            return {}

    def _table(self) -> dict[str, Any]:
        """The values of the table that is shown."""
        found = self.data.get(str(self.path[0]), {})
        if len(self.path) > 1 and isinstance(found, list):
            return next((one for one in found if one.get("id") == self.path[1]), {})
        return found if isinstance(found, dict) else {}

    def _draw_lists(self) -> None:
        data = self.data
        self.lists.clear()
        with self.lists:
            self._choice("The room", ("room",))
            for table, title, add in _LISTS:
                text(title, "h3")
                with ui.element("ul").classes("space-list"):
                    for one in data.get(table, []):
                        if isinstance(one, dict) and isinstance(one.get("id"), str):
                            with ui.element("li"):
                                self._choice(str(one.get("name") or one["id"]), (table, one["id"]))
                button(add, lambda _, table=table: self._add(table), data_add=table)
            with ui.element("details"):
                text("Paste things from a spreadsheet", "summary")
                area = (
                    ui.element("textarea")
                    .classes("plain")
                    .props('rows=4 data-paste aria-label="Rows of a spreadsheet"')
                )
                area.on(
                    "change",
                    lambda event: self._paste(str(event.args)),
                    js_handler="(event) => emit(event.target.value)",
                )

    def _choice(self, words: str, path: Path) -> None:
        wrong = sum(fault.key.startswith(f"{'.'.join(map(str, path))}.") for fault in self.studio.faults)
        made = button(words + (f" ({wrong} to settle)" if wrong else ""), lambda _: self._show(path))
        made.props["data-at"] = ".".join(map(str, path))
        made.props["aria-pressed"] = "true" if path == self.path else "false"

    def _draw_form(self) -> None:
        self.form.clear()
        self._messages = {}
        table, values = str(self.path[0]), self._table()
        first, more = form(table)
        with self.form:
            text(str(values.get("name") or values.get("id") or "The room"), "h2")
            for field in first:
                self._field(field, values.get(field.key), self.path)
            if more:
                with ui.element("details"):
                    text("More", "summary")
                    for field in more:
                        self._field(field, values.get(field.key), self.path)
            if table == "space":
                self._draw_blocked(values)
            if len(self.path) > 1:
                button("Take it out of the room", self._remove, data_do="remove")
        with ui.element("datalist").props('id="standards"') if table == "lot" else ui.element("span"):
            for one in all_standards() if table == "lot" else ():
                text("", "option").props(f'value="{one.designation}"')

    def _draw_blocked(self, values: Mapping[str, Any]) -> None:
        text("Blocked: what nothing may enter", "h3")
        for number, box in enumerate(values.get("blocked", [])):
            with ui.element("fieldset"):
                text(str(box.get("reason", "")), "legend")
                for field in form("blocked")[0]:
                    self._field(field, box.get(field.key), (*self.path, "blocked", number))
                button(
                    "Take it out",
                    lambda _, n=number: self._edit("blocked taken out", without_table, (*self.path, "blocked", n)),
                )
        button("Add what is in the way", self._block, data_add="blocked")

    def _field(self, field: Field, value: object, path: Path) -> None:
        """A field with its label, help and message."""
        name = "-".join(map(str, (*path, field.key)))
        with ui.element("div").classes("field"):
            text(field.label, "label").props(f'for="{name}"')
            if field.way is Way.CHOICE:
                made = ui.element("select")
                with made:
                    for option in field.choices:
                        chosen = " selected" if option == shown(value) else ""
                        text(option or "(as usual)", "option").props(f'value="{option}"{chosen}')
            elif field.way is Way.READINGS:
                made = ui.element("textarea").props("rows=2")
                made.props["value"] = shown(value)
            else:
                made = ui.element("input").props('type="text"')
                made.props["value"] = shown(value)
                if field.key == "standard":
                    made.props["list"] = "standards"
            made.classes("plain").props(
                f'id="{name}" name="{name}" aria-describedby="{name}-help {name}-said" data-field'
            )
            text(field.help, "p", "help").props(f'id="{name}-help"')
            said = text("", "p", "said").props(f'id="{name}-said" role="status"')
            self._messages[".".join(map(str, (*path, field.key)))] = made, said
            made.on(
                "change",
                lambda event, field=field: self._typed(field, path, str(event.args)),
                js_handler="(event) => emit(event.target.value)",
            )

    def _draw_messages(self) -> None:
        """Say beside each field what is wrong with it, or what it is read as."""
        unit = str(self.data.get("room", {}).get("units", "mm"))
        for where, (made, said) in self._messages.items():
            fault = next((one for one in self.studio.faults if _of(one, where)), None)
            echo = ""
            if fault is None and made.props.get("data-length"):
                echo = understood(str(made.props.get("value", "")), unit)
            words = f"Found {fault.found}; allowed: {fault.allowed}. {fault.remedy}" if fault else echo
            _content(said, words)
            said.classes(replace="said stop" if fault else "said note")
            if bool(made.props.get("aria-invalid")) != bool(fault):
                if fault:
                    made.props["aria-invalid"] = "true"
                else:
                    made.props.pop("aria-invalid", None)
                made.update()

    def _draw_picture(self) -> None:
        self.picture.clear()
        if self.path[0] != "space":
            self.picture.set_visibility(False)
            return
        self.picture.set_visibility(True)
        values = self._table()
        with self.picture:
            text("Seen from above", "h3")
            sheet = SpaceSheet(self._moved)
            unit = str(self.data.get("room", {}).get("units", "mm"))
            sheet.show(
                name=str(values.get("name") or values.get("id")),
                width=_length(values.get("width"), unit),
                depth=_length(values.get("depth"), unit),
                boxes=[_box(box, unit) for box in values.get("blocked", []) if isinstance(box, dict)],
            )

    def _draw_faults(self) -> None:
        self.faults.clear()
        with self.faults:
            faults = self.studio.faults
            text("What is still wrong" if faults else "Nothing is wrong", "h3")
            if not faults:
                text("The room can be planned.", "p", "good")
            for fault in faults[:12]:
                with ui.element("div").classes("stack"):
                    parts = fault.key.split(".")
                    words = f"{fault.key} (line {fault.line})" if fault.line else fault.key
                    button(
                        words, lambda _, parts=parts: self._show(tuple(parts[:2]) if parts[0] != "room" else ("room",))
                    )
                    text(f"Found {fault.found}; allowed: {fault.allowed}. {fault.remedy}", "p")
            if len(faults) > 12:  # noqa: PLR2004 - a screenful
                text(f"And {len(faults) - 12} more.", "p")

    # -- what people do

    def _show(self, path: Path) -> None:
        table = str(path[0])
        listed = self.data.get(table)
        if table not in FORMS or (
            len(path) > 1 and not (isinstance(listed, list) and any(o.get("id") == path[1] for o in listed))
        ):
            path = ("room",)
        self.path = path
        self.refresh(Topic.ROOM)

    def _typed(self, field: Field, path: Path, typed: str) -> None:
        made, _ = self._messages[".".join(map(str, (*path, field.key)))]
        made.props["value"] = typed
        made.props["data-length"] = "yes" if field.length else ""
        value = field.value(typed)
        name = str(self._table().get("name") or self._table().get("id") or "the room")
        self._own = True
        try:
            self._edit(f"{field.label} of {name}", with_value, (*path, field.key), value)
        finally:
            self._own = False

    def _edit(self, name: str, change: Any, *how: Any) -> None:  # noqa: ANN401 - a function of room_text and its arguments
        try:
            self.studio.edit(name, change(self.studio.desk.text, *how))
        except (KeyError, ValueError) as error:
            self.studio.say(f"That could not be written into the room file: {error}. Correct the file in an editor.")

    def _add(self, table: str) -> None:
        name = {"space": "Space", "lot": "Thing", "printer": "Printer", "material": "Material"}[table]
        new = _id(name, {str(one.get("id")) for one in self.data.get(table, []) if isinstance(one, dict)})
        self.path = (table, new)
        self._edit(
            f"{name} added",
            with_table,
            (table,),
            {"id": new, "name": f"{name} {new.rpartition('-')[2]}", **_NEW[table]},
        )

    def _remove(self) -> None:
        gone, self.path = self.path, ("room",)
        self._edit(f"{gone[-1]} taken out", without_table, gone)

    def _block(self) -> None:
        box = {"reason": "in the way", "x": 0, "y": 0, "width": 40, "depth": 40}
        self._edit("blocked added", with_table, (*self.path, "blocked"), box)

    def _moved(self, said: Mapping[str, Any]) -> None:
        """A box was dragged; whatever is said may be forged."""
        number, x, y = (said.get(key) for key in ("n", "x", "y"))
        boxes = self._table().get("blocked", [])
        if not (_is_whole(number) and _is_whole(x) and _is_whole(y) and 0 <= int(number) < len(boxes)):  # type: ignore[arg-type]
            self.studio.say("That gesture was not understood.")
            return
        where = (*self.path, "blocked", int(number))  # type: ignore[arg-type]
        unit = str(self.data.get("room", {}).get("units", "mm"))
        there = [round(one / _MM[unit], 3) if unit != "mm" else one for one in (int(x), int(y))]  # type: ignore[arg-type]
        try:
            moved = with_value(with_value(self.studio.desk.text, (*where, "x"), there[0]), (*where, "y"), there[1])
            self.studio.edit(f"{boxes[int(number)].get('reason', 'box')} moved", moved)  # type: ignore[arg-type]
        except (KeyError, ValueError) as error:
            self.studio.say(f"That could not be written into the room file: {error}.")

    def _paste(self, typed: str) -> None:
        try:
            rows = pasted(typed)
        except ValueError as error:
            self.studio.say(str(error))
            return
        known = {str(one.get("id")) for one in self.data.get("lot", []) if isinstance(one, dict)}
        changed = self.studio.desk.text
        for row in rows:
            new = _id(row["name"], known)
            known.add(new)
            changed = with_table(changed, ("lot",), {"id": new, **row})
        self.studio.edit(f"{len(rows)} things pasted", changed)
        self.studio.say(f"{len(rows)} things pasted.")


_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}


def _of(fault: Fault, where: str) -> bool:
    """Whether a fault is about a field."""
    plain = re.sub(r"\.(\d+)\.", lambda found: f"[{int(found[1]) + 1}].", where)
    return fault.key in {where, plain} or fault.key.startswith((f"{where}.", f"{where}[", f"{plain}.", f"{plain}["))


def _id(name: str, known: set[str]) -> str:
    """A short name that nothing else has."""
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    base = re.sub(r"[^a-z0-9]+", "-", bare).strip("-")[:40] or "thing"
    if base not in known and base not in {"space", "thing", "printer", "material"}:
        return base
    return next(f"{base}-{number}" for number in range(1, len(known) + 3) if f"{base}-{number}" not in known)


def _length(value: object, unit: str) -> float:
    """The first length of a value; 0 where there is none that can be read."""
    while isinstance(value, list | dict):
        value = (next(iter(value.values()), None) if isinstance(value, dict) else value[0]) if value else None
    try:
        return read_length(value, unit) if value is not None else 0.0
    except LengthError:
        return 0.0


def _box(box: Mapping[str, Any], unit: str) -> dict[str, object]:
    """A blocked box as it is drawn."""
    sides = {key: _length(box.get(key), unit) for key in ("x", "y", "width", "depth")}
    return {**sides, "reason": str(box.get("reason", "")), "service": bool(box.get("service"))}


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _content(element: ui.html, said: str) -> None:
    import html

    if element.content != html.escape(said):
        element.set_content(html.escape(said))
