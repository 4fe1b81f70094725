"""What invented rooms may have besides a drawer and things in trays: each sort a small function that adds it to a room.

All of it is sound by construction, as the rooms are: blades out of reach behind a lock, plastics that bear their
place, ballast where something is drawn, room where something is long.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from nookwright.sizing.printers.coupon import features

if TYPE_CHECKING:
    from collections.abc import Mapping
    from random import Random

    from nookwright.sizing.printers.errors import Error

_Table = dict[str, Any]
Extra = Callable[["Random", _Table], None]

FEWEST_BALLAST_G = 600  # under a dispenser that is drawn at 2 N: three times what a sheet lifts


def _space(room: _Table, name: str, kind: str, size: tuple[float, float, float], **more: object) -> None:
    """One more space, which carries far more than what is put into it."""
    width, depth, height = (round(side, 1) for side in size)
    sizes = {"width": width, "depth": depth, "height": height}
    room["space"].append({"id": name, "kind": kind, **sizes, "floor_height": 700, "load_kg": 25, **more})


def _lot(room: _Table, name: str, home: str | None = None, **keys: object) -> _Table:
    """One more lot, at home in a space where one is named."""
    lot: _Table = {"id": name, "group": f"{name}-group" if home else "", **keys}
    room["lot"].append(lot)
    if home:
        room["choices"].setdefault("homes", {})[lot["group"]] = [home]
    return lot


def dispensed(chance: Random, room: _Table) -> None:
    """Sheets that are drawn through the slot of a lid, held down by ballast."""
    _space(room, "dispensing", "drawer", (chance.uniform(130, 170), chance.uniform(150, 190), 90), shut_m_s=0.3)
    width, depth, thickness = (
        round(chance.uniform(70, 100)),
        round(chance.uniform(50, 70)),
        round(chance.uniform(1, 2), 1),
    )
    sheet = {"shape": "flat", "width": width, "depth": depth, "thickness": thickness, "mass_g": 2, "made": "paper"}
    pull = {"ballast_g": chance.randint(FEWEST_BALLAST_G, 900)}
    _lot(room, "sheets", "dispensing", count=chance.randint(4, 10), keep="dispenser", pull=pull, **sheet)


def shoed(chance: Random, room: _Table) -> None:
    """A box of its own, kept on a shoe on a shelf."""
    width, depth = round(chance.uniform(50, 90)), round(chance.uniform(45, 80))
    _space(room, "bay", "shelf", (width + 80, depth + 80, chance.uniform(90, 150)), floor_height=1000)
    room.setdefault("box", []).append(
        {"id": "tin", "width": width, "depth": depth, "height": 40, "wall": 0.5, "mass_g": 70, "owned": 1}
    )
    _lot(room, "tea", "bay", shape="loose", volume_ml=40, mass_g=20, count=1, box="tin")


def stacked(chance: Random, room: _Table) -> None:
    """Two lots over each other in a drawer that has no room for them side by side."""
    _space(room, "low", "drawer", (chance.uniform(112, 124), chance.uniform(100, 106), 125), shut_m_s=0.3)
    stays = {"shape": "box", "grow_percent": 0}
    _lot(
        room,
        "under",
        "low",
        width=60,
        depth=38,
        height=30,
        mass_g=round(chance.uniform(10, 50)),
        count=2,
        use="rarely",
        **stays,
    )
    _lot(room, "over", "low", width=16, depth=16, height=16, mass_g=4, count=24, use="daily", **stays)


def bladed(chance: Random, room: _Table) -> None:
    """A knife across a rest, its edge covered, locked away."""
    length = round(chance.uniform(100, 140))
    _space(room, "knives", "drawer", (length + 170, chance.uniform(110, 150), 80), locked=True)
    blade = {"length": length, "height": round(chance.uniform(18, 28)), "spine": round(chance.uniform(1.2, 2.2), 1)}
    knife = {"shape": "box", "width": length + 105, "depth": 28, "height": 18, "mass_g": 90, "grow_percent": 0}
    _lot(room, "knife", "knives", count=1, hazard="blade", out_of_reach=True, blade=blade, **knife)


def _parted(chance: Random, room: _Table, kind: str) -> None:
    """Small things in a wide tray that dividers part, one way or the other."""
    name, parts = f"parted-{kind}", chance.randint(2, 3)
    _space(room, name, "drawer", (chance.uniform(190, 330), chance.uniform(120, 200), chance.uniform(70, 90)))
    tray: _Table = {"dividers": kind, chance.choice(("columns", "rows")): parts}
    if kind == "card":
        tray["card"] = round(chance.uniform(0.6, 2.0), 1)
    volume_ml, mass_g = round(chance.uniform(50, 100)), round(chance.uniform(20, 70))
    _lot(room, f"clips-{kind}", name, shape="loose", volume_ml=volume_ml, mass_g=mass_g, count=parts, tray=tray)


def loosely_parted(chance: Random, room: _Table) -> None:
    """Dividers that come out."""
    _parted(chance, room, "removable")


def card_parted(chance: Random, room: _Table) -> None:
    """Dividers that are cut from card."""
    _parted(chance, room, "card")


def firmly_parted(chance: Random, room: _Table) -> None:
    """Dividers printed in one with their tray."""
    _parted(chance, room, "fixed")


def lined(chance: Random, room: _Table) -> None:
    """Felt, cork or rubber on the floor of every tray, or of one."""
    inlay = round(chance.uniform(0.8, 3), 1)
    if chance.random() < 0.5:  # noqa: PLR2004 - a half
        room["choices"]["tray"] = {"inlay": inlay}
    _space(room, "soft", "drawer", (140, 120, 80))
    _lot(room, "gauges", "soft", shape="box", width=50, depth=30, height=20, mass_g=40, count=2, tray={"inlay": inlay})


def named(chance: Random, room: _Table) -> None:
    """A name strip in two colours, or raised, before a swept or a plain front."""
    _space(room, "named", "drawer", (chance.uniform(150, 190), 130, 90))
    tray = {
        "strip": chance.choice(("printed", "inlaid")),
        "text": chance.choice(("M5", "NUTS", "NAILS 30")),
        "front": chance.choice(("plain", "swept")),
    }
    _lot(room, "fixings", "named", shape="loose", volume_ml=150, mass_g=200, count=1, tray=tray)


def warm(chance: Random, room: _Table) -> None:
    """A drawer beside a heater, and plastics that bear it."""
    for material in room["material"]:
        material["plastic"] = chance.choice(("petg", "abs", "asa"))
    _space(room, "heater", "drawer", (chance.uniform(150, 200), 130, 80), warm=True, warmest_c=chance.randint(38, 50))
    _lot(room, "keys", "heater", shape="box", width=60, depth=20, height=8, mass_g=30, count=3)


def wet(chance: Random, room: _Table) -> None:
    """A drawer below a basin: its trays are drained."""
    _space(room, "basin", "drawer", (chance.uniform(140, 220), chance.uniform(120, 160), 100), wet=True)
    _lot(room, "brushes", "basin", shape="round", diameter=20, height=60, mass_g=15, count=4)
    _lot(room, "sponges", "basin", shape="box", width=70, depth=40, height=25, mass_g=12, count=2)


def cut(chance: Random, room: _Table) -> None:
    """Printers with small beds, and a tray that is longer than they are."""
    for printer in room["printer"]:
        printer |= {"bed_width": chance.randint(125, 150), "bed_depth": chance.randint(120, 150)}
    long = round(chance.uniform(170, 230))
    _space(room, "long", "drawer", (long + 60, chance.uniform(100, 140), 70))
    straw = {"shape": "round", "diameter": 8, "height": long, "mass_g": 3, "stands": ["lying"], "grow_percent": 0}
    _lot(room, "straws", "long", count=6, **straw)


def measured(chance: Random, room: _Table) -> None:
    """A coupon of every printer in each of its materials, read with a caliper."""
    room["coupon"] = [
        {
            "printer": printer["id"],
            "material": material,
            "readings": {
                one.id: round(one.nominal + _off(one.sensitivities) + chance.gauss(0, 0.02), 2) for one in features()
            },
        }
        for printer in room["printer"]
        for material in printer["materials"]
    ]


def _off(sensitivities: Mapping[Error, float]) -> float:
    """What a usual printer adds to a feature of a coupon, mm."""
    usual = {"outside": 0.05, "inside": -0.15, "small holes": -0.15, "first layer": 0.15}
    return sum(usual.get(error.value, 0.0) * by for error, by in sensitivities.items())


def braked(chance: Random, room: _Table) -> None:
    """Drawers of a chest that stands free, with dampers, which come out partly, and pass under an edge."""
    room["furniture"] = [
        {"id": "chest", "stands": "free-standing", "mass_kg": 60, "drawer_kg": 3, "depth": 450, "height": 900}
    ]
    for space in room["space"]:
        if space["kind"] == "drawer":
            space |= {"furniture": "chest", "soft_close": chance.random() < 0.7, "floor_height": 400}  # noqa: PLR2004
            space["furniture"] = "chest"


def nested(chance: Random, room: _Table) -> None:
    """Cups that stand in each other."""
    _space(room, "cups", "shelf", (chance.uniform(140, 200), chance.uniform(120, 160), 190), floor_height=1000)
    cup = {"shape": "round", "diameter": round(chance.uniform(55, 75)), "height": round(chance.uniform(60, 80))}
    by = round(chance.uniform(8, 14))
    _lot(room, "cups", "cups", count=chance.randint(3, 6), nests_by=by, mass_g=12, made="moulded plastic", **cup)


def shared(chance: Random, room: _Table) -> None:
    """Two lots in one tray, with a divider between them."""
    _space(room, "shared", "drawer", (chance.uniform(170, 220), chance.uniform(110, 150), 70))
    box: _Table = {"shape": "box", "depth": 40, "height": 20, "count": 2, "mass_g": 20}
    first = _lot(room, "staplers", "shared", width=60, **box)
    _lot(room, "punches", width=50, shares="staplers", **box)["group"] = first["group"]


def watched(chance: Random, room: _Table) -> None:
    """Beds with a skirt or brim, pads where pieces are large, a place kept free; or printed one by one."""
    for printer in room["printer"]:
        printer["profile"] = {"skirt": {"loops": 2, "distance": 3}} if chance.random() < 0.6 else {"brim": 3}  # noqa: PLR2004
        if chance.random() < 0.3:  # noqa: PLR2004
            printer["one_by_one"] = {"radius": 25, "height": 40}
    for material in room["material"]:
        material["pads"] = chance.choice(("always", "auto", "never"))


def hung(chance: Random, room: _Table) -> None:
    """A door, a wall, or the underside of a shelf: read, and left to racks that are ordered."""
    kind = chance.choice(("door", "wall", "under-shelf"))
    _space(room, "hung", kind, (300, 120, 400), floor_height=1100)
    mount = {"door": "inside a door", "wall": "on a wall", "under-shelf": "under a shelf"}[kind]
    rack = {"mount": mount, "diameter": chance.randint(25, 55), "thing_length": 90, "count": 1, "mass_g": 120}
    _order(room, "hooked", "rack", rack)


def lidded(chance: Random, room: _Table) -> None:
    """Lids and risers of all kinds, to order."""
    sized = {"outer_width": chance.randint(70, 95), "outer_depth": chance.randint(70, 95)}
    kinds: tuple[tuple[str, _Table], ...] = (
        ("lid", sized | {"fit": "press"}),
        ("sliding-tray", {"outer_width": 72, "outer_depth": 108, "height": 48}),
        ("deck-tray", sized | {"height": 42}),
        ("drawer-riser", {"outer_width": 90, "outer_depth": 108, "rises": 8}),
        ("box-riser", sized | {"height": 48}),
        ("hollow-riser", sized | {"rises": 5}),
    )
    for number, (kind, keys) in enumerate(chance.sample(kinds, 2)):
        _order(room, f"lidded-{number}", kind, keys)
        if kind == "box-riser":
            for printer in room["printer"]:
                printer |= {"nozzle": 0.4, "layer": 0.2}  # its height is in whole rises: 6 mm of these layers


def cornered(chance: Random, room: _Table) -> None:
    """A tray round a corner, a leaning cradle, a nest, to order."""
    kind, keys = chance.choice(
        (
            ("bent-tray", {"outer_width": 126, "outer_depth": 108, "corner": "back left", "missing_width": 54,
                           "missing_depth": 54, "height": 36}),
            ("leaning-cradle", {"outer_width": 90, "outer_depth": 90, "height": 48, "width": 30, "depth": 12,
                                "columns": 2, "lines": 2, "lean_deg": 15}),
            ("nest", {"outer_width": 90, "outer_depth": 90, "height": 36, "nested": {
                "width": 60, "depth": 0, "radius": 0, "flare": 4, "height": 70, "pitch": 10, "count": 3}}),
        )
    )  # fmt: skip
    _order(room, "cornered", kind, keys)


def _order(room: _Table, name: str, kind: str, keys: _Table) -> None:
    """One more part to order."""
    room["part"].append({"id": name, "kind": kind, "keys": keys})


EXTRAS: tuple[Extra, ...] = (
    dispensed, shoed, stacked, bladed, loosely_parted, card_parted, firmly_parted, lined, named, warm, wet, cut,
    measured, braked, nested, shared, watched, hung, lidded, cornered,
)  # fmt: skip
BRING_THEIR_OWN = frozenset((
    dispensed, shoed, stacked, bladed, loosely_parted, card_parted, firmly_parted, lined, named, warm, wet, cut, nested,
    shared,
))  # fmt: skip
