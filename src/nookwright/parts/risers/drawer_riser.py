"""A riser with a compartment: one that opens above, or one with a little drawer in its front.

The one that opens above is a tray with a deck lid. The one with a drawer is a block with a bay that is open in front;
its roof is a deck lid as well, since a bay that is wider than a bridge could not be printed with a roof on it. The bay
is narrower at its mouth and the drawer wider at its back, so it stops before it falls out; it is put in from above.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, sockets_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import LEAD_IN, whole_layers
from nookwright.module.stacking import DECK
from nookwright.parts.lids.deck_lid import DeckSpec, deck_lid, deck_tray
from nookwright.parts.lids.lid_mechanics import beam_sag
from nookwright.parts.lying import along_y
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.risers.riser import RiserTop, footprint, riser_height
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, rounded_mm2
from nookwright.parts.underside import body, seated
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Polygon, Rect, RegionMove
from nookwright.shapes.solids import Bowl, Difference, Move, Prism, Solid, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

SIDE = Fact(
    0.4, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="From the drawer to each side: it runs, hardly rattles."
)
UP = Fact(0.4, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="From the drawer to the roof, two layers of 0.2.")
BEHIND = Fact(0.5, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Behind the drawer, so that its front is flush.")
DRAWER_FLOOR = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="Six layers of 0.2.")
DRAWER_RADIUS = Fact(2.2, unit="mm", kind=SourceKind.CHOICE, source="Upright edges of the drawer: wall 1.2, inside 1.")
HEEL_RADIUS = Fact(0.5, unit="mm", kind=SourceKind.CHOICE, source="Edges of the heel: most of it meets flat.")
DRAWER_FILLET = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="No crumbs in the corner.")
STOP = Fact(1.6, unit="mm", kind=SourceKind.CHOICE, source="The jambs of the bay stand in by this: 1.2 catch.")
JAMB = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="Depth of a jamb: it bears a pull of 100 N with ease.")
KEPT_IN = Fact(
    12.0, unit="mm", kind=SourceKind.CHOICE, source="Drawn out to the stop, so much still runs between the cheeks."
)
KEPT_SHARE = Fact(0.35, unit="1", kind=SourceKind.CHOICE, source="The same, at most, of a short drawer.")
LEAST_DRAWER = Fact(9.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A lower drawer holds nothing worth it.")
LEAST_BAY = Fact(20.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A fingertip goes in.")
FINGER_WIDTH = Fact(22.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Notch in the front for a finger.")
FINGER_DEPTH = Fact(8.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="The same, downwards.")
FRONT_LAND = Fact(3.0, unit="mm", kind=SourceKind.CHOICE, source="What the notch leaves of the front above the floor.")
NOTCH_LAND = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="What it leaves on each side.")
PRESSED_N = Fact(10.0, unit="N", kind=SourceKind.CHOICE, source="A kilogram on the roof over the front of the bay.")
STRIP = Fact(20.0, unit="mm", kind=SourceKind.CHOICE, source="Width of the roof's front that carries it.")
MOST_SAG = Fact(
    1.5,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="A short press may touch the drawer; more of it would show.",
)
MOST_ROOF = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="A thicker roof costs more than a second drawer.")


@dataclass(frozen=True)
class DrawerSpec:
    """A riser with a little drawer: footprint in cells, height in rises, whether its roof's first cell has a cone."""

    cols: int
    rows: int
    rises: int
    first_has_cone: bool = True


def roof_thickness(module: Module, span: float) -> float:
    """The thinnest roof whose front sags by no more than ``MOST_SAG`` under ``PRESSED_N``, mm, whole layers.

    Args:
        module: the household's module.
        span: of the bay under it, mm.
    """
    thickness, layer = whole_layers(DECK, module.seat.layer), module.seat.layer
    while beam_sag(PRESSED_N, span, STRIP, thickness) > MOST_SAG:
        thickness = round(thickness + layer, 6)
    return thickness


def bay_width(module: Module, cols: int) -> float:
    """Width of the bay of a riser of so many cells, mm."""
    return round(footprint(module, cols, 1)[0] - 2 * CORNER_RADIUS, 4)


@dataclass(frozen=True)
class Bay:
    """The bay of the drawer and what belongs to it, in the riser's axes, mm."""

    module: Module
    spec: DrawerSpec

    def __post_init__(self) -> None:
        if self.width < LEAST_BAY:
            refuse_part(
                "riser with a drawer", "a hand gets into its drawer", found=f"bay of {self.width:.1f}",
                allowed=f"at least {LEAST_BAY:g}", remedy="Make it a cell wider.",
            )  # fmt: skip
        if self.roof > MOST_ROOF:
            refuse_part(
                "riser with a drawer", "its roof carries", found=f"{self.roof:g} thick over {self.width:.0f}",
                allowed=f"at most {MOST_ROOF:g}", remedy="Make two narrower ones of it.",
            )  # fmt: skip
        if self.drawer_height < LEAST_DRAWER:
            refuse_part(
                "riser with a drawer", "its drawer holds something", found=f"{self.drawer_height:.1f} high",
                allowed=f"at least {LEAST_DRAWER:g}", remedy="Take more rises.",
            )  # fmt: skip

    @cached_property
    def high(self) -> float:
        """Of the riser; its roof is flush with it."""
        return riser_height(self.module, self.spec.rises, RiserTop.DECK)

    @cached_property
    def outer(self) -> tuple[float, float]:
        """Width and depth of the riser."""
        return footprint(self.module, self.spec.cols, self.spec.rows)

    @cached_property
    def width(self) -> float:
        """Of the bay; beside it the cheeks are as thick as the corners are round, so that the front is whole."""
        return bay_width(self.module, self.spec.cols)

    @cached_property
    def roof(self) -> float:
        """Thickness of the roof."""
        return roof_thickness(self.module, self.width)

    @cached_property
    def deck(self) -> DeckSpec:
        """The roof, as a deck lid."""
        spec = self.spec
        return DeckSpec(
            spec.cols, spec.rows, self.high, smooth=True, first_has_cone=spec.first_has_cone, thickness=self.roof
        )

    @cached_property
    def ledge(self) -> float:
        """Height of the ledge that the roof lies on."""
        return round(self.high - self.roof, 6)

    @cached_property
    def drawer_height(self) -> float:
        """Of the drawer, whole layers."""
        room, layer = self.ledge - self.module.seat.dome - UP, self.module.seat.layer
        return round(int(round(room / layer, 6)) * layer, 6)

    @cached_property
    def heel(self) -> float:
        """How long the wider back of the drawer is."""
        return round(min(KEPT_IN, KEPT_SHARE * self.drawer[1]), 4)

    @cached_property
    def way(self) -> float:
        """How far the drawer runs out before its heel meets the jambs."""
        return round(self.drawer[1] - self.heel - JAMB, 4)

    @cached_property
    def drawer(self) -> tuple[float, float]:
        """Width at its heel and depth of the drawer."""
        return round(self.width - 2 * SIDE, 4), round(self.outer[1] - CORNER_RADIUS - BEHIND, 4)


def drawer_riser(module: Module, spec: DrawerSpec) -> Part:
    """The riser without its roof and its drawer.

    Args:
        module: the household's module.
        spec: footprint, rises.

    Raises:
        RecipeError: too narrow, too low, or too wide for its roof.
    """
    bay, wall = Bay(module, spec), module.wall
    width, depth = bay.outer
    mouth = RegionMove(Rect(bay.width - 2 * STOP, depth), x=CORNER_RADIUS + STOP, y=-float(CORNER_RADIUS))
    room = RegionMove(Rect(bay.width, depth - CORNER_RADIUS - JAMB), x=float(CORNER_RADIUS), y=float(JAMB))
    recess = RegionMove(inset_rect(module, spec.cols, spec.rows, wall), x=wall, y=wall)
    floor = module.seat.dome
    cuts = (*(open_above(each, floor, bay.high) for each in (mouth, room)), open_above(recess, bay.ledge, bay.high))
    return Part(
        kind=Kind.RISER,
        name=f"riser {size_name(width, depth)} h{bay.high:g} for a drawer",
        parameters=(
            ("cols", spec.cols),
            ("inside", "drawer"),
            ("pitch", module.pitch),
            ("rises", spec.rises),
            ("roof", bay.roof),
            ("rows", spec.rows),
            ("wall", wall),
        ),
        recipe=seated(Difference(body(module, spec.cols, spec.rows, bay.high), cuts), module, spec.cols, spec.rows),
        plastic=_plastic(bay),
    )


def drawer_roof(module: Module, spec: DrawerSpec) -> Part:
    """The roof: a deck lid, as thick as the bay is wide."""
    return deck_lid(module, Bay(module, spec).deck)


def little_drawer(module: Module, spec: DrawerSpec) -> Part:
    """The drawer: a box with a notch for a finger in its front.

    Raises:
        RecipeError: the riser is refused.
    """
    bay, wall = Bay(module, spec), module.wall
    (width, depth), high = bay.drawer, bay.drawer_height
    floor = whole_layers(DRAWER_FLOOR, module.seat.layer)
    slim = width - 2 * STOP
    front = Move(_box(slim, depth, high, DRAWER_RADIUS), x=float(STOP))
    heel = Move(_box(width, bay.heel, high, HEEL_RADIUS), y=depth - bay.heel)
    block = Union((front, heel))
    inner = (slim - 2 * wall, depth - 2 * wall)
    hollow = Bowl(*inner, DRAWER_RADIUS - wall, DRAWER_FILLET, high)
    solid = Difference(
        block, (Move(hollow, x=STOP + wall, y=wall, z=floor), along_y(_notch(bay, floor), -wall, 2 * wall))
    )
    walls = rounded_mm2(slim, depth, DRAWER_RADIUS) - rounded_mm2(*inner, DRAWER_RADIUS - wall)
    beside = 2 * STOP * bay.heel * high
    drop, wide = _notch_size(bay, floor)
    notch = 0.75 * wide * drop * wall
    return Part(
        kind=Kind.DRAWER,
        name=f"little drawer {size_name(width, depth)} h{high:g}",
        parameters=(
            ("cols", spec.cols),
            ("pitch", module.pitch),
            ("rises", spec.rises),
            ("rows", spec.rows),
            ("wall", wall),
        ),
        recipe=solid,
        plastic=Plastic(
            rounded_mm2(slim, depth, DRAWER_RADIUS) * floor + walls * (high - floor) + beside - notch,
            0.0, slim * depth, high, 0.0,
        ),
    )  # fmt: skip


def _box(width: float, depth: float, high: float, radius: float) -> Solid:
    """A block whose lower edge is drawn in, so that a spread first layer stays inside."""
    foot = Rect(width - 2 * LEAD_IN, depth - 2 * LEAD_IN, radius - LEAD_IN)
    return Union(
        (
            Move(Taper(foot, LEAD_IN, -LEAD_IN), x=float(LEAD_IN), y=float(LEAD_IN)),
            Move(Prism(Rect(width, depth, radius), high - LEAD_IN), z=float(LEAD_IN)),
        )
    )


def box_riser(module: Module, spec: DeckSpec) -> Part:
    """A riser with a compartment that is reached from above: a tray with a deck lid, used as a riser.

    Args:
        module: the household's module.
        spec: of the tray and its lid; the height is a whole number of rises.

    Raises:
        RecipeError: the height is no whole number of rises, or the tray is refused.
    """
    if abs(module.height(spec.height) - spec.height) > module.seat.layer / 2:
        refuse_part(
            "riser with a compartment", "its height is a whole number of rises", found=f"{spec.height:g}",
            allowed=f"multiples of {module.rise:g}", remedy=f"Take {module.height(spec.height):g}.",
        )  # fmt: skip
    made = deck_tray(module, spec)
    return replace(made, kind=Kind.RISER, name=made.name.replace("tray", "riser", 1))


def drawer_place(module: Module, spec: DrawerSpec) -> tuple[float, float, float]:
    """Where the front left corner of the closed drawer lies in its riser, mm."""
    Bay(module, spec)
    return CORNER_RADIUS + SIDE, 0.0, module.seat.dome


def _notch_size(bay: Bay, floor: float) -> tuple[float, float]:
    """How deep the notch of the front is, and how wide at the top, mm."""
    drop = min(float(FINGER_DEPTH), bay.drawer_height - floor - FRONT_LAND)
    return drop, min(float(FINGER_WIDTH), bay.drawer[0] - 2 * STOP - 2 * DRAWER_RADIUS - 2 * NOTCH_LAND)


def _notch(bay: Bay, floor: float) -> Polygon:
    """A notch that narrows to its half, in the front view; it reaches past the top."""
    drop, wide = _notch_size(bay, floor)
    middle, top, half = bay.drawer[0] / 2, bay.drawer_height, wide / 2
    corners = ((middle - half / 2, top - drop), (middle + half / 2, top - drop), (middle + half, top))
    past = ((middle + half, top + OVERSHOOT), (middle - half, top + OVERSHOOT))
    return Polygon((*corners, *past, (middle - half, top)))


def _plastic(bay: Bay) -> Plastic:
    """The block less its sockets, the bay and the recess of the roof; cheeks and back are printed sparsely."""
    module, spec = bay.module, bay.spec
    depth = bay.outer[1]
    plan = inset_mm2(module, spec.cols, spec.rows, 0.0)
    room = bay.width * (depth - CORNER_RADIUS) - 2 * STOP * JAMB
    around = inset_mm2(module, spec.cols, spec.rows, module.wall) - bay.width * (depth - CORNER_RADIUS - module.wall)
    sockets = sockets_mm3(module.seat, spec.cols, spec.rows, module.pitch)
    solid = plan * bay.high - sockets - room * (bay.high - module.seat.dome) - around * bay.roof
    within = (CORNER_RADIUS - 2 * module.wall) * (2 * depth + bay.width)
    return Plastic(
        solid, within * (bay.ledge - module.seat.dome), inset_mm2(module, spec.cols, spec.rows, LEAD_IN), bay.high, 0.0
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Risers, roofs and drawers; none has a handle."""
    most = max(cols for cols in range(2, 8) if roof_thickness(module, bay_width(module, cols)) <= MOST_ROOF)
    specs = {"smallest": DrawerSpec(2, 2, 4), "middle": DrawerSpec(3, 4, 5), "largest": DrawerSpec(most, 9, 8)}
    boxes = {"smallest": DeckSpec(1, 2, module.height(12)), "largest": DeckSpec(9, 6, module.height(48))}
    drawers = tuple(
        Example(size, make(module, spec), 0)
        for size, spec in specs.items()
        for make in (drawer_riser, drawer_roof, little_drawer)
    )
    return (*drawers, *(Example(size, box_riser(module, spec), 0) for size, spec in boxes.items()))
