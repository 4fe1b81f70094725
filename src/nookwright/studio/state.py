"""The room on the desk, and all that follows from it: what is wrong with it, its plan, its kit, and their jobs.

One for the whole studio, however many pages look at it. Promise: every gesture ends in the text of the room file or in
a refusal in words; after it, what is shown fits the text, and what a job still has to say is marked as awaited. What it
does not know: pages.
"""

from __future__ import annotations

import asyncio
import contextlib
import time
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.errors import FileFormatError
from nookwright.ground.sources import Fact, Kind
from nookwright.module.seat import outer_size
from nookwright.studio.arrangement import Arrangement, RefusedError
from nookwright.studio.desk import Desk
from nookwright.studio.jobs import Job, Jobs, State
from nookwright.studio.journal import sha256
from nookwright.studio.room_text import with_tables, without_tables
from nookwright.studio.sheets import Sheets
from nookwright.studio.text_changes import merge
from nookwright.survey.load import check_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from nookwright.exchange.kit import Kit
    from nookwright.ground.errors import Fault
    from nookwright.studio.sheets import Item
    from nookwright.studio.toml_values import Value
    from nookwright.survey.models import Room

PAUSE_S = Fact(0.8, unit="s", kind=Kind.CHOICE, source="A pause between gestures: then they are folded and planned.")
DRAW_S = Fact(0.03, unit="s", kind=Kind.CHOICE, source="Until a move is on the pages; then it is written down.")
TICK_S = Fact(0.25, unit="s", kind=Kind.CHOICE, source="How often it is looked whether the room file was edited.")


class Topic(StrEnum):
    """What may have changed."""

    ROOM = "room"
    PLAN = "plan"
    JOB = "job"
    WORDS = "words"


@dataclass(frozen=True)
class Planned:
    """A room planned, nothing made solid.

    Attributes:
        sha256: of the text that it was planned from.
        sheets: in cells.
        kit: in closed forms.
        folder: where the job has left it, for jobs that go on from it.
    """

    sha256: str
    sheets: Sheets
    kit: Kit
    folder: Path


class Studio:
    """One room file, with everything that is known of it. Lives in one event loop."""

    def __init__(self, room_file: Path, scratch: Path) -> None:
        """Take a room file onto the desk.

        Args:
            room_file: must be there.
            scratch: folder for what jobs write; its own.
        """
        self.file, self.scratch = room_file, scratch
        self.desk = Desk(room_file)
        self.jobs = Jobs(self._job_changed)
        self.running: dict[str, Job] = {}
        self.room: Room | None = None
        self.faults: tuple[Fault, ...] = ()
        self.planned: Planned | None = None
        self.offered: Planned | None = None  # an improved layout that waits to be taken or left
        self.kit: Kit | None = None  # the last that was built
        self.solids: dict[str, Path] = {}  # GLB of each space of this plan that was asked for
        self._solids_asked: dict[str, dict[str, str]] = {}  # those still to be made, the one in work first
        self._solid_runs = False
        self._next: asyncio.Future[None] | None = None
        self.said = ""
        self._arranged: dict[str, Arrangement] = {}
        self._in_hand: tuple[str, Arrangement] | None = None  # a move that is drawn, and not written down yet
        self._heard: list[Callable[[Topic], None]] = []
        self._touched_s = 0.0
        self._asked = ""  # the text that a plan was asked of last
        self._read()

    # -- who listens

    def on_change(self, tell: Callable[[Topic], None]) -> Callable[[], None]:
        """Have a page told of changes; call what is given back to be told no longer."""
        self._heard.append(tell)
        return lambda: self._heard.remove(tell) if tell in self._heard else None

    def say(self, words: str) -> None:
        """Say something to whoever looks."""
        self.said = words
        self._tell(Topic.WORDS)

    # -- gestures

    def edit(self, name: str, text: str) -> None:
        """Let a gesture change the text of the room.

        Args:
            name: of the gesture, for people.
            text: after it.
        """
        before = self.desk.text
        self.settle()
        if self.desk.text != before:  # a move was still in hand: what was made of the text before it goes on from it
            text = merge(before, self.desk.text, text).text
        if self.desk.do(name, text):
            self._changed()

    def undo(self) -> None:
        """Take the last gesture back."""
        self.settle()
        name = self.desk.undo()
        self.say(f"Taken back: {name}." if name else "Nothing to take back.")
        if name:
            self._changed()

    def redo(self) -> None:
        """Make the last gesture again that was taken back."""
        self.settle()
        name = self.desk.redo()
        self.say(f"Made again: {name}." if name else "Nothing to make again.")
        if name:
            self._changed()

    def arrange(self, name: str, change: Callable[[Arrangement], Arrangement]) -> bool:
        """Let a gesture move parts: it is drawn at once, and written down as soon as the pages have it.

        Args:
            name: of the gesture, for people.
            change: gives the new arrangement, or refuses.

        Returns:
            Whether anything moved.
        """
        self.settle()
        now = self.arrangement
        if now is None:
            self.say("There is no plan yet: wait until it is made.")
            return False
        try:
            new = change(now)
        except RefusedError as error:
            self.say(str(error))
            return False
        if new is now:
            return False
        self._in_hand = name, new
        self.said = f"{name}."
        self._tell(Topic.WORDS)
        self._tell(Topic.PLAN)
        try:
            asyncio.get_running_loop().call_later(float(DRAW_S), self.settle)
        except RuntimeError:  # nobody draws
            self.settle()
        return True

    def settle(self) -> None:
        """Write down what was moved and is drawn already; everything that goes on from the text does this first."""
        if self._in_hand is None:
            return
        name, new = self._in_hand
        self._in_hand = None
        try:
            text = with_tables(self.desk.text, "place", "lot", dict(_places(new)))
            self._arranged[sha256(text)] = new
            self.edit(name, text)
        except (OSError, ValueError, KeyError) as error:
            self.say(f"{name}, but that cannot be written down ({error}): it is as it was before.")
            self._tell(Topic.PLAN)

    @property
    def settled(self) -> bool:
        """Whether all that is drawn is written down."""
        return self._in_hand is None

    @property
    def revision(self) -> int:
        """Of what is drawn: gestures are about one, and are refused when it is no longer so."""
        return self.desk.revision + (self._in_hand is not None)

    @property
    def arrangement(self) -> Arrangement | None:
        """What stands where as it is shown: moved by hand, else as planned."""
        if self._in_hand is not None:
            return self._in_hand[1]
        by_hand = self._arranged.get(sha256(self.desk.text))
        if by_hand is not None or self.planned is None:
            return by_hand
        return Arrangement.of(self.planned.sheets)

    @property
    def outdated(self) -> bool:
        """Whether what is shown of the plan is older than the text."""
        return self.room is not None and (
            not self.settled or self.planned is None or self.planned.sha256 != sha256(self.desk.text)
        )

    @property
    def fresh_kit(self) -> Kit | None:
        """The kit that was built, where it is of the text as it is now."""
        return self.kit if self.kit is not None and self.kit.room_sha256 == sha256(self.desk.text) else None

    # -- time

    async def run(self) -> None:
        """Notice edits outside, fold and plan at pauses, until cancelled."""
        self.jobs.warm()
        try:
            while True:
                await self.tick()
                await asyncio.sleep(TICK_S)
        finally:
            await self.jobs.close()
            with contextlib.suppress(OSError, UnicodeDecodeError):
                self.settle()
                self.desk.fold()

    async def tick(self) -> None:
        """Do what is due now."""
        self.settle()
        try:
            noticed = self.desk.notice()
            if noticed is not None:
                clash = " What you did here to the same lines is not in it any more; undo brings it back."
                self.say("The room file was edited outside the studio." + (clash if noticed.clashes else ""))
                self._changed()
            if time.monotonic() - self._touched_s < PAUSE_S:
                return
            folded = self.desk.folded
            self.desk.fold()
            if not folded:
                self._tell(Topic.JOB)  # a room that something is wrong with has no plan to tell it by
        except (OSError, UnicodeDecodeError) as error:
            self.say(f"The room file cannot be read or written ({error}). What you do is kept in its journal.")
            self._touched_s = time.monotonic()
            return
        if self.room is not None and self.outdated and self._asked != self.desk.text:
            self._asked = self.desk.text
            await self.jobs.start("plan", room=str(self.file), out=str(self.scratch / sha256(self._asked)[:16]))

    @property
    def kit_folder(self) -> Path:
        """Where kits are built: beside the room file."""
        return self.file.parent / "kit"

    async def build(self) -> None:
        """Build the kit of the room as it is now."""
        self.settle()
        self.desk.fold()
        await self.jobs.start("kit", room=str(self.file), out=str(self.kit_folder))

    async def improve(self) -> None:
        """Look for a better place for all that may move; what is found is offered, not taken."""
        self.settle()
        self.desk.fold()
        self.offered = None
        out = self.scratch / f"{sha256(self.desk.text)[:16]}-improved"
        await self.jobs.start("improve", room=str(self.file), out=str(out))

    def take(self) -> None:
        """Take what is offered: the places of what may move leave the room file, and the plan is what was offered."""
        self.settle()
        offered, self.offered = self.offered, None
        if offered is None or offered.sha256 != sha256(self.desk.text):
            self.say("The room was changed meanwhile: look for a better layout anew.")
            self._tell(Topic.PLAN)
            return
        text = without_tables(self.desk.text, "place", {"may_move": True})
        self._arranged[sha256(text)] = Arrangement.of(offered.sheets)
        self.say("Layout improved.")
        self.edit("layout improved", text)

    def leave(self) -> None:
        """Leave what is offered."""
        self.offered = None
        self._tell(Topic.PLAN)

    async def make_solid(self, *, space: str = "", lot: str = "") -> None:
        """Have what stands in a space, or what holds a lot, made solid, if it is not yet.

        Args:
            space: id of the space.
            lot: id of the lot.
        """
        name = f"lot {lot}" if lot else space
        if self.planned is None or name in self.solids:
            return
        made = self.planned.folder / f"{name}.glb"
        if made.is_file():  # beforehand
            self.solids[name] = made
            self._tell(Topic.JOB)
        elif name not in self._solids_asked:
            self._solids_asked[name] = {"out": str(self.planned.folder), "space": space, "lot": lot}
            await self._next_solid()

    async def _next_solid(self) -> None:
        """Have the next made of those that were asked for: several pages wait for one another."""
        if self._solids_asked and not self._solid_runs:
            self._solid_runs = True
            await self.jobs.start("solid", **next(iter(self._solids_asked.values())))

    def turned(self, lot: str) -> bool:
        """Whether the part of a lot lies turned by 90 degrees, so that its width lies along the depth of the space."""
        kit = self.planned.kit if self.planned else None
        places = [place for one in (kit.lots if kit else ()) if one.id == lot for place in one.places]
        if kit is None or not places:
            return False
        matrix = next(one.space_from_part for one in kit.placements if one.id == places[0].placement)
        return abs(matrix[0][0]) < abs(matrix[0][1])

    # -- what follows

    def _changed(self) -> None:
        """The text is another one."""
        self._touched_s = time.monotonic()
        self._read()
        self._tell(Topic.ROOM)

    def _read(self) -> None:
        """Look what is wrong with the text, and make a room of it."""
        self.room, self.faults = check_text(str(self.file), self.desk.text)

    def _job_changed(self, job: Job) -> None:
        """A job has something to say."""
        self.running[job.name] = job
        if job.name == "plan" and job.state is State.DONE:
            self._take_plan(job)
        elif job.name == "improve" and job.state is State.DONE:
            self.offered = _planned(job)
            self._tell(Topic.PLAN)
        elif job.name == "solid" and job.state is not State.RUNNING:
            self._take_solid(job)
        elif job.name == "kit" and job.state is State.DONE:
            with contextlib.suppress(FileFormatError, OSError):
                self.kit = read_kit(Path(job.result["kit"]))
        self._tell(Topic.JOB)

    def _take_solid(self, job: Job) -> None:
        """Show solids that were made, unless they are of an older plan, and have the next made."""
        if self._solids_asked:
            del self._solids_asked[next(iter(self._solids_asked))]
        if job.state is State.DONE:
            made = Path(job.result["glb"])
            if self.planned is not None and made.parent == self.planned.folder:
                self.solids[job.result["name"]] = made
        self._solid_runs = False
        self._next = asyncio.ensure_future(self._next_solid())

    def _take_plan(self, job: Job) -> None:
        """Show a plan that was made."""
        self.planned = _planned(job)
        self.solids = {}
        self._arranged.pop(self.planned.sha256, None)  # the plan has heard of it, and fills what is left
        self._tell(Topic.PLAN)

    def _tell(self, topic: Topic) -> None:
        """Tell all who listen."""
        for tell in tuple(self._heard):
            tell(topic)


def _planned(job: Job) -> Planned:
    """What a job has planned."""
    sheets, kit = Path(job.result["sheets"]), read_kit(Path(job.result["kit"]))
    found = Sheets.model_validate_json(sheets.read_text(encoding="utf-8"))
    return Planned(kit.room_sha256, found, kit, sheets.parent)


def _places(arrangement: Arrangement) -> Iterable[tuple[str, dict[str, Value | None]]]:
    """What the room file says of every part in the spaces that were touched."""
    pitch = arrangement.sheets.pitch
    for one in arrangement.items:
        if one.lot and not one.level and one.space in arrangement.touched:
            yield one.lot, _place(one, arrangement.sheets.sheet(one.space).origin, pitch)


def _place(one: Item, origin: tuple[float, float], pitch: float) -> dict[str, Value | None]:
    """The keys of a place."""
    size = outer_size(one.cols, pitch), outer_size(one.rows, pitch)
    edge = [
        round(start + cell * pitch + (cells * pitch - length) / 2, 1)
        for start, cell, cells, length in zip(origin, (one.col, one.row), (one.cols, one.rows), size, strict=True)
    ]
    return {
        "space": one.space,
        "x": edge[0],
        "y": edge[1],
        "width": round(size[0], 1),
        "depth": round(size[1], 1),
        "height": round(one.height, 1),
        "may_move": None if one.stays else True,
    }
