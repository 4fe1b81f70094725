"""Slots of a rest, as outlines in its front view: x to the right, z up, open above.

A blade stands edge down, deeper than it is high, so that nothing of it is free at a support; or two cover ribs stand
beside it as high as is missing. A long tool lies in a V of 90 degrees, which holds any diameter up to its own, or in
a U.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.rests import BLADE_PLAY, COVER, DEEP_SHARE, HANDLE_CLEAR, MOUTH, TOOL_PLAY, UNDER
from nookwright.module.seat import whole_layers
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.regions import Circle, Polygon, Rect, Region, RegionMove, RegionUnion
from nookwright.survey.blades import LEAST_SPINE

LEAST_TOOL = Fact(3.0, unit="mm", kind=Kind.CHOICE, source="Thinner tools are kept in a tray.")

LEAST_SHARE = Fact(0.5, unit="1", kind=Kind.CALCULATED, source="A U less deep than half its tool lets it roll out.")

Point = tuple[float, float]


@dataclass(frozen=True)
class Slot:
    """A slot with its middle at ``x``, mm from the left side of the support; the base of all."""

    x: float

    @property
    def words(self) -> str:
        """Kind and sizes."""
        raise NotImplementedError

    @property
    def half(self) -> float:
        """Half its width at the rim."""
        raise NotImplementedError

    def bottom(self, rim: float, dome: float, layer: float) -> float:
        """Height of its lowest point above the part's underside.

        Args:
            rim: height of the support, mm.
            dome: height that the sockets take, mm.
            layer: the common layer, mm.
        """
        raise NotImplementedError

    def rim(self, dome: float, layer: float) -> float:
        """The least height of the rim beside it, in whole layers, mm."""
        raise NotImplementedError

    def region(self, rim: float, bottom: float) -> Region:
        """What is cut away, in (x, z), open above."""
        raise NotImplementedError

    def area_mm2(self, rim: float, bottom: float) -> float:
        """Area of the slot below a rim."""
        raise NotImplementedError

    def corners(self, rim: float, bottom: float) -> tuple[Point, ...]:
        """A convex outline around it, for distances."""
        raise NotImplementedError


@dataclass(frozen=True)
class BladeSlot(Slot):
    """A slot for a blade that stands on its edge.

    Attributes:
        thickness: of the blade's back, mm.
        blade_height: from edge to back at this support, mm.
        handle_drop: how far the handle reaches below the edge, mm.
    """

    thickness: float
    blade_height: float
    handle_drop: float = 0.0

    @property
    def words(self) -> str:
        """Kind and sizes."""
        return f"blade {self.thickness:g} x {self.blade_height:g}"

    @property
    def width(self) -> float:
        """Of the slot below its chamfer, mm."""
        return self.thickness + BLADE_PLAY

    @property
    def half(self) -> float:
        """Half the width of its mouth."""
        return self.width / 2 + MOUTH

    def bottom(self, rim: float, dome: float, layer: float) -> float:
        """Above the sockets, and so high that the handle hangs free."""
        del rim
        return whole_layers(max(dome + UNDER, self.handle_drop + HANDLE_CLEAR), layer)

    def rim(self, dome: float, layer: float) -> float:
        """Over the back of the blade."""
        return whole_layers(self.bottom(0.0, dome, layer) + self.blade_height + COVER, layer)

    def region(self, rim: float, bottom: float) -> Region:
        """A slit with a chamfered mouth."""
        half, over = self.width / 2, OVERSHOOT
        return Polygon(
            (
                (self.x - half, bottom),
                (self.x + half, bottom),
                (self.x + half, rim - MOUTH),
                (self.x + half + MOUTH + over, rim + over),
                (self.x - half - MOUTH - over, rim + over),
                (self.x - half, rim - MOUTH),
            )
        )

    def area_mm2(self, rim: float, bottom: float) -> float:
        """Slit and chamfers."""
        return self.width * (rim - bottom) + MOUTH**2

    def corners(self, rim: float, bottom: float) -> tuple[Point, ...]:
        """The box around its mouth and its slit."""
        return _box(self.x, self.half, bottom, rim)


@dataclass(frozen=True)
class _ToolSlot(Slot):
    """A slot for a round tool.

    Attributes:
        diameter: of the tool, mm.
    """

    diameter: float

    def rim(self, dome: float, layer: float) -> float:
        """Over the sockets by the depth that the tool takes."""
        return whole_layers(dome + UNDER + self.depth, layer)

    @property
    def depth(self) -> float:
        """From rim to lowest point, mm."""
        raise NotImplementedError

    def bottom(self, rim: float, dome: float, layer: float) -> float:
        """As deep below the rim as the tool takes."""
        del dome, layer
        return rim - self.depth


@dataclass(frozen=True)
class VSlot(_ToolSlot):
    """A groove of 90 degrees; the tool's axis lies on the rim, so half of it stands out to be gripped."""

    @property
    def words(self) -> str:
        """Kind and size."""
        return f"v {self.diameter:g}"

    @property
    def depth(self) -> float:
        """For a round of radius r in a right-angled groove: r sqrt(2) from its axis to the bottom."""
        return round(self.diameter / math.sqrt(2), 4)

    @property
    def half(self) -> float:
        """As wide as deep."""
        return self.depth

    def region(self, rim: float, bottom: float) -> Region:
        """A triangle that goes on above the rim."""
        reach = rim - bottom + OVERSHOOT
        return Polygon(((self.x, bottom), (self.x + reach, rim + OVERSHOOT), (self.x - reach, rim + OVERSHOOT)))

    def area_mm2(self, rim: float, bottom: float) -> float:
        """Half of width times depth."""
        return (rim - bottom) ** 2

    def corners(self, rim: float, bottom: float) -> tuple[Point, ...]:
        """The triangle."""
        return (self.x, bottom), (self.x + self.half, rim), (self.x - self.half, rim)


@dataclass(frozen=True)
class USlot(_ToolSlot):
    """A round-bottomed groove as deep as its tool is thick, times a share.

    Attributes:
        deep_share: depth as a share of the diameter; 0.5 and more.
    """

    deep_share: float = float(DEEP_SHARE)

    @property
    def words(self) -> str:
        """Kind and sizes."""
        return f"u {self.diameter:g} x {self.deep_share:g}"

    @property
    def half(self) -> float:
        """Half its width."""
        return (self.diameter + TOOL_PLAY) / 2

    @property
    def depth(self) -> float:
        """From rim to lowest point, mm."""
        return round(max(self.deep_share * self.diameter, self.half), 4)

    def region(self, rim: float, bottom: float) -> Region:
        """A round and a slit above it."""
        middle = bottom + self.half
        slit = RegionMove(Rect(2 * self.half, rim + OVERSHOOT - middle), x=self.x - self.half, y=middle)
        return RegionUnion((RegionMove(Circle(self.half), x=self.x, y=middle), slit))

    def area_mm2(self, rim: float, bottom: float) -> float:
        """Half a round and a slit."""
        return math.pi / 2 * self.half**2 + 2 * self.half * (rim - bottom - self.half)

    def corners(self, rim: float, bottom: float) -> tuple[Point, ...]:
        """The box around it."""
        return _box(self.x, self.half, bottom, rim)


def check_slot(subject: str, slot: Slot) -> None:
    """Refuse a slot that holds nothing.

    Raises:
        RecipeError: a blade or a tool is too thin, or a U is too shallow to hold.
    """
    match slot:
        case BladeSlot() if not (slot.thickness >= LEAST_SPINE and slot.blade_height > 0 and slot.handle_drop >= 0):
            refuse_part(
                subject, "a blade has a thickness and a height", found=slot.words,
                allowed=f"at least {LEAST_SPINE:g}, more than 0", remedy="Measure the back of the blade.",
            )  # fmt: skip
        case _ToolSlot() if not slot.diameter >= LEAST_TOOL:
            refuse_part(
                subject, "a tool can be gripped", found=f"{slot.diameter:g}", allowed=f"at least {LEAST_TOOL:g}",
                remedy="Keep tools so thin in a tray.",
            )  # fmt: skip
        case USlot() if not LEAST_SHARE <= slot.deep_share <= 1:
            refuse_part(
                subject, "a U holds half of its tool or more",
                found=f"{slot.deep_share:g}", allowed=f"{LEAST_SHARE:g} to 1",
                remedy="Take a V for a tool that shall stand out.",
            )  # fmt: skip


def _box(x: float, half: float, low: float, high: float) -> tuple[Point, ...]:
    return (x - half, low), (x + half, low), (x + half, high), (x - half, high)
