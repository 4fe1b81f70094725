"""What the cutting stage gives: pieces, each a recipe again, with its place in the part."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from nookwright.module.estimates import Plastic
    from nookwright.parts.model import Part
    from nookwright.shapes.solids import Solid


class Axis(IntEnum):
    """What a cut is across."""

    X = 0
    Y = 1
    HEIGHT = 2


@dataclass(frozen=True)
class Piece:
    """What is printed as one.

    Attributes:
        name: for people and files.
        recipe: its shape; the front left corner of its bounding box is at the origin.
        x, y: where its origin lies in the part, mm. Pieces are never turned in their part.
        plastic: what it costs, in closed form.
        z: how high its origin lies in the part, mm; more than 0 where a part that is too tall was cut across.
    """

    name: str
    recipe: Solid
    x: float
    y: float
    plastic: Plastic
    z: float = 0.0

    @property
    def size(self) -> tuple[float, float, float]:
        """Outer size, mm."""
        x0, y0, z0, x1, y1, z1 = self.recipe.bounds
        return x1 - x0, y1 - y0, z1 - z0


@dataclass(frozen=True)
class KeyPlace:
    """Where a loose key lies in a part: its middle, and whether it lies along x (across a border that runs along y)."""

    x: float
    y: float
    along_x: bool


class Hold(StrEnum):
    """What holds two pieces of a cut part in line."""

    TONGUES = "tongues"  # dovetails in the floor, dropped in from above
    PINS = "pins"  # cut by hand, in holes across the joint
    LAPS = "laps"  # tongues of the lower piece, inside the walls of the upper one
    FACES = "faces"  # nothing but the glue; the liner keeps them in line


@dataclass(frozen=True)
class Pin:
    """A pin that the person cuts, and its hole.

    Attributes:
        name: what it is cut from.
        diameter: of it, mm.
        hole: from flat to flat, mm.
        depth: of the hole in each piece, mm.
    """

    name: str
    diameter: float
    hole: float
    depth: float

    @property
    def length(self) -> float:
        """To cut it to, mm: the holes are a little deeper."""
        return 2 * self.depth - 1


@dataclass(frozen=True)
class Lap:
    """A tongue that stands up inside a wall, past a cut across the height: the box of it in the part, mm.

    Attributes:
        low, high: corners; it is all that pieces have beyond their part.
    """

    low: tuple[float, float, float]
    high: tuple[float, float, float]


@dataclass(frozen=True)
class Joint:
    """Where two pieces of a part meet.

    Attributes:
        hold: what holds them in line.
        axis: what the cut is across.
        at: place of the cut along that axis, in the part, mm.
        span: from where to where it goes along the other axis, mm; along x where it is across the height.
        across: of a cut across the height, from where to where it goes along y, mm.
        places: of tongues or pins: along the other axis, and height of the middle; tongues have height 0, mm. Of a cut
            across the height: along x and y.
        pin: what pins there are.
        dry: whether the pieces may stay unglued where the part stands.
        laps: of a cut across the height.
        area_mm2: of the two faces that are glued, one of them.
    """

    hold: Hold
    axis: int
    at: float
    span: tuple[float, float]
    places: tuple[tuple[float, float], ...] = ()
    pin: Pin | None = None
    dry: bool = False
    laps: tuple[Lap, ...] = ()
    area_mm2: float = 0.0
    across: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class CutPart:
    """A part and the pieces that it is printed as; one piece where it was not cut."""

    part: Part
    pieces: tuple[Piece, ...]
    keys: tuple[KeyPlace, ...]
    joints: tuple[Joint, ...] = ()


def uncut(part: Part) -> CutPart:
    """A part that is printed as one piece."""
    return CutPart(part, (Piece(part.name, part.recipe, 0.0, 0.0, part.plastic),), ())


@dataclass(frozen=True)
class Bed:
    """The room on a bed for one piece, mm, margins taken off."""

    width: float
    depth: float
    height: float

    def holds(self, width: float, depth: float, height: float) -> bool:
        """Whether a piece lies on it, turned or not."""
        sides = sorted((width, depth)), sorted((self.width, self.depth))
        flat = all(piece <= room + KERNEL for piece, room in zip(*sides, strict=True))
        return flat and height <= self.height + KERNEL
