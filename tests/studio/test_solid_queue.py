"""Solids that pages ask for, with jobs that are played by hand."""

from __future__ import annotations

import asyncio
from typing import TYPE_CHECKING, Any

import pytest

from nookwright.studio.jobs import Job, State
from nookwright.studio.solid_queue import SolidQueue

if TYPE_CHECKING:
    from collections.abc import Callable, Coroutine
    from pathlib import Path


class Played:
    """Jobs that only note what they are asked."""

    def __init__(self) -> None:
        """Nothing asked yet."""
        self.asked: list[str] = []

    async def start(self, name: str, **asked: str) -> Job:
        """Note what is to be made solid."""
        self.asked.append(asked["space"] or asked["lot"] or asked["part"])
        return Job(name)

    async def end_afterwards(self, name: str) -> None:
        """Note what has to stand back."""
        self.asked.append(f"no more after {name}")


def queue_in(folder: Path) -> tuple[SolidQueue, Played]:
    """A queue for a plan in a folder."""
    jobs = Played()
    queue = SolidQueue(jobs)  # type: ignore[arg-type]
    queue.begin(folder)
    return queue, jobs


def in_a_loop(do: Callable[[], Coroutine[Any, Any, None]]) -> None:
    """Run something, and what it leaves for the next rounds of the loop."""

    async def done() -> None:
        await do()
        for _ in range(5):
            await asyncio.sleep(0)

    asyncio.run(done())


def test_what_is_asked_for_is_made_in_that_order_and_once(tmp_path: Path) -> None:
    """However many pages ask for it; what was being made beforehand stands back."""
    queue, jobs = queue_in(tmp_path)

    async def ask() -> None:
        for space in ("one", "two", "one"):
            assert not await queue.ask(space=space)
        queue.hear(Job("solid", State.DONE, result={"glb": str(tmp_path / "one.glb"), "name": "one"}))

    in_a_loop(ask)
    assert jobs.asked == ["no more after plan", "one", "no more after plan", "two"]
    assert queue.made == {"one": tmp_path / "one.glb"}


def test_parts_are_there_as_they_arrive(tmp_path: Path) -> None:
    """Of what is in work, before all of it is made; more of them each time, in their order."""
    queue, _ = queue_in(tmp_path)
    job = Job("solid")
    seen: list[int] = []

    async def hear() -> None:
        await queue.ask(space="one")
        await queue.ask(space="two")
        for number in range(3):
            job.arrived.append(str(tmp_path / f"one.{number}.glb"))
            queue.hear(job)
            seen.append(len(queue.pieces["one"]))
        assert queue.made == {}
        assert "two" not in queue.pieces

    in_a_loop(hear)
    assert seen == [1, 2, 3]


@pytest.mark.parametrize("state", [State.FAILED, State.STOPPED])
def test_one_that_fails_does_not_hold_up_the_next(tmp_path: Path, state: State) -> None:
    """And can be asked for again."""
    queue, jobs = queue_in(tmp_path)

    async def ask() -> None:
        await queue.ask(space="one")
        await queue.ask(space="two")
        queue.hear(Job("solid", state))
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        await queue.ask(space="one")
        queue.hear(Job("solid", State.DONE, result={"glb": str(tmp_path / "two.glb"), "name": "two"}))

    in_a_loop(ask)
    assert [one for one in jobs.asked if not one.startswith("no")] == ["one", "two", "one"]


def test_what_is_of_an_older_plan_is_not_shown(tmp_path: Path) -> None:
    """Neither parts of it nor the whole, and what nobody has begun is not made any more."""
    queue, jobs = queue_in(tmp_path / "old")
    job = Job("solid", arrived=[str(tmp_path / "old" / "one.1.glb")])

    async def replan() -> None:
        await queue.ask(space="one")
        await queue.ask(space="two")
        queue.hear(job)
        queue.begin(tmp_path / "new")
        assert queue.pieces == {}
        queue.hear(job)
        job.state, job.result = State.DONE, {"glb": str(tmp_path / "old" / "one.glb"), "name": "one"}
        queue.hear(job)

    in_a_loop(replan)
    assert (queue.made, queue.pieces) == ({}, {})
    assert "two" not in jobs.asked


def test_what_was_made_beforehand_is_there_at_once(tmp_path: Path) -> None:
    """Without a job; asked for again there is nothing to show anew."""
    queue, jobs = queue_in(tmp_path)
    (tmp_path / "one.glb").write_bytes(b"")

    async def ask() -> None:
        assert await queue.ask(space="one")
        assert not await queue.ask(space="one")

    in_a_loop(ask)
    assert jobs.asked == []


def test_nothing_is_made_before_there_is_a_plan() -> None:
    """Nor kept for later: pages ask again when there is one."""
    queue = SolidQueue(Played())  # type: ignore[arg-type]

    async def ask() -> None:
        assert not await queue.ask(space="one")

    in_a_loop(ask)
    assert queue.made == {}
