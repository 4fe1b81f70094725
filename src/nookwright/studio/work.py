"""What the worker can do: plan a room, build its kit, make a space solid. Each writes files and says where they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from nookwright.build import build, check, plan_and_design, sketch
from nookwright.exchange.kit_file import write_kit
from nookwright.ground.errors import RoomError
from nookwright.layout.place import Effort
from nookwright.studio.sheets import sheets_of
from nookwright.survey.load import room_sha256

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.ground.progress import Progress


def plan(*, room: Path, out: Path, progress: Progress) -> dict[str, Any]:
    """Plan a room file; nothing is made solid.

    Args:
        room: the room file.
        out: folder for ``kit.json``, in closed forms, and ``sheets.json``; made where it is missing.
        progress: hears how far it has come.

    Raises:
        RoomError: the room file cannot be used.
    """
    found, faults = check(room)
    if found is None:
        raise RoomError(faults)
    designed = plan_and_design(found, room_file=room, effort=Effort(), progress=progress)
    out.mkdir(parents=True, exist_ok=True)
    kit, sheets = out / "kit.json", out / "sheets.json"
    write_kit(kit, sketch(designed, room_sha256(room)))
    sheets.write_text(sheets_of(found, designed.plan).model_dump_json(), encoding="utf-8")
    return {"kit": str(kit), "sheets": str(sheets)}


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


JOBS: Final[dict[str, Callable[..., dict[str, Any]]]] = {"plan": plan, "kit": kit}
