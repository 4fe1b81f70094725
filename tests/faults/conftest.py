"""The sound kit that faults are sown into, built once a run, and what of proving it again need not be done again."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import pytest

from nookwright.build import build
from nookwright.checks import bed_files, bed_room, files, springs
from nookwright.checks.bodies import shape_of
from nookwright.exchange.kit_file import read_kit
from nookwright.exchange.stl import parse_stl
from nookwright.exchange.threemf import parse_3mf
from nookwright.ground.digest import digest
from nookwright.ground.progress import Silent
from nookwright.survey.load import load_room

from .harness import Sample

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from manifold3d import CrossSection

    from nookwright.checks.bodies import Body, Shape
    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.exchange.threemf import ThreeMF
    from nookwright.layout.place import Effort

_Key = TypeVar("_Key")
_Value = TypeVar("_Value")
ROOM = Path(__file__).parent / "room.toml"
KIT_FILE = "kit.json"
PATIENCE_S = 900  # that one worker waits for the kit of another
LOOK_AGAIN_S = 0.5
MESHES = 600  # that are kept in mind: those of the sound kit and of the last faults


@pytest.fixture(scope="session")
def sound(tmp_path_factory: pytest.TempPathFactory, quick: Effort, request: pytest.FixtureRequest) -> Sample:
    """A kit with liners, trays, cradles, lids, a stack, a rest, a dispenser, a shoe, a rack and more, all sound."""
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if hasattr(request.config, "workerinput") else base  # by all workers of a run
    folder, cache = shared / "faults-sound" / "kit", shared / "faults-cache"
    _once(folder, lambda: build(ROOM, folder, progress=Silent(), effort=quick, cache=cache))
    return Sample(folder, read_kit(folder / KIT_FILE), load_room(ROOM), tmp_path_factory.mktemp("faults"), cache)


def _once(folder: Path, make: Callable[[], object]) -> None:
    """Let the first worker that comes make a folder, and the others wait for it; what fails there fails here too."""
    failed = folder.parent / "failed"
    try:
        folder.parent.mkdir()
    except FileExistsError:
        for _ in range(int(PATIENCE_S / LOOK_AGAIN_S)):
            if (folder / KIT_FILE).exists():
                return
            if failed.exists():
                break
            time.sleep(LOOK_AGAIN_S)
        pytest.fail("the worker that builds the sound kit did not get it built")
    try:
        make()
    except BaseException:
        failed.touch()
        raise


@pytest.fixture(scope="session", autouse=True)
def _looked_at_once() -> Iterator[None]:
    """What does not change from kit to kit is read once: nearly half of the time of proving them again.

    A 3MF that is linked into many kits is parsed once, by its place on the disk; a mesh once, by its content. Whether
    files are there, and are those of kit.json, is still looked at in every kit.
    """
    known: dict[tuple[int, ...], tuple[ThreeMF, str]] = {}

    def parse(path: Path) -> tuple[ThreeMF, str]:
        try:
            found = path.stat()
        except OSError:
            return parse_3mf(path)  # which says what is wrong with it
        key = found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns
        if key not in known:
            known[key] = parse_3mf(path)
        return known[key]

    meshes: dict[str, tuple[Vertices, Triangles]] = {}
    shapes: dict[str, Shape] = {}
    travels: dict[tuple[str, float], float] = {}

    def mesh(data: bytes, name: str) -> tuple[Vertices, Triangles]:
        return _kept(meshes, digest(data), lambda: parse_stl(data, name))

    def shape(key: str, vertices: Vertices, triangles: Triangles) -> Shape:
        return _kept(shapes, key, lambda: shape_of(key, vertices, triangles))

    def travel(sprung: Shape, way: float) -> float:
        return _kept(travels, (sprung.key, way), lambda: springs_travel(sprung, way))

    covers: dict[tuple[str, bytes], CrossSection] = {}

    def cover(body: Body) -> CrossSection:
        return _kept(covers, (body.shape.key, np.asarray(body.matrix).tobytes()), lambda: bed_covered(body))

    springs_travel, bed_covered = springs.free_travel, bed_room.covered
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bed_files, "parse_3mf", parse)
        patch.setattr(files, "parse_stl", mesh)
        patch.setattr(files, "shape_of", shape)
        patch.setattr(springs, "free_travel", travel)
        patch.setattr(bed_room, "covered", cover)
        yield


def _kept(kept: dict[_Key, _Value], key: _Key, reach: Callable[[], _Value]) -> _Value:
    """What was reached before, or is reached now; the oldest goes where there is too much."""
    if key not in kept:
        found = reach()
        if len(kept) >= MESHES:
            del kept[next(iter(kept))]
        kept[key] = found
    return kept[key]
