"""Elements of our own: each a plain ES module of this package, with the properties and events that it has."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import nicegui.elements.scene  # noqa: F401 - puts three into the import map
from nicegui import ui

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
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
        self.on("gesture", lambda event: on_gesture(event.args))
        for name, do in on.items():
            self.on(name, do)

    def show(self, **props: object) -> None:
        """Show something else; nothing is sent where it is the same."""
        if any(self.props.get(name) != value for name, value in props.items()):
            self.props.update(props)
            self.update()

    def refuse(self, words: str) -> None:
        """Put back what is in hand, and say why."""
        self.run_method("refuse", words)


class SolidView(ui.element, component=_WEB / "nw_solid_view.js"):
    """Solids to look at from all sides."""

    def __init__(self, label: str, on_pick: Callable[[str], object]) -> None:
        """An empty view.

        Args:
            label: what is to be seen, for screen readers.
            on_pick: is handed the name of what was clicked.
        """
        super().__init__()
        self.props["label"] = label
        self.on("pick", lambda event: on_pick(str(event.args)))

    def show(self, address: str, chosen: str = "") -> None:
        """Show other solids.

        Args:
            address: of a GLB, on this server.
            chosen: name of what is marked.
        """
        if (self.props.get("src"), self.props.get("chosen")) != (address, chosen):
            self.props.update(src=address, chosen=chosen)
            self.update()


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


class SectionSheet(ui.element, component=_WEB / "nw_section_sheet.js"):
    """A part in section, with dimensions that are clicked and typed."""

    def __init__(self, on_typed: Callable[[Mapping[str, Any]], object]) -> None:
        """An empty sheet.

        Args:
            on_typed: is handed which dimension was typed, and what; nothing in it may be believed.
        """
        super().__init__()
        self.on("typed", lambda event: on_typed(event.args if isinstance(event.args, dict) else {}))

    def show(self, **props: object) -> None:
        """Show something else."""
        self.props.update(props)
        self.update()
