"""Pockets that are not turned about an axis: boxes with sharp or round corners, and regular polygons."""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.parts.cradles.plan_outlines import RoundedBox
from nookwright.parts.cradles.pocket import Pocket
from nookwright.parts.refusals import refuse_part
from nookwright.parts.swollen_rim import rounded_rect
from nookwright.shapes.outline_rules import FEWEST
from nookwright.shapes.regions import Circle, Polygon
from nookwright.shapes.solids import Move, Prism, Solid, Taper, Union

MOST_CORNERS = Fact(12, unit="1", kind=Kind.CHOICE, source="With more corners a round pocket holds as well.")
BELOW = Fact(
    0.2,
    unit="mm",
    kind=Kind.CHOICE,
    source="A chamfer starts this deep inside a pocket, so that it cuts through it.",
)


@dataclass(frozen=True)
class Boxed(Pocket):
    """A box with upright walls, its corners sharp or round.

    Attributes:
        width: along x.
        depth: along y.
        radius: of the upright corners.
    """

    width: float
    depth: float
    radius: float = 0.0

    @property
    def words(self) -> str:
        """Kind and sizes."""
        corners = f" r{self.radius:g}" if self.radius else ""
        return f"box {self.width:g}x{self.depth:g}{corners}"

    def outline(self, height: float, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The same box at every height."""
        del height
        return RoundedBox(x, y, self.width / 2, self.depth / 2, self.radius)

    def cutter(self, height: float, lead_in: float) -> Solid:
        """A prism, and a taper that widens through its mouth."""
        box = rounded_rect(self.width, self.depth, self.radius)
        shaft = Move(Prism(box, height + OVERSHOOT), x=-self.width / 2, y=-self.depth / 2)
        if not lead_in:
            return shaft
        less = float(BELOW)
        foot = rounded_rect(self.width - 2 * less, self.depth - 2 * less, self.radius - less)
        high = less + lead_in + OVERSHOOT
        mouth = Move(
            Taper(foot, high, -high), x=less - self.width / 2, y=less - self.depth / 2, z=height - lead_in - less
        )
        return Union((shaft, mouth))

    def volume_mm3(self, height: float, lead_in: float) -> float:
        """Prism and chamfer; the corners of the chamfer are left out."""
        area = self.width * self.depth - (4 - math.pi) * self.radius**2
        round_it = 2 * (self.width + self.depth) - 2 * (4 - math.pi) * self.radius
        return area * height + round_it * lead_in**2 / 2

    def floor_outline(self, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The box."""
        return self.outline(0.0, x, y)

    def _check(self) -> None:
        self._require_size(width=self.width, depth=self.depth)
        most = min(self.width, self.depth) / 2
        if not 0 <= self.radius <= most:
            refuse_part(
                "a boxed pocket",
                "the corner radius fits the shorter side",
                found=f"{self.radius:g}",
                allowed=f"0 to {most:g}",
                remedy="Take a round pocket.",
            )


@dataclass(frozen=True)
class Cornered(Pocket):
    """A regular polygon with a flat to the right, such as for a hexagonal shank.

    Attributes:
        corners: how many.
        across: diameter of the circle within: across the flats, where corners are even.
    """

    corners: int
    across: float

    @property
    def words(self) -> str:
        """Kind and size."""
        return f"{self.corners} corners {self.across:g} across"

    @property
    def round_about(self) -> float:
        """Radius of the circle through its corners."""
        return self.across / 2 / math.cos(math.pi / self.corners)

    def outline(self, height: float, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The circle through its corners: the sleeve of a polygon is round, which prints in one sweep."""
        del height
        return RoundedBox(x, y, self.round_about, self.round_about, self.round_about)

    def cutter(self, height: float, lead_in: float) -> Solid:
        """A prism, and a cone that takes off the edges at the mouth as the chamfer of a nut does."""
        half = math.pi / self.corners
        angles = [(2 * number - 1) * half for number in range(self.corners)]
        points = tuple((self.round_about * math.cos(a), self.round_about * math.sin(a)) for a in angles)
        shaft = Prism(Polygon(points), height + OVERSHOOT)
        if not lead_in:
            return shaft
        less, high = float(BELOW), BELOW + lead_in + OVERSHOOT
        return Union((shaft, Move(Taper(Circle(self.across / 2 - less), high, -high), z=height - lead_in - less)))

    def volume_mm3(self, height: float, lead_in: float) -> float:
        """Prism and chamfer; the corners are counted as chamfered too."""
        area = self.corners * (self.across / 2) ** 2 * math.tan(math.pi / self.corners)
        return area * height + math.pi * self.across * lead_in**2 / 2

    def floor_outline(self, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The circle that touches its flats."""
        return RoundedBox(x, y, self.across / 2, self.across / 2, self.across / 2)

    def _check(self) -> None:
        self._require_size(across=self.across)
        if not FEWEST <= self.corners <= MOST_CORNERS or self.corners != int(self.corners):
            refuse_part(
                "a cornered pocket",
                "it has corners that count",
                found=self.corners,
                allowed=f"{FEWEST:g} to {MOST_CORNERS:g}",
                remedy="Take a round pocket.",
            )
