"""What the parts stage gives: a recipe with its name, its parameters and its plastic in closed form."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from nookwright.module.estimates import Plastic
    from nookwright.shapes.solids import Solid

Value = bool | int | float | str | tuple[float, ...] | tuple[tuple[float, float], ...]


class Kind(StrEnum):
    """Kinds of part."""

    TRAY = "tray"
    DIVIDER = "divider"
    NAME_STRIP = "name strip"
    CRADLE = "cradle"
    REST = "rest"
    LID = "lid"
    RISER = "riser"
    CAP = "cap"
    SHOE = "shoe"
    NEST = "nest"
    DRAWER = "drawer"
    PANEL = "panel"
    FILLER = "filler"
    KEY = "key"
    FENCE = "fence"
    RACK = "rack"
    COUPON = "coupon"
    GAUGE = "gauge"


@dataclass(frozen=True)
class Part:
    """What is used as one.

    Attributes:
        kind: what it is.
        name: for people, with the outer size, such as ``tray 107x143 h48``.
        parameters: everything that it was made from, sorted by name.
        recipe: its shape; the front left corner of its bounding box is at the origin.
        plastic: what it costs, in closed form.
    """

    kind: Kind
    name: str
    parameters: tuple[tuple[str, Value], ...]
    recipe: Solid
    plastic: Plastic

    @property
    def size(self) -> tuple[float, float, float]:
        """Outer size, mm."""
        _, _, _, width, depth, height = self.recipe.bounds
        return width, depth, height

    @property
    def seated(self) -> bool:
        """Whether it stands on cones."""
        return self.kind in (Kind.TRAY, Kind.CRADLE, Kind.REST, Kind.RISER, Kind.SHOE, Kind.NEST, Kind.FENCE)


def size_name(width: float, depth: float) -> str:
    """A footprint as people say it, in whole mm.

    >>> size_name(107.4, 143.4)
    '107x143'
    """
    return f"{width:.0f}x{depth:.0f}"


@dataclass(frozen=True)
class Example:
    """A part of the family at one size, for tests, pictures and the docs.

    Attributes:
        size: smallest, middle or largest of its variant.
        part: the part.
        genus: handles of its surface, by the formula of its kind.
        components: bodies that it consists of; 1 for everything that is printed as one.
    """

    size: str
    part: Part
    genus: int
    components: int = 1
