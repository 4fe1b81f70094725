"""Pockets in the shape of what they hold: what all have in common, and those turned about an axis.

A pocket's own axes: its middle at x = y = 0, its floor at z = 0, its mouth at a height that the part gives. Sizes are
those of the pocket, clearance included. No pocket is narrower above than below, so whatever goes in lifts out, and it
prints without support since nothing overhangs.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import frustum_mm3
from nookwright.parts.cradles.plan_outlines import RoundedBox
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.node import snapped
from nookwright.shapes.solids import Revolution, Solid

LEAD_IN_DEFAULT = Fact(
    1.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A chamfer of 1 at 45 degrees leads a thing in by eye."
)
LEAST_POCKET = Fact(
    3.0, unit="mm", kind=SourceKind.CHOICE, source="Narrower printed holes close up or are drilled better than printed."
)

RadiusAtHeight = tuple[float, float]


@dataclass(frozen=True)
class Pocket:
    """A pocket of any shape; the base of all."""

    def __post_init__(self) -> None:
        self._check()

    @property
    def words(self) -> str:
        """Kind and sizes, for people and for the parameters of a part."""
        raise NotImplementedError

    def outline(self, height: float, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The box or circle around its section at a height above its floor, about a middle."""
        raise NotImplementedError

    def cutter(self, height: float, lead_in: float) -> Solid:
        """What is cut away: open above, its mouth at a height above the floor, with a chamfer of 45 degrees."""
        raise NotImplementedError

    def volume_mm3(self, height: float, lead_in: float) -> float:
        """What is cut away between floor and mouth."""
        raise NotImplementedError

    def floor_outline(self, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The box or circle within its section at its floor, about a middle."""
        raise NotImplementedError

    def lowest(self) -> float:
        """The least height of a mouth that shows the pocket's whole shape, without its chamfer."""
        return 0.0

    def _check(self) -> None:
        """Refuse sizes that cannot be made."""

    def _require_size(self, **sizes: float) -> None:
        for name, size in sizes.items():
            if not size >= LEAST_POCKET:
                refuse_part(
                    f"a {type(self).__name__.lower()} pocket",
                    f"its {name} can be printed",
                    found=f"{size:g}",
                    allowed=f"at least {LEAST_POCKET:g}",
                    remedy="Keep things so thin lying in a tray.",
                )


@dataclass(frozen=True)
class Revolved(Pocket):
    """A pocket turned about its axis; the base of those that are."""

    def profile(self, height: float) -> tuple[RadiusAtHeight, ...]:
        """Radii and heights from the floor up to a height, never narrower above."""
        raise NotImplementedError

    def outline(self, height: float, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The circle at a height."""
        radius = self.profile(height)[-1][0]
        return RoundedBox(x, y, radius, radius, radius)

    def cutter(self, height: float, lead_in: float) -> Solid:
        """The profile, its chamfer, and the overshoot, turned once round."""
        points = self._with_chamfer(height, lead_in)
        corners = [(0.0, 0.0), *points, (points[-1][0], height + OVERSHOOT), (0.0, height + OVERSHOOT)]
        kept: list[RadiusAtHeight] = []
        for radius, z in corners:
            corner = snapped(radius), snapped(z)
            if not kept or corner != kept[-1]:
                kept.append(corner)
        return Revolution(tuple(kept))

    def volume_mm3(self, height: float, lead_in: float) -> float:
        """The frusta of its profile."""
        points = self._with_chamfer(height, lead_in)
        return sum(frustum_mm3(low, high, z1 - z0) for (low, z0), (high, z1) in pairwise(points))

    def floor_outline(self, x: float = 0.0, y: float = 0.0) -> RoundedBox:
        """The circle at the floor."""
        radius = self.profile(1.0)[0][0]
        return RoundedBox(x, y, radius, radius, radius)

    def _with_chamfer(self, height: float, lead_in: float) -> tuple[RadiusAtHeight, ...]:
        if not lead_in:
            return self.profile(height)
        points = self.profile(height - lead_in)
        widest = max(points[-1][0] + lead_in, self.profile(height)[-1][0])
        return (*points, (widest, height))


@dataclass(frozen=True)
class Round(Revolved):
    """A cylinder."""

    diameter: float

    @property
    def words(self) -> str:
        """Kind and diameter."""
        return f"round {self.diameter:g}"

    def profile(self, height: float) -> tuple[RadiusAtHeight, ...]:
        """The same radius all the way."""
        return (self.diameter / 2, 0.0), (self.diameter / 2, height)

    def _check(self) -> None:
        self._require_size(diameter=self.diameter)


@dataclass(frozen=True)
class Tapered(Revolved):
    """A cone that follows a cup or a bottle that is wider above.

    Attributes:
        foot: diameter at the floor.
        top: diameter at ``over``, and above it.
        over: height over which it widens.
    """

    foot: float
    top: float
    over: float

    @property
    def words(self) -> str:
        """Kind and sizes."""
        return f"tapered {self.foot:g} to {self.top:g} over {self.over:g}"

    def profile(self, height: float) -> tuple[RadiusAtHeight, ...]:
        """Widening evenly, then upright."""
        low, high = self.foot / 2, self.top / 2
        if height <= self.over:
            return (low, 0.0), (low + (high - low) * height / self.over, height)
        return (low, 0.0), (high, self.over), (high, height)

    def _check(self) -> None:
        self._require_size(foot=self.foot, height=self.over)
        if not self.top >= self.foot:
            refuse_part(
                "a tapered pocket",
                "it is wider above, or the thing does not lift out",
                found=f"{self.top:g} above {self.foot:g}",
                allowed=f"a top of at least {self.foot:g}",
                remedy="Stand the thing on its wider end, in a round pocket.",
            )


@dataclass(frozen=True)
class Funnel(Revolved):
    """A wide cylinder on a seat of 45 degrees, which centres bodies that vary by their lower edge.

    Attributes:
        diameter: above the seat, for the largest body.
        narrowest: diameter of the seat at the floor, less than that of the smallest body.
    """

    diameter: float
    narrowest: float

    @property
    def words(self) -> str:
        """Kind and sizes."""
        return f"funnel {self.diameter:g} on {self.narrowest:g}"

    def profile(self, height: float) -> tuple[RadiusAtHeight, ...]:
        """The seat, then upright."""
        low, high = self.narrowest / 2, self.diameter / 2
        if height <= self.lowest():
            return (low, 0.0), (low + height, height)
        return (low, 0.0), (high, high - low), (high, height)

    def lowest(self) -> float:
        """The height of its seat."""
        return (self.diameter - self.narrowest) / 2

    def _check(self) -> None:
        self._require_size(diameter=self.diameter, seat=self.narrowest)
        if not self.narrowest < self.diameter:
            refuse_part(
                "a funnel pocket",
                "its seat narrows",
                found=f"{self.narrowest:g} below {self.diameter:g}",
                allowed=f"less than {self.diameter:g}",
                remedy="Take a round pocket where bodies do not vary.",
            )


def seat_height(diameter: float, narrowest: float) -> float:
    """How high above the floor a body of a diameter stands on a seat of 45 degrees, mm.

    >>> seat_height(20, 16), seat_height(16, 16)
    (2.0, 0.0)
    """
    return max(0.0, (diameter - narrowest) / 2)


@dataclass(frozen=True)
class Placed:
    """A pocket with its middle in a part, mm from the part's front left corner."""

    pocket: Pocket
    x: float
    y: float
