"""A rack for bottles or cans: a trough in which they lie, screwed under a shelf, on a wall or inside a door.

The trough is a profile drawn out along the things' axis, and it is printed standing on its end, so that its layers lie
in the plane in which the load bends it: nothing pulls them apart. A low lip across each end keeps things from sliding
out; the upper one of the print grows inwards at 45 degrees.

Axes of the print: x away from what it is screwed to, y along it (on a wall or door: upwards), z along the trough.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic
from nookwright.parts.model import Example, Kind, Part
from nookwright.parts.racks.rack_strength import ScrewRow, bending_mpa, load_n, screw_row, thickness_for
from nookwright.parts.racks.screws import AROUND_HEAD, Head, Screw, screw_cutter, screw_of
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, Polygon, Rect, Region, RegionMove, RegionUnion
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Tip, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

OVERHEAD_CAUTION = (
    "This hangs over heads and over what stands below. Screw it into sound wood or a fitting plug of the right size, "
    "with every screw; hang twice the load on it for a day before use; keep glass low; look at it again after a month, "
    "and take it down at the first crack or sag. Not for warm places: PLA softens from 50 degrees."
)
AROUND_THING = Fact(1.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A side, between a thing and the trough.")
LIP_SHARE = Fact(0.15, unit="1", kind=SourceKind.CHOICE, source="Of the diameter: stops what rolls, lets lift out.")
LOWEST_LIP = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="Lower, a rounded edge of a can slides over it.")
LIP_STEP = Fact(0.5, unit="mm", kind=SourceKind.CHOICE, source="Lips are rounded up to this.")
LIP_THICK = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Of a lip along the trough: it takes a push.")
END_PLAY = Fact(2.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Between the things and the lips in all.")
ABOVE_LIP = Fact(2.0, unit="mm", kind=SourceKind.CHOICE, source="A thing is lifted over the lip with this to spare.")
BESIDE_HEAD = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Of plate around a screw's seat.")
FRONT_SHARE = {
    "wall": Fact(0.3, unit="1", kind=SourceKind.CHOICE, source="Of the radius above the middle: cans lift out easily."),
    "door": Fact(0.8, unit="1", kind=SourceKind.CHOICE, source="Of the radius: a slam does not throw them out."),
}
SMALLEST = Fact(12.0, unit="mm", kind=SourceKind.CHOICE, source="Thinner things lie in a cradle, not in a rack.")
LARGEST = Fact(120.0, unit="mm", kind=SourceKind.CHOICE, source="Wider bottles are too heavy for printed plastic.")


class Mount(StrEnum):
    """What a rack is screwed to."""

    UNDER_SHELF = "under a shelf"
    WALL = "on a wall"
    DOOR = "inside a door"


@dataclass(frozen=True)
class RackSpec:
    """A rack and what lies in it.

    Attributes:
        mount: what it is screwed to.
        diameter: of the thickest thing, mm.
        thing_length: of the longest thing along the trough, mm.
        count: things in a row.
        mass_g: of the heaviest thing, full.
        thread: of its screws, mm.
        head: of its screws.
    """

    mount: Mount
    diameter: float
    thing_length: float
    count: int
    mass_g: float
    thread: int = 4
    head: Head = Head.PAN


@dataclass(frozen=True)
class RackSizes:
    """What follows from a rack's contents.

    Attributes:
        radius: of the trough, mm.
        wall: thickness of the trough, mm.
        plate: thickness of the plate that is screwed on, seats included, mm.
        lip: height of the lips, mm.
        length: of the rack along the trough, mm.
        row: screws of one row.
        bending_mpa: stress in the trough.
        screw: which.
    """

    radius: float
    wall: float
    plate: float
    lip: float
    length: float
    row: ScrewRow
    bending_mpa: float
    screw: Screw

    @property
    def land(self) -> float:
        """Width of plate that a row of screws takes, mm."""
        return self.screw.head_diameter + 2 * AROUND_HEAD + 2 * BESIDE_HEAD

    @property
    def screw_heights(self) -> tuple[float, ...]:
        """Where the screws of a row are along the trough, mm."""
        count = self.row.count
        return tuple(self.length * (number + 0.5) / count for number in range(count))


def rack_sizes(spec: RackSpec) -> RackSizes:
    """Sizes of a rack, from bending and bearing.

    Under a shelf the trough is a sling: M = F r / 4 in it, M = F / 2 times the arm in each flange. On a wall it is a
    cantilever: M = F r at its root, M = F x in the plate, which the screws hold over the height of the rack.

    Args:
        spec: the rack.

    Raises:
        RecipeError: a size out of range, a thread not in the table, or a load that plastic does not carry.
    """
    _check(spec)
    one = screw_of(spec.thread, spec.head)
    radius = spec.diameter / 2 + AROUND_THING
    lip = math.ceil(max(LOWEST_LIP, LIP_SHARE * spec.diameter) / LIP_STEP) * LIP_STEP
    length = spec.count * spec.thing_length + END_PLAY + 2 * LIP_THICK + lip
    force = load_n(spec.count * spec.mass_g)
    land = one.head_diameter + 2 * AROUND_HEAD + 2 * BESIDE_HEAD
    sling = spec.mount is Mount.UNDER_SHELF
    moment = force * radius / 4 if sling else force * radius
    wall = thickness_for("trough", moment, length)
    arm = (land + wall) / 2 if sling else radius + one.depth + wall
    pull = force / 2 if sling else force * arm / (2 * radius)
    row = screw_row(one, pull, length)
    bearing = min(length, row.count * (one.head_diameter + 2 * arm)) if sling else length
    solid = thickness_for("plate", (force / 2 if sling else force) * arm, bearing)
    plate = round(max(solid, wall) + one.depth, 4)
    return RackSizes(radius, wall, plate, lip, length, row, bending_mpa(moment, length, wall), one)


def rack(module: Module, spec: RackSpec) -> Part:
    """A rack, as it is printed: standing on its end.

    Each screw makes one handle, the trough none.

    Args:
        module: the household's module; racks share nothing with it but its layer.
        spec: the rack.

    Raises:
        RecipeError: as ``rack_sizes``.
    """
    sizes = rack_sizes(spec)
    shape = _hanging(sizes) if spec.mount is Mount.UNDER_SHELF else _standing(sizes, spec.mount)
    hollow = Difference(Prism(shape.outer, sizes.length), (through(shape.inner, 0.0, sizes.length),))
    holes = tuple(
        Move(screw_cutter(sizes.screw, sizes.plate), y=y, z=z) for y in shape.screws for z in sizes.screw_heights
    )
    solid = Difference(Union((hollow, *_lips(sizes, shape))), holes)
    return Part(
        kind=Kind.RACK,
        name=f"rack {spec.mount}, {spec.count} x d{spec.diameter:g} l{spec.thing_length:g}",
        parameters=(
            ("bearing_mpa", round(sizes.row.bearing_mpa, 2)),
            ("bending_mpa", round(sizes.bending_mpa, 2)),
            ("count", spec.count),
            ("diameter", spec.diameter),
            ("layer", module.seat.layer),
            ("lip", sizes.lip),
            ("mass_g", spec.mass_g),
            ("mount", spec.mount.value),
            ("plate", sizes.plate),
            ("screw", sizes.screw.name),
            ("screws", len(holes)),
            ("thing_length", spec.thing_length),
            ("wall", sizes.wall),
        ),
        recipe=solid,
        plastic=_plastic(sizes, shape, len(holes)),
    )


def rack_genus(spec: RackSpec) -> int:
    """Handles of a rack: one for each screw."""
    rows = 2 if spec.mount is Mount.UNDER_SHELF else 1
    return rows * rack_sizes(spec).row.count


@dataclass(frozen=True)
class _Shape:
    """A rack's profile: its outside, what is cut out, where the trough ends and points, its screws, its area in mm2."""

    outer: Region
    inner: Region
    bottom: tuple[float, float]
    downwards: str
    screws: tuple[float, ...]
    area_mm2: float


def _hanging(sizes: RackSizes) -> _Shape:
    """A sling with a flange on each side; x points down in use."""
    radius, around = sizes.radius, sizes.radius + sizes.wall
    deep, middle = radius + sizes.lip + ABOVE_LIP, sizes.land + sizes.radius + sizes.wall
    whole = 2 * middle
    outer = RegionUnion(
        (
            RegionMove(Circle(around), x=deep, y=middle),
            RegionMove(Rect(deep, 2 * around), y=middle - around),
            Rect(sizes.plate, whole),
        )
    )
    inner = RegionUnion(
        (
            RegionMove(Circle(radius), x=deep, y=middle),
            RegionMove(Rect(deep + OVERSHOOT, 2 * radius), x=-OVERSHOOT, y=middle - radius),
        )
    )
    area = 2 * sizes.wall * deep + math.pi / 2 * (around**2 - radius**2) + 2 * sizes.land * sizes.plate
    screws = (sizes.land / 2, whole - sizes.land / 2)
    return _Shape(outer, inner, (deep + radius, middle), "x", screws, area)


def _standing(sizes: RackSizes, mount: Mount) -> _Shape:
    """A trough in front of a plate; y points up in use."""
    radius, wall, plate = sizes.radius, sizes.wall, sizes.plate
    around, middle = radius + wall, plate + radius
    front = FRONT_SHARE["door" if mount is Mount.DOOR else "wall"] * radius
    centre = around
    screw = centre + radius + sizes.land / 2
    high = screw + sizes.land / 2
    outer = RegionUnion(
        (
            Rect(plate, high),
            RegionMove(Circle(around), x=middle, y=centre),
            RegionMove(Rect(radius + around - wall / 2, front), x=plate - OVERSHOOT, y=centre),
            RegionMove(Rect(around, front), x=middle, y=centre),
        )
    )
    inner = RegionUnion(
        (
            RegionMove(Circle(radius), x=middle, y=centre),
            RegionMove(Rect(2 * radius, high), x=plate, y=centre),
            RegionMove(Rect(around + OVERSHOOT, around), x=middle, y=centre + front),
        )
    )
    ring = math.pi / 2 * (around**2 - radius**2) - _segment(around, wall) / 2
    return _Shape(outer, inner, (middle, centre - radius), "y", (screw,), plate * high + ring + wall * front)


def _lips(sizes: RackSizes, shape: _Shape) -> tuple[Solid, ...]:
    """A lip across each end: flat on the bed, and one that grows inwards at 45 degrees under the upper end."""
    lip, thick, length = sizes.lip, float(LIP_THICK), sizes.length
    deep = sizes.wall / 2
    low = ((-deep, 0.0), (lip, 0.0), (lip, thick), (-deep, thick))
    high = ((-deep, length - thick - lip - deep), (lip, length - thick), (lip, length), (-deep, length))
    return tuple(Intersection((Prism(shape.outer, length), _across(shape, sizes, points))) for points in (low, high))


def _across(shape: _Shape, sizes: RackSizes, points: tuple[tuple[float, float], ...]) -> Solid:
    """A bar across the trough; its profile is given as (height above the trough's bottom, height of the print)."""
    wide = sizes.radius + sizes.wall
    x, y = shape.bottom
    if shape.downwards == "x":
        turned = Polygon(tuple((x - up, z) for up, z in reversed(points)))
        return Move(Tip(Prism(turned, 2 * wide), "x"), y=y + wide)
    turned = Polygon(tuple((y + up, z) for up, z in points))
    return Move(Move(Tip(Prism(turned, 2 * wide), "x"), quarter_turns=1), x=x - wide)


def _segment(radius: float, height: float) -> float:
    """Area of a circular segment, mm2."""
    return radius**2 * math.acos(1 - height / radius) - (radius - height) * math.sqrt(height * (2 * radius - height))


def _plastic(sizes: RackSizes, shape: _Shape, screws: int) -> Plastic:
    """Profile, lips and holes, their roofs left out; a lip's section grows with its height to the power 1.5."""
    segment = _segment(sizes.radius, sizes.lip)
    lips = segment * (2 * LIP_THICK + sizes.lip / 2.5)
    hole = math.pi / 4 * sizes.screw.hole**2 * sizes.plate + sizes.screw.taken_mm3
    return Plastic(
        body_mm3=shape.area_mm2 * sizes.length + lips - screws * hole,
        sparse_mm3=0.0,
        first_mm2=shape.area_mm2 + segment,
        height=sizes.length,
        hops=0.0,
    )


def _check(spec: RackSpec) -> None:
    """Refuse what no rack is made for."""
    if not SMALLEST <= spec.diameter <= LARGEST:
        refuse_part(
            "rack",
            "the things have a diameter that a trough holds",
            found=f"{spec.diameter:g}",
            allowed=f"{SMALLEST:g} to {LARGEST:g}",
            remedy="Keep them in a cradle, or on a shelf.",
        )
    for name, value in (("count", spec.count), ("length", spec.thing_length), ("mass", spec.mass_g)):
        if value <= 0:
            refuse_part(
                "rack", f"the {name} is positive", found=value, allowed="more than 0", remedy="Say what lies in it."
            )
    if spec.thing_length < spec.diameter / 2:
        refuse_part(
            "rack",
            "the things lie without tipping",
            found=f"{spec.thing_length:g} long",
            allowed=f"at least {spec.diameter / 2:g}",
            remedy="Keep discs in a cradle.",
        )


def examples(module: Module) -> tuple[Example, ...]:
    """Each mount with small, middle and large contents, all heads; sizes of the things are invented."""
    found = []
    for mount in Mount:
        head = {Mount.UNDER_SHELF: Head.WOOD, Mount.WALL: Head.PAN, Mount.DOOR: Head.COUNTERSUNK}[mount]
        specs = (
            ("smallest", RackSpec(mount, 20.0, 60.0, 1, 40.0, 3, head)),
            ("middle", RackSpec(mount, 55.0, 100.0, 1, 350.0, 4, head)),
            ("largest", RackSpec(mount, 75.0, 95.0, 2, 600.0, 5, head)),
        )
        found += [Example(size, rack(module, spec), rack_genus(spec)) for size, spec in specs]
    return tuple(found)
