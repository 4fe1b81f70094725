"""Containers that nest in each other: a sleeve for the stack of their bodies. Their lids stand in ``nest_lids.py``.

The sleeve is as wide as the rim of the lowest body, so all of them drop in; fins under the flare carry and centre its
foot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, sockets_mm3, sparse_floor_mm3
from nookwright.module.seat import LEAD_IN, outer_size
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, rounded_mm2, rounded_rect
from nookwright.parts.underside import body, seated
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Circle, Rect, Region, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

EASY = Fact(0.8, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Clearance a side of moulded things that vary.")
ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Sleeve and fins start this deep in the floor.")
LEAST_HOLD = Fact(
    12.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Lower walls let things climb out in a slam."
)
LEAST_FIN = Fact(
    2.0, unit="mm", kind=SourceKind.CHOICE, source="A flare below this needs no fins: a foot hardly moves."
)
_LAP = 0.4  # fins reach so far into the sleeve


@dataclass(frozen=True)
class Nested:
    """Containers of one size that nest, as measured, at their largest.

    Attributes:
        width: of the foot along x; the diameter of a round one, mm.
        depth: of the foot along y, mm; 0 for a round one.
        radius: of the upright corners, the sharpest, mm; 0 for a round one.
        flare: how far the rim lies outside the foot on each side, mm.
        height: of one body, mm.
        pitch: how much each further body adds to the stack, mm.
        count: how many bodies.
    """

    width: float
    depth: float
    radius: float
    flare: float
    height: float
    pitch: float
    count: int

    def __post_init__(self) -> None:
        least = min(self.width, self.depth or self.width)
        sound = self.width > 0 and self.depth >= 0 and 0 <= self.radius <= least / 2 and self.flare >= 0
        if not (sound and 0 < self.pitch <= self.height and self.count >= 1):
            refuse_part(
                "nested containers", "they go into each other",
                allowed="positive sizes, a pitch up to the height, 1 or more",
                found=f"{self.width:g} x {self.depth:g} x {self.height:g}, pitch {self.pitch:g}, {self.count} of them",
                remedy="Measure one body, then two in each other.",
            )  # fmt: skip

    @property
    def stack_height(self) -> float:
        """Of all bodies in each other, mm.

        >>> Nested(80, 0, 0, 12, 60, 8, 5).stack_height
        92
        """
        return self.height + (self.count - 1) * self.pitch

    @property
    def round(self) -> bool:
        """Whether they are round."""
        return self.depth == 0

    def grown(self, by: float, more: float = 0.0) -> Rect | Circle:
        """The foot's outline grown on all sides, its corners rounder by ``more``; a rectangle starts at the origin."""
        if self.round:
            return Circle(self.width / 2 + by)
        return rounded_rect(self.width + 2 * by, self.depth + 2 * by, self.radius + more)

    def area_mm2(self, by: float, more: float = 0.0) -> float:
        """Area of that outline, mm2."""
        region = self.grown(by, more)
        if isinstance(region, Circle):
            return math.pi * region.radius**2
        return rounded_mm2(region.width, region.depth, region.radius)


@dataclass(frozen=True)
class NestSpec:
    """A sleeve for nested bodies: the bodies, footprint in cells, outer height in mm."""

    nested: Nested
    cols: int
    rows: int
    height: float


def nest_cells(module: Module, nested: Nested) -> tuple[int, int]:
    """Fewest cells of the sleeve for nested bodies, along x and y."""
    more = 2 * (nested.flare + EASY)  # ``Module.cells`` adds the walls
    return module.cells(nested.width + more), module.cells((nested.depth or nested.width) + more)


def nest(module: Module, spec: NestSpec) -> Part:
    """A sleeve for a stack of nested bodies.

    Args:
        module: the household's module.
        spec: bodies, footprint, height.

    Raises:
        RecipeError: the sleeve is larger than the footprint, or too low to hold anything.
    """
    _check(module, spec)
    nested, floor, wall = spec.nested, module.seat.dome, module.wall
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    root, inside = floor - ROOT, nested.flare + EASY
    plan = Prism(inset_rect(module, spec.cols, spec.rows, 0.0), spec.height)
    block = Move(
        _about(Prism(nested.grown(inside + wall, EASY + wall), spec.height - root)), x=width / 2, y=depth / 2, z=root
    )
    room = _centred(nested.grown(inside, EASY), width, depth)
    walls = Difference(Intersection((block, plan)), (open_above(room, floor, spec.height),))
    fins = (_fins(module, spec, width, depth),) if nested.flare >= LEAST_FIN else ()
    solid = Union((body(module, spec.cols, spec.rows, floor), walls, *fins))
    return Part(
        kind=Kind.NEST,
        name=f"nest {size_name(width, depth)} h{spec.height:g}",
        parameters=_parameters(module, spec),
        recipe=seated(solid, module, spec.cols, spec.rows),
        plastic=_plastic(module, spec),
    )


def _check(module: Module, spec: NestSpec) -> None:
    require_whole_layers("nest", spec.height, module.seat.layer)
    cols, rows = nest_cells(module, spec.nested)
    if spec.cols < cols or spec.rows < rows:
        refuse_part(
            "nest", "its sleeve stays on its cells", found=f"{spec.cols} x {spec.rows} cells",
            allowed=f"{cols} x {rows} or more", remedy="Give it more cells.",
        )  # fmt: skip
    if spec.height < module.seat.dome + LEAST_HOLD:
        refuse_part(
            "nest", "it holds the lowest body", found=f"height {spec.height:g}",
            allowed=f"at least {module.height(module.seat.dome + LEAST_HOLD):g}", remedy="Make it higher.",
        )  # fmt: skip


def _about(solid: Prism | Taper) -> Solid:
    """A solid over an outline, its middle put on x = y = 0."""
    region = solid.region
    return Move(solid, x=-region.width / 2, y=-region.depth / 2) if isinstance(region, Rect) else solid


def _centred(region: Rect | Circle, width: float, depth: float) -> Region:
    """An outline in the middle of the footprint."""
    if isinstance(region, Rect):
        return RegionMove(region, x=(width - region.width) / 2, y=(depth - region.depth) / 2)
    return RegionMove(region, x=width / 2, y=depth / 2)


def _fins(module: Module, spec: NestSpec, width: float, depth: float) -> Solid:
    """Two upright plates through the middle, from sleeve to sleeve, less the flare of the lowest body."""
    nested, floor, wall = spec.nested, module.seat.dome, module.wall
    wide, deep = (size + 2 * (nested.flare + EASY + _LAP) for size in (nested.width, nested.depth or nested.width))
    cross = RegionUnion(
        (
            RegionMove(Rect(wide, wall), x=(width - wide) / 2, y=(depth - wall) / 2),
            RegionMove(Rect(wall, deep), x=(width - wall) / 2, y=(depth - deep) / 2),
        )
    )
    low, high = floor - ROOT, min(spec.height, floor + nested.height)
    slope = nested.flare / nested.height
    long = high - floor + OVERSHOOT
    flare = Move(_about(Taper(nested.grown(EASY, EASY), long, -slope * long)), x=width / 2, y=depth / 2, z=floor)
    return Difference(Move(Prism(cross, high - low), z=low), (flare,))


def _parameters(module: Module, spec: NestSpec) -> tuple[tuple[str, bool | int | float | str], ...]:
    nested = spec.nested
    found = {
        "body_height": nested.height, "cols": spec.cols, "count": nested.count, "flare": nested.flare,
        "foot_depth": nested.depth, "foot_radius": nested.radius, "foot_width": nested.width, "height": spec.height,
        "pitch": module.pitch, "rows": spec.rows, "stack_pitch": nested.pitch, "wall": module.wall,
    }  # fmt: skip
    return tuple(sorted(found.items()))


def _plastic(module: Module, spec: NestSpec) -> Plastic:
    """Floor less sockets, sleeve, fins; what the round corners of the footprint cut off the sleeve is left in."""
    nested, seat, cols, rows = spec.nested, module.seat, spec.cols, spec.rows
    high, inside = spec.height - seat.dome, nested.flare + EASY
    sleeve = (nested.area_mm2(inside + module.wall, EASY + module.wall) - nested.area_mm2(inside, EASY)) * high
    up = min(high, nested.height)
    fins = 4 * module.wall * up * nested.flare * (1 - up / nested.height / 2) if nested.flare >= LEAST_FIN else 0.0
    sockets = sockets_mm3(seat, cols, rows, module.pitch)
    return Plastic(
        body_mm3=inset_mm2(module, cols, rows, 0.0) * seat.dome - sockets + sleeve + fins,
        sparse_mm3=sparse_floor_mm3(seat, cols, rows, module.pitch),
        first_mm2=inset_mm2(module, cols, rows, LEAD_IN),
        height=spec.height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Sleeves for invented containers; pockets have floors, so there is no handle."""
    things = {
        "smallest": (Nested(26.0, 0.0, 0.0, 1.0, 30.0, 6.0, 4), 24.0),
        "middle": (Nested(70.0, 0.0, 0.0, 12.0, 60.0, 9.0, 6), 48.0),
        "largest": (Nested(150.0, 100.0, 14.0, 10.0, 70.0, 12.0, 8), 84.0),
    }
    found = []
    for size, (nested, height) in things.items():
        cols, rows = nest_cells(module, nested)
        found.append(Example(size, nest(module, NestSpec(nested, cols, rows, module.height(height))), 0))
    return tuple(found)
