"""How the time of proving grows with the parts of a kit, and how it compares with building the kit.

    python -m benchmarks.proving.growth [--spaces 1 2 4 8 16 32] [--kits FOLDER] [--out docs/proving-growth.json]

Rooms are invented: so many drawers of one size, twelve lots each, no two alike. What is counted is the processor time
of one thread, nothing remembered from before. A kit that lies in the folder already is not built again, so that its
proof can be measured after a change.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import tempfile
import time
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
from benchmarks.proving.toml_text import toml_text

from nookwright.build import build
from nookwright.checks.prove import prove
from nookwright.exchange.kit_file import read_kit
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.survey.load import load_room

LOTS = 12  # of a drawer
IN_CRADLES = 0.3  # share of lots
EFFORT = Effort(moves=200, tries=200, rounds=1)  # how good the layout is does not matter here
WANTED_SLOPE = 1.15


def grown_room(spaces: int, seed: int = 1) -> dict[str, Any]:
    """A room of so many drawers with twelve lots each.

    Args:
        spaces: how many drawers.
        seed: of the sizes of all things.
    """
    chance = Random(seed)  # noqa: S311 - nothing secret
    return {
        "format": 1,
        "room": {"name": f"{spaces} drawers"},
        "module": {"pitch": 18},
        "choices": {"homes": {f"group-{number}": [f"space-{number}"] for number in range(spaces)}},
        "space": [_space(number) for number in range(spaces)],
        "lot": [_lot(chance, number, lot) for number in range(spaces) for lot in range(LOTS)],
        "printer": [{"id": "printer", "bed_width": 220, "bed_depth": 220, "bed_height": 200, "materials": ["grey"]}],
        "material": [{"id": "grey", "colour": "#808080", "density_g_cm3": 1.24}],
    }


def _space(number: int) -> dict[str, Any]:
    sides = {"width": 402, "depth": 322, "height": 82}
    return {"id": f"space-{number}", "kind": "drawer", "floor_height": 700, "load_kg": 30, **sides}


def _lot(chance: Random, space: int, number: int) -> dict[str, Any]:
    """Some boxes in a tray, or some round things in a cradle."""
    lot: dict[str, Any] = {"id": f"lot-{space}-{number}", "group": f"group-{space}", "count": chance.randint(2, 6)}
    lot |= {"grow_percent": 0, "mass_g": chance.randint(5, 40), "stands": ["upright"]}
    if chance.random() < IN_CRADLES:
        lot |= {"shape": "round", "diameter": round(chance.uniform(15, 30), 1), "keep": "cradle"}
    else:
        lot |= {"shape": "box", **{side: round(chance.uniform(12, 34), 1) for side in ("width", "depth")}}
    return lot | {"height": round(chance.uniform(12, 45), 1)}


def measured(spaces: int, kits: Path) -> dict[str, Any]:
    """A row: how many parts, and the time that their proof takes.

    Args:
        spaces: how many drawers.
        kits: folder that keeps the kits.
    """
    folder = kits / f"grown-{spaces}"
    file = kits / f"grown-{spaces}.toml"
    row: dict[str, Any] = {"spaces": spaces}
    if not folder.exists():
        kits.mkdir(parents=True, exist_ok=True)
        file.write_text(toml_text(grown_room(spaces)), encoding="utf-8")
        build(file, folder, progress=Silent(), effort=EFFORT, cache=kits / "cache")
    kit, room = read_kit(folder / "kit.json"), load_room(file)
    kit = kit.model_copy(update={"findings": tuple(one for one in kit.findings if one.severity == "note")})
    began, wall = time.process_time(), time.perf_counter()
    found = prove(folder, kit, room=room)
    row |= {
        "parts": len(kit.placements),
        "meshes": len({part.stl_sha256 for part in kit.parts} | {piece.stl_sha256 for piece in kit.pieces}),
        "prove_s": round(time.process_time() - began, 2),
        "wall_s": round(time.perf_counter() - wall, 2),
        "stops": sum(one.severity == "stop" for one in found),
        "load": round(os.getloadavg()[0], 1),
    }
    return row


def slope_of(rows: list[dict[str, Any]], against: str = "parts") -> float:
    """The slope of the straight line through all rows, in logarithms.

    Args:
        rows: as measured.
        against: what the time grows with.

    >>> slope_of([{"parts": 10, "prove_s": 2.0}, {"parts": 100, "prove_s": 20.0}])
    1.0
    """
    x = [math.log(row[against]) for row in rows]
    y = [math.log(row["prove_s"]) for row in rows]
    return round(float(np.polyfit(x, y, 1)[0]), 3)


def main() -> None:
    """Measure, print a row a room and the slope, write them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--spaces", type=int, nargs="+", default=[1, 2, 4, 8, 16, 32])
    parser.add_argument("--kits", type=Path, default=Path(tempfile.gettempdir()) / "grown-kits")
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    rows = []
    for spaces in options.spaces:
        rows.append(measured(spaces, options.kits))
        print(rows[-1], flush=True)
    slope = slope_of(rows) if len(rows) > 1 else None
    print(f"slope {slope}, wanted at most {WANTED_SLOPE}")
    if options.out:
        options.out.write_text(json.dumps({"rows": rows, "slope": slope}, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
