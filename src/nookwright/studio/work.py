"""What the worker can do: plan a room, build its kit, make a space solid. Each writes files and says where they are."""

from __future__ import annotations

import pickle
from typing import TYPE_CHECKING, Any, Final

from nookwright.build import build, check, plan_and_design, sketch
from nookwright.documents.module_plot import module_plot
from nookwright.exchange.kit_file import write_kit
from nookwright.ground.errors import RoomError
from nookwright.ground.sources import Fact, Kind
from nookwright.layout.place import Effort
from nookwright.studio.sheets import sheets_of
from nookwright.studio.solid_files import make_solid, prepare_solids
from nookwright.survey.load import room_sha256

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.ground.progress import Progress

NICE = Fact(10, unit="1", kind=Kind.CHOICE, source="How much what nobody waits for yet stands back.")


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


def solid(*, out: Path, space: str = "", lot: str = "", part: str = "", progress: Progress) -> dict[str, Any]:
    """Make what stands in a space solid, or the part that holds a lot, or one part by itself.

    Args:
        out: folder that a plan was written to.
        space: id of the space.
        lot: id of the lot; then only its part, as it lies on the bed.
        part: hash of the shape of a part; then one copy of it.
        progress: hears how far it has come, and what has arrived.
    """
    arrived = getattr(progress, "arrived", None) if space else None
    return make_solid(out=out, space=space, lot=lot, part=part, progress=progress, arrived=arrived)


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
AFTERWARDS: Final[dict[str, Callable[[Path], None]]] = {"plan": prepare_solids, "solid": prepare_solids}
