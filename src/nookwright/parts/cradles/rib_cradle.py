"""Pockets with three yielding ribs that centre bodies which vary.

Each rib is a leaf that grows from the sleeve and runs straight to where it touches the body, like a tangent: the body
pushes its end outwards and bends it within its layers, where a print is strongest. Its lower edge rises from its
root at 45 degrees: it hangs free of the floor and prints without support. That edge is a cone's, whose tip lies in the
middle of the leaf: in its face, the cone would leave a curve with a kink there, and rounding alone would say on which
side. The body's play is taken up by bending alone:

    strain = 1.5 h Y / L^2

for a cantilever of thickness h and length L whose end gives way by Y (beam theory, as printed in snap-fit guides).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.seat import outer_size, whole_layers
from nookwright.parts.cradles.pocket import Placed, Round
from nookwright.parts.cradles.pocket_cradle import pocket_cradle
from nookwright.parts.cradles.pocket_plan import PocketCradle
from nookwright.parts.cradles.sleeve_lines import lines_thick
from nookwright.parts.lids.lid_mechanics import snap_length, snap_strain
from nookwright.parts.model import Example
from nookwright.parts.refusals import refuse_part
from nookwright.shapes.regions import Polygon
from nookwright.shapes.solids import Difference, Move, Prism, Revolution, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.parts.model import Part

STRAIN_LIMIT = Fact(
    0.0075,
    unit="1",
    kind=SourceKind.CHOICE,
    source="Printed PLA yields at 1.5 % (a maker's sheet, ASTM D638); half of it, as it bends again and again.",
)
LEAF_LINES = Fact(2, unit="lines", kind=SourceKind.CHOICE, source="The thinnest wall whose lines hold each other.")
GRIP = Fact(
    0.2, unit="mm", kind=SourceKind.CHOICE, source="At rest the leaves stand inside the smallest body's radius by this."
)
BEHIND = Fact(
    0.4,
    unit="mm",
    kind=SourceKind.CHOICE,
    source="Behind a leaf that is pushed all the way some room is left: one line.",
)
TIP = Fact(1.5, unit="mm", kind=SourceKind.CHOICE, source="A leaf reaches past where it touches, or its edge would.")
BAND = Fact(
    6.0, unit="mm", kind=SourceKind.CHOICE, source="Least height of a leaf where it touches: it would cut in otherwise."
)
FREE = Fact(0.6, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A leaf's root starts above the floor by this.")
RIBS = Fact(3, unit="1", kind=SourceKind.CALCULATED, source="Three contacts fix a circle; a fourth would fight them.")
LEAST_CENTRED = Fact(
    6.0,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="From here on the end of a leaf stays clear of the next one: sqrt(3) (3 - 0.2) = 4.8 against 1.5 + 2 x 0.8.",
)
_ROOT = 0.6  # a leaf starts this deep in the sleeve
_TURN = 2 * math.pi / 3


@dataclass(frozen=True)
class RibPocket:
    """A round pocket with three leaves.

    Attributes:
        smallest: diameter of the smallest body, mm.
        largest: diameter of the largest body, mm.
        diameter: of the pocket behind the leaves, mm.
        x, y: its middle in the part, mm.
    """

    smallest: float
    largest: float
    diameter: float
    x: float = 0.0
    y: float = 0.0

    @property
    def rest(self) -> float:
        """Radius at which the leaves touch before a body is in, mm."""
        return self.smallest / 2 - GRIP

    @property
    def give(self) -> float:
        """How far a leaf gives way to the largest body, mm."""
        return self.largest / 2 - self.rest

    @property
    def length(self) -> float:
        """Length of a leaf from the sleeve to where it touches, mm."""
        return math.sqrt(max(0.0, (self.diameter / 2) ** 2 - self.rest**2))


def leaf_thickness(module: Module) -> float:
    """Thickness of a leaf: two lines, mm."""
    return lines_thick(module, int(LEAF_LINES))


def rib_pocket_diameter(module: Module, smallest: float, largest: float) -> float:
    """The narrowest pocket whose leaves stay below the strain, up to a tenth, mm.

    Args:
        module: the household's module.
        smallest: diameter of the smallest body, mm.
        largest: diameter of the largest body, mm.
    """
    thick, bare = leaf_thickness(module), RibPocket(smallest, largest, largest)
    bent = math.hypot(bare.rest, snap_length(thick, bare.give, STRAIN_LIMIT))
    return math.ceil(20 * max(bent, largest / 2 + thick + BEHIND)) / 10


def rib_cradle_height(module: Module, pocket: RibPocket) -> float:
    """The least outer height of a cradle with such a pocket, in whole layers, mm."""
    rise = FREE + pocket.length + TIP + BAND + _chamfer(pocket)
    return whole_layers(module.seat.dome + rise, module.seat.layer)


def rib_cradle(module: Module, *, cols: int, rows: int, height: float, pockets: tuple[RibPocket, ...]) -> Part:
    """A cradle whose pockets centre bodies that vary.

    Args:
        module: the household's module.
        cols: footprint along x, cells.
        rows: footprint along y, cells.
        height: outer height, mm.
        pockets: with their middles.

    Raises:
        RecipeError: a leaf would be strained too much, has no room to give way, or is too low.
    """
    for pocket in pockets:
        _check(module, pocket, height)
    placed = tuple(Placed(Round(pocket.diameter), pocket.x, pocket.y) for pocket in pockets)
    plain = pocket_cradle(module, PocketCradle(cols, rows, height, placed, lead_in=0.0))
    leaves = tuple(leaf for pocket in pockets for leaf in _leaves(module, pocket, height))
    return _with_leaves(module, plain, leaves, pockets)


def _with_leaves(module: Module, plain: Part, leaves: tuple[Solid, ...], pockets: tuple[RibPocket, ...]) -> Part:
    """The cradle and its leaves as one part."""
    high = plain.size[2]
    more = sum(RIBS * leaf_mm3(module, pocket, high) for pocket in pockets)
    span = f"{min(p.smallest for p in pockets):g} to {max(p.largest for p in pockets):g}"
    kept = [entry for entry in plain.parameters if entry[0] != "pockets"]
    return replace(
        plain,
        name=f"{plain.name.partition(' round')[0]} ribs {span}",
        parameters=tuple(
            sorted(
                [
                    *kept,
                    ("largest", tuple(pocket.largest for pocket in pockets)),
                    ("leaf", leaf_thickness(module)),
                    ("pocket_diameters", tuple(pocket.diameter for pocket in pockets)),
                    ("smallest", tuple(pocket.smallest for pocket in pockets)),
                ]
            )
        ),
        recipe=Union((plain.recipe, *leaves)),
        plastic=replace(plain.plastic, body_mm3=plain.plastic.body_mm3 + more),
    )


def leaf_mm3(module: Module, pocket: RibPocket, height: float) -> float:
    """Plastic of one leaf: a strip as high as the pocket less the triangle below it; the chamfer on top is left out."""
    length, high = pocket.length + TIP, height - module.seat.dome - FREE
    return leaf_thickness(module) * (length * high - length**2 / 2)


def _chamfer(pocket: RibPocket) -> float:
    """Height of the chamfer on top of the leaves: from their rest to the largest body, and a line more."""
    return pocket.give + BEHIND


def _leaves(module: Module, pocket: RibPocket, height: float) -> tuple[Solid, ...]:
    """Three leaves, free of the floor, with a chamfer on top that leads the body in."""
    thick, floor, wall = leaf_thickness(module), module.seat.dome, pocket.diameter / 2
    start, end = -math.sqrt((wall + _ROOT) ** 2 - pocket.rest**2), TIP
    steep = _chamfer(pocket)
    cone = Revolution(
        (
            (0.0, 0.0),
            (pocket.rest - OVERSHOOT, 0.0),
            (pocket.rest + steep + OVERSHOOT, steep + 2 * OVERSHOOT),
            (0.0, steep + 2 * OVERSHOOT),
        )
    )
    lead = Move(cone, x=pocket.x, y=pocket.y, z=height - steep - OVERSHOOT)
    made = []
    for number in range(int(RIBS)):
        angle = number * _TURN
        blank = _blank(pocket, (start, end), thick, angle)
        x, y = _at(pocket, -pocket.length, pocket.rest + thick / 2, angle)
        under = Move(_below(pocket.length + TIP + 2 * _ROOT), x=x, y=y, z=floor + FREE)
        raised = Move(Prism(blank, height - floor), z=floor)
        made.append(Difference(raised, (under, lead)))
    return tuple(made)


def _blank(pocket: RibPocket, ends: tuple[float, float], thick: float, angle: float) -> Polygon:
    """The plan of a leaf: a strip whose inner side lies on the tangent at its angle."""
    (start, end), near = ends, pocket.rest
    corners = ((start, near), (end, near), (end, near + thick), (start, near + thick))
    return Polygon(tuple(_at(pocket, along, out, angle) for along, out in corners))


def _at(pocket: RibPocket, along: float, out: float, angle: float) -> tuple[float, float]:
    """A point in the part, of a leaf whose tangent runs along x at the back of the pocket, turned by an angle."""
    c, s = math.cos(angle), math.sin(angle)
    return pocket.x + along * c - out * s, pocket.y + along * s + out * c


def _below(reach: float) -> Solid:
    """All that lies lower than 45 degrees above the root of a leaf, about that root."""
    return Revolution(((0.0, -reach), (reach, -reach), (reach, reach), (0.0, 0.0)))


def _check(module: Module, pocket: RibPocket, height: float) -> None:
    """Refuse leaves that break, jam, or cannot be printed."""
    thick, subject = leaf_thickness(module), f"ribs for {pocket.smallest:g} to {pocket.largest:g}"
    if not LEAST_CENTRED <= pocket.smallest <= pocket.largest:
        refuse_part(
            subject,
            "the smallest body is no larger than the largest",
            found=f"{pocket.smallest:g} and {pocket.largest:g}",
            allowed=f"at least {LEAST_CENTRED:g}, in order",
            remedy="Measure some of them again.",
        )
    best = rib_pocket_diameter(module, pocket.smallest, pocket.largest)
    least = pocket.largest / 2 + thick + BEHIND
    if pocket.diameter / 2 < least or snap_strain(thick, pocket.give, pocket.length) > STRAIN_LIMIT:
        refuse_part(
            subject,
            f"a leaf gives way without passing a strain of {STRAIN_LIMIT:.2%}",
            found=f"a pocket of {pocket.diameter:g}",
            allowed=f"at least {best:g}",
            remedy="Take a wider pocket, so that the leaves are longer, or sort the bodies by size.",
        )
    lowest = rib_cradle_height(module, pocket)
    if height < lowest:
        refuse_part(
            subject,
            "a leaf is high enough to touch with a band",
            found=f"{height:g}",
            allowed=f"at least {lowest:g}",
            remedy="Make the cradle higher.",
        )


def examples(module: Module) -> tuple[Example, ...]:
    """Pockets for one slim, two middling and four wide bodies; a leaf hangs by its root alone and makes no handle."""
    wanted = (("smallest", (10.0, 10.3), 1, 1), ("middle", (30.0, 31.2), 2, 1), ("largest", (60.0, 63.0), 2, 2))
    return tuple(
        Example(size, _example(module, *bodies, columns, lines), genus=0) for size, bodies, columns, lines in wanted
    )


def _example(module: Module, smallest: float, largest: float, columns: int, lines: int) -> Part:
    """A cradle as small as its bodies allow."""
    diameter = rib_pocket_diameter(module, smallest, largest)
    pitch = diameter + module.wall
    cols, rows = (max(2, module.cells(count * pitch + module.wall)) for count in (columns, lines))
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    pockets = tuple(
        RibPocket(
            smallest,
            largest,
            diameter,
            width / 2 + (n - (columns - 1) / 2) * pitch,
            depth / 2 + (m - (lines - 1) / 2) * pitch,
        )
        for m in range(lines)
        for n in range(columns)
    )
    height = module.height(max(rib_cradle_height(module, pocket) for pocket in pockets))
    return rib_cradle(module, cols=cols, rows=rows, height=height, pockets=pockets)
