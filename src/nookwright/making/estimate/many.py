"""All estimates of a room: from the store where they are known, in a few processes where that pays, else here."""

from __future__ import annotations

import multiprocessing
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.making.estimate.memory import EstimateStore
from nookwright.making.estimate.piece import estimate
from nookwright.making.estimate.settings import settings_of
from nookwright.solids.pool import begin_worker

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

    from nookwright.ground.progress import Progress
    from nookwright.making.estimate.model import PieceEstimate
    from nookwright.making.estimate.settings import PrintSettings
    from nookwright.solids.triangles import Mesh
    from nookwright.survey.models import Printer

S_PER_TRIANGLE = Fact(
    6e-6, unit="s", kind=Kind.MEASURED, source="Pieces of the demo: benchmarks/making/estimates.py, 2 cores."
)
WORTH_A_POOL_S = Fact(1.5, unit="s", kind=Kind.MEASURED, source="Each process needs 0.6 s until it can begin.")


@dataclass(frozen=True)
class Estimates:
    """Estimates of pieces on printers.

    Attributes:
        settings: of each printer, by its id.
        pieces: by the digest of the recipe and the key of the settings.
    """

    settings: Mapping[str, PrintSettings]
    pieces: Mapping[tuple[str, str], PieceEstimate]

    def of(self, recipe: str, printer: str) -> PieceEstimate:
        """The estimate of a piece.

        Args:
            recipe: digest of its recipe.
            printer: id of the printer.
        """
        return self.pieces[recipe, self.settings[printer].key]


def estimate_all(
    recipes: Iterable[str],
    meshes: Mapping[str, Mesh],
    printers: Sequence[Printer],
    *,
    wall: float,
    folder: Path | None = None,
    processes: int = 1,
    progress: Progress,
) -> Estimates:
    """The estimates of pieces on every printer; printers with the same settings share them.

    Args:
        recipes: digests of the recipes of the pieces.
        meshes: by digest, those of the pieces among them.
        printers: of the household.
        wall: thickness of the room's walls, mm.
        folder: of the store; ``None`` to remember nothing.
        processes: how many may be started, see ``solids.pool.make_all``.
        progress: who is told how far it is.
    """
    settings = {printer.id: settings_of(printer, wall) for printer in printers}
    store, by_key = EstimateStore(folder), {one.key: one for one in settings.values()}
    wanted = [(recipe, key) for recipe in dict.fromkeys(recipes) for key in by_key]
    known = {pair: store.load(*pair) for pair in wanted}
    missing = [pair for pair in wanted if known[pair] is None]
    missing.sort(key=lambda pair: (-len(meshes[pair[0]].triangles), pair))
    found = {pair: one for pair, one in known.items() if one is not None}
    made = _estimates([(meshes[recipe], by_key[key]) for recipe, key in missing], processes)
    for pair, one in progress.track(zip(missing, made, strict=True), len(missing), "estimating"):
        store.keep(*pair, one)
        found[pair] = one
    return Estimates(settings, {pair: found[pair] for pair in wanted})


def _estimates(jobs: Sequence[tuple[Mesh, PrintSettings]], processes: int) -> Iterator[PieceEstimate]:
    """The estimates, in order."""
    work_s = S_PER_TRIANGLE * sum(len(mesh.triangles) for mesh, _ in jobs)
    if work_s < WORTH_A_POOL_S or processes == 1:
        yield from (estimate(*job) for job in jobs)
        return
    # spawned, not forked: a fork would copy the kernel's own threads in whatever state they are
    with ProcessPoolExecutor(processes, multiprocessing.get_context("spawn"), begin_worker) as pool:
        try:
            yield from pool.map(_estimate, jobs)
        except BrokenProcessPool as error:
            raise SolidError("a process that estimated pieces was stopped from outside (out of memory?)") from error
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _estimate(job: tuple[Mesh, PrintSettings]) -> PieceEstimate:
    return estimate(*job)
