"""A hollow riser for ballast: bays between ribs, so that its roof is a row of short bridges.

Ribs run from front to back at the borders of the cells (and through their middles where a cell is wider than a
bridge); windows with a gable join the bays. The hole lies over a cell without a cone; ledges of 45 degrees carry it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, frustum_mm3, sockets_mm3
from nookwright.module.seat import LEAD_IN, SOCKET_SKIN, draw_of, has_cone, rings_of, whole_layers
from nookwright.parts.lying import along_x, along_y
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.risers.riser import (
    RiserInside,
    RiserSpec,
    RiserTop,
    checked_height,
    cones_mm3,
    cones_of,
    footprint,
    middles,
    topped,
)
from nookwright.parts.swollen_rim import inset_mm2, inset_rect
from nookwright.parts.underside import body, domes, seated
from nookwright.shapes.cutters import open_above, through
from nookwright.shapes.regions import Polygon, Rect, RegionDifference, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Move, Prism, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

LONGEST_BRIDGE = Fact(20.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Longest bridge that hardly sags.")
ROOF = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="Ten layers of 0.2: half for the ledge of the cap.")
LEDGE = Fact(1.6, unit="mm", kind=SourceKind.CHOICE, source="From the filling hole to the ribs beside it.")
CAP_LAND = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="What a cap lies on round the hole: a wall's width.")
HOLE = Fact(12.0, unit="mm", kind=SourceKind.CHOICE, source="Length of the filling hole: a small funnel goes in.")
LEAST_HOLE = Fact(5.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Steel shot and dry sand still run.")
WINDOW = Fact(8.0, unit="mm", kind=SourceKind.CHOICE, source="Width of a window between two bays: sand runs through.")
WINDOW_LAND = Fact(1.4, unit="mm", kind=SourceKind.CHOICE, source="What a window leaves of its rib under the roof.")
LEAST_CHAMBER = Fact(6.0, unit="mm", kind=SourceKind.CALCULATED, source="A window of 8: its gable is 4, its sides 0.6.")
MANY_ROWS = Fact(4.0, unit="cells", kind=SourceKind.CHOICE, source="From here on a rib has two windows.")


@dataclass(frozen=True)
class HollowSpec:
    """A hollow riser: footprint in cells, height in rises, top, whether its first cell has a cone."""

    cols: int
    rows: int
    rises: int
    top: RiserTop = RiserTop.DECK
    first_has_cone: bool = True


@dataclass(frozen=True)
class Chamber:
    """The inside of a hollow riser, in its axes, mm."""

    module: Module
    spec: HollowSpec

    def __post_init__(self) -> None:
        if self.spec.rows < len(("front", "back")):
            refuse_part(
                "hollow riser", "its bays run over two cells at least", found=f"{self.spec.rows} deep",
                allowed="2 cells or more", remedy="Turn it by 90 degrees, or take a full one.",
            )  # fmt: skip
        if self.hole_width < LEAST_HOLE:
            refuse_part(
                "hollow riser", "its filling hole fits between two ribs", found=f"{self.hole_width:.1f} wide",
                allowed=f"at least {LEAST_HOLE:g}", remedy="Take a ribbed riser.",
            )  # fmt: skip

    @cached_property
    def high(self) -> float:
        """Height of the face that carries."""
        least = self.floor + LEAST_CHAMBER + self.roof
        return checked_height(self.module, self.spec.rises, self.spec.top, least=least)

    @cached_property
    def floor(self) -> float:
        """Where it begins."""
        return self.module.seat.shell_floor

    @cached_property
    def roof(self) -> float:
        """Thickness of the roof."""
        return whole_layers(ROOF, self.module.seat.layer)

    @cached_property
    def ceiling(self) -> float:
        """Where it ends."""
        return round(self.high - self.roof, 6)

    @cached_property
    def ribs(self) -> tuple[float, ...]:
        """Middles of the ribs along x."""
        pitch, cols, wall = self.module.pitch, self.spec.cols, self.module.wall
        half = footprint(self.module, cols, self.spec.rows)[0] / 2
        steps = 1 if pitch - wall <= LONGEST_BRIDGE else 2
        return tuple(half + (n / steps - cols / 2) * pitch for n in range(1, steps * cols))

    @cached_property
    def bays(self) -> tuple[tuple[float, float], ...]:
        """From where to where along x each bay goes."""
        wall = self.module.wall
        width = footprint(self.module, self.spec.cols, self.spec.rows)[0]
        starts = (wall, *(x + wall / 2 for x in self.ribs))
        stops = (*(x - wall / 2 for x in self.ribs), width - wall)
        return tuple(zip(starts, stops, strict=True))

    @cached_property
    def hole_cell(self) -> tuple[int, int]:
        """The cell over which it is filled: one without a cone, as near the middle as may be."""
        spec = self.spec
        cells = [
            cell
            for cell in middles(self.module, spec.cols, spec.rows)
            if spec.top is RiserTop.SMOOTH or has_cone(*cell) != spec.first_has_cone
        ]
        return min(cells, key=lambda c: (abs(2 * c[0] + 1 - spec.cols) + abs(2 * c[1] + 1 - spec.rows), c))

    @cached_property
    def hole_bay(self) -> tuple[float, float]:
        """The bay over which it is filled."""
        x = middles(self.module, self.spec.cols, self.spec.rows)[self.hole_cell][0] - self.module.wall
        return next(bay for bay in self.bays if bay[1] > x)

    @property
    def hole_width(self) -> float:
        """Of the filling hole along x."""
        return round(self.hole_bay[1] - self.hole_bay[0] - 2 * LEDGE, 4)

    @cached_property
    def hole_middle(self) -> tuple[float, float]:
        """Of the filling hole."""
        y = middles(self.module, self.spec.cols, self.spec.rows)[self.hole_cell][1]
        return sum(self.hole_bay) / 2, y

    @cached_property
    def windows(self) -> tuple[float, ...]:
        """Middles along y of the windows in each rib."""
        rows, pitch = self.spec.rows, self.module.pitch
        half = footprint(self.module, self.spec.cols, rows)[1] / 2
        at = (1, rows - 1) if rows >= MANY_ROWS else (rows // 2,)
        return tuple(half + (n - rows / 2) * pitch for n in at)

    @cached_property
    def window_side(self) -> float:
        """Height of a window's upright sides."""
        return self.ceiling - self.floor - WINDOW_LAND - WINDOW / 2

    @property
    def handles(self) -> int:
        """Handles of the surface: bays in a row hang together by one window a rib; each further one closes a ring."""
        return len(self.ribs) * (len(self.windows) - 1)

    def solid(self) -> Solid:
        """The room inside, without its filling hole: bays and windows, less domes and the ledges of the hole."""
        module, spec = self.module, self.spec
        plan = inset_rect(module, spec.cols, spec.rows, module.wall)
        bays = RegionMove(plan, x=module.wall, y=module.wall)
        depth = footprint(module, spec.cols, spec.rows)[1]
        strips = tuple(RegionMove(Rect(module.wall, depth), x=x - module.wall / 2) for x in self.ribs)
        region = RegionDifference(bays, (RegionUnion(strips),)) if strips else bays
        room = Union((Move(Prism(region, self.ceiling - self.floor), z=self.floor), *self._windows()))
        return Difference(room, (*domes(module, spec.cols, spec.rows), *self._ledges()))

    def _windows(self) -> tuple[Solid, ...]:
        """Prisms with a gable through all ribs, ending inside the outer bays."""
        if not self.ribs:
            return ()
        half, low, side = WINDOW / 2, self.floor, self.floor + self.window_side
        start, stop = self.ribs[0] - self.module.wall, self.ribs[-1] + self.module.wall
        return tuple(
            along_x(
                Polygon(((y - half, low), (y + half, low), (y + half, side), (y, side + half), (y - half, side))),
                start,
                stop,
            )
            for y in self.windows
        )

    def _ledges(self) -> tuple[Solid, ...]:
        """What grows at 45 degrees out of both sides of the bay to the edge of the hole; it overlaps ribs and roof."""
        (left, right), top, more = self.hole_bay, self.ceiling, OVERSHOOT
        y0, y1 = self.ledge_span
        sides = ((left, 1.0), (right, -1.0))
        found = []
        for x, inwards in sides:
            corners = (
                (x - inwards * more, top - LEDGE - more),
                (x + inwards * LEDGE, top),
                (x + inwards * LEDGE, top + more),
                (x - inwards * more, top + more),
            )
            found.append(along_y(Polygon(corners if inwards > 0 else corners[::-1]), y0, y1))
        return tuple(found)

    @property
    def ledge_span(self) -> tuple[float, float]:
        """From where to where along y the ledges of the hole go."""
        y = self.hole_middle[1]
        return y - HOLE / 2 - CAP_LAND, y + HOLE / 2 + CAP_LAND

    def opening(self) -> tuple[Solid, ...]:
        """Cutters of the filling hole and of the recess that the cap lies in."""
        x, y = self.hole_middle
        hole, recess = (Rect(self.hole_width + 2 * by, HOLE + 2 * by) for by in (0.0, float(CAP_LAND)))
        shaft = RegionMove(hole, x=x - hole.width / 2, y=y - hole.depth / 2)
        seat = RegionMove(recess, x=x - recess.width / 2, y=y - recess.depth / 2)
        return through(shaft, self.ceiling, self.high), open_above(seat, self.high - self.cap_thickness, self.high)

    @cached_property
    def cap_thickness(self) -> float:
        """Of the plate of the cap; it lies flush."""
        return whole_layers(self.roof / 2, self.module.seat.layer)


def hollow_riser(module: Module, spec: HollowSpec) -> Part:
    """A riser with a chamber for ballast.

    Args:
        module: the household's module.
        spec: footprint, rises, top.

    Raises:
        RecipeError: it is too low, or too narrow for its filling hole.
    """
    room = Chamber(module, spec)
    block = Difference(body(module, spec.cols, spec.rows, room.high), (room.solid(), *room.opening()))
    plain = RiserSpec(spec.cols, spec.rows, spec.rises, RiserInside.FULL, spec.top, spec.first_has_cone)
    return Part(
        kind=Kind.RISER,
        name=f"riser {size_name(*footprint(module, spec.cols, spec.rows))} h{room.high:g} hollow",
        parameters=_parameters(module, spec),
        recipe=seated(topped(module, plain, block, room.high), module, spec.cols, spec.rows),
        plastic=_plastic(module, spec, room),
    )


def _parameters(module: Module, spec: HollowSpec) -> tuple[tuple[str, bool | int | float | str], ...]:
    return (
        ("cols", spec.cols),
        ("first_has_cone", spec.first_has_cone),
        ("inside", "hollow"),
        ("pitch", module.pitch),
        ("rises", spec.rises),
        ("rows", spec.rows),
        ("top", spec.top.value),
        ("wall", module.wall),
    )


def _plastic(module: Module, spec: HollowSpec, room: Chamber) -> Plastic:
    """The block less its sockets, its chamber and its filling hole, and the cones."""
    seat, cols, rows = module.seat, spec.cols, spec.rows
    deck = spec.top is RiserTop.DECK
    cones = len(cones_of(module, cols, rows, first_has_cone=spec.first_has_cone)) if deck else 0
    hole = room.hole_width * HOLE * room.roof
    recess = (room.hole_width + HOLE + 2 * CAP_LAND) * 2 * CAP_LAND * room.cap_thickness
    block = inset_mm2(module, cols, rows, 0.0) * room.high - sockets_mm3(seat, cols, rows, module.pitch)
    return Plastic(
        body_mm3=block - chamber_mm3(room, room.ceiling) - hole - recess + cones_mm3(module, cones),
        sparse_mm3=0.0,
        first_mm2=inset_mm2(module, cols, rows, LEAD_IN),
        height=room.high + (seat.cone_height if cones else 0.0),
        hops=cones * seat.cone_height / seat.layer,
    )


def chamber_mm3(room: Chamber, level: float) -> float:
    """Volume of the chamber up to a level, mm3: bays and windows, less domes and the ledges of the hole.

    Args:
        room: the chamber.
        level: above the underside of the riser, mm; between floor and ceiling.
    """
    module, spec = room.module, room.spec
    high = min(max(level, room.floor), room.ceiling) - room.floor
    depth = footprint(module, spec.cols, spec.rows)[1] - 2 * module.wall
    bays = inset_mm2(module, spec.cols, spec.rows, module.wall) - len(room.ribs) * module.wall * depth
    windows = len(room.ribs) * len(room.windows) * module.wall * _window_mm2(room, high)
    return bays * high + windows - _domes_below_mm3(room, high) - _ledges_below_mm3(room, high)


def _window_mm2(room: Chamber, high: float) -> float:
    """Area of a window up to so much above its sill."""
    gable = min(max(0.0, high - room.window_side), WINDOW / 2)
    return WINDOW * min(high, room.window_side) + gable * (WINDOW - gable)


def _domes_below_mm3(room: Chamber, high: float) -> float:
    """What the domes fill up to so much above the floor; what of them lies in a rib is the rib's."""
    module, seat = room.module, room.module.seat
    up = min(high, seat.dome - seat.shell_floor)
    total = 0.0
    for ring in rings_of(room.spec.cols, room.spec.rows, module.pitch, seat.growth, seat.clearance):
        low = seat.cone_base + ring.clearance + SOCKET_SKIN - draw_of(seat.shell_floor)
        top = low - draw_of(up)
        in_rib = module.wall * (low + top) * up if len(room.bays) > room.spec.cols else 0.0
        total += len(ring.places) * (frustum_mm3(low, top, up) - in_rib)
    return total


def _ledges_below_mm3(room: Chamber, high: float) -> float:
    """What the two ledges of the filling hole fill."""
    up = max(0.0, high - (room.ceiling - room.floor - LEDGE))
    y0, y1 = room.ledge_span
    return (y1 - y0) * up**2


def examples(module: Module) -> tuple[Example, ...]:
    """Hollow risers of both tops; the formula of their handles is ``Chamber.handles``."""
    sizes = (("smallest", 1, 2, 2), ("middle", 4, 3, 4), ("largest", 9, 6, 7))
    specs = tuple((size, HollowSpec(cols, rows, rises, top)) for top in RiserTop for size, cols, rows, rises in sizes)
    return tuple(Example(size, hollow_riser(module, spec), Chamber(module, spec).handles) for size, spec in specs)
