"""A lid that is itself a liner: it lies in the rim of its tray, flush, and carries cones for the tray above.

Its tray swells at 45 degrees to a ledge under the rim. So the lid is a flat plate with cones, printed as it lies, and a
tray with its lid is no higher than without: the walls of the upper tray stand on those of the lower one.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic, frustum_mm3, tray_plastic
from nookwright.module.seat import LEAD_IN, draw_of, has_cone, outer_size, whole_layers
from nookwright.module.stacking import DECK, DECK_CONE, LEAST_INSIDE, deck_clearance, deck_swell
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.swollen_rim import inset_mm2, inset_rect, swollen_rim, swollen_rim_mm3
from nookwright.parts.underside import body, cavity, domes, inner_radius, seated
from nookwright.shapes.cutters import through
from nookwright.shapes.regions import Circle, RegionRepeat
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Revolution, Solid, Taper, Union
from nookwright.sizing.ways import SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.module.seat import Seat

NOTCH = Fact(7.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="Radius of a notch that a fingertip gets into.")
NOTCH_LAND = Fact(4.0, unit="mm", kind=SourceKind.CHOICE, source="What a notch leaves of a narrow lid on each side.")


@dataclass(frozen=True)
class DeckSpec:
    """A tray with a deck lid: footprint in cells, height in mm, floor, whether the lid's first cell has a cone.

    Every tray of 1 x 2 cells and more meets a cone whichever the phase; neighbouring lids may carry on a chessboard.
    The lid's thickness is rounded up to whole layers.
    """

    cols: int
    rows: int
    height: float
    smooth: bool = False
    first_has_cone: bool = True
    thickness: float = float(DECK)


def deck_thickness(module: Module, spec: DeckSpec) -> float:
    """Thickness of the lid in whole layers, mm."""
    return whole_layers(spec.thickness, module.seat.layer)


def ledge(module: Module, spec: DeckSpec) -> float:
    """Height of the ledge that the lid lies on, mm."""
    return round(spec.height - deck_thickness(module, spec), 6)


def deck_tray(module: Module, spec: DeckSpec) -> Part:
    """The tray of a deck lid.

    Args:
        module: the household's module.
        spec: footprint, height, floor.

    Raises:
        RecipeError: it is too low for its ledge, or so long that the ledge is wider than the corners allow.
    """
    cols, rows = spec.cols, spec.rows
    smooth, seat = spec.smooth, module.seat
    swell, start = _swelling(module, spec)
    floor = seat.dome if smooth else seat.shell_floor
    inside = cavity(module, cols, rows, floor=floor, height=spec.height, fillet=_fillet(spec))
    hollow = Difference(body(module, cols, rows, spec.height), (inside,))
    ring = swollen_rim(module, cols, rows, start=start, swell=swell, top=ledge(module, spec))
    solid = Union((hollow, ring, *(() if smooth else domes(module, cols, rows))))
    width, depth = outer_size(cols, module.pitch), outer_size(rows, module.pitch)
    plain = tray_plastic(module, cols, rows, spec.height, smooth=smooth)
    ring_mm3 = swollen_rim_mm3(module, cols, rows, start=start, swell=swell, top=ledge(module, spec))
    return Part(
        kind=Kind.TRAY,
        name=f"tray {size_name(width, depth)} h{spec.height:g} for a deck lid",
        parameters=(
            ("cols", cols),
            ("floor", "smooth" if smooth else "shell"),
            ("height", spec.height),
            ("lid_thickness", deck_thickness(module, spec)),
            ("pitch", module.pitch),
            ("rows", rows),
            ("wall", module.wall),
        ),
        recipe=seated(solid, module, cols, rows),
        plastic=Plastic(plain.body_mm3 + ring_mm3, plain.sparse_mm3, plain.first_mm2, plain.height, plain.hops),
    )


def deck_lid(module: Module, spec: DeckSpec) -> Part:
    """The lid, as it is printed and lies.

    Args:
        module: the household's module.
        spec: of the tray and its lid.

    Raises:
        RecipeError: it is no thicker than its drawn-in edge.
    """
    cols, rows, seat = spec.cols, spec.rows, module.seat
    thick = deck_thickness(module, spec)
    if thick < 2 * LEAD_IN:
        refuse_part(
            "deck lid", "it is thicker than its drawn-in edge", found=f"{thick:g}",
            allowed=f"at least {2 * LEAD_IN:g}", remedy="Make it thicker.",
        )  # fmt: skip
    plate = Difference(_plate(module, spec), tuple(_notches(module, spec)))
    middles = cone_middles(module, spec)
    cones = (Repeat(deck_cone(seat, thick, DECK_CONE), middles),) if middles else ()
    inset = module.wall + deck_clearance(module, cols, rows)
    size = inset_rect(module, cols, rows, inset)
    return Part(
        kind=Kind.LID,
        name=f"deck lid {size_name(size.width, size.depth)}",
        parameters=(
            ("cols", cols),
            ("first_has_cone", spec.first_has_cone),
            ("pitch", module.pitch),
            ("rows", rows),
            ("thickness", thick),
        ),
        recipe=Union((plate, *cones)),
        plastic=_lid_plastic(module, spec, inset, len(middles)),
    )


def deck_lid_place(module: Module, spec: DeckSpec) -> tuple[float, float, float]:
    """Where the front left corner of the lid's box lies in its tray, mm."""
    inset = module.wall + deck_clearance(module, spec.cols, spec.rows)
    return inset, inset, ledge(module, spec)


def cone_middles(module: Module, spec: DeckSpec) -> tuple[tuple[float, float], ...]:
    """Middles of the lid's cones, mm from the front left corner of the lid's box."""
    return tuple(
        _middle(module, spec, col, row)
        for col, row in product(range(spec.cols), range(spec.rows))
        if has_cone(col, row) == spec.first_has_cone
    )


def deck_cone(seat: Seat, top: float, height: float) -> Solid:
    """A cone that grows from a face at a height, its root half a millimetre or a few layers inside.

    Args:
        seat: the seat's dimensions.
        top: height of the face, mm.
        height: of the cone above it, mm; rounded up to whole layers.
    """
    high = whole_layers(height, seat.layer)
    root = top - min(seat.panel, top / 2)
    return Revolution(
        (
            (0.0, root),
            (seat.cone_base, root),
            (seat.cone_base, top),
            (seat.cone_base - draw_of(high), top + high),
            (0.0, top + high),
        )
    )


def _middle(module: Module, spec: DeckSpec, col: int, row: int) -> tuple[float, float]:
    """The middle of a cell in the lid's axes."""
    inset = module.wall + deck_clearance(module, spec.cols, spec.rows)
    return (
        outer_size(spec.cols, module.pitch) / 2 + (col + 0.5 - spec.cols / 2) * module.pitch - inset,
        outer_size(spec.rows, module.pitch) / 2 + (row + 0.5 - spec.rows / 2) * module.pitch - inset,
    )


def _fillet(spec: DeckSpec) -> float:
    return float(SMOOTH_FILLET if spec.smooth else SHELL_FILLET)


def _swelling(module: Module, spec: DeckSpec) -> tuple[float, float]:
    """How far the wall swells and where it starts to, mm; refused where it does not fit."""
    swell = deck_swell(module, spec.cols, spec.rows)
    start = ledge(module, spec) - whole_layers(swell, module.seat.layer)
    floor = module.seat.dome if spec.smooth else module.seat.shell_floor
    least = floor + _fillet(spec) + LEAST_INSIDE
    if start < least:
        refuse_part(
            "tray for a deck lid", "its wall has room for fillet and ledge", found=f"height {spec.height:g}",
            allowed=f"at least {module.height(spec.height + least - start):g}", remedy="Make the tray higher.",
        )  # fmt: skip
    if swell > inner_radius(module):
        refuse_part(
            "tray for a deck lid", "its ledge fits the inside corners", found=f"{swell:.2f} wide",
            allowed=f"at most {inner_radius(module):g}", remedy="Make two shorter trays of it.",
        )  # fmt: skip
    return swell, start


def _plate(module: Module, spec: DeckSpec) -> Solid:
    """The plate, drawn in at the bed."""
    inset = module.wall + deck_clearance(module, spec.cols, spec.rows)
    foot, full = (inset_rect(module, spec.cols, spec.rows, by) for by in (inset + LEAD_IN, inset))
    return Union(
        (
            Move(Taper(foot, LEAD_IN, -LEAD_IN), x=LEAD_IN, y=LEAD_IN),
            Move(Prism(full, deck_thickness(module, spec) - LEAD_IN), z=LEAD_IN),
        )
    )


def notch_radius(module: Module, spec: DeckSpec) -> float:
    """Radius of a finger notch, mm: that of a fingertip where the lid is wide enough."""
    inset = module.wall + deck_clearance(module, spec.cols, spec.rows)
    narrow = inset_rect(module, min(spec.cols, spec.rows), 1, inset).width
    return min(float(NOTCH), narrow / 2 - NOTCH_LAND)


def notch_places(module: Module, spec: DeckSpec) -> tuple[tuple[float, float], ...]:
    """Middles of the finger notches on the lid's edge: opposite cells without a cone, as near the middle as may be."""
    inset = module.wall + deck_clearance(module, spec.cols, spec.rows)
    size = inset_rect(module, spec.cols, spec.rows, inset)
    cols, rows = range(spec.cols), range(spec.rows)
    front, back = _free(spec, product(cols, (0,))), _free(spec, product(cols, (spec.rows - 1,)))
    left, right = _free(spec, product((0,), rows)), _free(spec, product((spec.cols - 1,), rows))
    found = {
        "front": [(_middle(module, spec, *cell)[0], 0.0) for cell in front],
        "back": [(_middle(module, spec, *cell)[0], size.depth) for cell in back],
        "left": [(0.0, _middle(module, spec, *cell)[1]) for cell in left],
        "right": [(size.width, _middle(module, spec, *cell)[1]) for cell in right],
    }
    for pair in (("front", "back"), ("left", "right")):
        if all(found[side] for side in pair):
            return tuple(found[side][0] for side in pair)
    return ()


def _free(spec: DeckSpec, cells: product[tuple[int, int]]) -> list[tuple[int, int]]:
    """Of cells along an edge those without a cone, nearest the middle first."""
    free = [(col, row) for col, row in cells if has_cone(col, row) != spec.first_has_cone]
    return sorted(free, key=lambda cell: (abs(2 * cell[0] + 1 - spec.cols) + abs(2 * cell[1] + 1 - spec.rows), cell))


def _notches(module: Module, spec: DeckSpec) -> list[Solid]:
    places = notch_places(module, spec)
    if not places:
        return []
    return [through(RegionRepeat(Circle(notch_radius(module, spec)), places), 0.0, deck_thickness(module, spec))]


def _lid_plastic(module: Module, spec: DeckSpec, inset: float, cones: int) -> Plastic:
    """Plate less its notches, and cones; the drawn-in edge left out."""
    seat, high = module.seat, whole_layers(DECK_CONE, module.seat.layer)
    thick = deck_thickness(module, spec)
    notches = len(notch_places(module, spec)) * 3.14159265 / 2 * notch_radius(module, spec) ** 2
    area = inset_mm2(module, spec.cols, spec.rows, inset) - notches
    cone = frustum_mm3(seat.cone_base, seat.cone_base - draw_of(high), high)
    return Plastic(
        body_mm3=area * thick + cones * cone,
        sparse_mm3=0.0,
        first_mm2=inset_mm2(module, spec.cols, spec.rows, inset + LEAD_IN) - notches,
        height=thick + (high if cones else 0.0),
        hops=cones * high / seat.layer,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Trays and their lids; neither has a handle, since notches are open at the edge."""
    specs = {
        "smallest": DeckSpec(1, 2, module.height(12)),
        "middle": DeckSpec(4, 3, module.height(30), smooth=True, first_has_cone=False),
        "largest": DeckSpec(12, 9, module.height(60)),
    }
    return tuple(
        Example(size, part, 0)
        for size, spec in specs.items()
        for part in (deck_tray(module, spec), deck_lid(module, spec))
    )
