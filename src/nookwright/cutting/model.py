"""What the cutting stage gives: pieces, each a recipe again, with its place in the part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import KERNEL

if TYPE_CHECKING:
    from nookwright.module.estimates import Plastic
    from nookwright.parts.model import Part
    from nookwright.shapes.solids import Solid


@dataclass(frozen=True)
class Piece:
    """What is printed as one.

    Attributes:
        name: for people and files.
        recipe: its shape; the front left corner of its bounding box is at the origin.
        x, y: where its origin lies in the part, mm. Pieces are never turned in their part.
        plastic: what it costs, in closed form.
    """

    name: str
    recipe: Solid
    x: float
    y: float
    plastic: Plastic

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


@dataclass(frozen=True)
class CutPart:
    """A part and the pieces that it is printed as; one piece where it was not cut."""

    part: Part
    pieces: tuple[Piece, ...]
    keys: tuple[KeyPlace, ...]


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
