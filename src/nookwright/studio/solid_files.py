"""Solids as files to look at: of a whole space, of what holds a lot, of one part; and part by part while they are made.

Promise: a file is there whole or not at all. Nodes are named as the kit names what stands there, so that each takes the
place of what was drawn roughly under that name. What somebody waits for is made in the order in which it is seen: what
holds things first, the liner under it last. What it does not know: who looks.
"""

from __future__ import annotations

import os
import pickle
from collections import Counter
from typing import TYPE_CHECKING, Any

from nookwright.exchange.assemble import space_matrix
from nookwright.exchange.glb import Body, glb
from nookwright.ground.progress import Silent
from nookwright.ground.sources import Fact, Kind
from nookwright.studio.solid_queue import solid_name

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
    from pathlib import Path

    from nookwright.build import Designed
    from nookwright.ground.progress import Progress
    from nookwright.parts.design import Copy
    from nookwright.shapes.solids import Solid
    from nookwright.solids.triangles import Mesh

LOOK = Fact(
    0.2, unit="mm", kind=Kind.CHOICE, source="Meshes to look at: a quarter of a pixel where a drawer fills a window."
)

BATCHES = Fact(
    4, unit="1", kind=Kind.CHOICE, source="Files in which parts arrive: a view is drawn anew for each, which costs too."
)


def load_ahead() -> None:
    """Load what making solids needs, before anybody waits for it: it takes longer than many a solid."""
    import trimesh.visual.material

    import nookwright.solids.pool  # noqa: F401 - loaded, not used

    del trimesh


def make_solid(
    *,
    out: Path,
    space: str = "",
    lot: str = "",
    part: str = "",
    progress: Progress,
    processes: int | None = None,
    arrived: Callable[[Path], None] | None = None,
) -> dict[str, Any]:
    """Make what stands in a space solid, or the part that holds a lot, or one part by itself.

    Args:
        out: folder that a plan was written to.
        space: id of the space.
        lot: id of the lot; then only its part, as it lies on the bed.
        part: hash of the shape of a part; then one copy of it.
        progress: hears how far it has come.
        processes: how many may be started; as many as are usual when left out.
        arrived: is handed a file of each part as soon as it is there; without it there is only that of all.
    """
    designed = _designed(out)
    named = list(_named(designed.all_copies, space=space, lot=lot, part=part))
    name = solid_name(space=space, lot=lot, part=part)
    writer = _Writer(out, name, named, {one.id: one.colour for one in designed.room.material})
    meshes: dict[str, Mesh] = {}
    for made in _meshes([copy for _, copy in named], progress, processes):
        meshes |= made
        if arrived is not None:
            arrived(writer.some(made))
    triangles = sum(len(one.triangles) for one in meshes.values())
    return {"glb": str(writer.all(meshes)), "name": name, "triangles": triangles}


def prepare_solids(out: Path) -> None:
    """Have all spaces of a plan made solid that are not yet, the fullest first, so that they are seen at once.

    Args:
        out: folder that the plan was written to.
    """
    copies = _designed(out).copies
    for space, _ in Counter(copy.space for copy in copies).most_common():
        if not (out / f"{space}.glb").is_file():
            make_solid(out=out, space=space, progress=Silent(), processes=1)


def _designed(out: Path) -> Designed:
    """What a plan has designed."""
    written = (out / "designed.pickle").read_bytes()
    designed: Designed = pickle.loads(written)  # noqa: S301 - written by us, in a folder of ours
    return designed


def _named(copies: Iterable[Copy], *, space: str, lot: str, part: str) -> Iterator[tuple[str, Copy]]:
    """The copies that are asked for, each with the name that the kit has for it."""
    counts: dict[str, int] = {}
    for copy in copies:
        counts[copy.space] = counts.get(copy.space, 0) + 1
        if part:
            if copy.part.recipe.digest != part:
                continue
        elif not (_holds(copy, lot) if lot else copy.space == space):
            continue
        yield f"{copy.space}-{counts[copy.space]:03d}", copy
        if part:
            return


def _holds(copy: Copy, lot: str) -> bool:
    """Whether a copy holds things of a lot."""
    return copy.rest_of == lot or any(one.lot.id == lot for one in copy.holds)


def _meshes(copies: Sequence[Copy], progress: Progress, processes: int | None) -> Iterator[dict[str, Mesh]]:
    """Meshes by the hashes of their shapes: those that are remembered at once, then some at a time."""
    from nookwright.solids.pool import usual_processes
    from nookwright.solids.store import MeshStore
    from nookwright.terminal import cache_folder

    recipes = {copy.part.recipe.digest: copy.part.recipe for copy in copies}
    store = MeshStore(cache_folder(), float(LOOK))
    found = {name: mesh for name, recipe in recipes.items() if (mesh := store.load(recipe)) is not None}
    if found:
        yield found
    holding = {copy.part.recipe.digest for copy in copies if copy.contents}
    for first in (True, False):
        wanted = {name: one for name, one in recipes.items() if name not in found and (name in holding) is first}
        yield from _made(wanted, progress, processes or usual_processes())


def _made(recipes: Mapping[str, Solid], progress: Progress, processes: int) -> Iterator[dict[str, Mesh]]:
    """Meshes of recipes, some at a time as they are made."""
    from nookwright.solids.pool import each_made
    from nookwright.terminal import cache_folder

    batch: dict[str, Mesh] = {}
    made = each_made(recipes, tolerance=float(LOOK), folder=cache_folder(), processes=processes, progress=progress)
    for number, (recipe, mesh) in enumerate(made, start=1):
        batch[recipe.digest] = mesh
        if number == len(recipes) or len(batch) >= len(recipes) / BATCHES:
            yield batch
            batch = {}


class _Writer:
    """Writes bodies of one name, in pieces and whole."""

    def __init__(self, out: Path, name: str, named: Sequence[tuple[str, Copy]], colours: Mapping[str, str]) -> None:
        """Into a folder.

        Args:
            out: the folder.
            name: of the file of all.
            named: the copies, each with its name.
            colours: of the materials.
        """
        self._out, self._name, self._named, self._colours = out, name, named, colours
        self._pieces = 0

    def some(self, meshes: Mapping[str, Mesh]) -> Path:
        """A file of those copies whose meshes these are."""
        self._pieces += 1
        return self._written(f"{self._name}.{self._pieces}", meshes)

    def all(self, meshes: Mapping[str, Mesh]) -> Path:
        """The file of all copies."""
        return self._written(self._name, meshes)

    def _written(self, name: str, meshes: Mapping[str, Mesh]) -> Path:
        """Write a file, whole or not at all: it may be made beforehand and on demand at once."""
        file, beside = self._out / f"{name}.glb", self._out / f".{name}-{os.getpid()}"
        beside.write_bytes(
            glb(
                Body(called, copy.part.recipe.digest, mesh, space_matrix(copy), self._colours[copy.material])
                for called, copy in self._named
                if (mesh := meshes.get(copy.part.recipe.digest)) is not None
            )
        )
        beside.replace(file)
        return file
