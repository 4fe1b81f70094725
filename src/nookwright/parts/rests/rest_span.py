"""Where the supports of a long thing stand, and which dowels tie them: spans in whole cells, sizes as they are sold.

Two supports stand at the Bessel points, 0.2203 of the length from each end, where a bar changes its length least and
sags nearly least; more of them stand length / sqrt(n^2 - 1) apart, after Airy. Both are textbook points for even bars.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from nookwright.ground.sources import Fact, Kind
from nookwright.module.rests import BESSEL, WOOD_LOOSE
from nookwright.module.seat import outer_size
from nookwright.parts.refusals import refuse_part

PAIR = Fact(2, unit="supports", kind=Kind.CHOICE, source="One support is a pocket: a long thing tips from it.")
STEEL_LOOSE = Fact(
    0.3,
    unit="mm",
    kind=Kind.COMMON_PRACTICE,
    source="Hole over a ground pin: a printed hole comes out 0.1 to 0.3 small.",
)
BLIND_LEFT = Fact(
    1.5,
    unit="mm",
    kind=Kind.HANDBOOK,
    source="A dowel is cut shorter than its holes by this a joint, for glue and dirt.",
)
WOOD = (6.0, 8.0, 10.0)  # trade sizes of wood dowels, mm
STEEL = (4.0, 5.0, 6.0, 8.0)  # ISO 2338 and ISO 8734 parallel pins, mm


class DowelStuff(StrEnum):
    """What a dowel is made of."""

    WOOD = "wood"
    STEEL = "steel"


@dataclass(frozen=True)
class Dowel:
    """A round bar as the trade sells it.

    Attributes:
        diameter: nominal, mm.
        stuff: wood or steel.
    """

    diameter: float
    stuff: DowelStuff = DowelStuff.WOOD

    def __post_init__(self) -> None:
        sold = WOOD if self.stuff is DowelStuff.WOOD else STEEL
        if self.diameter not in sold:
            refuse_part(
                f"a {self.stuff} dowel",
                "its diameter is sold",
                found=f"{self.diameter:g}",
                allowed=", ".join(f"{size:g}" for size in sold),
                remedy="Take the next size.",
            )

    @property
    def hole(self) -> float:
        """Diameter of its hole, mm."""
        loose = WOOD_LOOSE if self.stuff is DowelStuff.WOOD else STEEL_LOOSE
        return round(self.diameter + loose, 4)

    @property
    def words(self) -> str:
        """For people and for the parameters of a part."""
        return f"{self.stuff} {self.diameter:g}"


def support_points(length: float, count: int) -> tuple[float, ...]:
    """Where supports belong under an even bar, from its end, mm.

    Args:
        length: of the bar, mm.
        count: supports, 2 or more.

    Raises:
        RecipeError: fewer than two.

    >>> support_points(300, 2), tuple(round(point, 1) for point in support_points(300, 3))
    ((66.09, 233.91), (43.9, 150.0, 256.1))
    """
    if count < PAIR:
        refuse_part("a rest", "a long thing lies on two supports or more", found=count, allowed="2 or more",
                    remedy="Take a cradle.")  # fmt: skip
    if count <= PAIR:
        return round(BESSEL * length, 6), round((1 - BESSEL) * length, 6)
    apart = length / math.sqrt(count**2 - 1)
    first = (length - (count - 1) * apart) / 2
    return tuple(first + apart * number for number in range(count))


def support_cells(length: float, count: int, *, pitch: float, rows: int) -> tuple[int, ...]:
    """First cell of each support along the thing, the first support at 0: spans rounded to whole cells.

    Args:
        length: of the thing, mm.
        count: supports, 2 or more.
        pitch: cell size, mm.
        rows: cells of one support along the thing.

    Raises:
        RecipeError: the thing is so short that two supports would stand in the same cells.
    """
    points = support_points(length, count)
    cells = tuple(round((point - points[0]) / pitch) for point in points)
    if not length > 0 or any(b - a < rows for a, b in pairwise(cells)):
        first, second, *_ = support_points(1.0, count)
        least = rows * pitch / (second - first)
        refuse_part(
            "a rest", "its supports stand in cells of their own", found=f"a thing of {length:g} on {count}",
            allowed=f"about {least:.0f} long or more", remedy="Take fewer or shorter supports, or a cradle.",
        )  # fmt: skip
    return cells


def dowel_length(cells: tuple[int, ...], *, pitch: float, rows: int, inset: float) -> float:
    """Length of a dowel through all supports, or into the blind holes of the outer ones, down to half a millimetre, mm.

    Args:
        cells: first cell of each support along the thing.
        pitch: cell size, mm.
        rows: cells of one support along the thing.
        inset: from the outer faces of the outer supports to the ends of their holes, mm; 0 where they go through.

    >>> dowel_length((0, 9), pitch=18.0, rows=1, inset=0.0)
    176.0
    """
    between_faces = (cells[-1] - cells[0]) * pitch + outer_size(rows, pitch)
    return math.floor(2 * (between_faces - 2 * (inset + BLIND_LEFT))) / 2
