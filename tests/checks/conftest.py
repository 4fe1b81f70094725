"""A tiny kit that is sound, made by hand, and a way to change one thing about it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np
import pytest

from nookwright.checks.prove import prove
from nookwright.exchange import kit as k
from nookwright.exchange.layout_models import KitLayout
from nookwright.exchange.stl import read_stl, write_stl
from nookwright.exchange.threemf import BaseMaterial, Body, Item, ThreeMF, write_3mf
from nookwright.ground.digest import digest
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT, draw_of
from nookwright.survey.models import Room

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from nookwright.exchange.stl import Triangles, Vertices
    from nookwright.ground.findings import Finding

GREY = "#808080"
# What only a kit that was built can be right in; tests/faults looks at these.
NOT_BY_HAND = frozenset(
    (
        *("filler-missing", "name-otherwise", "place-otherwise", "printer-errors-otherwise", "size-record"),
        *("space-record", "time-wrong", "total-wrong", "trial-wrong"),
    )
)
MASS_G = {"panel": 1.0, "tray": 5.0, "half": 0.5, "half-back": 0.5}  # of the parts and pieces of the tiny kit


def box(
    width: float, depth: float, height: float, *, at: tuple[float, float, float] = (0, 0, 0)
) -> manifold3d.Manifold:
    """A box with its corner at a point."""
    return manifold3d.Manifold.cube([width, depth, height]).translate(at)


def arrays(solid: manifold3d.Manifold) -> tuple[Vertices, Triangles]:
    """Vertices and triangles of a solid."""
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)


def moved(x: float = 0, y: float = 0, z: float = 0) -> k.Matrix:
    """A matrix that only moves."""
    return (1, 0, 0, x), (0, 1, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


def turned(x: float = 0, y: float = 0, z: float = 0) -> k.Matrix:
    """A matrix that turns by 90 degrees about z, and moves."""
    return (0, -1, 0, x), (1, 0, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


def cone() -> manifold3d.Manifold:
    """A cone as high and steep as the seat's, on z = 0."""
    return manifold3d.Manifold.cylinder(3.0, 2.5, 2.5 - draw_of(3.0), 32)


def socket(clearance: float = 0.4) -> manifold3d.Manifold:
    """A socket with its lead-in, as a cutter that reaches below z = 0."""
    mouth, high = 2.5 + clearance, float(LEAD_IN_HEIGHT)
    lead = manifold3d.Manifold.cylinder(high, mouth + LEAD_IN, mouth - draw_of(high), 32)
    below = manifold3d.Manifold.cylinder(0.5, mouth + LEAD_IN, mouth + LEAD_IN, 32).translate([0, 0, -0.5])
    return lead + below + manifold3d.Manifold.cylinder(3.4, mouth, mouth - draw_of(3.4), 32)


def panel_half() -> manifold3d.Manifold:
    """Half of the liner's panel: a plate with two cones."""
    cones = [cone().translate([8.9 + 18 * i, 8.9, 0.6]) for i in range(2)]
    return manifold3d.Manifold.batch_boolean([box(35.8, 17.8, 0.6), *cones], manifold3d.OpType.Add)


def tray() -> manifold3d.Manifold:
    """A tray over four cones, with sockets."""
    sockets = [socket().translate([8.7 + 18 * i, 8.7 + 18 * j, 0]) for i in range(2) for j in range(2)]
    cavity = box(33, 33, 30, at=(1.2, 1.2, 4.4))
    return box(35.4, 35.4, 24) - manifold3d.Manifold.batch_boolean([cavity, *sockets], manifold3d.OpType.Add)


def room(**changes: Any) -> Room:  # noqa: ANN401 - any key of the room
    """The room that the tiny kit is for."""
    content = {
        "format": 1,
        "room": {"name": "trial"},
        "space": [
            {"id": "left", "kind": "shelf", "width": 100, "depth": 80, "height": 60, "floor_height": 700, "load_kg": 5}
        ],
        "lot": [
            {"id": "dice", "count": 4, "shape": "box", "width": 12, "depth": 12, "height": 12, "mass_g": 5},
            {"id": "corks", "count": 2, "shape": "round", "diameter": 14, "height": 25, "mass_g": 8},
        ],
        "printer": [
            {"id": "small", "bed_width": 120, "bed_depth": 100, "bed_height": 90, "spacing": 2, "materials": ["grey"]}
        ],
        "material": [{"id": "grey", "colour": GREY, "density_g_cm3": 1.24}],
    }
    return Room.model_validate(content | changes)


@dataclass(frozen=True)
class Trial:
    """A kit on disk, its room, and what may be changed."""

    folder: Path
    kit: k.Kit
    room: Room

    def proved(self, **options: Any) -> tuple[Finding, ...]:  # noqa: ANN401 - those of prove
        """All findings, but for what a kit made by hand does not have."""
        found = prove(self.folder, self.kit, room=self.room, **options)
        return tuple(one for one in found if one.code not in NOT_BY_HAND)

    def codes(self) -> list[str]:
        """The codes of all findings, each once."""
        return sorted({finding.code for finding in self.proved()})

    def having(self, what: str, name: str, **changes: Any) -> Trial:  # noqa: ANN401 - any key of the kit
        """The same, with one entry of a list of the kit changed."""
        entries = [entry.model_copy(update=changes) if entry.id == name else entry for entry in getattr(self.kit, what)]
        return self.with_kit(**{what: tuple(entries)})

    def with_kit(self, **changes: Any) -> Trial:  # noqa: ANN401 - any key of the kit
        """The same, with keys of the kit changed."""
        return replace(self, kit=self.kit.model_copy(update=changes))

    def with_room(self, **changes: Any) -> Trial:  # noqa: ANN401 - any key of the room
        """The same, with keys of the room changed."""
        return replace(self, room=self.room.model_copy(update=changes))

    def with_mesh(self, file: str, vertices: Vertices, triangles: Triangles) -> Trial:
        """The same, with another mesh in a file of a piece and its part, and all figures and bed files renewed."""
        sha = write_stl(self.folder / file, vertices, triangles)
        figures = figures_of(self.folder / file)
        named = [entry.id for entry in self.kit.pieces if entry.file == file]
        trial = self
        for name in named:
            trial = trial.having("pieces", name, stl_sha256=sha, **figures)
        for part in (part.id for part in self.kit.parts if part.stl == file):
            trial = trial.having("parts", part, stl_sha256=sha, **figures)
        return trial.with_beds()

    def with_beds(self) -> Trial:
        """The same, with the 3MF files written anew from the kit."""
        trial = self
        for bedful in self.kit.bedfuls:
            sha = write_bed(self.folder, self.kit, bedful)
            trial = trial.having("bedfuls", bedful.id, model_sha256=sha)
        return trial


def figures_of(path: Path) -> dict[str, Any]:
    """Size and volume of a written mesh."""
    vertices, triangles = read_stl(path)
    a, b, c = vertices[triangles].transpose(1, 0, 2)
    size = tuple(float(value) for value in vertices.max(axis=0) - vertices.min(axis=0))
    return {"size": size, "volume_mm3": float((a * np.cross(b, c)).sum() / 6)}


def write_bed(folder: Path, kit: k.Kit, bedful: k.Bedful) -> str:
    """Write the file of a bedful."""
    pieces = {piece.id: piece for piece in kit.pieces}
    names = sorted({item.piece for item in bedful.items})
    bodies = tuple(Body(name, name, *read_stl(folder / pieces[name].file)) for name in names)
    items = tuple(Item(names.index(item.piece), item.bed_from_piece) for item in bedful.items)
    return write_3mf(folder / bedful.file, ThreeMF(bodies, items, (BaseMaterial("grey", bedful.colour),)))


def _part(folder: Path, name: str, kind: str, solid: manifold3d.Manifold) -> k.KitPart:
    """Write a part and describe it."""
    sha = write_stl(folder / f"{name}.stl", *arrays(solid))
    figures = figures_of(folder / f"{name}.stl")
    described = {"id": name, "kind": kind, "name": name, "recipe": digest(name), "parameters": {}}
    return k.KitPart.model_validate(
        described | {"mass_g": MASS_G[name], "time_s": 60.0, "stl": f"{name}.stl", "stl_sha256": sha, **figures}
    )


def _piece(folder: Path, name: str, part: str, count: int, at: k.Matrix) -> k.Piece:
    """Describe a piece whose file stands already."""
    described = {"id": name, "part": part, "part_from_piece": at, "count": count, "recipe": digest(name)}
    path = folder / f"{name}.stl"
    made = {"material": "grey", "colour": GREY, "file": path.name, "stl_sha256": digest(path.read_bytes())}
    return k.Piece.model_validate(described | made | {"mass_g": MASS_G[name], "time_s": 60.0, **figures_of(path)})


def _kit(folder: Path) -> k.Kit:
    """A shelf bay with a panel of two halves and two trays with things in them."""
    half = panel_half()
    write_stl(folder / "half.stl", *arrays(half))
    parts = (
        _part(folder, "panel", "panel", half + half.translate([0, 18, 0]) + box(1, 1, 0.6, at=(0, 17.4, 0))),
        _part(folder, "tray", "tray", tray()),
    )
    pieces = (
        _piece(folder, "half", "panel", 2, moved()),
        _piece(folder, "half", "panel", 2, moved(y=18)).model_copy(update={"id": "half-back"}),
        _piece(folder, "tray", "tray", 2, moved()),
    )
    placements = [
        {"id": "panel-1", "part": "panel", "space_from_part": moved(0.1, 0.1), "stands_on": ()},
        {"id": "panel-2", "part": "panel", "space_from_part": moved(36.1, 0.1), "stands_on": ()},
        {"id": "tray-1", "part": "tray", "space_from_part": moved(0.3, 0.3, 0.6), "stands_on": ("panel-1",)},
        {"id": "tray-2", "part": "tray", "space_from_part": turned(36 + 35.7, 0.3, 0.6), "stands_on": ("panel-2",)},
    ]
    lots: list[dict[str, Any]] = [
        {
            "id": "dice",
            "count": 4,
            "placement": "tray-1",
            "size": (12, 12, 12),
            "round_axis": "",
            "at": [(9, 9, 4.4), (22, 9, 4.4), (9, 22, 4.4), (9, 9, 16.4)],
        },
        {
            "id": "corks",
            "count": 2,
            "placement": "tray-2",
            "size": (14, 14, 25),
            "round_axis": "z",
            "at": [(9, 9, 4.4), (25, 25, 4.4)],
        },
    ]
    beds = [
        ("half", moved(10, 10)),
        ("half", moved(10, 30)),
        ("half-back", moved(10, 50)),
        ("half-back", moved(10, 70)),
    ]
    bedfuls = [("bed-1", beds), ("bed-2", [("tray", moved(10, 10)), ("tray", turned(95, 10))])]
    return k.Kit.model_validate(
        {
            "version": "0",
            "room": "trial",
            "room_sha256": digest("room"),
            "module": {"pitch": 18, "rise": 6, "chosen": "by hand"},
            "spaces": [_space()],
            "lots": [_lot(**lot) for lot in lots],
            "parts": parts,
            "orders": (),
            "placements": [{"space": "left", "label": placed["id"], **placed} for placed in placements],
            "pieces": pieces,
            "printers": [{"id": "small", "name": "Small", "bed": (120, 100, 90), "margin": 5, "layer": 0.2}],
            "materials": [{"id": "grey", "name": "Grey", "colour": GREY, "mass_g": 20, "price": 1, "spools": 1}],
            "bedfuls": [_bedful(name, items) for name, items in bedfuls],
            "findings": [],
            "totals": dict.fromkeys(k.Totals.model_fields, 0),
            "layout": dict.fromkeys(KitLayout.model_fields, 0)
            | dict.fromkeys(("cost", "arrangement", "tightest", "spaces"), ())
            | {"style": "calm", "proven": True, "by_clock": False},
        }
    )


def _space() -> dict[str, Any]:
    return {
        "id": "left",
        "name": "Left bay",
        "kind": "shelf",
        "usable": [{"z": 0, "width": 99, "depth": 79}, {"z": 59, "width": 99, "depth": 79}],
        "height": 59,
        "corner_radius": 0,
        "blocked": [{"reason": "a pipe", "service": True, "low": (80, 50, 0), "high": (99, 79, 59)}],
        "cell_origin": (0, 0),
        "cols": 4,
        "rows": 2,
        "blocked_cells": [],
        "mass_g": 12,
        "time_s": 0,
        "budget_g": 0,
        "load_g": 48,
        "load_limit_g": 5000,
    }


def _lot(placement: str, count: int, size: k.Size, round_axis: str, at: list[k.Size], **lot: Any) -> dict[str, Any]:  # noqa: ANN401
    place = {"placement": placement, "part": "tray", "count": count, "stance": "upright", "size": size}
    return {
        **lot,
        "name": lot["id"],
        "count": count,
        "mass_g": {"dice": 5, "corks": 8}[lot["id"]] * count,
        "places": [place | {"round_axis": round_axis, "at": at}],
    }


def _bedful(name: str, items: list[tuple[str, k.Matrix]]) -> dict[str, Any]:
    listed = [{"piece": piece, "bed_from_piece": matrix} for piece, matrix in items]
    made = {"printer": "small", "material": "grey", "colour": GREY, "file": f"{name}.3mf", "model_sha256": digest("")}
    return {"id": name, "time_s": 60, "mass_g": sum(MASS_G[piece] for piece, _ in items), "items": listed, **made}


@pytest.fixture
def trial(tmp_path: Path) -> Trial:
    """The tiny kit, sound."""
    folder = tmp_path / "kit"
    folder.mkdir()
    return Trial(folder, _kit(folder), room()).with_beds()


@pytest.fixture
def make_room() -> Callable[..., Room]:
    """Makes the room of the tiny kit, with changes."""
    return room
