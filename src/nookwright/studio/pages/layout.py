"""The layout: each space in plan, moved by hand or improved by the tool."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nicegui import ui

from nookwright.studio.arrangement import Arrangement, RefusedError
from nookwright.studio.pages.elements import PlanSheet, SolidView
from nookwright.studio.pages.frame import button, follow, page, text
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.studio.sheets import Item, Sheets
    from nookwright.studio.state import Studio


def build(studio: Studio, *, space: str = "", pick: str = "") -> None:
    """The page.

    Args:
        studio: of the room.
        space: id of the space to show first.
        pick: id of a part to show first.
    """
    with page(studio, "layout", "Layout"):
        LayoutPage(studio, space=space, pick=pick)


class LayoutPage:
    """One page that shows one space at a time."""

    def __init__(self, studio: Studio, *, space: str, pick: str) -> None:
        """Draw it, and follow what changes."""
        self.studio = studio
        self.picked = pick
        now = studio.arrangement
        self.space = next((one.space for one in now.items if one.id == pick), space) if now else space
        self.find = ""
        with ui.element("div").classes("layout-grid"):
            with ui.element("section").classes("stack").props('aria-label="Spaces"'):
                search = ui.element("input").classes("plain")
                search.props('type="search" aria-label="Find a thing" placeholder="Find a thing" data-find')
                search.on("input", self._search, js_handler="(event) => emit(event.target.value)")
                self.spaces = ui.element("div")
                self.waiting = ui.element("div")
            with ui.element("section").props('aria-label="Plan"'):
                self.sheet = PlanSheet(self._gesture, pick=self._pick, back=studio.undo, again=studio.redo)
                self.round = ui.element("div").classes("stack")
                with self.round:
                    button("See it in the round", self._see, data_do="solid")
                    self.solid: SolidView | None = None
            with ui.element("section").classes("stack").props('aria-label="The part and the costs"'):
                self.part = ui.element("div").classes("panel stack")
                self.costs = ui.element("div").classes("panel stack")
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        if self.solid is not None and topic in {Topic.PLAN, Topic.JOB}:
            self._draw_solid()
        if topic not in {Topic.PLAN, Topic.ROOM}:
            return
        now = self.studio.arrangement
        if now is None:
            return
        spaces = [one.id for one in now.sheets.spaces]
        if self.space not in spaces:
            used = [name for name in spaces if now.in_space(name)]
            self.space = next(iter([*used, *spaces]), "")
        self._draw_sheet(now)
        self._draw_lists(now)
        self._draw_part(now)
        self._draw_costs(now)

    def _draw_sheet(self, now: Arrangement) -> None:
        sheets = now.sheets
        if not self.space:
            return
        self.sheet.show(
            sheet=sheets.sheet(self.space).model_dump(),
            items=[one.model_dump() for one in now.in_space(self.space)],
            lots={one.lot: one.model_dump() for one in sheets.lots},
            module={"pitch": sheets.pitch, "gap": sheets.gap, "rise": sheets.rise},
            rev=self.studio.desk.revision,
            chosen=self.picked,
            find=self.find,
        )

    def _draw_lists(self, now: Arrangement) -> None:
        self.spaces.clear()
        with self.spaces, ui.element("ul").classes("space-list"):
            for one in now.sheets.spaces:
                with ui.element("li"):
                    words = f"{one.name}: {_filled(now, one.id):.0f} % filled"
                    if self.find:
                        hits = sum(self.find in it.name.lower() for it in now.in_space(one.id))
                        words += f", {hits} found" if hits else ""
                    made = button(words, lambda _, name=one.id: self._show(name), data_space=one.id)
                    made.props["aria-pressed"] = "true" if one.id == self.space else "false"
        self.waiting.clear()
        placed = {one.lot for one in now.items}
        left = [one for one in now.sheets.left_out if one.lot not in placed]
        if left:
            with self.waiting, ui.element("div").classes("panel stack"):
                text("Not placed", "h3")
                for out in left:
                    text(f"{out.name}: {out.reason} {out.remedy}", "p", "words warn")
                    button(f"Put {out.name} here", lambda _, lot=out.lot: self._place(lot), data_place=out.lot)

    def _draw_part(self, now: Arrangement) -> None:
        self.part.clear()
        item = next((one for one in now.items if one.id == self.picked), None)
        with self.part:
            text("The part", "h3")
            if item is None:
                text("Choose a part in the plan. Arrows move it, with Shift they resize it.", "p")
                text("T turns it, S lets it stay. With Alt, arrows go to the next part.", "p")
                return
            text(item.name, "p", "")
            text(_measures(item, now.sheets), "p", "num")
            with ui.element("div").classes("row"):
                button("Turn", lambda: self._do("turn", item), data_do="turn")
                button("Need not stay" if item.stays else "Let it stay", lambda: self._do("stay", item), data_do="stay")
            with ui.element("label").classes("row"):
                text("Move to")
                choice = ui.element("select").classes("plain").props("data-do=to")
                with choice:
                    for one in now.sheets.spaces:
                        option = text(one.name, "option").props(f'value="{one.id}"')
                        if one.id == item.space:
                            option.props("selected")
                choice.on("change", self._to, js_handler="(event) => emit(event.target.value)")
            others = [one for one in now.items if one.lot and one.id != item.id and not one.level]
            with ui.element("label").classes("row"):
                text("Swap with")
                choice = ui.element("select").classes("plain").props("data-do=swap")
                with choice:
                    text("", "option").props('value=""')
                    for other in others:
                        text(other.name, "option").props(f'value="{other.id}"')
                choice.on("change", self._swap, js_handler="(event) => emit(event.target.value)")

    def _draw_costs(self, now: Arrangement) -> None:
        self.costs.clear()
        with self.costs:
            text("What the layout costs", "h3")
            with ui.element("table").classes("rows"), ui.element("tbody"):
                for part in now.sheets.cost:
                    if part.value:
                        with ui.element("tr"):
                            text(part.name, "th").props('scope="row"')
                            text(f"{part.value:.1f}", "td", "n")
                with ui.element("tr"):
                    text("together", "th").props('scope="row"')
                    text(f"{now.sheets.total:.1f}", "td", "n")
            if self.studio.outdated:
                text("Moved by hand: the costs are being worked out anew.", "p", "words")
            self._draw_offer(now)

    def _draw_offer(self, now: Arrangement) -> None:
        """What the tool could do better, and whether to take it."""
        offered = self.studio.offered
        if offered is None:
            text("What may move (without a cross) can be placed anew round what stays.", "p")
            button("Improve the rest", self.studio.improve, data_do="improve")
            return
        gain = now.sheets.total - offered.sheets.total
        moved = sum(
            (one.space, one.col, one.row) != (two.space, two.col, two.row)
            for one in now.items
            for two in offered.sheets.items
            if one.lot and one.lot == two.lot
        )
        text(
            f"It would cost {offered.sheets.total:.1f} instead of {now.sheets.total:.1f}: {abs(gain):.1f} "
            f"{'less' if gain > 0 else 'more'}, with {moved} parts in other places.",
            "p",
            "good" if gain > 0 else "warn",
        )
        with ui.element("div").classes("row"):
            button("Take it", self.studio.take, main=gain > 0, data_do="take")
            button("Leave it", self.studio.leave, data_do="leave")

    def _draw_solid(self) -> None:
        """Show the solids of the space once they are made."""
        made, planned = self.studio.solids.get(self.space), self.studio.planned
        if made is not None and planned is not None and self.solid is not None:
            self.solid.show(f"/solids/{self.space}.glb?of={planned.sha256[:16]}", self.picked)

    # -- what people do

    async def _see(self) -> None:
        """Have the space made solid."""
        if self.solid is None:
            with self.round:
                self.solid = SolidView("The parts of the space in the round; arrow keys turn the view", self._choose)
        await self.studio.make_solid(space=self.space)
        self._draw_solid()

    def _choose(self, name: str) -> None:
        self.picked = name
        self.refresh(Topic.PLAN)

    async def _show(self, space: str) -> None:
        self.space = space
        self.refresh(Topic.PLAN)
        if self.solid is not None:
            await self._see()

    def _search(self, event: Any) -> None:  # noqa: ANN401 - as the toolkit hands it over
        self.find = str(event.args).strip().lower()[:60]
        now = self.studio.arrangement
        if now is not None and self.find and not any(self.find in one.name.lower() for one in now.in_space(self.space)):
            hit = next((one for one in now.items if self.find in one.name.lower()), None)
            self.space = hit.space if hit else self.space
        self.refresh(Topic.PLAN)

    def _pick(self, event: Any) -> None:  # noqa: ANN401 - as the toolkit hands it over
        self.picked = str(event.args)
        now = self.studio.arrangement
        if now is not None:
            self._draw_part(now)
        if self.solid is not None:
            self._draw_solid()

    def _gesture(self, said: Mapping[str, Any]) -> None:
        """Do what a hand did, if it is sound; whatever it says may be forged."""
        try:
            kind, name = str(said["kind"]), str(said["id"])
            self._fresh(said.get("rev"))
            numbers = {key: _whole(said[key]) for key in ("col", "row", "cols", "rows") if key in said}
            self._act(kind, name, str(said.get("other", "")), numbers)
        except (KeyError, TypeError, RefusedError) as error:
            words = str(error) if isinstance(error, RefusedError) else "That gesture was not understood."
            self.sheet.refuse(words)
            self.refresh(Topic.PLAN)

    def _fresh(self, revision: object) -> None:
        """Refuse a gesture on a plan that is no longer shown."""
        if revision != self.studio.desk.revision:
            raise RefusedError("Something else was changed meanwhile; here is how it is now.")

    def _act(self, kind: str, name: str, other: str, numbers: dict[str, int]) -> None:
        now = self.studio.arrangement
        if now is None:
            raise RefusedError("There is no plan yet.")
        item = now.item(name)
        ways: dict[str, tuple[str, Callable[[Arrangement], Arrangement]]] = {
            "move": ("moved", lambda one: one.moved(name, item.space, numbers["col"], numbers["row"])),
            "resize": ("resized", lambda one: one.resized(name, numbers["cols"], numbers["rows"])),
            "turn": ("turned", lambda one: one.turned(name)),
            "swap": ("swapped", lambda one: one.swapped(name, other)),
            "stay": ("need not stay" if item.stays else "stays", lambda one: one.stays(name, stays=not item.stays)),
        }
        words, change = ways[kind]
        change(now)  # refused here, so that the sheet hears why
        self.studio.arrange(f"{item.name} {words}", change)

    def _do(self, kind: str, item: Item) -> None:
        try:
            self._act(kind, item.id, "", {})
        except RefusedError as error:
            self.sheet.refuse(str(error))

    def _to(self, event: Any) -> None:  # noqa: ANN401 - as the toolkit hands it over
        """Move the chosen part to the first free place of another space."""
        space, now = str(event.args), self.studio.arrangement
        if now is None:
            return
        try:
            item = now.item(self.picked)
            spot = _free(now, item, space)
            self.studio.arrange(
                f"{item.name} moved to {now.sheets.sheet(space).name}", lambda one: one.moved(item.id, space, *spot)
            )
            self.space = space
            self.refresh(Topic.PLAN)
        except (RefusedError, KeyError) as error:
            self.sheet.refuse(str(error))

    def _swap(self, event: Any) -> None:  # noqa: ANN401 - as the toolkit hands it over
        try:
            self._act("swap", self.picked, str(event.args), {})
        except RefusedError as error:
            self.sheet.refuse(str(error))

    def _place(self, lot: str) -> None:
        now = self.studio.arrangement
        if now is None:
            return
        sheet = now.sheets.sheet(self.space)
        why = "There is no room for it here."
        for row in range(sheet.rows):
            for col in range(sheet.cols):
                try:
                    now.placed(lot, self.space, col, row)
                except RefusedError as error:
                    why = str(error)
                    continue
                at = col, row
                self.studio.arrange("Placed", lambda one: one.placed(lot, self.space, *at))  # noqa: B023 - done at once
                return
        self.sheet.refuse(why)


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise TypeError(value)
    return value


def _free(now: Arrangement, item: Item, space: str) -> tuple[int, int]:
    """The first free place for a part in a space, from the front."""
    sheet = now.sheets.sheet(space)
    why = RefusedError(f"There is no room for {item.name} in {sheet.name}.")
    for row in range(sheet.rows - item.rows + 1):
        for col in range(sheet.cols - item.cols + 1):
            try:
                now.moved(item.id, space, col, row)
            except RefusedError as error:
                if "may not go" in str(error) or "height" in str(error):
                    raise
                continue
            return col, row
    raise why


def _filled(now: Arrangement, space: str) -> float:
    sheet = now.sheets.sheet(space)
    free = sheet.cols * sheet.rows - len(sheet.blocked)
    return 100 * sum(one.cols * one.rows for one in now.in_space(space) if not one.level) / max(1, free)


def _measures(item: Item, sheets: Sheets) -> str:
    wide, deep = (cells * sheets.pitch - sheets.gap for cells in (item.cols, item.rows))
    return f"{item.kind}, {wide:.1f} x {deep:.1f} mm, {item.height:.0f} high; needs {item.tall:.0f} mm of height"
