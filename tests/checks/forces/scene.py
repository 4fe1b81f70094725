"""Spaces with parts and things put together by hand, for the checks of forces: no files, no layout."""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING, Any, TypeAlias

import manifold3d
import numpy as np

from nookwright.checks.bodies import Shape, shape_of
from nookwright.checks.forces.check import check_forces
from nookwright.exchange import kit as k
from nookwright.exchange.layout_models import KitLayout
from nookwright.ground.digest import digest
from nookwright.module.seat import socket_clearance
from nookwright.survey.models import Room

if TYPE_CHECKING:
    from nookwright.ground.findings import Finding

PITCH = 18.0
PANEL = 0.6
FLOOR = 4.4
WALL = 1.2
GAP = 0.6
Place = tuple[float, float, float]
Key: TypeAlias = Any  # the value of any key of a room file or of a kit


def matrix(x: float = 0, y: float = 0, z: float = 0, *, turned: bool = False) -> k.Matrix:
    """A matrix that moves, and turns by a quarter before."""
    if turned:
        return (0, -1, 0, x), (1, 0, 0, y), (0, 0, 1, z), (0, 0, 0, 1)
    return (1, 0, 0, x), (0, 1, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


def cube(size: Place, at: Place = (0, 0, 0)) -> manifold3d.Manifold:
    """A box with its corner at a point."""
    return manifold3d.Manifold.cube(list(size)).translate(list(at))


def rod(height: float, radius: float, top: float, at: Place) -> manifold3d.Manifold:
    """An upright cone or cylinder with its foot at a point."""
    return manifold3d.Manifold.cylinder(height, radius, top, 48).translate(list(at))


def mesh(solid: manifold3d.Manifold, name: str) -> Shape:
    """A solid as the shape of a written mesh."""
    found = solid.to_mesh64()
    vertices = np.array(found.vert_properties)[:, :3]
    triangles = np.array(found.tri_verts).astype(np.int64)
    return shape_of(digest(name), vertices, triangles)


def panel_solid(cols: int, rows: int, *, cones: bool = True, pitch: float = PITCH) -> manifold3d.Manifold:
    """A plate with a cone in every second cell."""
    plate = cube((cols * pitch, rows * pitch, PANEL))
    feet = [
        rod(3.0, 2.5, 1.696, ((col + 0.5) * pitch, (row + 0.5) * pitch, PANEL))
        for col in range(cols)
        for row in range(rows)
        if cones and (col + row) % 2 == 0
    ]
    return manifold3d.Manifold.batch_boolean([plate, *feet], manifold3d.OpType.Add)


def sockets(cols: int, rows: int, *, pitch: float = PITCH) -> list[manifold3d.Manifold]:
    """The sockets of a part, the wider the further from its middle."""
    found = []
    for col in range(cols):
        for row in range(rows):
            x, y = ((n + 0.5) * pitch - GAP / 2 for n in (col, row))
            away = math.hypot(x + GAP / 2 - cols * pitch / 2, y + GAP / 2 - rows * pitch / 2)
            radius = 2.5 + socket_clearance(away)
            found.append(rod(3.9, radius + 0.5 / math.tan(math.radians(75)), radius - 0.9, (x, y, -0.5)))
    return found


def tray_solid(
    cols: int, rows: int, height: float, *, front: float | None = None, pitch: float = PITCH
) -> manifold3d.Manifold:
    """A tray with sockets; its front may be lower than the rest."""
    width, depth = cols * pitch - GAP, rows * pitch - GAP
    inside = cube((width - 2 * WALL, depth - 2 * WALL, height), (WALL, WALL, FLOOR))
    away = [inside, *sockets(cols, rows, pitch=pitch)]
    if front is not None:
        away.append(cube((width + 2, 2 * WALL, height), (-1, -0.5 * WALL, front)))
    return cube((width, depth, height)) - manifold3d.Manifold.batch_boolean(away, manifold3d.OpType.Add)


def cradle_solid(cols: int, rows: int, height: float, pocket: float, *, pitch: float = PITCH) -> manifold3d.Manifold:
    """A block with one round pocket in its middle."""
    width, depth = cols * pitch - GAP, rows * pitch - GAP
    away = [rod(height, pocket / 2, pocket / 2, (width / 2, depth / 2, FLOOR)), *sockets(cols, rows, pitch=pitch)]
    return cube((width, depth, height)) - manifold3d.Manifold.batch_boolean(away, manifold3d.OpType.Add)


class Scene:
    """One space, a liner in it or not, parts and things."""

    def __init__(self, *, width: float = 216.5, depth: float = 216.5, height: float = 120.0, **space: Key) -> None:
        """Begin with an empty space, a drawer unless it says otherwise; the cells begin 0.25 from its corner."""
        self.size = width, depth, height
        self.space: dict[str, Any] = {
            "id": "here", "kind": "drawer", "width": width, "depth": depth, "height": height, "floor_height": 100,
            "load_kg": 30,
        } | space  # fmt: skip
        self.room: dict[str, Any] = {}
        self.shapes: dict[str, Shape] = {}
        self.parts: dict[str, dict[str, Any]] = {}
        self.placements: list[dict[str, Any]] = []
        self.lots: dict[str, dict[str, Any]] = {}
        self.places: dict[str, list[dict[str, Any]]] = defaultdict(list)
        self.sizes: dict[str, list[dict[str, Any]]] = {}

    def part(
        self, name: str, kind: str, solid: manifold3d.Manifold, at: k.Matrix, *, mass_g: float, on: tuple[str, ...] = ()
    ) -> str:
        """Put a part somewhere."""
        shape = mesh(solid, name)
        low, high = shape.box
        moved = shape_of(shape.key, shape.vertices - low, shape.triangles)
        self.shapes[f"{name}.stl"] = moved
        self.parts[name] = {
            "id": name, "kind": kind, "name": name, "recipe": digest(name), "parameters": {},
            "size": tuple(float(one) for one in high - low), "volume_mm3": float(solid.volume()), "mass_g": mass_g,
            "time_s": 1.0, "stl": f"{name}.stl", "stl_sha256": digest(name),
        }  # fmt: skip
        self.placements.append(
            {"id": name, "part": name, "space": "here", "label": name, "space_from_part": at, "stands_on": on}
        )
        return name

    def panel(
        self, cols: int = 12, rows: int = 12, *, at: tuple[float, float] = (0.25, 0.25), cones: bool = True
    ) -> str:
        """Lay the liner, as large as the space."""
        return self.part("panel", "panel", panel_solid(cols, rows, cones=cones), matrix(*at), mass_g=60.0)

    def tray(
        self,
        name: str,
        cols: int,
        rows: int,
        *,
        cell: tuple[int, int] = (0, 0),
        height: float = 36.0,
        mass_g: float = 40.0,
        front: float | None = None,
        **options: Key,
    ) -> str:
        """Put a tray on cells of the liner, or on the floor where there is none."""
        lined = "panel" in self.parts
        on = ("panel",) if lined else ()
        x, y = (0.25 + n * PITCH + GAP / 2 for n in cell)
        turned = bool(options.get("turned"))
        at = matrix(x + rows * PITCH - GAP if turned else x, y, PANEL if lined else 0.0, turned=turned)
        solid = options.get("solid") or tray_solid(cols, rows, height, front=front)
        return self.part(name, options.get("kind", "tray"), solid, at, mass_g=mass_g, on=on)

    def things(
        self,
        lot: str,
        tray: str,
        at: tuple[Place, ...],
        size: Place,
        *,
        mass_g: float | None = 50.0,
        **place: Key,
    ) -> None:
        """Put things into a part."""
        shaped = {"shape": "box", "width": size[0], "depth": size[1], "height": size[2]}
        keys = place.pop("keys", {})
        count = place.pop("count", len(at))
        known = self.lots.setdefault(lot, {"id": lot, "count": 0, "mass_g": mass_g, **shaped} | keys)
        known["count"] += count
        self.places[lot].append(
            {"placement": tray, "part": tray, "count": count, "stance": "upright", "size": size, "round_axis": "",
             "at": at} | place
        )  # fmt: skip

    def kit(self) -> k.Kit:
        """The kit."""
        width, depth, height = self.size
        ends = [{"z": z, "width": width, "depth": depth} for z in (0.0, height)]
        space: dict[str, Any] = dict.fromkeys(("mass_g", "time_s", "budget_g", "load_g", "load_limit_g"), 0.0) | {
            "id": "here", "name": "Here", "kind": self.space["kind"], "usable": ends, "height": height,
            "corner_radius": 0, "blocked": (), "cell_origin": (0.25, 0.25), "cols": 12, "rows": 12, "blocked_cells": (),
        }  # fmt: skip
        lots = [
            {"id": name, "name": name, "count": lot["count"], "mass_g": 1, "places": self.places[name],
             "sizes": self.sizes.get(name, ())}
            for name, lot in self.lots.items()
        ]  # fmt: skip
        layout = dict.fromkeys(KitLayout.model_fields, 0) | dict.fromkeys(
            ("cost", "arrangement", "tightest", "spaces"), ()
        )
        return k.Kit.model_validate(
            {
                "version": "0", "room": "trial", "room_sha256": digest("room"), "spaces": [space], "lots": lots,
                "module": {"pitch": PITCH, "rise": 6, "chosen": "by hand"}, "parts": list(self.parts.values()),
                "placements": self.placements, "orders": (), "pieces": (), "printers": (), "materials": (),
                "bedfuls": (), "findings": (), "totals": dict.fromkeys(k.Totals.model_fields, 0),
                "layout": layout | {"style": "calm", "proven": True, "by_clock": False},
            }
        )  # fmt: skip

    def surveyed(self) -> Room:
        """The room."""
        lots = list(self.lots.values()) or [{"id": "none", "count": 1, "shape": "loose", "volume_ml": 1}]
        content = {
            "format": 1, "room": {"name": "trial"}, "space": [self.space], "lot": lots,
            "printer": [{"id": "p", "bed_width": 200, "bed_depth": 200, "bed_height": 200, "materials": ["grey"]}],
            "material": [{"id": "grey", "colour": "#808080", "density_g_cm3": 1.24}],
        }  # fmt: skip
        return Room.model_validate(content | self.room)

    def findings(self) -> tuple[Finding, ...]:
        """All that is found."""
        return check_forces(self.kit(), self.surveyed(), self.shapes)

    def found(self, code: str) -> list[Finding]:
        """What is found of one code."""
        return [finding for finding in self.findings() if finding.code == code]

    def codes(self) -> list[str]:
        """The codes of all that is found, each once; without the reserve that is always said."""
        return sorted({finding.code for finding in self.findings()} - {"slam-reserve"})
