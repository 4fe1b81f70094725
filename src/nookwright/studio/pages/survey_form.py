"""One form of the survey: the fields of a table, each with its help and what is wrong with it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from nicegui import ui

from nookwright.studio.beginning import MISSING
from nookwright.studio.forms import Field, Way, form
from nookwright.studio.pages.frame import button, reword, text
from nookwright.studio.typed_fields import shown, understood
from nookwright.survey.standards import all_standards

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from nookwright.ground.errors import Fault
    from nookwright.studio.room_text import Path


class Doer(Protocol):
    """Who does what people do with the table of the form."""

    def block(self) -> None:
        """One more box that nothing may enter."""

    def unblock(self, number: int) -> None:
        """One box less."""

    def remove(self) -> None:
        """The whole table goes."""


@dataclass
class _Drawn:
    """A field on the page.

    Attributes:
        field: what it is.
        path: of its table.
        row: all of it, with its label.
        made: the input.
        folded: whether it lies in the fold of what few people need.
        said: what is said below it.
        known: what stands in the room file, as the field shows it.
        typed: what stands in the field.
    """

    field: Field
    path: Path
    row: ui.element
    made: ui.element
    said: ui.html
    known: str
    typed: str
    folded: bool = False

    @property
    def where(self) -> str:
        """The key in the room file."""
        return ".".join(map(str, (*self.path, self.field.key)))


class SurveyForm:
    """The fields of one table; what is being typed is never touched by what happens elsewhere."""

    def __init__(
        self, typed: Callable[[Field, Path, str], None], doer: Doer | None = None, *, table: str = "", title: str = ""
    ) -> None:
        """An empty form.

        Args:
            typed: is handed what was typed into which field of which table.
            doer: of what people do with the whole table; nothing of that is offered without.
            table: whose fields are shown; that which the path begins with when left out.
            title: of the form; the name that the table has when left out.
        """
        self._to_write, self._doer = typed, doer
        self._table, self._fixed = table, title
        self._shape: object = None
        self._fields: list[_Drawn] = []
        self._legends: list[ui.html] = []
        self._boxes: list[ui.element] = []
        self._body = ui.element("section").classes("panel stack")
        self._body.props["aria-label"] = title or "Form"

    def show(self, path: Path, values: Mapping[str, Any]) -> None:
        """Show a table; a field whose value did not change stays as it is.

        Args:
            path: of the table.
            values: of it.
        """
        boxes = [box for box in values.get("blocked", []) if isinstance(box, dict)]
        if path != self._shape:
            self._shape = path
            self._draw(path, values, boxes)
            return
        self._draw_boxes(path, boxes)
        reword(self._title, self._fixed or _title(values))
        for legend, box in zip(self._legends, boxes, strict=False):
            reword(legend, str(box.get("reason", "")))
        for one in self._fields:
            table = boxes[int(one.path[-1])] if len(one.path) > len(path) else values
            now = shown(table.get(one.field.key))
            if now != one.known:
                _run(_VALUE_BECOMES, one, was=one.typed, now=now)
                one.known = one.typed = now

    def say(self, faults: Sequence[Fault], unit: str, notes: Mapping[str, str] | None = None) -> None:
        """Say beside each field what is wrong with it, or what it is read as.

        Args:
            faults: all of the room.
            unit: of plain numbers.
            notes: by key: what else is to be said where nothing is wrong.
        """
        notes = notes or {}
        for one in self._fields:
            fault = next((fault for fault in faults if is_about(fault, one.where)), None)
            missing = fault is not None and fault.found in MISSING
            echo = understood(one.typed, unit) if fault is None and one.field.length else notes.get(one.field.key, "")
            reword(one.said, said_of(fault) if fault else echo)
            one.row.classes(**{"add" if fault or one.known else "remove": "kept"})  # else it may go with the shape
            one.said.classes(replace="said stop" if fault and not missing else "said note")
            wrong = "true" if fault and not missing else None
            if one.made.props.get("aria-invalid") != wrong:
                one.made.props["aria-invalid"] = wrong
                one.made.update()

    def focus(self, key: str = "", *, select: bool = False) -> None:
        """Put the focus into a field, unless the hand is in one already.

        Args:
            key: of the room file, such as ``space.bench.width``; the first field if empty.
            select: whether what stands in it is marked, so that typing replaces it.
        """
        fields = [one for one in self._fields if not key or one.where == key or key.startswith(f"{one.where}.")]
        if fields:
            if fields[0].folded and self._more is not None:
                self._more.props["open"] = True
                self._more.update()
            _run(_FOCUS, fields[0], select=select and fields[0].field.way is not Way.CHOICE)

    def focus_box(self, number: int) -> None:
        """Put the focus into the first field of a blocked box, unless the hand is in a field already.

        Args:
            number: of the box.
        """
        box = next((one for one in self._fields if one.path[-2:] == ("blocked", number)), None)
        _run(_FOCUS, box or self._fields[0], select=True)

    # -- drawing

    def _draw(self, path: Path, values: Mapping[str, Any], boxes: Sequence[Mapping[str, Any]]) -> None:
        self._body.clear()
        self._fields, self._legends, self._boxes, self._more = [], [], [], None
        self._body.props["data-table"] = self._table or str(path[0])
        first, more = form(self._table or str(path[0]))
        with self._body:
            self._title = text(self._fixed or _title(values), "h2").props("data-form")
            for field in first:
                self._field(field, values.get(field.key), path)
            if path[0] == "space" and self._doer is not None:
                text("Blocked: what nothing may enter", "h3")
                self._box_stack = ui.element("div").classes("stack")
                self._draw_boxes(path, boxes)
                button("Add what is in the way", self._doer.block, once=True, data_add="blocked")
            if more:
                with ui.element("details") as self._more:
                    text("More", "summary")
                    for field in more:
                        self._field(field, values.get(field.key), path, folded=True)
            if self._doer is not None and len(path) > 1:
                button("Take it out of the room", self._doer.remove, once=True, data_do="remove")
            if path[0] == "lot" and not self._table:
                with ui.element("datalist").props('id="standards"'):
                    for one in all_standards():
                        text("", "option").props["value"] = one.designation

    def _draw_boxes(self, path: Path, boxes: Sequence[Mapping[str, Any]]) -> None:
        """As many boxes as there are; those that stay are the same elements, and so are the other fields."""
        doer = self._doer
        if path[0] != "space" or doer is None:
            return
        while len(self._boxes) > len(boxes):
            self._boxes.pop().delete()
            self._legends.pop()
            gone = (*path, "blocked", len(self._boxes))
            self._fields = [one for one in self._fields if one.path != gone]
        for number in range(len(self._boxes), len(boxes)):
            box = boxes[number]
            with self._box_stack, ui.element("fieldset") as made:
                self._legends.append(text(str(box.get("reason", "")), "legend"))
                for field in form("blocked")[0]:
                    self._field(field, box.get(field.key), (*path, "blocked", number))
                button("Take it out", lambda _, n=number: doer.unblock(n), once=True, data_unblock=str(number))
            self._boxes.append(made)

    def _field(self, field: Field, value: object, path: Path, *, folded: bool = False) -> None:
        """A field with its label, help and message."""
        name, known = _name(path, field), shown(value)
        with ui.element("div").classes("field") as row:
            row.props["data-row"] = field.key
            text(field.label, "label").props["for"] = name
            with ui.element("div"):
                made = self._input(field, path, known)
            text(field.help, "p", "help").props["id"] = f"{name}-help"
            said = text("", "p", "said").props('role="status"')
            said.props["id"] = f"{name}-said"
        self._fields.append(_Drawn(field, path, row, made, said, known, known, folded))

    def _input(self, field: Field, path: Path, known: str) -> ui.element:
        """What is typed into or chosen from; its text is set once, so that nobody's typing is overwritten."""
        name = _name(path, field)
        if field.way is Way.CHOICE:
            made = ui.element("select")
            with made:
                for option in field.choices:
                    one = text(option or f"(as usual{': ' if field.usual else ''}{field.usual})", "option")
                    one.props["value"] = option
                    if option == known:
                        one.props["selected"] = True
        else:
            several = field.way is Way.READINGS  # at several heights, a line each
            made = ui.element("textarea").props(f"rows={1 + (path[0] == 'space')}") if several else ui.element("input")
            made.props[".defaultValue"] = known
            made.props.update({"autocomplete": "off", "placeholder": " "})  # by which a style sees that it is empty
            if field.key == "standard":
                made.props["list"] = "standards"
        made.classes("plain wide").props("data-field")
        made.props["data-key"] = field.key
        made.props.update({"id": name, "name": name, "aria-describedby": f"{name}-help {name}-said"})
        made.on("change", lambda event: self._typed(path, field, event.args), js_handler=_VALUE)
        return made

    def _typed(self, path: Path, field: Field, typed: object) -> None:
        """A field was filled in; whatever is said may be forged."""
        drawn = next((one for one in self._fields if one.path == path and one.field is field), None)
        if drawn is None or not isinstance(typed, str):
            return
        drawn.typed = typed
        drawn.known = shown(field.value(typed))
        self._to_write(field, path, typed)


_VALUE = "(event) => emit(event.target.value)"

# A field in which something stands that has not been sent, or is on its way, keeps it; one that is left as it was
# found has what became of it meanwhile.
_VALUE_BECOMES = """(id, { was, now }) => {
  const field = document.getElementById(id);
  if (!field) return;
  const inHand = document.activeElement === field, plain = field.tagName !== "SELECT";
  const said = plain || [...field.options].some((one) => one.value === was);
  if (said && field.value !== was && field.value !== now) {
    if (inHand) field.addEventListener("blur", () => { if (field.value === was) field.value = now; }, { once: true });
    return;
  }
  const marked = plain && inHand && field.selectionStart === 0 && field.selectionEnd === field.value.length;
  field.value = now;
  if (marked) field.select();
}"""

# A hand that is in another field by now stays there, with all that it types; the same hand is not disturbed.
_FOCUS = """(id, { select }) => {
  const field = document.getElementById(id), hand = document.activeElement;
  if (!field || hand === field || (hand && hand.matches("input, textarea, select"))) return;
  field.focus();
  if (select) field.select();
}"""


def _run(script: str, one: _Drawn, **how: object) -> None:
    """Run a script in the page on a field."""
    if not one.made.is_deleted:
        one.made.client.run_javascript(f"({script})({json.dumps(one.made.props['id'])}, {json.dumps(how)})")


def is_about(fault: Fault, where: str) -> bool:
    """Whether a fault is about a field.

    Args:
        fault: with its key as people search for it.
        where: key of the field, with boxes counted from 0.
    """
    plain = re.sub(r"\.(\d+)\.", lambda found: f"[{int(found[1]) + 1}].", where)
    return fault.key in {where, plain} or fault.key.startswith((f"{where}.", f"{where}[", f"{plain}.", f"{plain}["))


def said_of(fault: Fault) -> str:
    """A fault in the words of a form."""
    if fault.found in MISSING:
        return "Still to fill in."
    return f"Found {fault.found}; allowed: {fault.allowed.rstrip('.')}. {fault.remedy}"


def _name(path: Path, field: Field) -> str:
    return "-".join(map(str, (*path, field.key)))


def _title(values: Mapping[str, Any]) -> str:
    return str(values.get("name") or values.get("id") or "The room")
