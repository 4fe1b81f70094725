"""Solids that pages ask for: made one after another, shown part by part as they come, whole once they are all there.

Promise: whoever asks is served, in the order of asking, unless a new plan comes between; what was made beforehand is
there at once, and what nobody has asked for yet stands back for what somebody waits for. What it does not know: pages,
and what solids are made of (``work.py``).
"""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

from nookwright.studio.jobs import State

if TYPE_CHECKING:
    from nookwright.studio.jobs import Job, Jobs


def solid_name(*, space: str = "", lot: str = "", part: str = "") -> str:
    """What solids are called, as their file is: those of a space by its id.

    >>> solid_name(space="bench"), solid_name(lot="cups"), solid_name(part="0123456789abcdef0123")
    ('bench', 'lot cups', 'part 0123456789abcdef')

    Args:
        space: id of the space.
        lot: id of the lot that the part holds, which alone is solid.
        part: hash of the shape of the one part.
    """
    return f"part {part[:16]}" if part else f"lot {lot}" if lot else space


class SolidQueue:
    """The solids of one plan."""

    def __init__(self, jobs: Jobs) -> None:
        """With nothing asked for.

        Args:
            jobs: that make them.
        """
        self._jobs = jobs
        self._folder: Path | None = None
        self._asked: dict[str, dict[str, str]] = {}  # those still to be made, the one in work first
        self._runs = False
        self._next: asyncio.Future[None] | None = None
        self.made: dict[str, Path] = {}  # whole, by name: of a space, of a lot, of a part
        self.pieces: dict[str, tuple[Path, ...]] = {}  # of what is being made, those that are there
        self._were: dict[str, Path] = {}  # of plans before: a page that was told of one may still be fetching it
        self._pieces_were: dict[str, tuple[Path, ...]] = {}

    def begin(self, folder: Path) -> None:
        """Go on from another plan: what was made of the one before is not shown any more.

        Args:
            folder: that the plan was written to.
        """
        self._folder = folder
        self._were |= self.made
        self._pieces_were |= self.pieces
        self.made, self.pieces = {}, {}
        self._asked = dict(list(self._asked.items())[:1]) if self._runs else {}

    def file(self, name: str) -> Path | None:
        """The file of solids that a page was told of, of this plan or of the one that it has not yet heard is gone.

        Args:
            name: of the solids; it may be forged.
        """
        return self.made.get(name, self._were.get(name))

    def piece(self, name: str, number: int) -> Path | None:
        """The same of some parts of what is being made.

        Args:
            name: of the solids; it may be forged.
            number: of the file, from 0; it may be forged.
        """
        here = self.pieces.get(name, ())
        files = here if 0 <= number < len(here) else self._pieces_were.get(name, ())
        return files[number] if 0 <= number < len(files) else None

    async def ask(self, *, space: str = "", lot: str = "", part: str = "") -> bool:
        """Have what stands in a space, or what holds a lot, or a part by itself, made solid, if it is not yet.

        Args:
            space: id of the space.
            lot: id of the lot.
            part: hash of the shape of the part.

        Returns:
            Whether it was there already, and is to be shown now.
        """
        name = solid_name(space=space, lot=lot, part=part)
        if self._folder is None or name in self.made:
            return False
        made = self._folder / f"{name}.glb"
        if made.is_file():  # beforehand
            self.made[name] = made
            return True
        if name not in self._asked:
            self._asked[name] = {"out": str(self._folder), "space": space, "lot": lot, "part": part}
            await self._start()
        return False

    def hear(self, job: Job) -> None:
        """Take what a job has made, unless it is of an older plan, and have the next made when it has ended.

        Args:
            job: that makes solids.
        """
        here = [file for file in map(Path, job.arrived) if file.parent == self._folder]
        if here and self._asked:
            self.pieces[next(iter(self._asked))] = tuple(here)
        if job.state is State.RUNNING:
            return
        if self._asked:
            del self._asked[next(iter(self._asked))]
        if job.state is State.DONE:
            made = Path(job.result["glb"])
            if made.parent == self._folder:
                self.made[job.result["name"]] = made
        self._runs = False
        self._next = asyncio.ensure_future(self._start())

    async def _start(self) -> None:
        """Have the next made of those that were asked for: several pages wait for one another."""
        if self._asked and not self._runs:
            self._runs = True
            await self._jobs.end_afterwards("plan")
            await self._jobs.start("solid", **next(iter(self._asked.values())))
