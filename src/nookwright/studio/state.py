"""The room on the desk, and all that follows from it: what is wrong with it, its plan, its kit, and their jobs.

One for the whole studio, however many pages look at it. Promise: every gesture ends in the text of the room file or in
a refusal in words; after it, what is shown fits the text, and what a job still has to say is marked as awaited. What it
does not know: pages.
"""

from __future__ import annotations

import asyncio
import contextlib
import time
import tomllib
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.errors import Fault, FileFormatError
from nookwright.ground.sources import Fact, Kind
from nookwright.studio.arrangement import Arrangement, RefusedError
from nookwright.studio.beginning import MISSING
from nookwright.studio.desk import Desk
from nookwright.studio.jobs import Job, Jobs, State
from nookwright.studio.journal import sha256
from nookwright.studio.places import places_of
from nookwright.studio.planned import Planned, planned_of
from nookwright.studio.plans import Plans, Unplanned
from nookwright.studio.reading import Reader
from nookwright.studio.room_text import with_tables, without_tables
from nookwright.studio.solid_queue import SolidQueue
from nookwright.studio.text_changes import merge

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from nookwright.exchange.kit import Kit
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
        self.unit: str = "mm"  # of plain numbers in the last text that was a room
        self.planned: Planned | None = None
        self.offered: Planned | None = None  # an improved layout that waits to be taken or left
        self.kit: Kit | None = None  # the last that was built
        self.dark: bool | None = None  # how the pages are wished; nothing where they are as the machine has it
        self._reader = Reader()
        self._queue = SolidQueue(self.jobs)
        self.said = ""
        self._arranged: dict[str, Arrangement] = {}
        self._in_hand: tuple[str, Arrangement] | None = None  # a move that is drawn, and not written down yet
        self._heard: list[Callable[[Topic], None]] = []
        self._touched_s = 0.0
        self._asked = ""  # the text that a plan was asked of last
        self._plans = Plans()
        self._unplanned = Unplanned()
        self._read()
        self._take_kit(self.kit_folder / "kit.json")  # built before this studio was opened

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
            text = with_tables(
                self.desk.text, "place", "lot", dict(places_of(new, self.unit)), known=self._reader.known
            )
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
    def name(self) -> str:
        """Of the room, also while something else of it is wrong; of the file where it has none."""
        if self.room is not None:
            return self.room.room.name
        try:
            head = tomllib.loads(self.desk.text).get("room")
        except ValueError:
            head = None
        return str(head.get("name") or self.file.name) if isinstance(head, dict) else self.file.name

    @property
    def begun_only(self) -> bool:
        """Whether nothing is wrong with the text but what is still to be filled in."""
        return self.room is None and all(fault.found in MISSING for fault in self.faults)

    @property
    def unplanned(self) -> Unplanned | None:
        """Why the text as it is could not be planned; nothing while it may be."""
        refused = self.room is not None and self._unplanned.sha256 == sha256(self.desk.text)
        return self._unplanned if refused else None

    @property
    def all_faults(self) -> tuple[Fault, ...]:
        """All that is wrong with the text as it is, what only planning finds included."""
        return (*self.faults, *(self.unplanned.faults if self.unplanned else ()))

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
        if self.room is not None and not self.outdated and self._plans_another:
            self._asked = ""  # what it is planning is taken back; it is asked anew if it comes again
            await self.jobs.stop("plan")
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

    async def make_solid(self, *, space: str = "", lot: str = "", part: str = "") -> None:
        """Have what stands in a space, or what holds a lot, or a part by itself, made solid, if it is not yet.

        Args:
            space: id of the space.
            lot: id of the lot.
            part: hash of the shape of the part.
        """
        if await self._queue.ask(space=space, lot=lot, part=part):
            self._tell(Topic.JOB)

    @property
    def solids(self) -> Mapping[str, Path]:
        """Files of the solids of this plan that were asked for and are made, by what they are of."""
        return self._queue.made

    @property
    def pieces(self) -> Mapping[str, tuple[Path, ...]]:
        """Files of those parts that are made already, of what is asked for, by what they are of."""
        return self._queue.pieces

    def solid_file(self, name: str, number: int | None = None) -> Path | None:
        """The file that a page fetches, which was told of solids or of some parts of them, perhaps of the plan before.

        Args:
            name: of the solids; it may be forged.
            number: of some of their parts; all of them when left out.
        """
        return self._queue.file(name) if number is None else self._queue.piece(name, number)

    def turned(self, lot: str) -> bool:
        """Whether the part of a lot lies turned by 90 degrees, so that its width lies along the depth of the space."""
        return self.planned is not None and self.planned.turned(lot)

    # -- what follows

    def _changed(self) -> None:
        """The text is another one; a plan that was made of it before is taken again."""
        self._touched_s = time.monotonic()
        self._read()
        known = self._plans.of(self.desk.text)
        if self.room is not None and known is not None and known is not self.planned:
            self._show(known)
        self._tell(Topic.ROOM)

    @property
    def _plans_another(self) -> bool:
        """Whether a text is being planned that is not the one on the desk."""
        job = self.running.get("plan")
        return job is not None and job.state is State.RUNNING and self._asked != self.desk.text

    def _read(self) -> None:
        """Look what is wrong with the text, and make a room of it."""
        self.room, self.faults = self._reader.check(str(self.file), self.desk.text)
        self.unit = self.room.room.units if self.room is not None else self.unit

    def _job_changed(self, job: Job) -> None:
        """A job has something to say."""
        self.running[job.name] = job
        if job.name == "plan" and job.state is State.DONE:
            self._take_plan(job)
        elif job.name == "plan" and job.state in {State.FAULTY, State.FAILED}:
            self._unplanned = Unplanned(sha256(self._asked), tuple(Fault(**one) for one in job.faults), job.error)
            self._tell(Topic.ROOM)
        elif job.name == "improve" and job.state is State.DONE:
            self.offered = planned_of(job.result)
            self._tell(Topic.PLAN)
        elif job.name == "solid":
            self._queue.hear(job)
        elif job.name == "kit" and job.state is State.DONE:
            self._take_kit(Path(job.result["kit"]))
        self._tell(Topic.JOB)

    def _take_kit(self, file: Path) -> None:
        """Know the kit that was built, if it can be read."""
        with contextlib.suppress(FileFormatError, OSError):
            self.kit = read_kit(file)

    def _take_plan(self, job: Job) -> None:
        """Keep a plan that was made, and show it unless that of the text as it is now is shown already."""
        made = planned_of(job.result)
        self._plans.keep(made)
        if self.planned is None or self.planned.sha256 != sha256(self.desk.text):
            self._show(made)

    def _show(self, plan: Planned) -> None:
        """Show a plan."""
        self.planned = plan
        self._queue.begin(plan.folder)
        self._arranged.pop(plan.sha256, None)  # the plan has heard of it, and fills what is left
        self._tell(Topic.PLAN)

    def _tell(self, topic: Topic) -> None:
        """Tell all who listen."""
        for tell in tuple(self._heard):
            tell(topic)
