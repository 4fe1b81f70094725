"""Parts made to order: every kind can be had from a room file, what is wrong is said with its line, sizes round up."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from nookwright.build import build, check
from nookwright.ground.errors import RoomError
from nookwright.ground.progress import Silent
from nookwright.layout.place import Effort
from nookwright.module.seat import outer_size
from nookwright.parts.orders.order_models import cells_for
from nookwright.parts.orders.order_reference import reference
from nookwright.parts.orders.orders import MAKERS, keys_of, made_to_order
from nookwright.survey.models import Order

if TYPE_CHECKING:
    from nookwright.ground.errors import Fault
    from nookwright.module.module import Module
    from nookwright.solids.mesh import MeshKernel

QUICK = Effort(tries=200, moves=200, rounds=1)
DOCS = Path(__file__).resolve().parents[3] / "docs"

ROOM = """\
format = 1
[room]
name = "Orders"
[module]
pitch = 18
[[space]]
id = "drawer"
kind = "drawer"
width = 120
depth = 110
height = 70
floor_height = 800
load_kg = 6
[[lot]]
id = "chalk"
shape = "box"
width = 50
depth = 40
height = 6
count = 2
mass_g = 8
[[printer]]
id = "one"
bed_width = 200
bed_depth = 200
bed_height = 180
materials = ["white"]
[[material]]
id = "white"
colour = "#ffffff"
density_g_cm3 = 1.24
"""

SAMPLES: dict[str, dict[str, object]] = {
    "tray": {
        "outer_width": 100,
        "outer_depth": "6 cm",
        "height": 48,
        "options": {"front": "swept", "strip_height": 12},
    },
    "bent-tray": {
        "outer_width": 140,
        "outer_depth": 140,
        "height": 36,
        "corner": "back right",
        "missing_width": 50,
        "missing_depth": 60,
    },
    "divider": {"length": 80, "height": 30, "thickness": 1.2, "radius": 2},
    "name-strip": {"width": 60, "height": 12, "text": "M5 x 16"},
    "lid": {"outer_width": 100, "outer_depth": 60, "fit": "snug"},
    "sliding-tray": {"outer_width": 110, "outer_depth": 180, "height": 48, "dispensed": "bags"},
    "deck-tray": {"outer_width": 90, "outer_depth": 70, "height": 36},
    "riser": {"outer_width": 70, "outer_depth": 50, "rises": 4},
    "hollow-riser": {"outer_width": 100, "outer_depth": 60, "rises": 6},
    "drawer-riser": {"outer_width": 100, "outer_depth": 80, "rises": 8},
    "box-riser": {"outer_width": 90, "outer_depth": 70, "height": 36},
    "shoe": {"outer_width": 100, "outer_depth": 100, "height": 30, "owned": {"width": 70, "depth": 60}},
    "shoe-corners": {
        "frame": {"outer_width": 140, "outer_depth": 140, "height": 30, "owned": {"width": 100, "depth": 100}}
    },
    "cradle": {
        "outer_width": 100,
        "outer_depth": 70,
        "height": 36,
        "pockets": [
            {"x": 28, "y": 35, "pocket": {"shape": "round", "diameter": 20}},
            {"x": 72, "y": 35, "pocket": {"shape": "boxed", "width": 18, "depth": 22}},
        ],
    },
    "leaning-cradle": {
        "outer_width": 70,
        "outer_depth": 100,
        "height": 48,
        "width": 50,
        "depth": 8,
        "columns": 1,
        "lines": 2,
        "lean_deg": 20,
    },
    "rib-cradle": {
        "outer_width": 70,
        "outer_depth": 70,
        "height": 36,
        "pockets": [{"smallest": 30, "largest": 31, "diameter": 40, "x": 35.5, "y": 35.5}],
    },
    "rest": {
        "outer_width": 60,
        "outer_depth": 34,
        "height": 60,
        "slots": [{"shape": "blade-slot", "x": 35, "thickness": 2.5, "blade_height": 38}],
    },
    "rest-set": {
        "length": 190,
        "things": [
            {"shape": "blade", "thickness": 2.2, "blade_height": 32},
            {"shape": "shaft", "diameter": 14, "proud": True},
        ],
    },
    "nest": {
        "outer_width": 150,
        "outer_depth": 150,
        "height": 60,
        "nested": {"width": 100, "depth": 0, "radius": 0, "flare": 8, "height": 60, "pitch": 8, "count": 6},
    },
    "nest-lids": {
        "outer_width": 120,
        "outer_depth": 100,
        "height": 60,
        "across": 100,
        "tall": 100,
        "thickness": 6,
        "count": 5,
        "leaning": True,
    },
    "rack": {"mount": "on a wall", "diameter": 66, "thing_length": 115, "count": 1, "mass_g": 350},
    "fence": {"outer_length": 150, "height": 24},
}


def order(kind: str, keys: dict[str, object], **other: object) -> Order:
    """An order as a room file would give it."""
    return Order.model_validate({"id": "one", "kind": kind, "keys": keys, **other})


@pytest.mark.parametrize("kind", MAKERS)
def test_every_kind_can_be_ordered(kind: str, module: Module, kernel: MeshKernel) -> None:
    """A plain order of each kind gives parts that are solids in one body each."""
    for part in made_to_order(order(kind, SAMPLES[kind]), module, "mm"):
        mesh = kernel.mesh(part.recipe)
        assert mesh.volume_mm3 > 0
        assert mesh.components == 1


def test_outer_sizes_are_rounded_up(module: Module) -> None:
    """A part is at least as large as asked, and a cell less would be too small."""
    for length in (30.0, 53.4, 53.5, 200.0):
        cells = cells_for(length, module)
        assert outer_size(cells, module.pitch) >= length
        assert outer_size(cells - 1, module.pitch) < length


def test_lengths_are_read_in_the_unit_of_the_file(module: Module) -> None:
    """Plain numbers in a file in inches are inches; a text carries its own unit; angles have none."""
    (inches,) = made_to_order(
        order("divider", {"length": 3, "height": 1, "thickness": "1.2 mm", "radius": 0}), module, "in"
    )
    sizes = dict(inches.parameters)
    assert (sizes["length"], sizes["height"], sizes["thickness"]) == (76.2, 25.4, 1.2)
    lean = keys_of("leaning-cradle").model_fields["lean_deg"]
    assert lean.annotation is float
    assert not lean.metadata


def with_orders(tmp_path: Path, text: str) -> Path:
    """A room file with orders."""
    path = tmp_path / "room.toml"
    path.write_text(ROOM + text, encoding="utf-8")
    return path


def faults_of(path: Path) -> list[Fault]:
    """What ``check`` finds."""
    room, faults = check(path)
    assert (room is None) is bool(faults)
    return list(faults)


def test_wrong_keys_are_named_all_at_once_with_their_lines(tmp_path: Path) -> None:
    """A kind that is none, an unknown key, a missing one, a choice that is none, a shape that is none."""
    path = with_orders(
        tmp_path,
        """\
[[part]]
id = "a"
kind = "lidd"
keys = {}
[[part]]
id = "b"
kind = "lid"
keys = { outer_width = 90, colour = "red" }
[[part]]
id = "c"
kind = "tray"
[part.keys]
outer_width = 90
outer_depth = 90
height = 30
[part.keys.options]
front = "swept up"
[[part]]
id = "d"
kind = "cradle"
[part.keys]
outer_width = 90
outer_depth = 90
height = 36
pockets = [{ x = 40, y = 40, pocket = { shape = "rond", diameter = 20 } }]
""",
    )
    first = ROOM.count("\n") + 1
    found = [(fault.line - first, fault.key) for fault in faults_of(path)]
    assert found == [
        (2, "part.a.kind"),
        (7, "part.b.keys.colour"),
        (7, "part.b.keys.outer_depth"),
        (16, "part.c.keys.options.front"),
        (24, "part.d.keys.pockets[1].pocket"),
    ]
    assert all(fault.allowed and fault.remedy for fault in faults_of(path))


def test_sizes_that_cannot_be_made_stop_the_build_with_their_line(tmp_path: Path) -> None:
    """Keys that are right by themselves, but no part comes of them: all are named, and no kit is begun."""
    path = with_orders(
        tmp_path,
        """\
[[part]]
id = "strip"
kind = "name-strip"
keys = { width = 20, height = 12, text = "far too long a text for it" }
[[part]]
id = "flat"
kind = "riser"
keys = { outer_width = 60, outer_depth = 60, rises = 0 }
""",
    )
    assert faults_of(path) == []
    with pytest.raises(RoomError) as error:
        build(path, tmp_path / "kit", progress=Silent(), effort=QUICK)
    assert [fault.key for fault in error.value.faults] == ["part.strip.keys", "part.flat.keys"]
    assert not (tmp_path / "kit").exists()


def test_what_is_ordered_is_printed_with_the_kit(tmp_path: Path) -> None:
    """Two trays with sliding lids: parts, pieces and bedfuls have them, no place does, and nothing stops."""
    path = with_orders(
        tmp_path,
        """\
[[part]]
id = "gloves"
kind = "sliding-tray"
count = 2
keys = { outer_width = 90, outer_depth = 100, height = 48 }
""",
    )
    kit = build(path, tmp_path / "kit", progress=Silent(), effort=QUICK)
    kinds = {part.id: part.kind for part in kit.parts}
    assert [(one.id, kinds[one.part], one.count) for one in kit.orders] == [("gloves", "tray", 2), ("gloves", "lid", 2)]
    ordered = {one.part for one in kit.orders}
    assert not ordered & {placement.part for placement in kit.placements}
    pieces = {piece.id for piece in kit.pieces if piece.part in ordered}
    assert sum(item.piece in pieces for bedful in kit.bedfuls for item in bedful.items) == 4
    assert [finding for finding in kit.findings if finding.severity == "stop"] == []


def test_the_page_of_parts_is_current() -> None:
    """docs/parts.md is what the program takes; ``order_reference`` renews it."""
    assert (DOCS / "parts.md").read_text(encoding="utf-8") == reference()


def test_a_dispensing_slot_is_that_of_a_lid_not_of_a_rest(module: Module) -> None:
    """Two records are called slot; the one of the order's own module counts."""
    keys: dict[str, object] = {
        "outer_width": 110,
        "outer_depth": 160,
        "height": 60,
        "slot": {"across": 30, "along": 60},
    }
    parts = made_to_order(order("sliding-tray", keys), module, "mm")
    assert [part.kind for part in parts] == ["tray", "lid"]
    plain = made_to_order(order("sliding-tray", {**keys, "slot": None}), module, "mm")
    assert parts[1].recipe.digest != plain[1].recipe.digest


@pytest.mark.parametrize("size", [0, -1, 2000.1, 1e9])
def test_outer_sizes_of_nothing_and_of_no_drawer_are_refused(module: Module, size: float) -> None:
    """At once: the cells of a kilometre are not counted."""
    with pytest.raises(ValueError, match=r"more than 0|less than or equal to 2000"):
        made_to_order(order("lid", {"outer_width": size, "outer_depth": 60}), module, "mm")


@pytest.mark.parametrize(("kind", "key", "most"), [("riser", "rises", 300), ("leaning-cradle", "columns", 1000)])
def test_a_slipped_digit_is_refused_before_anything_is_made(tmp_path: Path, kind: str, key: str, most: int) -> None:
    """A riser of ten thousand steps, or as many wells: named with its line, and never cut into pieces."""
    for count, wrong in ((most, False), (most + 1, True)):
        listed = ", ".join(f'{name} = "{value}"' if isinstance(value, str) else f"{name} = {value}"
                           for name, value in {**SAMPLES[kind], key: count}.items())  # fmt: skip
        path = with_orders(tmp_path, f'[[part]]\nid = "one"\nkind = "{kind}"\nkeys = {{ {listed} }}\n')
        found = [fault for fault in faults_of(path) if fault.key == f"part.one.keys.{key}"]
        assert bool(found) is wrong
