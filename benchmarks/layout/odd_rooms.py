"""How long whole rooms of odd shapes are planned: many lots alike, many tiny spaces, too little room, and more.

    python -m benchmarks.layout.odd_rooms [NAME ...] [--lots N]

A row a room: lots, spaces, what is placed and left out, seconds of the processor from the room as read to its plan, and
how many times as long that is as the plain room of as many lots takes: ten lots a drawer of mixed boxes. Rooms are
invented, from fixed seeds. No room should take more than some times what the plain one takes: what grows with pairs of
lots or of places shows here first. A count that holds this in tests stands in ``tests/layout/test_growth.py``.
"""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING, Any

from nookwright.build import plan_only
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.sizing.printers.household import household_of
from nookwright.survey.models import Room

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.layout.plan import Plan

LOTS = 200
_Table = dict[str, Any]
PRINTER = {"id": "one", "bed_width": 220, "bed_depth": 220, "bed_height": 200, "materials": ["white"]}
MATERIAL = {"id": "white", "colour": "#f2f2f2", "density_g_cm3": 1.24, "price_per_kg": 20}


def room_of(spaces: list[_Table], lots: list[_Table], **choices: Any) -> Room:  # noqa: ANN401 - as the file holds them
    """A room as its file would hold it.

    Args:
        spaces: what makes each another than a drawer of 400 x 450 x 80.
        lots: what makes each another than two cubes.
        choices: of the room.
    """
    space = {"kind": "drawer", "width": 400, "depth": 450, "height": 80, "floor_height": 1000, "load_kg": 60}
    lot = {"shape": "box", "width": 14, "depth": 15, "height": 16, "count": 2, "mass_g": 5}
    return Room.model_validate(
        {
            "format": 1,
            "room": {"name": "Odd, invented"},
            "choices": {"colours": {"liner": "white"}, **choices},
            "space": [{**space, "id": f"space-{n:03}", **one} for n, one in enumerate(spaces)],
            "lot": [{**lot, "id": f"lot-{n:04}", **one} for n, one in enumerate(lots)],
            "printer": [PRINTER],
            "material": [MATERIAL],
        }
    )


def boxes(lots: int, *, most: int = 60, seed: int = 1) -> list[_Table]:
    """Boxes of mixed sizes, one to six of each.

    Args:
        lots: how many.
        most: the longest side, mm.
        seed: of the sizes.
    """
    random = Random(seed)  # noqa: S311 - nothing secret
    return [
        {
            **{side: round(random.uniform(10, most), 1) for side in ("width", "depth")},
            "height": round(random.uniform(8, 45), 1),
            "count": random.randint(1, 6),
            "use": random.choice(("daily", "weekly", "rarely")),
        }
        for _ in range(lots)
    ]


def plain(lots: int) -> Room:
    """Ten lots a drawer."""
    return room_of([{"floor_height": 300 + 40 * n} for n in range(max(1, lots // 10))], boxes(lots))


def alike(lots: int) -> Room:
    """All lots alike, in one large drawer."""
    return room_of([{"width": 1000, "depth": 800}], [{} for _ in range(lots)])


def different(lots: int) -> Room:
    """All lots different, on one large shelf."""
    return room_of([{"kind": "shelf", "width": 1150, "depth": 1150, "height": 120}], boxes(lots, most=34))


def grouped(lots: int) -> Room:
    """Ten groups, in an order, in one large drawer."""
    mixed = [{**one, "group": f"g{n % 10}"} for n, one in enumerate(boxes(lots, most=28))]
    return room_of([{"width": 1150, "depth": 1100}], mixed, order=[f"g{n}" for n in range(10)])


def tiny(lots: int) -> Room:
    """Spaces in which two lots find room."""
    return room_of([{"width": 110, "depth": 90, "floor_height": 300 + 20 * n} for n in range(lots // 2)], [{}] * lots)


def singles(lots: int) -> Room:
    """One thing a lot."""
    one_each = [{**one, "count": 1} for one in boxes(lots, most=40)]
    return room_of([{"floor_height": 300 + 40 * n} for n in range(max(1, lots // 20))], one_each)


def heaps(lots: int) -> Room:
    """Three lots of ten times as many things as the others have lots."""
    heap = {"width": 8, "depth": 9, "height": 10, "count": 10 * lots, "mass_g": 1}
    return room_of([{"height": 150}] * 3, [heap] * 3)


def many_ways(lots: int) -> Room:
    """Twenty-four things a lot: dozens of ways to keep each."""
    many = [{**one, "count": 24, "width": 12 + n % 9, "depth": 15 + n % 7} for n, one in enumerate(boxes(lots // 4))]
    return room_of([{"floor_height": 300 + 40 * n} for n in range(max(1, lots // 16))], many)


def overfull(lots: int) -> Room:
    """Room for about half of the lots; low enough that much could stand on lids."""
    spaces = [{"height": 110, "floor_height": 300 + 40 * n} for n in range(max(1, lots // 50))]
    return room_of(spaces, boxes(lots))


def pipes(lots: int) -> Room:
    """A large drawer with a post every 180 mm."""
    posts = [
        {"x": x, "y": y, "width": 20, "depth": 20, "reason": "post"}
        for x in range(80, 1000, 180)
        for y in range(80, 800, 180)
    ]
    return room_of([{"width": 1080, "depth": 900, "blocked": posts}], boxes(lots // 2, most=34))


def wide(lots: int) -> Room:
    """A shelf of more than 64 cells both ways."""
    return room_of([{"kind": "shelf", "width": 1700, "depth": 1600, "height": 120}], boxes(lots, most=60))


ROOMS: dict[str, Callable[[int], Room]] = {
    one.__name__.replace("_", " "): one
    for one in (alike, different, grouped, tiny, singles, heaps, many_ways, overfull, pipes, wide)
}


@dataclass(frozen=True)
class Planned:
    """A plan, and seconds of the processor that it took."""

    plan: Plan
    took_s: float


def planned(room: Room) -> Planned:
    """Plan a room as the tool does.

    Args:
        room: as read.
    """
    begun = time.process_time()
    plan = plan_only(room, household_of(room), effort=Effort(), progress=Silent())
    return Planned(plan, time.process_time() - begun)


def main() -> None:
    """A row a room."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("names", nargs="*", choices=[*ROOMS, []], metavar="NAME", help=", ".join(ROOMS))
    parser.add_argument("--lots", type=int, default=LOTS)
    options = parser.parse_args()
    planned(plain(10))  # loads and compiles
    usual = planned(plain(options.lots)).took_s
    print(f"{'room':<10} {'lots':>5} {'spaces':>6} {'placed':>6} {'out':>4} {'s':>7} {'x plain':>7}")
    print(f"{'plain':<10} {options.lots:5} {options.lots // 10:6} {'':6} {'':4} {usual:7.1f} {1:7.1f}", flush=True)
    for name in options.names or ROOMS:
        room = ROOMS[name](options.lots)
        one = planned(room)
        layout = one.plan.layout
        lots, spaces, left = len(room.lot), len(room.space), len(layout.left_out)
        took, ratio = one.took_s, one.took_s / usual
        print(f"{name:<10} {lots:5} {spaces:6} {lots - left:6} {left:4} {took:7.1f} {ratio:7.1f}", flush=True)


if __name__ == "__main__":
    main()
