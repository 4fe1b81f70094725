"""A STEP file of every distinct part of a kit, made in a few processes: the exact kernel takes its time.

A part that the exact kernel cannot make, or makes otherwise than the mesh kernel, is left out with a finding: what is
printed is the mesh, and that is proven without it.
"""

from __future__ import annotations

import multiprocessing
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.exchange.step import write_step
from nookwright.exchange.written import outer_name
from nookwright.ground.errors import FileFormatError, SolidError
from nookwright.ground.findings import Finding, Severity
from nookwright.making.jobs import unique
from nookwright.solids.occt import occt
from nookwright.solids.pool import begin_worker, bodies_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from nookwright.ground.progress import Progress
    from nookwright.making.jobs import MadePart
    from nookwright.shapes.solids import Solid

FOLDER = "step"


@dataclass(frozen=True)
class WrittenStep:
    """One file.

    Attributes:
        part: id of the part.
        file: in the kit's folder.
        sha256: of the file.
    """

    part: str
    file: str
    sha256: str


@dataclass(frozen=True)
class WrittenSteps:
    """What was written, and what there is to say about the rest."""

    steps: tuple[WrittenStep, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class _Task:
    path: Path
    recipe: Solid
    name: str


def require_step() -> None:
    """Do nothing if STEP files can be written.

    Raises:
        MissingExtraError: the extra ``step`` is not installed.
    """
    occt("STEPCAFControl")


def step_names(parts: Sequence[MadePart]) -> dict[str, str]:
    """The file of every part by its id: what it is, and its outer size in mm.

    Args:
        parts: distinct parts.
    """
    stems = unique([f"{made.part.kind.value}_{outer_name(made.part.size)}" for made in parts])
    return {made.id: f"{FOLDER}/{stem}.step" for made, stem in zip(parts, stems, strict=True)}


def write_steps(folder: Path, parts: Sequence[MadePart], *, processes: int, progress: Progress) -> WrittenSteps:
    """Write a STEP file of every part, uncut.

    Args:
        folder: of the kit.
        parts: distinct parts.
        processes: how many may be started, see ``solids.pool``.
        progress: who is told how far it is.

    Raises:
        MissingExtraError: the extra ``step`` is not installed.
        SolidError: a process was stopped from outside.
    """
    require_step()
    names = step_names(parts)
    (folder / FOLDER).mkdir(exist_ok=True)
    slow_first = sorted(parts, key=lambda made: (-bodies_in(made.part.recipe), made.id))
    tasks = [_Task(folder / names[made.id], made.part.recipe, made.part.name) for made in slow_first]
    done: dict[str, WrittenStep] = {}
    failed: list[Finding] = []
    ends = progress.track(_ends(tasks, processes), len(tasks), "writing STEP files")
    for made, (sha256, wrong) in zip(slow_first, ends, strict=True):
        if wrong:
            failed.append(_left_out(made, wrong))
        else:
            done[made.id] = WrittenStep(made.id, names[made.id], sha256)
    return WrittenSteps(tuple(done[made.id] for made in parts if made.id in done), tuple(failed))


def _left_out(made: MadePart, wrong: str) -> Finding:
    return Finding(
        "step-left-out",
        Severity.WARN,
        made.id,
        f"It has no STEP file: {wrong}.",
        "Print it as it is: its mesh is proven without the STEP file; draw on with the mesh where you need one.",
    )


def _ends(tasks: Sequence[_Task], processes: int) -> Iterator[tuple[str, str]]:
    """The sha256 of each file, or what went wrong, in order."""
    if processes == 1 or len(tasks) == 1:
        yield from map(_written, tasks)
        return
    with ProcessPoolExecutor(processes, multiprocessing.get_context("spawn"), begin_worker) as pool:
        try:
            yield from pool.map(_written, tasks)
        except BrokenProcessPool as error:
            raise SolidError("a process that wrote STEP files was stopped from outside (out of memory?)") from error
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _written(task: _Task) -> tuple[str, str]:
    try:
        return write_step(task.path, task.recipe, task.name), ""
    except (SolidError, FileFormatError) as error:
        task.path.unlink(missing_ok=True)
        return "", str(error)
