"""A kit of real parts on a real liner, put together by hand, and what its seats are found to be like."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import manifold3d
import numpy as np
import pytest

from nookwright.checks.bodies import Shape, shape_of
from nookwright.checks.seats.check import check_seats
from nookwright.checks.seats.drawn import SEATED, drawn_of
from nookwright.checks.seats.members import members_of
from nookwright.checks.seats.standing import stands_of
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange import kit as k
from nookwright.exchange.stl import parse_stl, stl_bytes
from nookwright.ground.digest import digest
from nookwright.layout.liner_model import PanelSpec
from nookwright.parts.liner.panel import panel
from nookwright.parts.trays.tray import tray

if TYPE_CHECKING:
    from collections.abc import Callable

    from nookwright.checks.seats.drawn import Drawn
    from nookwright.checks.seats.members import Member
    from nookwright.checks.seats.standing import Stand
    from nookwright.ground.findings import Finding
    from nookwright.module.module import Module
    from nookwright.parts.model import Part
    from nookwright.solids.mesh import MeshKernel
    from nookwright.survey.models import Room

    from ..conftest import Trial  # noqa: TID252 - the tiny kit stands one folder up

PITCH = 18.0
SIDE = 8  # cells of the space, both ways


def at(x: float = 0.0, y: float = 0.0, z: float = 0.0, turns: int = 0) -> k.Matrix:
    """A matrix that turns about z by quarters, then moves."""
    cos, sin = (1, 0, -1, 0)[turns % 4], (0, 1, 0, -1)[turns % 4]
    return (cos, -sin, 0, x), (sin, cos, 0, y), (0, 0, 1, z), (0, 0, 0, 1)


@dataclass(frozen=True)
class Bench:
    """Parts in a space of 8 x 8 cells of 18 mm, without files on disk.

    Attributes:
        kit: the kit.
        room: its room.
        shapes: by file.
        kernel: makes parts solid.
    """

    kit: k.Kit
    room: Room
    shapes: dict[str, Shape]
    kernel: MeshKernel

    def having(
        self,
        name: str,
        part: Part,
        where: k.Matrix,
        *,
        on: tuple[str, ...] | None = None,
        spoil: Callable[[manifold3d.Manifold], manifold3d.Manifold] | None = None,
    ) -> Bench:
        """The same with a part more, on the panel if nothing else is said and there is one.

        ``spoil`` changes its solid before it is written.
        """
        there = any(one.id == "panel" for one in self.kit.placements)
        on = (("panel",) if there and part.kind in SEATED else ()) if on is None else on
        shape = written(part, self.kernel, spoil)
        low, high = shape.box
        made = k.KitPart.model_validate(
            {
                "id": name, "kind": part.kind, "name": part.name, "recipe": digest(name), "mass_g": 1.0, "time_s": 1.0,
                "parameters": dict(part.parameters), "size": tuple((high - low).tolist()), "volume_mm3": 1.0,
                "stl": f"{name}.stl", "stl_sha256": shape.key,
            }
        )  # fmt: skip
        placed = k.Placement(id=name, part=name, space="left", label=name, space_from_part=where, stands_on=on)
        kit = self.kit.model_copy(
            update={"parts": (*self.kit.parts, made), "placements": (*self.kit.placements, placed)}
        )
        return replace(self, kit=kit, shapes={**self.shapes, f"{name}.stl": shape})

    def in_space(self, **changes: Any) -> Bench:  # noqa: ANN401 - any key of a space
        """The same with keys of the space changed."""
        space = self.kit.spaces[0].model_copy(update=changes)
        return replace(self, kit=self.kit.model_copy(update={"spaces": (space,)}))

    def with_liner(self, level: str, pattern: str) -> Bench:
        """The same with another record of its liner."""
        return self.in_space(liners=(offer(level, pattern),))

    @property
    def drawn(self) -> Drawn:
        """The seat that it should have."""
        return drawn_of(self.kit, self.room)

    @property
    def members(self) -> dict[str, Member]:
        """Its parts."""
        return members_of(self.kit, self.shapes, Verdicts(None))

    @property
    def stands(self) -> dict[str, Stand]:
        """Its seated parts in their places."""
        return {stand.placement.id: stand for stand in stands_of(self.kit, self.members, self.drawn)}

    def findings(self) -> tuple[Finding, ...]:
        """All that is said of its seats."""
        return check_seats(self.kit, self.room, self.shapes, Verdicts(None))

    def wrong(self) -> list[tuple[str, str, str]]:
        """Severity, code and subject of all that is no note."""
        return [(one.severity.value, one.code, one.subject) for one in self.findings() if one.severity.value != "note"]

    def said(self, code: str) -> Finding:
        """The one finding with a code."""
        (one,) = (one for one in self.findings() if one.code == code)
        return one


def written(part: Part, kernel: MeshKernel, spoil: Callable[..., Any] | None = None) -> Shape:
    """A part as it is read back from an STL, its corner at the origin."""
    mesh = kernel.mesh(part.recipe)
    vertices, triangles = mesh.vertices, mesh.triangles
    if spoil:
        solid = manifold3d.Manifold(manifold3d.Mesh64(np.array(vertices), np.array(triangles, dtype=np.uint64)))
        changed = spoil(solid).to_mesh64()
        vertices, triangles = np.array(changed.vert_properties)[:, :3], np.array(changed.tri_verts).astype(np.int64)
    data = stl_bytes(vertices, triangles)
    return shape_of(digest(data), *parse_stl(data, "part.stl"))


def offer(level: str = "full", pattern: str = "like a chessboard") -> k.LinerOffer:
    """A liner that was chosen."""
    return k.LinerOffer(
        level=level, pattern=pattern, mass_g=1, time_s=1, lost_height=0.6, cones=0, keeps="it", chosen=True
    )


def cylinder(low: float, high: float, wide: float, narrow: float, place: tuple[float, float]) -> manifold3d.Manifold:
    """An upright frustum between two heights about a place."""
    return manifold3d.Manifold.cylinder(high - low, wide, narrow, 128).translate([*place, low])


@pytest.fixture
def empty(trial: Trial, kernel: MeshKernel) -> Bench:
    """A space without anything in it."""
    room = trial.room
    usable = ({"z": 0, "width": 146, "depth": 146}, {"z": 90, "width": 146, "depth": 146})
    space = trial.kit.spaces[0].model_copy(
        update={
            "usable": tuple(k.UsableAt.model_validate(one) for one in usable),
            "height": 90.0, "blocked": (), "cell_origin": (1.0, 1.0), "cols": SIDE, "rows": SIDE, "liners": (offer(),),
        }
    )  # fmt: skip
    kit = trial.kit.model_copy(
        update={"parts": (), "placements": (), "pieces": (), "lots": (), "spaces": (space,), "bedfuls": ()}
    )
    return Bench(kit, room, {}, kernel)


@pytest.fixture
def liner() -> PanelSpec:
    """A panel for all cells of the space."""
    return PanelSpec(SIDE, SIDE, (), first_has_cone=True, slots=())


@pytest.fixture
def lined(empty: Bench, module: Module, liner: PanelSpec) -> Bench:
    """The space with its panel."""
    return empty.having("panel", panel(module, liner), at(1.2, 1.2))


def cell(col: int, row: int, z: float = 0.6) -> k.Matrix:
    """Where a part begins whose first cell is this one: half of the least gap between parts inside it."""
    return at(1.0 + col * PITCH + 0.3, 1.0 + row * PITCH + 0.3, z)


@pytest.fixture
def small(module: Module) -> Part:
    """A plain tray of 3 x 2 cells."""
    return tray(module, cols=3, rows=2, height=24.0)


@pytest.fixture
def stood(lined: Bench, small: Part) -> Bench:
    """The space with its panel and a tray on it."""
    return lined.having("tray", small, cell(1, 2), on=("panel",))
