"""What is known of one thing of published size: its shape, its largest dimensions, its mass, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nookwright.survey.models import Shape

DIMENSIONS = {
    Shape.BOX: ("width", "depth", "height"),
    Shape.ROUND: ("diameter", "height"),
    Shape.FLAT: ("width", "depth", "thickness"),
    Shape.LOOSE: (),
}


class Sureness(StrEnum):
    """How sure a figure is."""

    PRIMARY = "primary text read"
    SEVERAL = "several sources agree"
    SINGLE = "one secondary source"
    CALCULATED = "calculated"
    MEMORY = "from memory"


@dataclass(frozen=True)
class Limits:
    """The largest that a dimension may be, and the smallest where it is published, in mm."""

    largest: float
    smallest: float | None = None


@dataclass(frozen=True)
class StandardSize:
    """One thing of published size.

    Attributes:
        designation: what people write; compared without regard to case and blanks.
        what: what it is, in words.
        shape: its shape as it is kept.
        limits: the dimensions of that shape, in the order of ``DIMENSIONS``; ``None`` for one that the lot must give.
        source: document of the dimensions.
        sureness: how sure they are.
        mass_g: mass of one, or ``None`` where the lot must give it.
        mass_source: where the mass comes from.
        aliases: other designations in use.
    """

    designation: str
    what: str
    shape: Shape
    limits: tuple[Limits | None, ...]
    source: str
    sureness: Sureness
    mass_g: float | None = None
    mass_source: str = ""
    aliases: tuple[str, ...] = ()

    @property
    def dimensions(self) -> dict[str, Limits]:
        """The published dimensions by name."""
        named = zip(DIMENSIONS[self.shape], self.limits, strict=True)
        return {name: limits for name, limits in named if limits is not None}

    @property
    def left_open(self) -> tuple[str, ...]:
        """The dimensions, and perhaps ``mass_g``, that the lot itself must give."""
        names = [name for name in DIMENSIONS[self.shape] if name not in self.dimensions]
        return (*names, "mass_g") if self.mass_g is None else tuple(names)
