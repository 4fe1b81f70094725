"""Small furnished spaces, made by hand: solids with a kind, a place, and what they stand on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np

from nookwright.checks.bodies import Body, Sort, matrix_of, shape_of
from nookwright.checks.room_fit.furnished import Furnished, Lying, Stood
from nookwright.checks.room_fit.moved import Ways
from nookwright.checks.shared import Overlaps
from nookwright.checks.things import bodies_of_things
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange import kit as k
from nookwright.ground.digest import digest
from nookwright.survey.models import Space

if TYPE_CHECKING:
    from pathlib import Path

    from manifold3d import Manifold as Solid

    from nookwright.checks.bodies import Shape


def box(width: float, depth: float, height: float, *, at: tuple[float, float, float] = (0, 0, 0)) -> Solid:
    """A box with its corner at a point."""
    return manifold3d.Manifold.cube([width, depth, height]).translate(at)


def tray(width: float, depth: float, height: float, *, wall: float = 1.2, floor: float = 1.0) -> Solid:
    """A plain tray: a box with a cavity."""
    return box(width, depth, height) - box(width - 2 * wall, depth - 2 * wall, height, at=(wall, wall, floor))


def shape(solid: Solid) -> Shape:
    """A solid as a shape of the checks."""
    mesh = solid.to_mesh64()
    vertices, triangles = np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)
    return shape_of(digest(vertices.tobytes() + triangles.tobytes()), vertices, triangles)


def matrix(x: float, y: float, z: float, quarter_turns: int = 0) -> k.Matrix:
    """Turned about z at the origin, then moved."""
    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter_turns % 4]
    return (cos, -sin, 0, x), (sin, cos, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


@dataclass
class Scene:
    """A space that is filled part by part."""

    kind: str = "drawer"
    height: float = 60.0
    size: tuple[float, float] = (200.0, 150.0)
    read: dict[str, Any] = field(default_factory=dict)
    planned: dict[str, Any] = field(default_factory=dict)
    stood: list[Stood] = field(default_factory=list)
    lots: list[k.KitLot] = field(default_factory=list)

    def put(
        self,
        name: str,
        solid: Solid,
        *,
        at: tuple[float, float, float] = (0, 0, 0),
        kind: str = "tray",
        on: tuple[str, ...] = (),
        matrix_: k.Matrix | None = None,
    ) -> Scene:
        """Put a part somewhere."""
        made = shape(solid)
        low, high = made.box
        part = k.KitPart.model_validate(
            {
                "id": name, "kind": kind, "name": name, "recipe": digest(name), "parameters": {},
                "size": tuple((high - low).tolist()), "volume_mm3": 1.0, "mass_g": 1.0, "time_s": 1.0,
                "stl": f"{name}.stl", "stl_sha256": digest(name),
            }
        )  # fmt: skip
        rows = matrix_ or matrix(*at)
        placement = k.Placement(id=name, part=name, space="it", label=name, space_from_part=rows, stands_on=on)
        below = set(on).union(*(one.below for one in self.stood if one.id in on))
        body = Body(name, Sort.PART, made, matrix_of(rows))
        self.stood.append(Stood(placement, part, body, frozenset(below)))
        return self

    def fill(
        self,
        holder: str,
        size: tuple[float, float, float],
        *at: tuple[float, float, float],
        round_axis: str = "",
        stance: str = "upright",
        name: str = "dice",
    ) -> Scene:
        """Put things of a lot into a part, in its axes."""
        place = {
            "placement": holder, "part": holder, "count": len(at), "stance": stance, "size": size,
            "round_axis": round_axis, "at": at,
        }  # fmt: skip
        lot = {"id": name, "name": name, "count": len(at), "mass_g": 1.0, "places": [place]}
        self.lots.append(k.KitLot.model_validate(lot))
        return self

    def built(self) -> Furnished:
        """The space with all that was put into it."""
        width, depth = self.size
        usable = [{"z": z, "width": width, "depth": depth} for z in (0.0, self.height)]
        planned = {
            "id": "it", "name": "it", "kind": self.kind, "usable": usable, "height": self.height, "corner_radius": 0.0,
            "blocked": [], "cell_origin": (0, 0), "cols": 4, "rows": 4, "blocked_cells": [],
            **dict.fromkeys(("mass_g", "time_s", "budget_g", "load_g", "load_limit_g"), 0),
        }  # fmt: skip
        read = {
            "id": "it", "kind": self.kind, "width": width, "depth": depth, "height": self.height, "floor_height": 700,
            "load_kg": 9,
        }  # fmt: skip
        return Furnished(
            k.KitSpace.model_validate(planned | self.planned),
            Space.model_validate(read | self.read),
            tuple(self.stood),
            self._lying(),
        )

    def _lying(self) -> tuple[Lying, ...]:
        known: dict[str, Any] = {"placements": tuple(one.placement for one in self.stood), "lots": tuple(self.lots)}
        kit = k.Kit.model_construct(**known)
        bodies = (body for _, body in bodies_of_things(kit))
        places = ((lot, place) for lot in self.lots for place in lot.places)
        return tuple(Lying(lot, place, body, beside=False) for (lot, place), body in zip(places, bodies, strict=True))


def ways(cache: Path | None = None) -> Ways:
    """What finds how far parts go, with what it knows from before."""
    verdicts = Verdicts(cache)
    return Ways(verdicts, Overlaps(verdicts))
