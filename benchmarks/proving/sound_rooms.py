"""How many invented rooms that are sound by construction are stopped by their own proof: it should be none.

    python -m benchmarks.proving.sound_rooms [--first SEED] [--rooms N] [--out ROWS.jsonl]

Each room is built, written and proven in full. A row a room: its seed, how many parts it has, which codes were found,
every stop in full, and what the room touches: sorts of extras, kinds of spaces and parts, pieces that were cut. A stop
is a false one or a fault of the tool; both are worth finding.
"""

from __future__ import annotations

import argparse
import json
import tempfile
import time
from collections import Counter
from itertools import count, islice
from pathlib import Path
from typing import TYPE_CHECKING, Any

from benchmarks.proving.rooms import MOST_PARTS, chosen, sound_room
from benchmarks.proving.toml_text import toml_text

from nookwright.build import build
from nookwright.ground.findings import Severity
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Kit

EFFORT = Effort(moves=300, tries=300, rounds=1)  # enough for a room so small


def built(seed: int, folder: Path) -> Kit:
    """The kit of an invented room.

    Args:
        seed: of the room.
        folder: to write to.
    """
    file = folder / "room.toml"
    file.write_text(toml_text(sound_room(seed)), encoding="utf-8")
    return build(file, folder / "kit", progress=Silent(), effort=EFFORT)


def parts_of(kit: Kit) -> int:
    """How many copies of parts a kit has in place, keys aside, and to order."""
    keys = {part.id for part in kit.parts if part.kind == "key"}
    return sum(one.part not in keys for one in kit.placements) + sum(order.count for order in kit.orders)


def touched(seed: int, kit: Kit) -> list[str]:
    """What a room has of all that a room may have, in words.

    Args:
        seed: of the room.
        kit: of it.
    """
    placed = {one.part for one in kit.placements}
    found = {f"extra: {extra.__name__}" for extra in chosen(seed)}
    found |= {f"{'part' if part.id in placed else 'ordered'}: {part.kind}" for part in kit.parts}
    found |= {f"space: {space['kind']}" for space in sound_room(seed)["space"]}
    found |= {f"liner: {liner.level}" for space in kit.spaces for liner in space.liners if liner.chosen}
    found |= {"cut parts" for part in kit.parts if part.joints and part.kind not in ("panel", "filler")}
    found |= {"sheets to cut" for _ in kit.sheets}
    decks = {one.id for one in kit.placements if one.part in {part.id for part in kit.parts if part.kind == "lid"}}
    found |= {"two levels" for one in kit.placements if decks & set(one.stands_on)}
    return sorted(found | {f"printers: {len(kit.printers)}"})


def looked_at(seed: int) -> dict[str, Any]:
    """One room, built and proven: its row.

    Args:
        seed: of the room.
    """
    began = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        try:
            kit = built(seed, Path(folder))
        except Exception as error:  # noqa: BLE001 - a room that cannot be built is a find as well
            return {"seed": seed, "parts": 0, "error": f"{type(error).__name__}: {error}"[:600]}
    stops = [one for one in kit.findings if one.severity is Severity.STOP]
    return {
        "seed": seed,
        "parts": parts_of(kit),
        "seconds": round(time.perf_counter() - began, 1),
        "lots": f"{kit.totals.lots_placed}/{kit.totals.lots}",
        "codes": dict(sorted(Counter(f"{one.severity}: {one.code}" for one in kit.findings).items())),
        "touches": touched(seed, kit),
        "stops": [f"{one.code} {one.subject}: {one.text}" for one in stops],
    }


def small_rooms(first: int) -> Iterator[dict[str, Any]]:
    """Rows of rooms of at most fifteen parts, without end; larger ones are passed over, those with a stop never.

    Args:
        first: seed of the first.
    """
    for seed in count(first):
        row = looked_at(seed)
        if row["parts"] <= MOST_PARTS or row.get("stops"):
            yield row


def main() -> None:
    """Build rooms, print a row for each that is stopped, and the sum."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--rooms", type=int, default=200)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    bad, touches = 0, Counter[str]()
    for row in islice(small_rooms(options.first), options.rooms):
        if options.out:
            with options.out.open("a", encoding="utf-8") as rows:
                rows.write(json.dumps(row) + "\n")
        touches.update(row.get("touches", ()))
        if row.get("stops") or row.get("error"):
            bad += 1
            print(json.dumps(row, indent=1), flush=True)
    print(f"{options.rooms} rooms, {bad} stopped or not built; they touch")
    for what, count_of in sorted(touches.items()):
        print(f"{count_of:5}  {what}")


if __name__ == "__main__":
    main()
