"""A studio with a drawer of many trays that are planned already, so that only the page is measured.

    many_trays.py ROOM.toml TRAYS

Writes the room file, serves it, and never plans it: planning so many lots takes minutes.
"""

from __future__ import annotations

import sys
from pathlib import Path

from nookwright.exchange.kit_file import read_kit
from nookwright.ground.progress import Silent
from nookwright.studio import main, state, work
from nookwright.studio.journal import sha256
from nookwright.studio.planned import Planned
from nookwright.studio.sheets import Footprint, Item, Sheets, Wanted

PER_ROW, STEP = 20, 3  # trays of 2 by 2 cells
HEAD = """\
format = 1
[room]
name = "Many trays, invented"
[choices.colours]
liner = "white"
[[space]]
id = "drawer"
name = "The drawer"
kind = "drawer"
width = 1000
depth = 800
height = 70
floor_height = 1000
load_kg = 60
"""
LOT = """
[[lot]]
id = "cube-{n:03}"
name = "Cubes {n:03}"
shape = "box"
width = 14
depth = 15
height = 16
count = 2
mass_g = 5
"""
TAIL = """
[[printer]]
id = "one"
bed_width = 220
bed_depth = 220
bed_height = 200
materials = ["white"]
[[material]]
id = "white"
colour = "#f2f2f2"
density_g_cm3 = 1.24
price_per_kg = 20
"""


def write(room_file: Path, trays: int) -> None:
    """Write the room, with so many lots."""
    room_file.write_text(HEAD + "".join(LOT.format(n=n) for n in range(trays)) + TAIL, encoding="utf-8")


def planned(room_file: Path, trays: int, folder: Path) -> Planned:
    """A plan of it by hand: the plan of one lot, with all the others set beside it."""
    few = folder / "room.toml"
    write(few, 1)
    work.plan(room=few, out=folder / "plan", progress=Silent())
    sheets = Sheets.model_validate_json((folder / "plan" / "sheets.json").read_text(encoding="utf-8"))
    items = tuple(_item(number) for number in range(trays))
    sizes = (Footprint(cols=1, rows=2, height=21.0, tall=21.0, may_turn=True),)
    lots = tuple(Wanted(lot=one.lot, name=one.name, sizes=sizes, refused={}) for one in items)
    sheets = sheets.model_copy(update={"items": items, "lots": lots})
    sha = sha256(room_file.read_text(encoding="utf-8"))
    return Planned(sha, sheets, read_kit(folder / "plan" / "kit.json"), folder / "plan")


def _item(number: int) -> Item:
    name = f"cube-{number:03}"
    col, row = STEP - 1 + number % PER_ROW * 2, STEP + number // PER_ROW * STEP
    return Item(
        id=name, lot=name, name=f"Cubes {number:03}", kind="tray", space="drawer", col=col, row=row, cols=2, rows=2,
        height=21.0, tall=21.0, mass_g=5.0,
    )  # fmt: skip


class Unplanned(state.Studio):
    """A studio that is never planned anew."""

    @property
    def outdated(self) -> bool:
        """Never, so that no plan is asked for."""
        return False


def serve(room_file: Path, trays: int) -> None:
    """Serve it until interrupted."""
    room_file.parent.mkdir(parents=True, exist_ok=True)
    write(room_file, trays)
    folder = room_file.parent / "plan"
    folder.mkdir(exist_ok=True)
    plan = planned(room_file, trays, folder)

    def opened(room_file: Path, scratch: Path) -> state.Studio:
        studio = Unplanned(room_file, scratch)
        studio.planned = plan
        return studio

    main._opened = opened  # noqa: SLF001 - the server's own way in is kept
    main.serve(room_file)


if __name__ == "__main__":
    serve(Path(sys.argv[1]), int(sys.argv[2]))
