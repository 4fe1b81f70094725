"""A shoe: a frame with sockets that holds a box, tin or jar that its owner already has.

The thing drops in from above. The frame is a low sleeve on a floor of whole cells; the floor may be open where the
foot carries itself. ``shoe_corners.py`` makes four corner pieces instead of a frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, sockets_mm3, sparse_floor_mm3
from nookwright.module.floor import CORNER_RADIUS, clears_corner
from nookwright.module.seat import LEAD_IN, outer_size
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, rounded_mm2, rounded_rect
from nookwright.parts.underside import body, seated
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, Rect, RegionMove
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

EASY = Fact(0.5, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Clearance a side: the thing drops in by itself.")
LEAD = Fact(1.2, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Chamfer at the mouth: the thing finds its way.")
SLEEVE = Fact(2.4, unit="mm", kind=SourceKind.CHOICE, source="Two walls thick, so that the chamfer leaves one.")
LEAST_HOLD = Fact(
    12.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Lower walls let things climb out in a slam."
)
FOOT_LAND = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="What a foot lies on beside an open floor.")
ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="A sleeve starts this deep in the floor.")
MOST_TAPER = Fact(
    0.5,
    unit="mm/mm",
    kind=SourceKind.CHOICE,
    source="A thing that widens faster is a bowl: it rests on the rim of its shoe.",
)
CORNER_SPARE = Fact(
    3.4,
    unit="1",
    kind=SourceKind.CALCULATED,
    source="A corner rounder by d comes nearer by d (sqrt 2 - 1); the clearance c is c sqrt 2 there: d = 3.41 c.",
)
_DIP = 0.1  # the chamfer's cutter starts this much below its edge, inside the pocket


class ShoeFloor(StrEnum):
    """The floor of a shoe."""

    SMOOTH = "smooth"  # flat over the sockets
    OPEN = "open"  # rings of cells; the middle is open


@dataclass(frozen=True)
class Owned:
    """A thing that its owner has, as measured, at its largest.

    Attributes:
        width: along x at the bottom, above the foot; the diameter of a round one, mm.
        depth: along y, mm; 0 for a round one.
        radius: of the upright corners, the sharpest, mm; 0 for a round one.
        taper: how much each side moves out for each mm of height, mm/mm; negative where it narrows.
        foot_inset: how far the foot (or the rounding of the bottom) lies inside on each side, mm.
        foot_height: height of that foot, mm.
    """

    width: float
    depth: float = 0.0
    radius: float = 0.0
    taper: float = 0.0
    foot_inset: float = 0.0
    foot_height: float = 0.0

    def __post_init__(self) -> None:
        least = min(self.width, self.depth or self.width)
        if not (self.width > 0 and self.depth >= 0 and 0 <= self.radius <= least / 2):
            refuse_part(
                "thing in a shoe", "its sizes are positive and its corners fit", allowed="a width, a depth or 0",
                found=f"{self.width:g} x {self.depth:g}, corners {self.radius:g}", remedy="Measure it again.",
            )  # fmt: skip
        if abs(self.taper) > MOST_TAPER or not (0 <= 2 * self.foot_inset < least and self.foot_height >= 0):
            refuse_part(
                "thing in a shoe", "it stands on its foot and hardly widens",
                found=f"taper {self.taper:g}, foot {self.foot_inset:g} inside, {self.foot_height:g} high",
                allowed=f"a taper of at most {MOST_TAPER:g}, a foot under it", remedy="Measure it again.",
            )  # fmt: skip

    @property
    def round(self) -> bool:
        """Whether it is round."""
        return self.depth == 0

    def grown(self, by: float, radius: float) -> Rect | Circle:
        """Its outline at the bottom, grown on all sides, with other corners; a rectangle starts at the origin."""
        if self.round:
            return Circle(self.width / 2 + by)
        return rounded_rect(self.width + 2 * by, self.depth + 2 * by, radius)


@dataclass(frozen=True)
class ShoeSpec:
    """A shoe: its thing, footprint in cells, outer height in mm, floor."""

    owned: Owned
    cols: int
    rows: int
    height: float
    floor: ShoeFloor = ShoeFloor.SMOOTH


@dataclass(frozen=True)
class Sleeve:
    """The sleeve round the thing and the pocket in it, about a middle at x = y = 0, mm."""

    owned: Owned
    floor: float
    height: float

    @cached_property
    def widening(self) -> float:
        """How much each side of the pocket moves out for each mm of height; nothing where the thing narrows."""
        return max(0.0, self.owned.taper)

    @cached_property
    def mouth(self) -> float:
        """How far the pocket lies outside the thing's bottom where its chamfer begins."""
        return round(EASY + self.widening * (self.height - self.floor - LEAD), 4)

    @cached_property
    def corner(self) -> float:
        """Radius of the pocket's corners at the bottom: they grow on the way up, and end as round as the thing's."""
        return max(0.0, self.owned.radius + 2 * EASY - self.mouth)

    @cached_property
    def outside(self) -> float:
        """How far the sleeve lies outside the thing's bottom."""
        return round(self.mouth + SLEEVE, 4)

    @cached_property
    def size(self) -> tuple[float, float]:
        """Outer width and depth of the sleeve."""
        more = 2 * self.outside
        return self.owned.width + more, (self.owned.depth or self.owned.width) + more

    def block(self) -> Solid:
        """The sleeve before the pocket is cut, rooted in the floor."""
        root = self.floor - ROOT
        return Move(self._about(Prism(self.outline(self.outside), self.height - root)), z=root)

    def outline(self, by: float) -> Rect | Circle:
        """The thing's bottom grown by so much, with corners concentric to the pocket's."""
        return self.owned.grown(by, max(0.0, self.corner + by - EASY))

    def area_mm2(self, by: float) -> float:
        """Area of that outline, mm2."""
        region = self.outline(by)
        if isinstance(region, Circle):
            return math.pi * region.radius**2
        return rounded_mm2(region.width, region.depth, region.radius)

    def pocket(self) -> tuple[Solid, ...]:
        """Cutters: the pocket, and the chamfer at its mouth."""
        high = self.height - self.floor + OVERSHOOT
        bottom, rim = self.outline(EASY), self.outline(self.mouth - _DIP)
        flare = LEAD + _DIP + OVERSHOOT
        return (
            Move(self._about(Taper(bottom, high, -self.widening * high)), z=self.floor),
            Move(self._about(Taper(rim, flare, -flare)), z=self.height - LEAD - _DIP),
        )

    def _about(self, solid: Prism | Taper) -> Solid:
        """A solid over an outline, its middle put on x = y = 0."""
        region = solid.region
        return Move(solid, x=-region.width / 2, y=-region.depth / 2) if isinstance(region, Rect) else solid

    @property
    def body_mm3(self) -> float:
        """Volume of the sleeve above the floor."""
        high = self.height - self.floor
        levels = ((0.0, 1), (high / 2, 4), (high, 1))
        hole = high / 6 * sum(n * self.area_mm2(EASY + self.widening * z) for z, n in levels)
        round_it = (self.area_mm2(self.mouth + LEAD) - self.area_mm2(self.mouth)) * LEAD / 2
        return self.area_mm2(self.outside) * high - hole - round_it


def sleeve_of(module: Module, spec: ShoeSpec) -> Sleeve:
    """The sleeve of a shoe.

    Raises:
        RecipeError: it is too low to hold the thing above its foot.
    """
    require_whole_layers("shoe", spec.height, module.seat.layer)
    floor = module.seat.dome
    least = floor + spec.owned.foot_height + LEAST_HOLD
    if spec.height < least:
        refuse_part(
            "shoe", "it holds the thing above its foot", found=f"height {spec.height:g}",
            allowed=f"at least {module.height(least):g}", remedy="Make it higher.",
        )  # fmt: skip
    made = Sleeve(spec.owned, floor, spec.height)
    if not spec.owned.round and made.corner + made.mouth - EASY > spec.owned.radius + CORNER_SPARE * EASY:
        refuse_part(
            "shoe", "the corners of its pocket, rounder as it widens, clear the thing's",
            found=f"corners {spec.owned.radius:g}, widening {made.mouth - EASY:.1f}",
            allowed=f"a widening of at most {spec.owned.radius + CORNER_SPARE * EASY:.1f}", remedy="Make it lower.",
        )  # fmt: skip
    return made


def shoe_cells(module: Module, owned: Owned, height: float) -> tuple[int, int]:
    """Fewest cells of a shoe, along x and y.

    Args:
        module: the household's module.
        owned: the thing.
        height: outer height of the shoe, mm.
    """
    width, depth = sleeve_of(module, ShoeSpec(owned, 1, 1, height)).size
    more = 2 * module.wall  # what ``Module.cells`` takes off for the walls of a tray
    return module.cells(width - more), module.cells(depth - more)


def shoe(module: Module, spec: ShoeSpec) -> Part:
    """A frame for a thing.

    Args:
        module: the household's module.
        spec: thing, footprint, height, floor.

    Raises:
        RecipeError: the sleeve is larger than the footprint, too low, or the foot would fall through the floor.
    """
    sleeve = sleeve_of(module, spec)
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    if sleeve.size[0] > width or sleeve.size[1] > depth:
        cols, rows = shoe_cells(module, spec.owned, spec.height)
        refuse_part(
            "shoe", "its sleeve stays on its cells", found=f"{spec.cols} x {spec.rows} cells",
            allowed=f"{cols} x {rows} or more", remedy="Give it more cells.",
        )  # fmt: skip
    plan = Prism(inset_rect(module, spec.cols, spec.rows, 0.0), spec.height)
    walls = Intersection((Move(sleeve.block(), x=width / 2, y=depth / 2), plan))
    cuts: list[Solid] = [Move(cut, x=width / 2, y=depth / 2) for cut in sleeve.pocket()]
    if spec.floor is ShoeFloor.OPEN:
        cuts.append(_open_floor(module, spec))
    solid = Difference(Union((body(module, spec.cols, spec.rows, module.seat.dome), walls)), tuple(cuts))
    return Part(
        kind=Kind.SHOE,
        name=f"shoe {size_name(width, depth)} h{spec.height:g}",
        parameters=parameters_of(module, spec),
        recipe=seated(solid, module, spec.cols, spec.rows),
        plastic=_plastic(module, spec, sleeve),
    )


def parameters_of(module: Module, spec: ShoeSpec) -> tuple[tuple[str, bool | int | float | str], ...]:
    """What a shoe is made from, sorted by name."""
    owned = spec.owned
    found = {
        "cols": spec.cols, "floor": spec.floor.value, "height": spec.height, "pitch": module.pitch, "rows": spec.rows,
        "thing_depth": owned.depth, "thing_foot_height": owned.foot_height, "thing_foot_inset": owned.foot_inset,
        "thing_radius": owned.radius, "thing_taper": owned.taper, "thing_width": owned.width,
    }  # fmt: skip
    return tuple(sorted(found.items()))


def opening_of(module: Module, spec: ShoeSpec) -> tuple[int, tuple[float, float]]:
    """The opening of an open floor: how many rings of cells are left around it, and its width and depth, mm.

    It is as large as lets the foot lie on the floor all round, and goes along the borders of cells: the sockets around
    it are whole.

    Raises:
        RecipeError: the foot would fall through, or there is no cell inside the ring.
    """
    for ring in range(1, (min(spec.cols, spec.rows) + 1) // 2):
        wide, deep = ((cells - 2 * ring) * module.pitch for cells in (spec.cols, spec.rows))
        if _carries(spec.owned, wide, deep):
            return ring, (wide, deep)
    return refuse_part(
        "shoe with an open floor", "the foot lies on the floor all round", found=f"{spec.cols} x {spec.rows} cells",
        allowed="3 x 3 or more, with a foot larger than those inside", remedy="Take a smooth floor.",
    )  # fmt: skip


def _carries(owned: Owned, wide: float, deep: float) -> bool:
    """Whether an opening lies inside the foot, ``FOOT_LAND`` from its edge, at the corners too."""
    back = 2 * (owned.foot_inset + FOOT_LAND)
    foot_x, foot_y = owned.width - back, (owned.depth or owned.width) - back
    radius = foot_x / 2 if owned.round else max(0.0, owned.radius - back / 2)
    gap_x, gap_y = (foot_x - wide) / 2, (foot_y - deep) / 2
    return min(gap_x, gap_y) >= 0 and clears_corner(radius, gap_x, gap_y, CORNER_RADIUS)


def _open_floor(module: Module, spec: ShoeSpec) -> Solid:
    _, (wide, deep) = opening_of(module, spec)
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    hole = RegionMove(Rect(wide, deep, CORNER_RADIUS), x=(width - wide) / 2, y=(depth - deep) / 2)
    return through(hole, 0.0, module.seat.dome)


def _plastic(module: Module, spec: ShoeSpec, sleeve: Sleeve) -> Plastic:
    """Floor less its sockets and its opening, and the sleeve; what the footprint's corners cut off is left in."""
    cols, rows, seat, pitch = spec.cols, spec.rows, module.seat, module.pitch
    plan, share = inset_mm2(module, cols, rows, 0.0), 1.0
    hole, gone = 0.0, 0.0
    if spec.floor is ShoeFloor.OPEN:
        ring, size = opening_of(module, spec)
        hole = rounded_mm2(*size, CORNER_RADIUS)
        share = 1 - (cols - 2 * ring) * (rows - 2 * ring) / (cols * rows)
        gone = hole * seat.dome
    sockets = sockets_mm3(seat, cols, rows, pitch) * share
    return Plastic(
        body_mm3=plan * seat.dome - gone - sockets + sleeve.body_mm3,
        sparse_mm3=sparse_floor_mm3(seat, cols, rows, pitch) * share,
        first_mm2=inset_mm2(module, cols, rows, LEAD_IN) - hole,
        height=spec.height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Shoes for invented things: a smooth floor has no handle, an open one has one."""
    high = module.height(24)
    things = {
        "smallest": (Owned(25.0, 25.0, 3.0), ShoeFloor.SMOOTH),
        "middle": (Owned(84.0, taper=0.05, foot_inset=3.0, foot_height=4.0), ShoeFloor.SMOOTH),
        "largest": (Owned(212.0, 148.0, 12.0, taper=0.03), ShoeFloor.OPEN),
    }
    found = []
    for size, (owned, floor) in things.items():
        cols, rows = shoe_cells(module, owned, high)
        part = shoe(module, ShoeSpec(owned, cols, rows, high, floor))
        found.append(Example(size, part, 1 if floor is ShoeFloor.OPEN else 0))
    return tuple(found)
