"""What the worker can do: plan a room, build its kit, make a space solid. Each writes files and says where they are."""

from __future__ import annotations

import os
import pickle
from typing import TYPE_CHECKING, Any, Final

from nookwright.build import build, check, plan_and_design, sketch
from nookwright.documents.module_plot import module_plot
from nookwright.exchange.assemble import space_matrix
from nookwright.exchange.glb import Body, glb
from nookwright.exchange.kit_file import write_kit
from nookwright.ground.errors import RoomError
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.place import Effort
from nookwright.studio.sheets import sheets_of
from nookwright.survey.load import room_sha256

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.ground.progress import Progress
    from nookwright.parts.design import Copy

NICE = Fact(10, unit="1", kind=Kind.CHOICE, source="How much what nobody waits for yet stands back.")
LOOK = Fact(
    0.2, unit="mm", kind=Kind.CHOICE, source="Meshes to look at: a quarter of a pixel where a drawer fills a window."
)


def plan(*, room: Path, out: Path, improve: bool = False, progress: Progress) -> dict[str, Any]:
    """Plan a room file; nothing is made solid.

    Args:
        room: the room file.
        out: folder for ``kit.json``, in closed forms, and ``sheets.json``; made where it is missing.
        improve: whether parts that may move are free to.
        progress: hears how far it has come.

    Raises:
        RoomError: the room file cannot be used.
    """
    found, faults = check(room)
    if found is None:
        raise RoomError(faults)
    if improve:
        found = found.model_copy(update={"place": tuple(place for place in found.place if not place.may_move)})
    designed = plan_and_design(found, room_file=None if improve else room, effort=Effort(), progress=progress)
    out.mkdir(parents=True, exist_ok=True)
    kit, sheets = out / "kit.json", out / "sheets.json"
    write_kit(kit, sketch(designed, room_sha256(room)))
    (out / "module.svg").write_text(module_plot(designed.plan.choice), encoding="utf-8")
    (out / "designed.pickle").write_bytes(pickle.dumps(designed))
    sheets.write_text(sheets_of(found, designed.plan).model_dump_json(), encoding="utf-8")
    return {"kit": str(kit), "sheets": str(sheets)}


def solid(
    *, out: Path, space: str = "", lot: str = "", progress: Progress, processes: int | None = None
) -> dict[str, Any]:
    """Make what stands in a space solid, or the part that holds a lot.

    Args:
        out: folder that a plan was written to.
        space: id of the space.
        lot: id of the lot; then only its part, as it lies on the bed.
        progress: hears how far it has come.
        processes: how many may be started; as many as are usual when left out.
    """
    from nookwright.solids.pool import make_all, usual_processes
    from nookwright.terminal import cache_folder

    designed = pickle.loads((out / "designed.pickle").read_bytes())  # noqa: S301 - written by us, in a folder of ours
    copies = [copy for copy in designed.copies if (_holds(copy, lot) if lot else copy.space == space)]
    name = f"lot {lot}" if lot else space
    recipes = {copy.part.recipe.digest: copy.part.recipe for copy in copies}
    meshes = make_all(
        recipes,
        tolerance=float(LOOK),
        folder=cache_folder(),
        processes=processes or usual_processes(),
        progress=progress,
    )
    colours = {one.id: one.colour for one in designed.room.material}
    file = out / f"{name}.glb"
    written = glb(
        Body(
            _node(number, copy),
            copy.part.recipe.digest,
            meshes[copy.part.recipe.digest],
            space_matrix(copy),
            colours[copy.material],
        )
        for number, copy in enumerate(copies)
    )
    beside = out / f".{name}-{os.getpid()}"
    beside.write_bytes(written)
    beside.replace(file)  # whole or not at all: it may be made beforehand and on demand at once
    return {"glb": str(file), "name": name, "triangles": sum(len(mesh.triangles) for mesh in meshes.values())}


def prepare_solids(out: Path) -> None:
    """Have all spaces of a plan made solid, so that they are seen in the round at once.

    Args:
        out: folder that the plan was written to.
    """
    from nookwright.ground.progress import Silent

    designed = pickle.loads((out / "designed.pickle").read_bytes())  # noqa: S301 - written by us, in a folder of ours
    for space in dict.fromkeys(copy.space for copy in designed.copies):
        solid(out=out, space=space, progress=Silent(), processes=1)


def _holds(copy: Copy, lot: str) -> bool:
    """Whether a copy holds things of a lot."""
    return copy.rest_of == lot or any(one.lot.id == lot for one in copy.holds)


def _node(number: int, copy: Copy) -> str:
    """The name of a copy's node: the id of its lot, where it holds one."""
    return copy.contents.lot.id if copy.contents else f"{copy.space}-part-{number}"


def kit(*, room: Path, out: Path, progress: Progress) -> dict[str, Any]:
    """Build the kit of a room file, as the command line does.

    Args:
        room: the room file.
        out: folder of the kit.
        progress: hears how far it has come.

    Raises:
        RoomError: the room file cannot be used.
        FolderError: the folder holds what this tool did not write.
    """
    from nookwright.solids.pool import usual_processes
    from nookwright.terminal import cache_folder

    build(room, out, progress=progress, cache=cache_folder(), processes=usual_processes())
    return {"kit": str(out / "kit.json")}


def improve(*, room: Path, out: Path, progress: Progress) -> dict[str, Any]:
    """Plan a room file with those parts free that may move: what taking their places out of it would give.

    Args:
        room: the room file.
        out: as of ``plan``.
        progress: hears how far it has come.

    Raises:
        RoomError: the room file cannot be used.
    """
    return plan(room=room, out=out, improve=True, progress=progress)


JOBS: Final[dict[str, Callable[..., dict[str, Any]]]] = {"plan": plan, "improve": improve, "kit": kit, "solid": solid}
AFTERWARDS: Final[dict[str, Callable[[Path], None]]] = {"plan": prepare_solids}
