"""Long work in processes of its own, with the real worker and a tiny room."""

from __future__ import annotations

import asyncio
import os
import signal
from typing import TYPE_CHECKING, Any

from nookwright.exchange.kit_file import read_kit
from nookwright.studio.jobs import Job, Jobs, State

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable
    from pathlib import Path

    import pytest


def run(what: Callable[[Jobs, list[tuple[str, State, str]]], Awaitable[None]]) -> list[tuple[str, State, str]]:
    """Do something with jobs, and note all that is told of them."""
    told: list[tuple[str, State, str]] = []

    async def all_of_it() -> None:
        jobs = Jobs(lambda job: told.append((job.name, job.state, job.stage)))
        try:
            await asyncio.wait_for(what(jobs, told), 120)
        finally:
            await jobs.close()

    asyncio.run(all_of_it())
    return told


async def ended(job: Job) -> Job:
    """Wait until a job runs no longer."""
    while job.state is State.RUNNING:  # noqa: ASYNC110 - it tells nobody but the page
        await asyncio.sleep(0.02)
    return job


def test_a_plan_is_made_beside_and_says_how_far_it_is(tiny_file: Path, tmp_path: Path) -> None:
    """Its stages are told in their order; what it gives is a kit in closed forms, of this very file."""
    found: list[Any] = []

    async def plan(jobs: Jobs, _: list[Any]) -> None:
        found.append(await ended(await jobs.start("plan", room=str(tiny_file), out=str(tmp_path / "out"))))

    told = run(plan)
    (job,) = found
    assert job.state is State.DONE
    stages = list(dict.fromkeys(stage for _, _, stage in told))
    assert stages.index("planning") < stages.index("designing")
    kit = read_kit(tmp_path / "out" / "kit.json")
    assert kit.totals.lots_placed == kit.totals.lots > 0
    assert job.result["sheets"] == str(tmp_path / "out" / "sheets.json")


def test_faults_of_the_room_file_come_with_their_lines(tiny_file: Path, tmp_path: Path) -> None:
    """As the command line says them."""
    file = tmp_path / "room.toml"
    file.write_text(tiny_file.read_text(encoding="utf-8").replace("count = 10", "count = -1"), encoding="utf-8")
    found: list[Any] = []

    async def plan(jobs: Jobs, _: list[Any]) -> None:
        found.append(await ended(await jobs.start("plan", room=str(file), out=str(tmp_path / "out"))))

    run(plan)
    (job,) = found
    assert job.state is State.FAULTY
    (fault,) = job.faults
    assert fault["key"] == "lot.dice.count"
    assert fault["line"] > 0
    assert not (tmp_path / "out").exists()


def test_a_job_can_be_stopped_and_is_replaced_by_one_of_its_name(tiny_file: Path, tmp_path: Path) -> None:
    """The old one is stopped, its process is gone; the new one ends."""
    found: list[Any] = []

    async def twice(jobs: Jobs, _: list[Any]) -> None:
        first = await jobs.start("plan", room=str(tiny_file), out=str(tmp_path / "one"))
        process = jobs._running["plan"][1]
        second = await jobs.start("plan", room=str(tiny_file), out=str(tmp_path / "two"))
        found.extend([first.state, process.returncode, (await ended(second)).state])

    run(twice)
    assert found == [State.STOPPED, -9, State.DONE]


def test_a_process_that_dies_is_said_so(tiny_file: Path, tmp_path: Path) -> None:
    """With its code; nothing else of the studio is disturbed."""
    found: list[Any] = []

    async def die(jobs: Jobs, _: list[Any]) -> None:
        job = await jobs.start("plan", room=str(tiny_file), out=str(tmp_path / "out"))
        os.kill(jobs._running["plan"][1].pid, signal.SIGSEGV)
        found.append(await ended(job))

    run(die)
    (job,) = found
    assert job.state is State.FAILED
    assert "code -11" in job.error


def test_a_process_that_says_nonsense_is_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines that are none are passed over; its end without a result is a failure, with its last words."""
    real = asyncio.create_subprocess_exec

    async def other(*_: object, **options: object) -> asyncio.subprocess.Process:
        script = "import sys; print('no json'); print('[1]'); sys.stderr.write('it broke')"
        return await real("python3", "-c", script, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(asyncio, "create_subprocess_exec", other)
    found: list[Any] = []

    async def go(jobs: Jobs, _: list[Any]) -> None:
        found.append(await ended(await jobs.start("plan")))

    run(go)
    assert (found[0].state, found[0].error) == (State.FAILED, "The work ended with code 0: it broke")


AFTER = """
import json, sys, time
sys.stdin.readline()
print(json.dumps({"arrived": "one.glb"}), flush=True)
print(json.dumps({"result": {}}), flush=True)
time.sleep(600)
"""


def test_what_a_job_does_after_its_result_ends_when_somebody_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    """What it gave stays; a job that still works for its own result is left alone. Parts are noted as they arrive."""
    real = asyncio.create_subprocess_exec

    async def other(*_: object, **options: object) -> asyncio.subprocess.Process:
        return await real("python3", "-c", AFTER, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(asyncio, "create_subprocess_exec", other)
    found: list[Any] = []

    async def go(jobs: Jobs, _: list[Any]) -> None:
        job = Job("plan")
        jobs._running["plan"] = job, await other(stdin=asyncio.subprocess.PIPE, start_new_session=True)
        await jobs.end_afterwards("plan")
        found.append(jobs._running["plan"][1].returncode)
        await jobs.stop("plan")
        job = await ended(await jobs.start("plan"))
        process = jobs._running["plan"][1]
        await jobs.end_afterwards("plan")
        found.extend([job.state, job.arrived, process.returncode])

    run(go)
    assert found == [None, State.DONE, ["one.glb"], -9]
