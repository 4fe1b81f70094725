"""A press-on lid for a plain tray: a plate on the rim, a skirt inside it.

It is as large as its tray, so it stays on the cells. It is printed on its head, as its recipe lies; ``worn`` says how
it lies on a tray. The edge of the plate is chamfered all round at the rim, so that a fingernail gets under it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic
from nookwright.module.seat import LEAD_IN, SCALE_SHARE, outer_size, whole_layers
from nookwright.parts.lids.lid_mechanics import ONE_OFF_STRAIN, snap_strain
from nookwright.parts.lying import along_x
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, turned_over
from nookwright.shapes.cutters import open_above
from nookwright.shapes.regions import Polygon, Rect, RegionMove, RegionRepeat
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Solid, Taper, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

PLATE = Fact(1.6, unit="mm", kind=SourceKind.CHOICE, source="Eight layers of 0.2: stiff over a drawer's width.")
SKIRT = Fact(7.0, unit="mm", kind=SourceKind.CHOICE, source="Keeps a lid on when the tray is shaken or tipped.")
NAIL_EDGE = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Half of the rim: a nail finds it, the rest carries.")
LEAD = Fact(0.6, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Chamfer that lets the skirt find the tray.")
EASY = Fact(0.3, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Clearance a side: falls on by itself.")
SNUG = Fact(0.15, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Clearance a side: stays by the wall's bow.")
PRESS = Fact(
    0.1,
    unit="mm",
    kind=SourceKind.CALCULATED,
    source="Ridges press on the wall by this: a tongue 1.2 thick, 5.8 long has 0.54 % strain and 5 N for 10 of width.",
)
TONGUE = Fact(10.0, unit="mm", kind=SourceKind.CHOICE, source="Width of a pressing tongue of the skirt.")
TONGUE_GAP = Fact(1.2, unit="mm", kind=SourceKind.CHOICE, source="Beside a tongue: prints open at any line width.")
_RIDGE_LAP = 0.4  # the ridge lies so deep in its tongue


class LidFit(StrEnum):
    """How a lid sits on its tray."""

    EASY = "easy"  # lifts off with one hand
    SNUG = "snug"  # stays on when the tray is carried
    PRESS = "press"  # tongues of the skirt press on the walls


@dataclass(frozen=True)
class LidSpec:
    """A press-on lid: footprint of its tray in cells, and how it sits."""

    cols: int
    rows: int
    fit: LidFit = LidFit.EASY


def lid_clearance(module: Module, spec: LidSpec) -> float:
    """From the skirt to the wall of the tray on each side, mm: the fit, and half of what two prints differ in scale."""
    longest = outer_size(max(spec.cols, spec.rows), module.pitch)
    return (SNUG if spec.fit is LidFit.SNUG else EASY) + SCALE_SHARE * longest / 2


def lid(module: Module, spec: LidSpec) -> Part:
    """A press-on lid, on its head.

    Args:
        module: the household's module.
        spec: footprint and fit.

    Raises:
        RecipeError: no side of the lid is long enough for a pressing tongue, or it would be strained too much.
    """
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    plate, height = _levels(module)
    solid: Solid = Union((_plate(module, spec, plate), _skirt(module, spec, plate, height)))
    if spec.fit is LidFit.PRESS:
        slits, ridges = _tongues(module, spec, plate, height)
        solid = Union((Difference(solid, slits), *ridges))
    return Part(
        kind=Kind.LID,
        name=f"lid {size_name(width, depth)}",
        parameters=(
            ("cols", spec.cols),
            ("fit", spec.fit.value),
            ("pitch", module.pitch),
            ("rows", spec.rows),
            ("wall", module.wall),
        ),
        recipe=solid,
        plastic=_plastic(module, spec, plate, height),
    )


def worn(module: Module, part: Part, height: float) -> Solid:
    """A press-on lid as it lies on a tray, in the tray's axes.

    Args:
        module: the household's module.
        part: the lid.
        height: of the tray, mm.
    """
    plate, whole = _levels(module)
    return Move(turned_over(part.recipe), z=height - (whole - plate))


def _levels(module: Module) -> tuple[float, float]:
    """Thickness of the plate, and height over all, mm."""
    plate = whole_layers(PLATE, module.seat.layer)
    return plate, round(plate + whole_layers(SKIRT, module.seat.layer), 6)


def _plate(module: Module, spec: LidSpec, plate: float) -> Solid:
    """Drawn in at the bed, where a first layer spreads, and at the rim."""
    cols, rows = spec.cols, spec.rows
    foot, full = inset_rect(module, cols, rows, LEAD_IN), inset_rect(module, cols, rows, 0.0)
    # Each of the two stands on z = 0 or ends above, so that what meets in a plane meets in one number, not in two sums.
    rising = Union((Move(Taper(foot, LEAD_IN, -LEAD_IN), x=LEAD_IN, y=LEAD_IN), Move(Prism(full, plate), z=LEAD_IN)))
    ending = Union((Prism(full, plate - NAIL_EDGE), Move(Taper(full, NAIL_EDGE, NAIL_EDGE), z=plate - NAIL_EDGE)))
    return Intersection((rising, ending))


def _skirt(module: Module, spec: LidSpec, plate: float, height: float) -> Solid:
    """A ring that stands in the plate, its free end chamfered outside."""
    out = module.wall + lid_clearance(module, spec)
    rect, hole = (inset_rect(module, spec.cols, spec.rows, by) for by in (out, out + module.wall))
    full = Union((Prism(rect, height - LEAD), Move(Taper(rect, LEAD, LEAD), z=height - LEAD)))
    inside = open_above(RegionMove(hole, x=module.wall, y=module.wall), plate, height)
    return Move(Difference(full, (inside,)), x=out, y=out)


def _tongues(module: Module, spec: LidSpec, plate: float, height: float) -> tuple[tuple[Solid, ...], tuple[Solid, ...]]:
    """Slits beside a tongue in the middle of each side that is long enough, and the ridge of each tongue."""
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    reach = lid_clearance(module, spec) + PRESS
    tip = height - LEAD - reach
    _check_strain(module, tip - plate)
    slits: list[Solid] = []
    ridges: list[Solid] = []
    for lying in pressing_sides(module, spec):
        length = width if lying else depth
        both, ridge = _slits(module, spec, length, plate, height), _ridge(module, spec, length, tip)
        for turns, x, y in ((0, 0.0, 0.0), (2, width, depth)) if lying else ((1, width, 0.0), (3, 0.0, depth)):
            slits.append(Move(both, x=x, y=y, quarter_turns=turns))
            ridges.append(Move(ridge, x=x, y=y, quarter_turns=turns))
    return tuple(slits), tuple(ridges)


def pressing_sides(module: Module, spec: LidSpec) -> tuple[bool, ...]:
    """Which pairs of sides have room for a tongue: ``True`` for front and back, ``False`` for left and right.

    Raises:
        RecipeError: none has.
    """
    need = TONGUE + 2 * TONGUE_GAP + 2 * module.wall
    rect = inset_rect(module, spec.cols, spec.rows, module.wall + lid_clearance(module, spec))
    straight = {True: rect.width - 2 * rect.radius, False: rect.depth - 2 * rect.radius}
    found = tuple(lying for lying, length in straight.items() if length >= need)
    if not found:
        refuse_part(
            "press-on lid", "a pressing tongue has room on one side at least",
            found=f"{max(straight.values()):.1f} of straight skirt", allowed=f"at least {need:g}",
            remedy="Take the snug fit.",
        )  # fmt: skip
    return found


def _slits(module: Module, spec: LidSpec, length: float, plate: float, height: float) -> Solid:
    """A cutter through the front of the skirt on both sides of its tongue."""
    deep, out = 2 * module.wall, module.wall + lid_clearance(module, spec)
    places = tuple((length / 2 + side * (TONGUE + TONGUE_GAP) / 2 - TONGUE_GAP / 2, 0.0) for side in (-1, 1))
    both = RegionRepeat(Rect(TONGUE_GAP, deep), places)
    return open_above(RegionMove(both, y=out - module.wall / 2), plate, height)


def _ridge(module: Module, spec: LidSpec, length: float, tip: float) -> Solid:
    """A ridge along the front tongue, of two slopes of 45 degrees; its tip presses on the wall of the tray."""
    root = module.wall + lid_clearance(module, spec) + _RIDGE_LAP
    edge = module.wall - PRESS
    deep = root - edge
    outline = Polygon(((root, tip - deep), (root, tip + deep), (edge, tip)))
    return along_x(outline, (length - TONGUE) / 2, (length + TONGUE) / 2)


def _check_strain(module: Module, length: float) -> None:
    strain = snap_strain(module.wall, PRESS, length)
    if strain > ONE_OFF_STRAIN:
        refuse_part(
            "press-on lid",
            "its tongues bear the bending",
            found=f"{100 * strain:.2f} % strain",
            allowed=f"at most {100 * ONE_OFF_STRAIN:g} %",
            remedy="Take the snug fit.",
        )


def _plastic(module: Module, spec: LidSpec, plate: float, height: float) -> Plastic:
    """Plate and skirt; chamfers as half of their squares, slits and ridges left out."""
    cols, rows = spec.cols, spec.rows
    out = module.wall + lid_clearance(module, spec)
    area = inset_mm2(module, cols, rows, 0.0)
    round_plate = 2 * (outer_size(cols, module.pitch) + outer_size(rows, module.pitch))
    chamfers = round_plate * (LEAD_IN**2 + NAIL_EDGE**2) / 2
    ring = inset_mm2(module, cols, rows, out) - inset_mm2(module, cols, rows, out + module.wall)
    return Plastic(
        body_mm3=area * plate - chamfers + ring * (height - plate - LEAD / 4),
        sparse_mm3=0.0,
        first_mm2=inset_mm2(module, cols, rows, LEAD_IN),
        height=height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Lids of each fit; a cup has no handle, and slits are open at one end."""
    return (
        Example("smallest", lid(module, LidSpec(1, 1)), 0),
        Example("middle", lid(module, LidSpec(4, 3, LidFit.SNUG)), 0),
        Example("largest", lid(module, LidSpec(14, 9)), 0),
        Example("smallest", lid(module, LidSpec(1, 2, LidFit.PRESS)), 0),
        Example("middle", lid(module, LidSpec(4, 3, LidFit.PRESS)), 0),
        Example("largest", lid(module, LidSpec(10, 8, LidFit.PRESS)), 0),
    )
