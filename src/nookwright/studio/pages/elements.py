"""Elements of our own: each a plain ES module of this package, with the properties and events that it has."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import nicegui.elements.scene  # noqa: F401 - puts three into the import map
from nicegui import ui

from nookwright.studio.patches import NOTHING, patch_between

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from typing import Any

_WEB = Path(__file__).parent.parent / "web"


class PlanSheet(ui.element, component=_WEB / "nw_plan_sheet.js", esm={"nw-plan": str(_WEB / "plan")}):
    """A space in plan, with parts that are moved by hand."""

    def __init__(self, on_gesture: Callable[[object], object], **on: Callable[..., object]) -> None:
        """An empty sheet.

        Args:
            on_gesture: is handed what a hand has done; nothing in it may be believed.
            on: ``pick``, ``back``, ``again``.
        """
        super().__init__()
        self._items: tuple[Mapping[str, Any], ...] | None = None  # in the order in which the page has them
        self._state = 0
        self.on("gesture", lambda event: on_gesture(event.args))
        self.on("lost", self.update, [])
        for name, do in on.items():
            self.on(name, do)

    def show(self, *, items: Sequence[Mapping[str, Any]], rev: int, chosen: str, **props: object) -> None:
        """Show something else; nothing is sent where it is the same, and no more of the parts than was changed.

        Args:
            items: the parts.
            rev: revision of what is shown.
            chosen: id of the part that is marked; of none that is shown leaves the mark where it is.
            props: all else.
        """
        changed = {name: value for name, value in props.items() if self.props.get(name) != value}
        patch = None if changed or self._items is None else patch_between(self._items, items)
        if patch == NOTHING and (rev, chosen) == (self.props.get("rev"), self.props.get("chosen")):
            return
        base, self._state = self._state, self._state + 1
        self._items = tuple(items) if patch is None else patch.made(self._items or ())
        with self.props.suspend_updates():
            self.props.update(changed, items=self._items, rev=rev, chosen=chosen, state=self._state)
        if patch is None:
            self.update()
            return
        mark = next((number for number, one in enumerate(self._items) if one["id"] == chosen), -1)
        self.run_method("patch", {"base": base, "state": self._state, "rev": rev, "mark": mark, **patch.sent})

    def refuse(self, words: str) -> None:
        """Put back what is in hand, and say why."""
        self.run_method("refuse", words)


class SolidView(ui.element, component=_WEB / "nw_solid_view.js", esm={"nw-round": str(_WEB / "round")}):
    """Parts to look at from all sides: drawn roughly at once, and as solids as these come."""

    def __init__(self, label: str, on_pick: Callable[[str], object]) -> None:
        """An empty view.

        Args:
            label: what is to be seen, for screen readers.
            on_pick: is handed the name of what was clicked.
        """
        super().__init__()
        self.props["label"] = label
        self.on("pick", lambda event: on_pick(str(event.args)))

    def show_parts(
        self,
        subject: str,
        files: Sequence[str],
        rough: Sequence[Mapping[str, Any]],
        chosen: Sequence[str],
    ) -> None:
        """Show parts; nothing is sent where they are the same.

        Args:
            subject: what is seen; for another one it is looked at anew from in front.
            files: addresses of GLB files that are there, on this server; more may follow.
            rough: outer sizes and places, drawn until their solids come; none where it is not known what comes.
            chosen: names of what is marked.
        """
        new = {"subject": subject, "files": tuple(files), "rough": tuple(rough), "chosen": tuple(chosen)}
        changed = {name: value for name, value in new.items() if self.props.get(name) != value}
        if changed:
            self.props.update(changed)


class PickList(ui.element, component=_WEB / "nw_pick_list.js"):
    """A list of which one is taken; one element of the page however many rows it has."""

    def __init__(self, on_taken: Callable[[str], object]) -> None:
        """An empty list.

        Args:
            on_taken: is handed the key of a row; it may be forged.
        """
        super().__init__()
        self.on("taken", lambda event: on_taken(str(event.args)))

    def show(self, rows: tuple[tuple[str, str], ...], chosen: str) -> None:
        """Show other rows; nothing is sent where they are the same.

        Args:
            rows: key and words of each.
            chosen: key of the one that holds now.
        """
        if (self.props.get("rows"), self.props.get("chosen")) != (rows, chosen):
            self.props.update(rows=rows, chosen=chosen)

    def reset(self) -> None:
        """Show what holds, whatever was chosen in it."""
        self.run_method("reset")


class SpaceSheet(ui.element, component=_WEB / "nw_space_sheet.js"):
    """The inside of a space from above, with what is blocked in it."""

    def __init__(self, on_moved: Callable[[Mapping[str, Any]], object]) -> None:
        """An empty sheet.

        Args:
            on_moved: is handed which box was dragged where; nothing in it may be believed.
        """
        super().__init__()
        self.on("moved", lambda event: on_moved(event.args if isinstance(event.args, dict) else {}))

    def show(self, **props: object) -> None:
        """Show something else."""
        self.props.update(props)
        self.update()


class SectionSheet(ui.element, component=_WEB / "nw_section_sheet.js", esm={"nw-section": str(_WEB / "section")}):
    """A part in section, with dimensions that are clicked and typed."""

    def __init__(self, on_typed: Callable[[Mapping[str, Any]], object]) -> None:
        """An empty sheet.

        Args:
            on_typed: is handed which dimension was typed, and what; nothing in it may be believed.
        """
        super().__init__()
        self.on("typed", lambda event: on_typed(event.args if isinstance(event.args, dict) else {}))

    def show(self, **props: object) -> None:
        """Show something else; nothing is sent where it is the same, so that what is being typed stays."""
        if any(self.props.get(name) != value for name, value in props.items()):
            self.props.update(props)
            self.update()
