"""Invented rooms that are sound by construction: few, small, and of every sort that the room file knows.

Everything is drawn from one seed, in ranges that a careful person would measure: things fit into some space upright,
spaces carry ten times what they hold, nobody is in reach of what hurts, nothing is warm or overhead without need. So a
kit of such a room may have notes and warnings, and no stop. Each has two sorts of extras besides (``extras``).
Rooms with more than fifteen parts are drawn again.
"""

from __future__ import annotations

from random import Random
from typing import Any

from benchmarks.proving.extras import BRING_THEIR_OWN, EXTRAS, Extra

MOST_PARTS = 15
NARROWEST_POCKET = 12.0  # mm
COLOURS = ("#f0f0f0", "#c03020", "#3060a0", "#208040")
LEVELS = ("full", "full", "sparse", "frame", "cross", "none")
PATTERNS = ("1x1", "1x2", "1x2", "2x2", "only under the layout")
STANDARDS = (("R6", 12), ("R03", 12), ("ID-1", 30), ("CR2032", 6), ("A7", 40))
_Table = dict[str, Any]


def sound_room(seed: int) -> _Table:
    """A room, as its file would hold it.

    Args:
        seed: of everything in it.
    """
    chance = Random(seed)  # noqa: S311 - nothing secret
    extras = chosen(seed)
    spaces = [_space(chance, number) for number in range(chance.choice((1, 1, 1, 2)))]
    materials = [_material(chance, number) for number in range(chance.choice((1, 2)))]
    lots = [_lot(chance, number, spaces) for number in range(chance.choice((1, 1, 2, 3)))]
    if all(extra in BRING_THEIR_OWN for extra in extras):
        spaces, lots = [], []  # two drawers and their things are enough for fifteen parts
    room: _Table = {
        "format": 1,
        "room": {"name": f"Invented room {seed}"},
        "choices": _choices(chance, materials, lots),
        "space": spaces,
        "lot": lots,
        "part": [_order(chance, number) for number in range(chance.choice((0, 0, 0, 1, 2)))],
        "printer": [_printer(chance, number, materials) for number in range(chance.choice((1, 1, 2)))],
        "material": materials,
    }
    if _yes(chance, 0.6):
        room["module"] = {"pitch": round(chance.uniform(14, 24), chance.choice((0, 1)))}
    for extra in extras:
        extra(chance, room)
    return room


def chosen(seed: int) -> tuple[Extra, ...]:
    """The extras of a room: each sort as often as any other over as many seeds as there are sorts.

    Args:
        seed: of the room.
    """
    first = seed % len(EXTRAS)
    others = len(EXTRAS) - 1
    second = (first + 1 + seed // len(EXTRAS) % others) % len(EXTRAS)
    return EXTRAS[first], EXTRAS[second]


def _choices(chance: Random, materials: list[_Table], lots: list[_Table]) -> _Table:
    groups = ("liner", "text", *sorted({lot["group"] for lot in lots if lot["group"]}))
    return {
        "odds_and_ends": _yes(chance, 0.2),
        "layout": chance.choice(("calm", "tightest")),
        "floor": chance.choice(("shell", "smooth")),
        "pattern": chance.choice(PATTERNS),
        "fillers": chance.choice(("tall", "plain")),
        "sprung_filler": _yes(chance, 0.2),
        "rest": chance.choice(("grow", "spare", "open", "open", "fenced")),
        "grip": chance.choice(("notch", "hand hole", "none")),
        "colours": {group: chance.choice(materials)["id"] for group in groups if _yes(chance, 0.5)},
    }


def _space(chance: Random, number: int) -> _Table:
    """A drawer or a shelf bay, now and then with a pipe, leaning walls, round corners, a mat."""
    width, depth, height = chance.uniform(95, 280), chance.uniform(95, 220), chance.uniform(55, 150)
    drawer = _yes(chance, 0.7)
    space: _Table = {
        "id": f"space-{number}",
        "kind": "drawer" if drawer else "shelf",
        "width": _readings(chance, width, 0.6),
        "depth": _readings(chance, depth, 0.6),
        "height": _readings(chance, height, 0.4),
        "floor_height": round(chance.uniform(300, 1200)),
        "load_kg": round(chance.uniform(10, 25)),
        "liner": chance.choice(LEVELS),
    }
    if _yes(chance, 0.3):
        space["corner_radius"] = round(chance.uniform(2, 12), 1)
    if _yes(chance, 0.15):
        space["cove_radius"] = round(chance.uniform(1, 5), 1)
    if _yes(chance, 0.15):
        space["mat"] = round(chance.uniform(0.8, 3), 1)
    if _yes(chance, 0.2):
        space["width"] = {"floor": space["width"], "rim": round(width - chance.uniform(0, 2), 1)}
    if _yes(chance, 0.1):
        space["bow"] = round(chance.uniform(-0.3, 0.6), 1)
    if _yes(chance, 0.3):
        space["blocked"] = [_blocked(chance, *(min(_flat(space[side])) for side in ("width", "depth")))]
    return space


def _blocked(chance: Random, width: float, depth: float) -> _Table:
    """Something in a back corner, or in the middle of the back."""
    wide, deep = chance.uniform(12, width / 4), chance.uniform(12, depth / 4)
    x = chance.choice((0.0, width - wide, chance.uniform(0, width - wide)))
    return {
        "reason": "a pipe",
        "service": _yes(chance, 0.5),
        "x": round(x, 1),
        "y": round(depth - deep, 1),
        "width": round(wide - 0.1, 1),
        "depth": round(deep - 0.1, 1),
    }


def _lot(chance: Random, number: int, spaces: list[_Table]) -> _Table:
    """Things of one kind that go into some space, a third of its width at most."""
    space = chance.choice(spaces)
    room = [min(_flat(space[side])) for side in ("width", "depth", "height")]
    lot: _Table = {
        "id": f"lot-{number}",
        "group": chance.choice(("one", "two", "")),
        "use": chance.choice(("daily", "weekly", "rarely")),
        "grow_percent": chance.choice((0, 0, 15)),
    }
    draw = chance.choice((_boxes, _boxes, _rounds, _rounds, _flats, _loose, _published))
    draw(chance, lot, room)
    if _yes(chance, 0.15) and lot.get("shape") in ("box", "round") and "keep" not in lot:
        lot["tray"] = chance.choice(
            ({"front": "swept"}, {"front": "low"}, {"strip": "printed"}, {"strip": "plain"}, {"inlay": 2})
        )
    return lot


def _boxes(chance: Random, lot: _Table, room: list[float]) -> None:
    sides = [chance.uniform(8, room[0] / 3.2), chance.uniform(8, room[1] / 3.2), chance.uniform(6, room[2] / 2.2)]
    mass_g = max(1.0, sides[0] * sides[1] * sides[2] * chance.uniform(2e-4, 2e-3))
    lot |= {"shape": "box", "count": chance.randint(1, 8), "mass_g": round(mass_g, 1), "stands": ["upright"]}
    lot |= {name: _readings(chance, side, 0.2) for name, side in zip(("width", "depth", "height"), sides, strict=True)}


def _rounds(chance: Random, lot: _Table, room: list[float]) -> None:
    diameter, height = chance.uniform(8, min(room[:2]) / 3.5), chance.uniform(8, room[2] / 1.6)
    mass_g = max(1.0, diameter**2 * height * chance.uniform(2e-4, 2e-3))
    lot |= {"shape": "round", "count": chance.randint(1, 8), "mass_g": round(mass_g, 1), "stands": ["upright"]}
    lot |= {"diameter": _readings(chance, diameter, 0.15), "height": _readings(chance, height, 0.2)}
    if _yes(chance, 0.6) and diameter > NARROWEST_POCKET:
        lot["keep"] = "cradle"


def _flats(chance: Random, lot: _Table, room: list[float]) -> None:
    lot |= {
        "shape": "flat",
        "count": chance.randint(5, 40),
        "mass_g": round(chance.uniform(0.2, 1.5), 2),
        "width": round(chance.uniform(30, max(31, room[0] / 2.5)), 1),
        "depth": round(chance.uniform(25, max(26, min(room[1], room[2]) / 2.2)), 1),
        "thickness": round(chance.uniform(0.2, 1.2), 2),
    }


def _loose(chance: Random, lot: _Table, room: list[float]) -> None:
    most_ml = min(120.0, room[0] * room[1] * room[2] * 4e-5)
    volume_ml = round(chance.uniform(most_ml / 4, most_ml), 1)
    lot |= {
        "shape": "loose",
        "count": 1,
        "volume_ml": volume_ml,
        "mass_g": round(volume_ml * chance.uniform(0.3, 2), 1),
    }


def _published(chance: Random, lot: _Table, _: list[float]) -> None:
    name, most = chance.choice(STANDARDS)
    lot |= {"standard": name, "count": chance.randint(2, most)}
    if name == "A7":
        lot["mass_g"] = 0.6


def _order(chance: Random, number: int) -> _Table:
    """A part without a place, of a size that every printer here can make."""
    wide, deep = round(chance.uniform(60, 95)), round(chance.uniform(60, 95))
    sized = {"outer_width": wide, "outer_depth": deep}
    kind, keys = chance.choice(
        (
            ("tray", sized | {"height": round(chance.uniform(20, 60))}),
            ("lid", sized | {"fit": chance.choice(("easy", "snug", "press"))}),
            ("deck-tray", sized | {"height": round(chance.uniform(24, 48))}),
            ("riser", sized | {"rises": chance.randint(3, 6)}),
            ("hollow-riser", sized | {"rises": chance.randint(4, 6)}),
            ("fence", {"outer_length": wide, "height": 24}),
            (
                "shoe",
                {"outer_width": wide, "outer_depth": wide, "height": 24, "owned": {"width": wide - 30, "depth": 0}},
            ),
            ("sliding-tray", {"outer_width": 70, "outer_depth": 110, "height": 48.0}),  # whole layers of most printers
            (
                "rack",
                {
                    "mount": chance.choice(("under a shelf", "on a wall", "inside a door")),
                    "diameter": round(chance.uniform(25, 60)),
                    "thing_length": round(chance.uniform(60, 100)),
                    "count": chance.randint(1, 2),
                    "mass_g": round(chance.uniform(50, 300)),
                },
            ),
        )
    )
    return {"id": f"order-{number}", "kind": kind, "keys": keys}


def _printer(chance: Random, number: int, materials: list[_Table]) -> _Table:
    printer: _Table = {
        "id": f"printer-{number}",
        "bed_width": round(chance.uniform(180, 260)),
        "bed_depth": round(chance.uniform(180, 250)),
        "bed_height": round(chance.uniform(220, 260)),
        "layer": chance.choice((0.16, 0.2, 0.2, 0.24)),
        "materials": [material["id"] for material in materials],
    }
    if _yes(chance, 0.15):
        printer["nozzle"], printer["layer"] = 0.6, 0.3
    if _yes(chance, 0.2):
        printer["spacing"] = round(chance.uniform(2, 6), 1)
    if _yes(chance, 0.1):
        printer["keep_out"] = [{"x": 0, "y": 0, "width": 20, "depth": 12, "why": "where it wipes"}]
    return printer


def _material(chance: Random, number: int) -> _Table:
    return {
        "id": f"material-{number}",
        "colour": COLOURS[number],
        "density_g_cm3": chance.choice((1.24, 1.27)),
        "price_per_kg": chance.randint(15, 30),
    }


def _yes(chance: Random, share: float) -> bool:
    """Yes, in that share of cases."""
    return chance.random() < share


def _readings(chance: Random, size: float, spread: float) -> float | list[float]:
    """One reading or some, that differ as readings do."""
    count = chance.choice((1, 1, 2, 3))
    read = [round(size + chance.uniform(-spread, spread), 1) for _ in range(count)]
    return read[0] if count == 1 else read


def _flat(read: Any) -> list[float]:  # noqa: ANN401 - what a file holds
    """All numbers of a reading."""
    if isinstance(read, dict):
        return [number for one in read.values() for number in _flat(one)]
    return [float(number) for number in read] if isinstance(read, list) else [float(read)]
