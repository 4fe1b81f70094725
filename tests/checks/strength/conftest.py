"""A bench on which single parts are loaded: a kit of nothing but what a test puts there, and its meshes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import pytest
from tests.checks.conftest import Trial, arrays, box, moved

from nookwright.checks.bodies import Shape, shape_of
from nookwright.checks.strength.loads import Carried
from nookwright.checks.verdicts import Verdicts
from nookwright.exchange import kit as k
from nookwright.ground.digest import digest
from nookwright.survey.models import SpaceKind

if TYPE_CHECKING:
    import manifold3d

    from nookwright.survey.models import Room

NOTHING = Verdicts(None)


def shape(solid: manifold3d.Manifold) -> Shape:
    """A solid as a check sees it."""
    vertices, triangles = arrays(solid)
    return shape_of(digest(vertices.tobytes() + triangles.tobytes()), vertices, triangles)


def vessel(
    width: float = 120.0, depth: float = 80.0, height: float = 60.0, *, wall: float = 1.2, floor: float = 1.0
) -> manifold3d.Manifold:
    """An open box with square corners."""
    hollow = box(width - 2 * wall, depth - 2 * wall, height, at=(wall, wall, floor))
    return box(width, depth, height) - hollow


@dataclass(frozen=True)
class Bench:
    """A kit of single parts, their meshes, and the room."""

    kit: k.Kit
    room: Room
    shapes: dict[str, Shape]

    @property
    def carried(self) -> Carried:
        """What its parts carry."""
        return Carried(self.kit, self.room)

    def part(self, name: str, kind: str, solid: manifold3d.Manifold, *, mass_g: float = 50.0, **more: Any) -> Bench:  # noqa: ANN401 - keys of a part
        """With one more part, printed standing as it is used unless ``printed`` turns it."""
        mesh = shape(solid)
        low, high = mesh.box
        printed = more.pop("printed", moved())
        material = more.pop("material", "grey")
        size = tuple(float(side) for side in high - low)
        same = {"recipe": digest(name), "size": size, "volume_mm3": solid.volume(), "mass_g": mass_g, "time_s": 1.0}
        described = {"id": name, "kind": kind, "name": more.pop("called", name), "parameters": {}, **same}
        part = k.KitPart.model_validate(described | {"stl": f"{name}.stl", "stl_sha256": digest(name), **more})
        piece = {"id": name, "part": name, "part_from_piece": printed, "count": 1, "material": material, **same}
        made = k.Piece.model_validate(piece | {"colour": "#808080", "file": f"{name}.stl", "stl_sha256": digest(name)})
        kit = self.kit.model_copy(update={"parts": (*self.kit.parts, part), "pieces": (*self.kit.pieces, made)})
        return replace(self, kit=kit, shapes=self.shapes | {f"{name}.stl": mesh})

    def stands(self, part: str, x: float = 0.0, y: float = 0.0, z: float = 0.6, **more: Any) -> Bench:  # noqa: ANN401 - keys of a placement
        """With a part in its place; the placement is called like the part unless ``named``."""
        name = more.pop("named", part)
        placed = {"id": name, "part": part, "space": "left", "label": name, "stands_on": ()}
        placed |= {"space_from_part": moved(x, y, z), **more}
        one = k.Placement.model_validate(placed)
        return replace(self, kit=self.kit.model_copy(update={"placements": (*self.kit.placements, one)}))

    def holds(self, placement: str, mass_g: float, size: k.Size, *, count: int = 1, stance: str = "upright") -> Bench:
        """With things in a placed part; the lot is called as the first one of the room."""
        part = next(one.part for one in self.kit.placements if one.id == placement)
        place = {"placement": placement, "part": part, "count": count, "stance": stance, "size": size}
        place |= {"round_axis": "", "at": [(size[0] / 2, size[1] / 2, 1.0)]}
        described = {"id": "dice", "name": "dice", "count": count, "mass_g": mass_g, "places": [place]}
        lot = k.KitLot.model_validate(described)
        weighed = tuple(
            one.model_copy(update={"mass_g": mass_g / count, "count": count}) if one.id == "dice" else one
            for one in self.room.lot
        )
        room = self.room.model_copy(update={"lot": weighed})
        return replace(self, kit=self.kit.model_copy(update={"lots": (*self.kit.lots, lot)}), room=room)

    def ordered(self, part: str) -> Bench:
        """With a part made to order."""
        order = k.KitOrder(id=f"my-{part}", part=part, count=1)
        return replace(self, kit=self.kit.model_copy(update={"orders": (*self.kit.orders, order)}))

    def in_space(self, **changes: Any) -> Bench:  # noqa: ANN401 - keys of a space
        """With the space surveyed otherwise."""
        spaces = tuple(one.model_copy(update=changes) for one in self.room.space)
        return replace(self, room=self.room.model_copy(update={"space": spaces}))

    def of(self, **changes: Any) -> Bench:  # noqa: ANN401 - keys of a material
        """With the material otherwise."""
        materials = tuple(one.model_copy(update=changes) for one in self.room.material)
        return replace(self, room=self.room.model_copy(update={"material": materials}))


@pytest.fixture
def bench(trial: Trial) -> Bench:
    """An empty drawer of 100 x 80 x 60 mm whose parts are of grey PLA."""
    nothing = dict.fromkeys(("parts", "pieces", "placements", "lots", "orders", "bedfuls"), ())
    return Bench(trial.kit.model_copy(update=nothing), trial.room, {}).in_space(kind=SpaceKind.DRAWER)
