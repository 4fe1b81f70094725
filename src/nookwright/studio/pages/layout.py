"""The layout: each space in plan, moved by hand or improved by the tool."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nicegui import background_tasks, ui

from nookwright.studio.arrangement import RefusedError, TakenError
from nookwright.studio.jobs import State
from nookwright.studio.pages.choices import Choices
from nookwright.studio.pages.elements import PlanSheet, SolidView
from nookwright.studio.pages.frame import at_address, button, follow, hindered, page, reword, text
from nookwright.studio.pages.layout_sides import Panel, PartPanel, StylePanel, draw_costs, draw_left, draw_offer
from nookwright.studio.room_text import with_value
from nookwright.studio.rough import lot_at, placements_of, rough_of
from nookwright.studio.state import Topic

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.studio.arrangement import Arrangement
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
        self._about: tuple[object, ...] = ()
        self._said: dict[str, object] = {}
        self._in_pieces: set[tuple[str, str]] = set()  # plans and spaces whose solids came one by one
        with ui.element("div").classes("layout-grid"):
            with ui.element("section").classes("stack").props('aria-label="Spaces"'):
                search = ui.element("input").classes("plain")
                search.props('type="search" aria-label="Find a thing" placeholder="Find a thing" data-find')
                search.on("input", self._search, js_handler="(event) => emit(event.target.value)")
                self.search = search
                self.hits = text("", "p", "words").props('role="status" aria-live="polite" data-hits')
                self.spaces = Choices(self._show, "data-space")
                self.waiting = Panel("")
            with ui.element("section").props('aria-label="Plan"'):
                self.sheet = PlanSheet(self._gesture, pick=self._pick, back=studio.undo, again=studio.redo)
                self.round = ui.element("div").classes("stack")
                with self.round:
                    button("See it in the round", self._see, data_do="solid")
                    self.solid: SolidView | None = None
            with ui.element("section").classes("stack").props('aria-label="The part and the costs"') as self.side:
                self.part = PartPanel(self._do, self._to, self._swap)
                self.style = StylePanel(self._take_style)
                with ui.element("div").classes("panel stack"):
                    self.costs = Panel("stack")
                    self.stale = text("", "p", "words")
                    self.offer = Panel("stack")
        self.refresh(Topic.PLAN)
        follow(studio, self.refresh)

    def refresh(self, topic: Topic) -> None:
        """Draw what has changed."""
        now = self.studio.arrangement
        for one in (self.side, self.round, self.search):
            if one.visible != (now is not None):
                one.set_visibility(now is not None)
        if topic is Topic.WORDS or now is None:
            return
        spaces = [one.id for one in now.sheets.spaces]
        if self.space not in spaces:
            used = [name for name in spaces if now.in_space(name)]
            self.space = next(iter([*used, *spaces]), "")
        self._draw_sheet(now)
        self._draw_spaces(now)
        self.part.show(now, self.picked)
        self._draw_costs(now)
        if self.studio.planned:
            self.style.show(self.studio.planned.kit.layout)
        if self.solid is not None and topic in {Topic.PLAN, Topic.JOB}:
            self._draw_solid(now)
            if topic is Topic.PLAN and self.studio.settled and self.space not in self.studio.solids:
                background_tasks.create(self.studio.make_solid(space=self.space))

    def _draw_sheet(self, now: Arrangement) -> None:
        if not self.space:
            return
        here = now.in_space(self.space)
        self.sheet.show(
            items=[{**one.model_dump(), "found": self._is_found(one)} for one in here],
            rev=self.studio.revision,
            chosen=self.picked,
            **self._ground(now.sheets, frozenset(one.lot for one in here)),
        )

    def _ground(self, sheets: Sheets, lots: frozenset[str]) -> dict[str, object]:
        """What a gesture does not change: made once for a plan and what stands in the space."""
        about = id(sheets), self.space, lots
        if self._about != about:
            self._about, self._of = about, sheets  # held, so that no other plan comes to have its id
            self._said = {
                "sheet": sheets.sheet(self.space).model_dump(),
                "lots": tuple(one.model_dump() for one in sheets.lots if one.lot in lots),
                "module": {"pitch": sheets.pitch, "gap": sheets.gap, "rise": sheets.rise},
                "spaces": {one.id: one.name for one in sheets.spaces},
            }
        return self._said

    def _draw_spaces(self, now: Arrangement) -> None:
        hits = {one.id: sum(self._is_found(it) for it in now.in_space(one.id)) for one in now.sheets.spaces}
        rows = [(one.id, f"{one.name}: {_filled(now, one.id):.0f} % filled") for one in now.sheets.spaces]
        rows = [(name, f"{words}, {hits[name]} found" if hits[name] else words) for name, words in rows]
        self.spaces.show(rows, self.space)
        reword(self.hits, f"{sum(hits.values()) or 'Nothing'} found." if self.find else "")
        placed = {one.lot for one in now.items}
        left = tuple(one for one in now.sheets.left_out if one.lot not in placed)
        self.waiting.show(left, lambda: draw_left(left, self._place))

    def _is_found(self, item: Item) -> bool:
        return bool(self.find) and self.find in item.name.lower()

    def _draw_costs(self, now: Arrangement) -> None:
        studio, sheets = self.studio, now.sheets
        offered = studio.offered.sheets if studio.offered else None
        job = studio.running.get("improve")
        looking = job is not None and job.state is State.RUNNING
        self.costs.show((sheets.cost, sheets.bound), lambda: draw_costs(sheets))
        reword(self.stale, self._outdated(now))
        self.offer.show(
            (offered.total if offered else None, now.items if offered else (), looking),
            lambda: draw_offer(
                now, offered, running=looking, improve=studio.improve, take=studio.take, leave=studio.leave
            ),
        )

    def _outdated(self, now: Arrangement) -> str:
        """Why the figures are not those of what is shown; empty where they are."""
        if fault := hindered(self.studio):
            return f"{fault} This is the last plan that could be made."
        if not self.studio.outdated:
            return ""
        return "Moved by hand: the costs are being worked out anew." if now.touched else "The plan is being made anew."

    def _draw_solid(self, now: Arrangement) -> None:
        """Show the space in the round: roughly, and as solids where these are made."""
        studio, planned = self.studio, self.studio.planned
        if planned is None or self.solid is None:
            return
        of, whole = planned.folder.name, studio.solids.get(self.space)
        pieces = [
            f"/solids/{self.space}/{number}.glb?of={of}" for number in range(len(studio.pieces.get(self.space, ())))
        ]
        if whole is not None and (of, self.space) not in self._in_pieces:
            pieces = [f"/solids/{self.space}.glb?of={of}"]
        elif pieces:
            self._in_pieces.add((of, self.space))  # they go on to come one by one
        self.solid.show_parts(
            self.space, pieces, rough_of(planned, now, self.space), placements_of(planned, self.picked)
        )

    # -- what people do

    async def _see(self) -> None:
        """Have the space made solid."""
        if self.solid is None:
            with self.round:
                self.solid = SolidView("The parts of the space in the round; arrow keys turn the view", self._choose)
        self.refresh(Topic.JOB)
        await self.studio.make_solid(space=self.space)
        self.refresh(Topic.JOB)

    def _choose(self, name: str) -> None:
        self.picked = lot_at(self.studio.planned, name) if self.studio.planned else ""
        self.refresh(Topic.PLAN)

    def _take_style(self, style: str) -> None:
        """Have the other layout made."""
        self.studio.edit(f"{style} layout", with_value(self.studio.desk.text, ("choices", "layout"), style))
        self.studio.say(f"The {style} layout is being made. What stands by hand stays.")

    async def _show(self, space: str) -> None:
        self.space = space
        at_address("/layout", space=space)
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
            self.part.show(now, self.picked)
            self._draw_solid(now)

    def _gesture(self, said: object) -> None:
        """Do what a hand did, if it is sound; whatever it says may be forged."""
        try:
            self._hear(said)
        except (KeyError, TypeError):
            self._refuse("That gesture was not understood.")
        except RefusedError as error:
            self._refuse(str(error))

    def _hear(self, said: object) -> None:
        """Do what a hand did.

        Raises:
            TypeError: it is no gesture.
            KeyError: something of it is missing.
            RefusedError: it cannot be done.
        """
        if not isinstance(said, dict):
            raise TypeError(said)
        if _whole(said["rev"]) != self.studio.revision:
            raise RefusedError("Something else was changed meanwhile; here is how it is now.")
        numbers = {key: _whole(said[key]) for key in ("col", "row", "cols", "rows") if key in said}
        self._act(_word(said["kind"]), _word(said["id"]), _word(said.get("other", "")), numbers)

    def _refuse(self, words: str) -> None:
        """Say why not, and show all as it is."""
        self.sheet.refuse(words)
        self.part.to.reset()
        self.part.swap.reset()
        self.refresh(Topic.PLAN)

    def _act(self, kind: str, name: str, other: str, numbers: dict[str, int]) -> None:
        """Change the arrangement.

        Raises:
            RefusedError: that cannot be.
            KeyError: there is no such gesture, or something of it is missing.
        """
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
            "to": (f"moved to {_called(now, other)}", lambda one: _into(one, item, other)),
        }
        words, change = ways[kind]
        changed = change(now)  # refused here, so that the sheet hears why
        if changed is now:
            self._refuse("")  # the sheet waits for an answer
            return
        if kind == "to":
            self.picked, self.space = name, other
        self.studio.arrange(f"{item.name} {words}", lambda _: changed)

    def _ask(self, kind: str, other: str = "") -> None:
        """Do something with the chosen part."""
        try:
            self._act(kind, self.picked, other, {})
        except RefusedError as error:
            self._refuse(str(error))

    def _do(self, kind: str) -> None:
        self._ask(kind)

    def _to(self, space: str) -> None:
        self._ask("to", space)

    def _swap(self, other: str) -> None:
        self._ask("swap", other)

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


def _word(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _called(now: Arrangement, space: str) -> str:
    return next((one.name for one in now.sheets.spaces if one.id == space), "")


def _into(now: Arrangement, item: Item, space: str) -> Arrangement:
    """With a part in the first free place of another space, from the front.

    Raises:
        RefusedError: it may not go there, or there is no room for it.
    """
    sheet = next((one for one in now.sheets.spaces if one.id == space), None)
    if sheet is None:
        raise RefusedError("Nothing can stand there: it is no floor.")
    if item.space == space:
        return now
    why = RefusedError(f"There is no room for {item.name} in {sheet.name}.")
    for row in range(sheet.rows - item.rows + 1):
        for col in range(sheet.cols - item.cols + 1):
            try:
                return now.moved(item.id, space, col, row)
            except TakenError:
                continue  # any other refusal holds everywhere there
    raise why


def _filled(now: Arrangement, space: str) -> float:
    sheet = now.sheets.sheet(space)
    free = sheet.cols * sheet.rows - len(sheet.blocked)
    return 100 * sum(one.cols * one.rows for one in now.in_space(space) if not one.level) / max(1, free)
