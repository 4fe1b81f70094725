"""Long work in processes of its own, one a job; a spare one is always loaded and waiting, so that a job starts at once.

Promise: a job that is stopped, crashes or is overtaken changes nothing on the page but its own state; the page never
waits for one. What it does not know: what jobs do (``worker.py``).
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import sys
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from nookwright.ground.sources import Fact, Kind

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

LATER_S = Fact(
    1.5, unit="s", kind=Kind.CHOICE, source="The next spare process loads once the job it would hold up is under way."
)


class State(StrEnum):
    """How a job stands."""

    RUNNING = "running"
    DONE = "done"
    FAULTY = "faulty"  # the room file cannot be used
    STOPPED = "stopped"
    FAILED = "failed"


@dataclass
class Job:
    """One job, as the page shows it. Changed only by ``Jobs``.

    Attributes:
        name: which job.
        state: how it stands.
        stage: what it is at.
        share: how far the stage has come, 0 to 1; ``None`` where it is not counted.
        result: what it gave, once done.
        faults: of the room file, each as its fields.
        error: why it failed, in words.
        arrived: files of parts of the result that are there already.
    """

    name: str
    state: State = State.RUNNING
    stage: str = "starting"
    share: float | None = None
    result: dict[str, Any] = field(default_factory=dict)
    faults: list[dict[str, Any]] = field(default_factory=list)
    error: str = ""
    arrived: list[str] = field(default_factory=list)


class Jobs:
    """The jobs of one studio: at most one of each name; a new one takes the place of the old."""

    def __init__(self, tell: Callable[[Job], None]) -> None:
        """Have nothing to do yet.

        Args:
            tell: is told of every change of a job, in the event loop.
        """
        self._tell = tell
        self._running: dict[str, tuple[Job, asyncio.subprocess.Process]] = {}
        self._spare: asyncio.Task[asyncio.subprocess.Process] | None = None
        self._later: asyncio.TimerHandle | None = None
        self._tasks: set[asyncio.Task[None]] = set()

    def warm(self) -> None:
        """See that a process waits, loaded."""
        if self._spare is None:
            self._spare = asyncio.ensure_future(_started())

    async def start(self, name: str, **asked: str | float | bool) -> Job:
        """Start a job; one of the same name that runs is stopped first.

        Args:
            name: of the job, as ``work.JOBS`` has it.
            asked: what it needs; paths as texts.
        """
        await self.stop(name)
        self.warm()
        spare, self._spare = self._spare, None
        process = await spare if spare else await _started()
        self._later = asyncio.get_running_loop().call_later(float(LATER_S), self.warm)
        job = Job(name)
        self._running[name] = job, process
        if process.stdin:
            process.stdin.write(json.dumps({"job": name, **asked}).encode() + b"\n")
        task = asyncio.ensure_future(self._followed(job, process))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        self._tell(job)
        return job

    async def stop(self, name: str) -> None:
        """Stop a job, if it runs."""
        running = self._running.pop(name, None)
        if running:
            job, process = running
            runs = job.state is State.RUNNING
            if runs:
                job.state = State.STOPPED
            await _killed(process)
            if runs:
                self._tell(job)

    async def end_afterwards(self, name: str) -> None:
        """End what a job does beforehand for others after its result: somebody waits for something now.

        Args:
            name: of the job; nothing happens while it still works for its own result.
        """
        running = self._running.get(name)
        if running and running[0].state is not State.RUNNING:
            await self.stop(name)

    async def close(self) -> None:
        """Stop all that runs, and the spare one."""
        if self._later:
            self._later.cancel()
        for name in tuple(self._running):
            await self.stop(name)
        spare, self._spare = self._spare, None
        if spare:
            with contextlib.suppress(OSError):
                await _killed(await spare)

    async def _followed(self, job: Job, process: asyncio.subprocess.Process) -> None:
        """Read what a process says until it ends."""
        last = b""
        while process.stdout and (line := await process.stdout.readline()):
            with contextlib.suppress(ValueError):
                if job.state is State.RUNNING:
                    _hear(job, json.loads(line))
                    self._tell(job)
        if process.stderr:
            last = await process.stderr.read()
        code = await process.wait()
        if self._running.get(job.name, (None, None))[0] is job:
            del self._running[job.name]
        if job.state is State.RUNNING:
            job.state, job.error = State.FAILED, _why(code, last.decode(errors="replace"))
            self._tell(job)


def _hear(job: Job, said: Mapping[str, Any]) -> None:
    """Change a job by a line of its process."""
    if "stage" in said:
        job.stage, job.share = str(said["stage"]), None
    elif "doing" in said:
        job.stage, job.share = str(said["doing"]), int(said["done"]) / max(1, int(said["of"]))
    elif "arrived" in said:
        job.arrived.append(str(said["arrived"]))
    elif "result" in said:
        job.state, job.result = State.DONE, dict(said["result"])
    elif "faults" in said:
        job.state, job.faults = State.FAULTY, list(said["faults"])
    elif "error" in said:
        job.state, job.error = State.FAILED, str(said["error"])


def _why(code: int, said: str) -> str:
    """Why a process ended without a word of its own."""
    last = said.strip().splitlines()[-1:] or ["it said nothing"]
    return f"The work ended with code {code}: {last[0]}"


async def _started() -> asyncio.subprocess.Process:
    """A process that is loading."""
    inherited = {name: value for name, value in os.environ.items() if not name.startswith(("PYTEST", "NICEGUI"))}
    return await asyncio.create_subprocess_exec(
        sys.executable,
        "-m",
        "nookwright.studio.worker",
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.PIPE,
        env=inherited,
        limit=2**24,
        start_new_session=True,
    )


async def _killed(process: asyncio.subprocess.Process) -> None:
    """End a process, and those that it started."""
    if process.returncode is None:
        with contextlib.suppress(ProcessLookupError):
            if hasattr(os, "killpg"):
                os.killpg(process.pid, 9)
            else:
                process.kill()
        await process.wait()
