"""What makes a random order a likely one: sizes that follow from those drawn before it, and from the module.

A hint gives a value from the module and from what the order has so far. It aims at what people order, and at both ends
of what is allowed; it decides nothing about what is allowed.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

from nookwright.module.seat import outer_size, whole_layers
from nookwright.parts.cradles.rib_cradle import rib_pocket_diameter
from nookwright.parts.orders.order_models import cells_for

if TYPE_CHECKING:
    from collections.abc import Callable

    from fuzz.orders import Keys

    Made = dict[str, Any]
    Hint = Callable[[Keys, Made], Any]

FEW_CELLS, MOST_CELLS = 4, 9


def outer(keys: Keys, low: int, high: int) -> float:
    """An outer size: that of whole cells, or one in between."""
    cells = keys.chance.whole(low, high)
    if keys.chance.often(0.1):
        cells = keys.chance.whole(low, MOST_CELLS)
    size = outer_size(cells, keys.module.pitch)
    return size if keys.chance.often(0.7) else size - keys.chance.length(0.5, keys.module.pitch - 1)


def size_of(keys: Keys, key: str, cells: int = FEW_CELLS) -> float:
    """The outer size that a key of the order will give, mm."""
    given = keys.order.get(key)
    return outer_size(cells if given is None else cells_for(given, keys.module), keys.module.pitch)


def height(keys: Keys, low: float, high: float) -> float:
    """A height: whole rises, whole layers, now and then neither."""
    wanted = keys.chance.length(low, high)
    if keys.chance.often(0.5):
        return keys.module.height(wanted)
    return wanted if keys.chance.often(0.1) else whole_layers(wanted, keys.module.seat.layer)


def layers(keys: Keys, low: float, high: float) -> float:
    """A small height in whole layers."""
    return whole_layers(keys.chance.within(low, high), keys.module.seat.layer)


def mended(keys: Keys, record: str, made: Made) -> Made:
    """A record whose keys belong together, after each was drawn by itself."""
    if record == "Owned" and keys.kind == "shoe-corners" and "depth" not in made:
        made["depth"] = made["width"] * keys.chance.within(0.5, 1.6)
    if record == "Dividers":
        made.pop("at" if keys.chance.often(0.6) else "compartments", None)
        if "compartments" not in made and not made.get("at"):
            made["compartments"] = keys.chance.whole(2, 4)
        if made.get("kind") == "card":
            made.setdefault("card", keys.chance.within(0.5, 6.0))
    if record == "TrayOptions" and "dividers" in made:
        made["dividers"] = list({entry["split"]: entry for entry in made["dividers"]}.values())
        for entry in made["dividers"][1:] and made["dividers"]:
            entry["kind"] = "fixed"
    shapes = {one["pocket"]["shape"] for one in made.get("pockets", []) if "pocket" in one}
    if not shapes <= {"round", "boxed"} and keys.chance.often(0.8):
        made.pop("strip", None)
    if record == "Rest":
        made["dowels_at"] = _dowels(keys, made) if "dowel" in made else []
    return made


def _positions(keys: Keys, made: Made) -> list[float]:
    along = size_of(keys, "outer_width" if made["split"] == "columns" else "outer_depth")
    return sorted(keys.chance.within(10, along - 10) for _ in range(keys.chance.whole(1, 2)))


def _dowels(keys: Keys, made: Made) -> list[float]:
    middles = sorted(slot["x"] for slot in made.get("slots", []))
    edges = [0.0, *middles, size_of(keys, "outer_width")]
    gaps = [(a + b) / 2 for a, b in pairwise(edges)]
    return sorted(set(keys.chance.random.sample(gaps, min(len(gaps), keys.chance.whole(1, 2)))))


def _grid(keys: Keys) -> tuple[list[tuple[float, float]], float]:
    """Middles of a field of pockets, row by row, and the room of each."""
    width, depth = size_of(keys, "outer_width"), size_of(keys, "outer_depth")
    wall, chance = keys.module.wall, keys.chance
    cols, rows = chance.whole(1, max(1, int(width // 16))), chance.whole(1, max(1, int(depth // 16)))
    cols, rows = min(cols, 5), min(rows, 4)
    step_x, step_y = (width - 2 * wall) / cols, (depth - 2 * wall) / rows
    at = [(wall + step_x * (c + 0.5), wall + step_y * (r + 0.5)) for r in range(rows) for c in range(cols)]
    return at, max(3.0, min(step_x, step_y) - chance.length(1.2, 6))


def _shaped(keys: Keys, room: float) -> Made:
    """A pocket within a circle or square."""
    chance, n = keys.chance, keys.chance.within
    across = n(max(3.0, room / 2), room)
    shape = chance.pick(("round", "boxed", "cornered", "tapered", "funnel", "profiled"))
    boxed = {"width": across, "depth": n(across / 2, across)}
    sizes: dict[str, Made] = {
        "round": {"diameter": across},
        "boxed": {**boxed, "radius": n(0, boxed["depth"] / 2) if chance.often(0.6) else 0.0},
        "cornered": {"corners": chance.whole(3, 12), "across": across * (0.5 if chance.often(0.3) else 0.85)},
        "tapered": {"foot": n(max(3.0, across / 2), across), "top": across, "over": n(3, 60)},
        "funnel": {"diameter": across, "narrowest": n(max(3.0, across / 2), across - 0.5)},
        "profiled": {"body": _body(keys, across / 2), "clearance": n(0, 1)},
    }
    return {"shape": shape, **sizes[shape]}


def _body(keys: Keys, radius: float) -> list[list[float]]:
    """The outline of a turned body."""
    z, points = 0.0, []
    for _ in range(keys.chance.whole(2, 5)):
        points.append([keys.chance.within(radius / 2, radius - 1), z])
        z += keys.chance.pick((0.0, keys.chance.within(0.1, 20)))
    return [*points, [points[-1][0], z + 1]]


def _pockets(keys: Keys, _: Made) -> list[Made]:
    at, room = _grid(keys)
    shape = _shaped(keys, room)
    mixed = keys.chance.often(0.3)
    jitter = keys.chance.often(0.2)
    return [
        {
            "pocket": _shaped(keys, room) if mixed else shape,
            "x": x + (keys.chance.length(-1, 1) if jitter else 0.0),
            "y": y + (keys.chance.length(-1, 1) if jitter else 0.0),
        }
        for x, y in at
    ]


def _rib_pockets(keys: Keys, _: Made) -> list[Made]:
    width, depth = size_of(keys, "outer_width"), size_of(keys, "outer_depth")
    count = keys.chance.whole(1, max(1, int(width // 60)))
    room = min(width / count, depth) - 4 * keys.module.wall
    smallest = keys.chance.within(6.0, max(6.0, room - keys.chance.length(8, 16)))
    largest = smallest + keys.chance.within(0.0, 2.0)
    diameter = rib_pocket_diameter(keys.module, smallest, largest) + keys.chance.pick((0.0, keys.chance.length(0, 2)))
    made = {"smallest": smallest, "largest": largest, "diameter": diameter}
    return [{**made, "x": width * (n + 0.5) / count, "y": depth / 2} for n in range(count)]


def _slots(keys: Keys, _: Made) -> list[Made]:
    width, chance, n = size_of(keys, "outer_width"), keys.chance, keys.chance.within
    count = chance.whole(1, max(1, min(5, int(width // 16))))
    step = (width - 10) / count
    made: list[Made] = []
    for number in range(count):
        room = max(3.0, step - chance.length(2, 8))
        round_it = {"diameter": n(3.0, room)}
        one: Made = chance.pick(
            (
                {"shape": "blade-slot", "thickness": n(0.3, 6), "blade_height": n(3, 40)},
                {"shape": "v-slot", "diameter": round_it["diameter"] * (0.7 if chance.often(0.7) else 1)},
                {"shape": "u-slot", **round_it, "deep_share": n(0.5, 1)},
            )
        )
        if one["shape"] == "blade-slot" and chance.often(0.4):
            one["handle_drop"] = n(0, 20)
        made.append({**one, "x": 5 + step * (number + 0.5)})
    return made


def _long_things(keys: Keys, _: Made) -> list[Made]:
    chance, n = keys.chance, keys.chance.within
    blade = {"shape": "blade", "thickness": n(0.3, 4), "blade_height": n(10, 50), "handle_drop": n(0, 12)}
    shaft = {"shape": "shaft", "diameter": n(3, 20), "proud": chance.often(0.4)}
    return [chance.pick((blade, shaft)) for _ in range(chance.whole(1, 3))]


def _around(key: str, more: float) -> Hint:
    """An outer size around a thing that its record names."""

    def hint(keys: Keys, made: Made) -> float:
        thing = made.get("owned") or made.get("nested") or {}
        size: float = thing.get(key) or thing.get("width", 40.0)
        flare: float = 2 * thing.get("flare", 0.0) + 60 * max(0.0, thing.get("taper", 0.0))
        return size + flare + more + keys.chance.within(0, 12)

    return hint


def _between(low: float, high: float) -> Hint:
    return lambda keys, _: keys.chance.within(low, high)


def _one_of(*options: float | str) -> Hint:
    return lambda keys, _: keys.chance.pick(options)


def _counted(low: int, high: int) -> Hint:
    return lambda keys, _: keys.chance.whole(low, high)


def _high(low: float, high: float) -> Hint:
    return lambda keys, _: height(keys, low, high)


def _wide(low: int, high: int) -> Hint:
    return lambda keys, _: outer(keys, low, high)


def _share_of(key: str, least: float, most: float) -> Hint:
    """A share of an outer size of the order."""
    return lambda keys, _: keys.chance.within(least, most) * size_of(keys, key)


def _bite(key: str) -> Hint:
    """What is missing of an outer size: most often whole cells, and as many left as take a hand."""

    def hint(keys: Keys, _: Made) -> float:
        cells = cells_for(size_of(keys, key), keys.module)
        gone = keys.chance.whole(1, cells - 2 if keys.chance.often(0.8) else cells)
        return outer_size(gone, keys.module.pitch) - keys.chance.pick((0.0, keys.chance.within(0.0, 6.0)))

    return hint


def _rounding(keys: Keys, made: Made) -> float:
    """A corner radius of a thing of a width, and of a depth where it is not round."""
    return keys.chance.within(0.0, min(made["width"], made["depth"]) / 2) if made.get("depth") else 0.0


def _well(key: str) -> Hint:
    """The size of one of a few wells."""

    def hint(keys: Keys, _: Made) -> float:
        return max(3.0, size_of(keys, key) / keys.chance.whole(1, 3) - keys.chance.within(2.4, 12))

    return hint


def _wells(key: str, own: str) -> Hint:
    """How many wells go into an outer size."""

    def hint(keys: Keys, made: Made) -> int:
        return max(1, int(size_of(keys, key) / (made[own] + 4)))

    return hint


def _roughly_round(keys: Keys, made: Made) -> float:
    """A depth: none for a round thing, else within half and twice the width."""
    boxed: float = made["width"] * keys.chance.within(0.5, 1.6)
    return keys.chance.pick((0.0, boxed))


def _owned(keys: Keys, _: Made) -> float:
    """A width: what stands on corner pieces is wider."""
    return keys.chance.within(60, 160) if keys.kind == "shoe-corners" else keys.chance.within(10, 90)


BY_KEY: dict[str, Hint] = {
    "outer_width": _wide(1, FEW_CELLS),
    "outer_depth": _wide(1, FEW_CELLS),
    "outer_length": _wide(2, 6),
    "height": _high(6, 60),
    "rises": _counted(1, 8),
}  # fmt: skip
HINTS: dict[tuple[str, str], Hint] = {
    ("TrayOrder", "outer_width"): _wide(1, 6),
    ("TrayOrder", "outer_depth"): _wide(1, 6),
    ("TrayOptions", "picked_by_hand"): lambda keys, _: keys.chance.often(0.1),
    ("TrayOptions", "inlay"): _between(0, 4),
    ("TrayOptions", "notch_width"): _between(22, 40),
    ("TrayOptions", "notch_depth"): _between(12, 20),
    ("TrayOptions", "hole_width"): _between(12, 60),
    ("TrayOptions", "hole_height"): _between(4, 24),
    ("TrayOptions", "strip_height"): lambda keys, _: keys.chance.pick((0.0, layers(keys, 8, 20))),
    ("LowSide", "share"): _between(0.2, 0.9),
    ("Dividers", "compartments"): _counted(2, 4),
    ("Dividers", "at"): _positions,
    ("Dividers", "card"): _between(0.5, 6),
    ("Dividers", "below_rim"): lambda keys, _: keys.chance.pick((0.0, keys.chance.within(0, 20))),
    ("BentOrder", "outer_width"): _wide(3, 7),
    ("BentOrder", "outer_depth"): _wide(3, 7),
    ("BentOrder", "missing_width"): _bite("outer_width"),
    ("BentOrder", "missing_depth"): _bite("outer_depth"),
    ("DividerSize", "length"): _between(10, 200),
    ("DividerSize", "height"): _between(5, 80),
    ("DividerSize", "thickness"): lambda keys, _: layers(keys, 0.4, 3),
    ("DividerSize", "radius"): _between(0, 5),
    ("NameStrip", "width"): _between(14, 150),
    ("NameStrip", "height"): _between(8, 24),
    ("LidSpec", "outer_width"): _wide(1, 6),
    ("LidSpec", "outer_depth"): _wide(2, 6),
    ("SlidingOrder", "outer_width"): _wide(2, 4),
    ("SlidingOrder", "outer_depth"): _wide(6, MOST_CELLS),
    ("SlidingOrder", "height"): _high(18, 60),
    ("Slot", "across"): _between(1, 24),
    ("Slot", "along"): _between(1, 100),
    ("Slot", "lip"): lambda keys, _: layers(keys, 0.4, 10),
    ("DeckSpec", "height"): _high(12, 60),
    ("DeckSpec", "thickness"): _between(0.8, 3),
    ("HollowSpec", "outer_depth"): _wide(2, FEW_CELLS),
    ("HollowSpec", "rises"): _counted(2, 7),
    ("DrawerSpec", "outer_width"): _wide(2, 5),
    ("DrawerSpec", "outer_depth"): _wide(1, 5),
    ("DrawerSpec", "rises"): _counted(3, 8),
    ("Owned", "width"): _owned,
    ("Owned", "depth"): _roughly_round,
    ("Owned", "radius"): _rounding,
    ("Owned", "taper"): lambda keys, _: keys.chance.pick((0.0, keys.chance.within(-0.1, 0.15))),
    ("Owned", "foot_inset"): lambda keys, made: keys.chance.within(0.0, made["width"] / 5),
    ("Owned", "foot_height"): _between(0, 6),
    ("ShoeSpec", "outer_width"): _around("width", 7),
    ("ShoeSpec", "outer_depth"): _around("depth", 7),
    ("ShoeSpec", "height"): _high(18, 40),
    ("CornerSpec", "outer_length"): _wide(1, 3),
    ("LeaningCradle", "outer_depth"): _wide(3, 7),
    ("LeaningCradle", "width"): _well("outer_width"),
    ("LeaningCradle", "depth"): lambda keys, _: keys.chance.within(3.0, 20),
    ("LeaningCradle", "columns"): _wells("outer_width", "width"),
    ("LeaningCradle", "lines"): _counted(1, 3),
    ("LeaningCradle", "lean_deg"): _between(5, 30),
    ("LeaningCradle", "height"): _high(10, 48),
    ("PocketCradle", "height"): _high(12, 60),
    ("PocketCradle", "pockets"): _pockets,
    ("PocketCradle", "lead_in"): _between(0, 1),
    ("PocketCradle", "hole"): _between(2, 8),
    ("PocketCradle", "finger_gap"): lambda keys, _: layers(keys, 0, 20),
    ("Strip", "width"): _between(3, 12),
    ("Strip", "thickness"): _between(1, 4),
    ("Strip", "pressed_share"): _between(0.5, 1),
    ("RibOrder", "outer_width"): _wide(2, 6),
    ("RibOrder", "outer_depth"): _wide(2, 4),
    ("RibOrder", "height"): _high(24, 60),
    ("RibOrder", "pockets"): _rib_pockets,
    ("Rest", "outer_width"): _wide(1, 6),
    ("Rest", "outer_depth"): _wide(1, 3),
    ("Rest", "height"): _high(12, 60),
    ("Rest", "slots"): _slots,
    ("Dowel", "diameter"): _one_of(4.0, 5.0, 6.0, 8.0, 10.0),
    ("RestSet", "length"): _between(150, 500),
    ("RestSet", "things"): _long_things,
    ("RestSet", "supports"): _counted(2, 3),
    ("RestSet", "outer_depth"): _wide(1, 2),
    ("Nested", "width"): _between(10, 90),
    ("Nested", "depth"): _roughly_round,
    ("Nested", "radius"): _rounding,
    ("Nested", "flare"): _between(0, 14),
    ("Nested", "height"): _between(6, 80),
    ("Nested", "pitch"): lambda keys, made: keys.chance.within(1.0, made["height"]),
    ("NestSpec", "outer_width"): _around("width", 4),
    ("NestSpec", "outer_depth"): _around("depth", 4),
    ("NestSpec", "height"): _high(12, 80),
    ("LidsSpec", "outer_depth"): _wide(2, 6),
    ("LidsSpec", "across"): _share_of("outer_width", 0.3, 0.9),
    ("LidsSpec", "tall"): _between(10, 80),
    ("LidsSpec", "thickness"): _between(1, 6),
    ("LidsSpec", "count"): _counted(1, 4),
    ("LidsSpec", "height"): _high(10, 50),
    ("RackSpec", "diameter"): _between(20, 110),
    ("RackSpec", "thing_length"): _between(20, 160),
    ("RackSpec", "count"): _counted(1, 3),
    ("RackSpec", "mass_g"): _between(5, 1500),
    ("RackSpec", "thread"): _counted(3, 6),
    ("FenceSpec", "left"): _one_of("plain", "plain", "slot", "slot", "tongue"),
    ("FenceSpec", "right"): _one_of("plain", "plain", "tongue", "tongue", "slot"),
}
