"""Elements of our own: each a plain ES module of this package, with the properties and events that it has."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from nicegui import ui

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from typing import Any

_WEB = Path(__file__).parent.parent / "web"


class PlanSheet(ui.element, component=_WEB / "nw_plan_sheet.js", esm={"nw-plan": _WEB / "plan"}):
    """A space in plan, with parts that are moved by hand."""

    def __init__(self, on_gesture: Callable[[Mapping[str, Any]], object], **on: Callable[..., object]) -> None:
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
        """Show something else."""
        self.props.update(props)
        self.update()

    def refuse(self, words: str) -> None:
        """Put back what is in hand, and say why."""
        self.run_method("refuse", words)
