"""Many recipes made solid: from the store where they are known, in a few processes where that pays, else here.

The kernel holds the interpreter's lock while it works, so threads gain nothing; processes do from about a second of
work on. A mesh depends on its recipe alone, so who made it does not show in its bytes.
"""

from __future__ import annotations

import atexit
import multiprocessing
import os
import threading
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import connection
from typing import TYPE_CHECKING

from nookwright.ground import tolerances
from nookwright.ground.errors import SolidError
from nookwright.ground.sources import Fact, Kind
from nookwright.shapes.solids import Solid
from nookwright.solids.mesh import MeshKernel
from nookwright.solids.store import MeshStore

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path

    from nookwright.ground.progress import Progress
    from nookwright.solids.triangles import Mesh

S_PER_BODY = Fact(
    0.0003,
    unit="s",
    kind=Kind.CALCULATED,
    source="Kernel time for each body, copies counted: 0.0008 with booleans alone, by the 2.6 of the family.",
)
WORTH_A_POOL_S = Fact(1.0, unit="s", kind=Kind.MEASURED, source="Starting processes costs 0.3 to 0.5 s.")
MOST_PROCESSES = Fact(8, unit="1", kind=Kind.CHOICE, source="More of them fight for memory bandwidth.")


def make_all(
    recipes: Mapping[str, Solid],
    *,
    tolerance: float = tolerances.MESH,
    folder: Path | None = None,
    processes: int = 1,
    progress: Progress,
) -> dict[str, Mesh]:
    """The meshes of all recipes, by their digests.

    Args:
        recipes: by digest.
        tolerance: largest distance from the true surface, mm.
        folder: of the store; ``None`` to remember nothing.
        processes: how many may be started; each imports the caller's main module anew, so a script that asks for more
            than one needs the usual ``if __name__ == "__main__"``.
        progress: who is told how far it is.

    Raises:
        SolidError: one of them is no solid.
    """
    store = MeshStore(folder, tolerance)
    known = {name: store.load(recipe) for name, recipe in recipes.items()}
    missing = {name: recipe for name, recipe in recipes.items() if known[name] is None}
    made: dict[str, Mesh] = {name: mesh for name, mesh in known.items() if mesh is not None}
    of_new = each_made(missing, tolerance=tolerance, folder=folder, processes=processes, progress=progress)
    made |= {recipe.digest: mesh for recipe, mesh in of_new}
    return {name: made[name] for name in recipes}


def each_made(
    recipes: Mapping[str, Solid],
    *,
    tolerance: float = tolerances.MESH,
    folder: Path | None = None,
    processes: int = 1,
    progress: Progress,
) -> Iterator[tuple[Solid, Mesh]]:
    """Recipe and mesh of each, as soon as it is made, whether it is remembered or not; the largest first.

    Args:
        recipes: by digest.
        tolerance: largest distance from the true surface, mm.
        folder: of the store that is to remember them; ``None`` to remember nothing.
        processes: how many may be started, as in ``make_all``.
        progress: who is told how far it is.

    Raises:
        SolidError: one of them is no solid.
    """
    store = MeshStore(folder, tolerance)
    largest_first = sorted(recipes.values(), key=lambda recipe: (-bodies_in(recipe), recipe.digest))
    meshes = _meshes(largest_first, tolerance, processes)
    for recipe, mesh in progress.track(meshes, len(recipes), "making parts solid"):
        store.keep(recipe, mesh)
        yield recipe, mesh


def bodies_in(solid: Solid) -> int:
    """How many bodies a recipe is combined from, a repeat counted once for each copy."""
    own = len(getattr(solid, "places", ())) or 1
    inner = [
        bodies_in(child)
        for value in vars(solid).values()
        for child in (value if isinstance(value, tuple) else (value,))
        if isinstance(child, Solid)
    ]
    return own * max(1, sum(inner)) if inner else own


def usual_processes() -> int:
    """How many processes this machine is good for."""
    return max(1, min(int(MOST_PROCESSES), os.cpu_count() or 1))


def _meshes(recipes: Sequence[Solid], tolerance: float, processes: int) -> Iterator[tuple[Solid, Mesh]]:
    """Recipe and mesh, in order."""
    work_s = S_PER_BODY * sum(bodies_in(recipe) for recipe in recipes)
    if work_s < WORTH_A_POOL_S or processes == 1:
        kernel = MeshKernel(tolerance)
        yield from ((recipe, kernel.mesh(recipe)) for recipe in recipes)
        return
    # spawned, not forked: a fork would copy the kernel's own threads in whatever state they are
    with ProcessPoolExecutor(processes, multiprocessing.get_context("spawn"), _begin, (tolerance,)) as pool:
        try:
            yield from zip(recipes, pool.map(_mesh, recipes), strict=True)
        except BrokenProcessPool as error:
            raise SolidError("a process that made parts solid was stopped from outside (out of memory?)") from error
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


_KERNELS: list[MeshKernel] = []  # one in each worker process, set when it begins


def begin_worker() -> None:
    """Let this worker process end with the one that started it."""
    threading.Thread(target=_leave_with_parent, daemon=True).start()


def _begin(tolerance: float) -> None:
    begin_worker()
    atexit.register(_KERNELS.clear)  # before the interpreter ends, or the kernel's library complains of leaks
    _KERNELS.append(MeshKernel(tolerance))


def _leave_with_parent() -> None:
    """End this process when the one that started it is gone: killed, it could not tell its workers to stop."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


def _mesh(recipe: Solid) -> Mesh:
    return _KERNELS[0].mesh(recipe)
