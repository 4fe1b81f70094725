"""Things of published size, found by their designation: ``R6``, ``A5``, ``hex key 4``, ``M5x16 ISO 4762``.

Promise: a size is the largest that its source allows, so that what is made for it holds every sample; the smallest is
kept beside it where the source gives one. Each row says where its figures come from and how sure they are.
What it does not know: the whole of any standard. Single figures are facts; the tables belong to their publishers.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from nookwright.survey.models import Shape

DIMENSIONS = {
    Shape.BOX: ("width", "depth", "height"),
    Shape.ROUND: ("diameter", "height"),
    Shape.FLAT: ("width", "depth", "thickness"),
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


def find_standard(designation: str) -> StandardSize | None:
    """The thing of a designation, or ``None``.

    >>> find_standard("r6").dimensions["diameter"].largest
    14.5
    >>> find_standard("M5 x 16 ISO 4762").dimensions["height"].largest
    21.0
    >>> find_standard("R99") is None
    True
    """
    from nookwright.survey.fasteners import screw

    return _by_name().get(_plain(designation)) or screw(designation)


def nearest_standards(designation: str, count: int = 3) -> tuple[str, ...]:
    """The designations that look most like one that is not known, the likeliest first."""
    names = {_plain(size.designation): size.designation for size in all_standards()}
    close = difflib.get_close_matches(_plain(designation), list(names), n=count, cutoff=0.3)
    return tuple(names[name] for name in close) or tuple(sorted(names.values())[:count])


@cache
def all_standards() -> tuple[StandardSize, ...]:
    """Every row, in the order of the tables; of each kind of screw one example stands for all lengths."""
    from nookwright.survey.fasteners import NUTS, WASHERS, screw_examples
    from nookwright.survey.standard_tables import TABLES

    return (*TABLES, *screw_examples(), *NUTS, *WASHERS)


@cache
def _by_name() -> dict[str, StandardSize]:
    """All rows by plain designation and alias."""
    return {_plain(name): size for size in all_standards() for name in (size.designation, *size.aliases)}


def _plain(designation: str) -> str:
    """A designation without the differences that do not matter."""
    text = designation.casefold().replace(",", ".").replace("×", "x")
    return re.sub(r"\s+", "", text)
