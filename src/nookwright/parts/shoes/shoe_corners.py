"""Four corner pieces that hold a box between them: a quarter of the plastic of a frame.

Two different parts do for four corners: one for front left and, turned by 180 degrees, back right; the other for front
right (turned by 90 degrees) and back left (by 270).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic, sockets_mm3, sparse_floor_mm3
from nookwright.module.seat import LEAD_IN, outer_size
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.shoes.shoe import (
    EASY,
    LEAD,
    SLEEVE,
    Owned,
    ShoeSpec,
    Sleeve,
    parameters_of,
    shoe_cells,
    sleeve_of,
)
from nookwright.parts.swollen_rim import inset_mm2, inset_rect
from nookwright.parts.underside import body, seated
from nookwright.shapes.solids import Difference, Intersection, Move, Prism, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

LEAST_UNDER = Fact(8.0, unit="mm", kind=SourceKind.CHOICE, source="How far a box lies on each corner piece, both ways.")


@dataclass(frozen=True)
class CornerSpec:
    """Four corner pieces: the frame that they stand for, and the size of each, in cells both ways."""

    frame: ShoeSpec
    cells: int = 2


def shoe_corners(module: Module, spec: CornerSpec) -> tuple[Part, Part]:
    """The piece for front left and back right, and the one for front right and back left.

    Args:
        module: the household's module.
        spec: frame and size of the pieces.

    Raises:
        RecipeError: the thing is round, does not lie on the pieces, or the pieces meet.
    """
    owned = spec.frame.owned
    swapped = replace(owned, width=owned.depth or owned.width, depth=owned.width if owned.depth else 0.0)
    other = replace(spec, frame=replace(spec.frame, owned=swapped, cols=spec.frame.rows, rows=spec.frame.cols))
    return _corner(module, spec), _corner(module, other)


def _corner(module: Module, spec: CornerSpec) -> Part:
    """The front left piece."""
    frame, cells = spec.frame, spec.cells
    sleeve = sleeve_of(module, frame)
    middle = _middle(module, spec)
    _check(module, spec, sleeve, middle)
    plan = Prism(inset_rect(module, cells, cells, 0.0), frame.height)
    walls = Intersection((Move(sleeve.block(), x=middle[0], y=middle[1]), plan))
    cuts = tuple(Move(cut, x=middle[0], y=middle[1]) for cut in sleeve.pocket())
    solid = Difference(Union((body(module, cells, cells, module.seat.dome), walls)), cuts)
    size = outer_size(cells, module.pitch)
    return Part(
        kind=Kind.SHOE,
        name=f"shoe corner {size_name(size, size)} h{frame.height:g}",
        parameters=tuple(sorted((*parameters_of(module, frame), ("corner_cells", cells)))),
        recipe=seated(solid, module, cells, cells),
        plastic=_plastic(module, spec, sleeve, middle),
    )


def _middle(module: Module, spec: CornerSpec) -> tuple[float, float]:
    """The middle of the thing in the axes of the front left piece: that of the frame's cells."""
    inset = (spec.cells * module.pitch - outer_size(spec.cells, module.pitch)) / 2
    return spec.frame.cols * module.pitch / 2 - inset, spec.frame.rows * module.pitch / 2 - inset


def _starts(sleeve: Sleeve, middle: tuple[float, float]) -> tuple[float, float]:
    """Where the outer faces of the sleeve lie in the piece, along x and y, mm."""
    return middle[0] - sleeve.size[0] / 2, middle[1] - sleeve.size[1] / 2


def _check(module: Module, spec: CornerSpec, sleeve: Sleeve, middle: tuple[float, float]) -> None:
    frame, cells = spec.frame, spec.cells
    if frame.owned.round:
        refuse_part(
            "shoe corners", "four corners hold a box", found="a round thing", allowed="a box", remedy="Take a frame.",
        )  # fmt: skip
    if min(frame.cols, frame.rows) < 2 * cells:
        refuse_part(
            "shoe corners", "the pieces leave each other room", found=f"{cells} cells each",
            allowed=f"at most {min(frame.cols, frame.rows) // 2}", remedy="Take smaller pieces or a frame.",
        )  # fmt: skip
    size = outer_size(cells, module.pitch)
    starts = _starts(sleeve, middle)
    under = min(size - start - sleeve.outside for start in starts)
    least = LEAST_UNDER + max(0.0, frame.owned.radius)
    if min(starts) < 0 or under < least:
        refuse_part(
            "shoe corners", "the sleeve stays on its cells and the box lies on them",
            found=f"{under:.1f} of the box on a piece, sleeve {min(starts):.1f} inside",
            allowed=f"at least {least:g}, and 0", remedy="Take larger pieces, or the fewest cells for the frame.",
        )  # fmt: skip


def _plastic(module: Module, spec: CornerSpec, sleeve: Sleeve, middle: tuple[float, float]) -> Plastic:
    """The floor and an angle of two walls, its corner rounded; what the footprint's corner cuts off is left in."""
    cells, seat = spec.cells, module.seat
    size, high = outer_size(cells, module.pitch), spec.frame.height - seat.dome
    thick = SLEEVE + (sleeve.mouth - EASY) / 2
    length = sum(size - start for start in _starts(sleeve, middle)) - thick
    inside = sleeve.corner + sleeve.outside - thick
    corner = (1 - math.pi / 4) * (inside**2 - (inside + thick) ** 2)
    walls = (length * thick + corner) * high - length * LEAD**2 / 2
    return Plastic(
        body_mm3=inset_mm2(module, cells, cells, 0.0) * seat.dome
        - sockets_mm3(seat, cells, cells, module.pitch)
        + walls,
        sparse_mm3=sparse_floor_mm3(seat, cells, cells, module.pitch),
        first_mm2=inset_mm2(module, cells, cells, LEAD_IN),
        height=spec.frame.height,
        hops=0.0,
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Corner pieces for invented boxes; none has a handle."""
    high = module.height(24)
    found = []
    things = {
        "smallest": (Owned(68.0, 82.0, 3.0), 2),
        "middle": (Owned(151.0, 96.0, 6.0, taper=0.02), 2),
        "largest": (Owned(300.0, 200.0, 12.0), 4),
    }
    for size, (owned, cells) in things.items():
        cols, rows = shoe_cells(module, owned, high)
        parts = shoe_corners(module, CornerSpec(ShoeSpec(owned, cols, rows, high), cells))
        found += [Example(size, part, 0) for part in parts]
    return tuple(found)
