"""What stands beside the form of the survey: the space from above, and several things at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nicegui import ui

from nookwright.ground.errors import LengthError
from nookwright.ground.lengths import read_length
from nookwright.studio.pages.elements import SpaceSheet
from nookwright.studio.pages.frame import button, reword, text
from nookwright.studio.thing_lines import Typed, things_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


class Picture:
    """The space from above, with boxes that are dragged to where they are."""

    def __init__(self, moved: Callable[[Mapping[str, Any]], object]) -> None:
        """An empty picture.

        Args:
            moved: is handed which box was dragged where; nothing in it may be believed.
        """
        self._unit = "mm"
        self._panel = ui.element("section").classes("panel").props('aria-label="The space"')
        with self._panel:
            text("Seen from above", "h3")
            self._sheet = SpaceSheet(moved)

    def show(self, values: Mapping[str, Any] | None, unit: str) -> None:
        """Show a space.

        Args:
            values: of its table; nothing where no space is shown.
            unit: of plain numbers.
        """
        self._unit = unit
        self._panel.set_visibility(values is not None)
        if values is not None:
            self._sheet.show(
                name=str(values.get("name") or values.get("id")),
                width=_length(values.get("width"), unit),
                depth=_length(values.get("depth"), unit),
                boxes=[_box(box, unit) for box in values.get("blocked", []) if isinstance(box, dict)],
            )

    def typed(self, length: int) -> float | int:
        """A length of the picture as it stands in the room file.

        Args:
            length: mm.
        """
        return length if self._unit == "mm" else round(length / (_length(1, self._unit) or 1.0), 3)


class SeveralThings:
    """Rows of a spreadsheet or lines as a person types them, made into things at once."""

    def __init__(self, known: Callable[[], set[str]], unit: Callable[[], str], take: Callable[[Typed], object]) -> None:
        """Empty, and folded.

        Args:
            known: gives the ids that are taken.
            unit: gives that of plain numbers in this room.
            take: is handed what was read.
        """
        self._known, self._unit, self._take = known, unit, take
        self._typed = ""
        self._unfolded = False
        self._fold = ui.element("details").classes("panel")
        with self._fold:
            text("Several things at once", "summary")
            with ui.element("div").classes("stack"):
                text("One a line: name, size, how many", "label").props["for"] = "several"
                self._holder = ui.element("div")
                help_words = (
                    "Such as: Glue sticks, 22 round x 95, 6. Or: Hex keys, 80 x 12 x 12, 5. Or a published size: "
                    "Cells, LR6, 8. Plain numbers are mm. Rows of a spreadsheet may be pasted too, the names of the "
                    "columns first: name, count, width, depth, height, diameter, weight; units as in Width (cm)."
                )
                text(help_words, "p", "help").props["id"] = "several-help"
                self._said = text("", "p", "said stop").props('id="several-said" role="status" data-several-said')
                button("Add them", self._add, once=True, data_do="several")
        self._empty()

    def show(self, *, unfold: bool) -> None:
        """Unfold it where it is what to do next.

        Args:
            unfold: whether it is.
        """
        if unfold and not self._unfolded:
            self._fold.props["open"] = True
            self._fold.update()
        self._unfolded = unfold

    def _empty(self) -> None:
        """A field with nothing in it."""
        self._typed = ""
        self._holder.clear()
        with self._holder:
            area = ui.element("textarea").classes("plain wide").props('id="several" rows="5" data-several')
            area.props["aria-describedby"] = "several-help several-said"
            area.on("change", lambda event: self._changed(event.args), js_handler="(event) => emit(event.target.value)")
            self._area = area

    def _changed(self, typed: object) -> None:
        """Something was typed; whatever is said may be forged."""
        self._typed = typed if isinstance(typed, str) else ""

    def _add(self) -> None:
        try:
            things = things_of(self._typed, self._known(), self._unit())
        except ValueError as error:
            reword(self._said, str(error))
            self._area.props["aria-invalid"] = "true"
            self._area.update()
            return
        reword(self._said, "")
        self._empty()
        self._take(things)


def _length(value: object, unit: str) -> float:
    """The first length of a value; 0 where there is none that can be read."""
    while isinstance(value, list | dict):
        value = (next(iter(value.values()), None) if isinstance(value, dict) else value[0]) if value else None
    try:
        return max(0.0, read_length(value, unit)) if value is not None else 0.0
    except LengthError:
        return 0.0


def _box(box: Mapping[str, Any], unit: str) -> dict[str, object]:
    """A blocked box as it is drawn."""
    sides = {key: _length(box.get(key), unit) for key in ("x", "y", "width", "depth")}
    return {**sides, "reason": str(box.get("reason", "")), "service": bool(box.get("service"))}
