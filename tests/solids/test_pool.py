"""Many recipes at once: who makes a mesh, and whether it was remembered, does not show in it."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest

from nookwright.ground.errors import SolidError
from nookwright.ground.progress import Silent
from nookwright.shapes.regions import Circle, Rect
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Solid, Taper
from nookwright.solids import pool
from nookwright.solids.mesh import MeshKernel
from nookwright.solids.pool import bodies_in, make_all

if TYPE_CHECKING:
    from nookwright.solids.triangles import Mesh


def plate(holes: int) -> Solid:
    """A plate with a row of tapered holes."""
    cut = Move(Taper(Circle(2.0), 3.0, 0.5), z=-0.5)
    return Difference(
        Prism(Rect(6.0 * holes, 8.0), 2.0), (Repeat(cut, tuple((6.0 * n + 3.0, 4.0) for n in range(holes))),)
    )


RECIPES = {recipe.digest: recipe for recipe in (plate(3), plate(5), plate(8))}


def same(one: Mesh, other: Mesh) -> bool:
    """Whether two meshes are equal to the last bit."""
    return np.array_equal(one.vertices, other.vertices) and np.array_equal(one.triangles, other.triangles)


def test_processes_make_the_same_meshes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two processes, forced on small work, give bit by bit what one kernel here gives, in the order asked for."""
    monkeypatch.setattr(pool, "WORTH_A_POOL_S", 0.0)
    made = make_all(RECIPES, processes=2, progress=Silent())
    kernel = MeshKernel()
    assert list(made) == list(RECIPES)
    assert all(same(made[name], kernel.mesh(recipe)) for name, recipe in RECIPES.items())


def test_small_work_starts_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Starting processes costs more than a second of work gains."""

    def refused(*_: object, **__: object) -> None:
        raise AssertionError("a process was started")

    monkeypatch.setattr(pool, "ProcessPoolExecutor", refused)
    assert len(make_all(RECIPES, processes=2, progress=Silent())) == len(RECIPES)


def test_a_remembered_mesh_is_the_same_and_is_not_made_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time nothing is made, and what comes back is equal to the last bit."""
    first = make_all(RECIPES, folder=tmp_path, progress=Silent())
    monkeypatch.setattr(MeshKernel, "mesh", lambda *_: pytest.fail("made again"))
    second = make_all(RECIPES, folder=tmp_path, progress=Silent())
    assert all(same(first[name], second[name]) for name in RECIPES)


def test_a_broken_memory_is_made_anew(tmp_path: Path) -> None:
    """A file cut short, or full of something else, is passed over and replaced."""
    first = make_all(RECIPES, folder=tmp_path, progress=Silent())
    for number, file in enumerate(sorted(tmp_path.rglob("*.npz"))):
        file.write_bytes(file.read_bytes()[:100] if number % 2 else b"nonsense")
    second = make_all(RECIPES, folder=tmp_path, progress=Silent())
    assert all(same(first[name], second[name]) for name in RECIPES)
    third = make_all(RECIPES, folder=tmp_path, progress=Silent())
    assert all(same(first[name], third[name]) for name in RECIPES)


def test_another_tolerance_is_another_mesh(tmp_path: Path) -> None:
    """What was made coarsely is not taken for the fine one."""
    coarse = make_all(RECIPES, tolerance=0.1, folder=tmp_path, progress=Silent())
    fine = make_all(RECIPES, tolerance=0.01, folder=tmp_path, progress=Silent())
    assert all(len(fine[name].triangles) > len(coarse[name].triangles) for name in RECIPES)


def test_a_memory_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    """The cache folder may be a file, or on a full disk."""
    (tmp_path / "cache").write_text("a file")
    assert len(make_all(RECIPES, folder=tmp_path / "cache", progress=Silent())) == len(RECIPES)


def test_what_is_no_solid_is_said_from_a_process_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """The error of a kernel in another process arrives as ours."""
    monkeypatch.setattr(pool, "WORTH_A_POOL_S", 0.0)
    gone = Difference(Prism(Rect(1.0, 1.0), 1.0), (Move(Prism(Rect(3.0, 3.0), 3.0), x=-1.0, y=-1.0, z=-1.0),))
    with pytest.raises(SolidError, match="nothing is left"):
        make_all({gone.digest: gone}, processes=2, progress=Silent())


def test_work_is_counted_by_bodies() -> None:
    """A plate with eight holes is a plate and eight cutters."""
    assert bodies_in(plate(8)) == 9


KILLED = """
import os, sys, time
from pathlib import Path
from nookwright.ground.progress import Silent
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Prism
from nookwright.solids import pool

class Killed(Silent):
    def track(self, items, total, what):
        for item in items:
            children = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text()
            print(children, flush=True)
            os.kill(os.getpid(), 9)

if __name__ == "__main__":
    pool.WORTH_A_POOL_S = 0.0
    solid = Prism(Rect(1.0, 1.0), 1.0)
    pool.make_all({solid.digest: solid}, processes=2, progress=Killed())
"""


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="children are found through /proc")
def test_workers_end_when_their_parent_is_killed(tmp_path: Path) -> None:
    """A build that is killed leaves no process behind."""
    script = tmp_path / "killed.py"
    script.write_text(KILLED, encoding="utf-8")
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=False, timeout=60)
    children = [int(child) for child in done.stdout.split()]
    assert children
    deadline = time.monotonic() + 20
    while any(_alive(child) for child in children) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert [child for child in children if _alive(child)] == []


def _alive(process: int) -> bool:
    """Whether a process runs (one that only waits to be collected does not)."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


QUIET = """
from nookwright.ground.progress import Silent
from nookwright.shapes.regions import Rect
from nookwright.shapes.solids import Prism
from nookwright.solids import pool

if __name__ == "__main__":
    pool.WORTH_A_POOL_S = 0.0
    solids = [Prism(Rect(1.0 + n, 1.0), 1.0) for n in range(4)]
    pool.make_all({solid.digest: solid for solid in solids}, processes=2, progress=Silent())
"""


def test_workers_end_without_a_word(tmp_path: Path) -> None:
    """The library below complains on standard error of what is alive when its process ends; nothing is."""
    script = tmp_path / "quiet.py"
    script.write_text(QUIET, encoding="utf-8")
    done = subprocess.run([sys.executable, str(script)], capture_output=True, text=True, check=True, timeout=60)
    assert done.stderr == ""
