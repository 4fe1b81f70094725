"""The lids of nesting containers, standing on edge in slots: upright, or leaning back so that they stay apart.

A tray with low ribs across, open in the middle, so that a lid can be gripped between thumb and finger.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.module.estimates import Plastic, tray_plastic
from nookwright.module.seat import outer_size
from nookwright.parts.lying import along_x
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.underside import body, cavity, seated
from nookwright.shapes.regions import Polygon
from nookwright.shapes.solids import Difference, Intersection, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

SLOT_CLEARANCE = Fact(1.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="On a lid's thickness: it drops in.")
SIDE_CLEARANCE = Fact(1.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="From a lid to the side walls.")
LEAN_DEG = Fact(10.0, unit="deg", kind=SourceKind.CHOICE, source="Lids lean on the rib behind, and show their rims.")
GRIP_SHARE = Fact(0.5, unit="1", kind=SourceKind.CHOICE, source="Of the inside, open in the middle for the fingers.")
ROOT = Fact(0.6, unit="mm", kind=SourceKind.CHOICE, source="Ribs start this deep in the floor.")
LEAST_HOLD = Fact(12.0, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A lower rib lets a lid fall over.")


@dataclass(frozen=True)
class LidsSpec:
    """Lids on edge: footprint in cells, outer height in mm, size of a lid, how many, whether they lean back.

    Attributes:
        cols, rows: footprint, cells; the lids stand one behind the other along y.
        height: outer height, mm.
        across: size of a lid along x, the diameter of a round one, mm.
        tall: size of a lid upwards, mm.
        thickness: of a lid at its thickest, mm.
        count: how many.
        leaning: back by 10 degrees instead of upright.
    """

    cols: int
    rows: int
    height: float
    across: float
    tall: float
    thickness: float
    count: int
    leaning: bool = True

    @property
    def lean(self) -> float:
        """Angle by which they lean back, rad."""
        return math.radians(LEAN_DEG) if self.leaning else 0.0


def lids_room(module: Module, spec: LidsSpec) -> tuple[float, float]:
    """Room inside that the lids take, along x and y, mm; the footprint of the spec does not matter.

    The last lid leans out over its foot; it stays over the part.

    Args:
        module: the household's module.
        spec: the lids.
    """
    over = max(spec.tall, spec.height) * math.tan(spec.lean) - module.wall
    slots = spec.count * _step(module, spec) + (0.0 if spec.leaning else -module.wall)
    return spec.across + 2 * SIDE_CLEARANCE, slots + max(0.0, over)


def lids_cells(module: Module, spec: LidsSpec) -> tuple[int, int]:
    """Fewest cells for the lids, along x and y."""
    width, depth = lids_room(module, spec)
    return module.cells(width), module.cells(depth)


def lid_slots(module: Module, spec: LidsSpec) -> tuple[float, ...]:
    """Where the front of each slot meets the floor, mm from the front of the part."""
    return tuple(module.wall + number * _step(module, spec) for number in range(spec.count))


def nest_lids(module: Module, spec: LidsSpec) -> Part:
    """A tray in which lids stand on edge.

    Args:
        module: the household's module.
        spec: footprint, height, lids.

    Raises:
        RecipeError: sizes that are not positive, too few cells, or a tray too low to hold a lid.
    """
    _check(module, spec)
    width, depth = outer_size(spec.cols, module.pitch), outer_size(spec.rows, module.pitch)
    floor = module.seat.dome
    inside = cavity(module, spec.cols, spec.rows, floor=floor, height=spec.height, fillet=0.0)
    block = body(module, spec.cols, spec.rows, spec.height)
    solid = Union((Difference(block, (inside,)), *_ribs(module, spec, width, block)))
    return Part(
        kind=Kind.NEST,
        name=f"nest lids {size_name(width, depth)} h{spec.height:g}",
        parameters=(
            ("cols", spec.cols),
            ("count", spec.count),
            ("height", spec.height),
            ("leaning", spec.leaning),
            ("lid_across", spec.across),
            ("lid_tall", spec.tall),
            ("lid_thickness", spec.thickness),
            ("pitch", module.pitch),
            ("rows", spec.rows),
            ("wall", module.wall),
        ),
        recipe=seated(solid, module, spec.cols, spec.rows),
        plastic=_plastic(module, spec),
    )


def _step(module: Module, spec: LidsSpec) -> float:
    """From slot to slot along the floor, mm: a lid, its clearance and a rib, cut level."""
    return (spec.thickness + SLOT_CLEARANCE + module.wall) / math.cos(spec.lean)


def _check(module: Module, spec: LidsSpec) -> None:
    require_whole_layers("nest for lids", spec.height, module.seat.layer)
    if min(spec.across, spec.tall, spec.thickness, spec.count) <= 0:
        refuse_part(
            "nest for lids", "its lids have a size", found=f"{spec.count} of {spec.across:g} x {spec.thickness:g}",
            allowed="sizes above 0, one lid or more", remedy="Measure a lid.",
        )  # fmt: skip
    cols, rows = lids_cells(module, spec)
    if spec.cols < cols or spec.rows < rows:
        refuse_part(
            "nest for lids", "its lids have room", found=f"{spec.cols} x {spec.rows} cells",
            allowed=f"{cols} x {rows} or more", remedy="Give it more cells.",
        )  # fmt: skip
    if spec.height < module.seat.dome + LEAST_HOLD:
        refuse_part(
            "nest for lids", "its ribs hold a lid", found=f"height {spec.height:g}",
            allowed=f"at least {module.height(module.seat.dome + LEAST_HOLD):g}", remedy="Make it higher.",
        )  # fmt: skip


def _rib_count(spec: LidsSpec) -> int:
    """One between each two lids, and one behind the last where it leans."""
    return spec.count - (0 if spec.leaning else 1)


def _ribs(module: Module, spec: LidsSpec, width: float, block: Solid) -> tuple[Solid, ...]:
    """Two short plates a rib, one from each side wall, leaning like the lids; nothing of them outside the block."""
    wall, floor = module.wall, module.seat.dome
    thick = wall / math.cos(spec.lean)
    slope, low = math.tan(spec.lean), floor - ROOT
    short = (1 - GRIP_SHARE) / 2 * module.inner(spec.cols)
    found: list[Solid] = []
    for front in lid_slots(module, spec)[: _rib_count(spec)]:
        y = front + _step(module, spec) - thick
        foot, head = y - slope * ROOT, y + slope * (spec.height - floor)
        outline = Polygon(((foot, low), (foot + thick, low), (head + thick, spec.height), (head, spec.height)))
        found += [along_x(outline, wall / 2, wall + short), along_x(outline, width - wall - short, width - wall / 2)]
    return (Intersection((Union(tuple(found)), block)),) if found else ()


def _plastic(module: Module, spec: LidsSpec) -> Plastic:
    """A smooth tray without its fillet, and ribs."""
    plain = tray_plastic(module, spec.cols, spec.rows, spec.height, smooth=True)
    rib = (1 - GRIP_SHARE) * module.inner(spec.cols) * module.wall / math.cos(spec.lean)
    fillet = (1 - math.pi / 4) * 9.0 * 2 * (module.inner(spec.cols) + module.inner(spec.rows))
    ribs = _rib_count(spec) * rib * (spec.height - module.seat.dome)
    return Plastic(plain.body_mm3 - fillet + ribs, plain.sparse_mm3, plain.first_mm2, plain.height, 0.0)


def examples(module: Module) -> tuple[Example, ...]:
    """Lids of invented containers, leaning and upright; slots are open above, so there is no handle."""
    sizes = {
        "smallest": (28.0, 28.0, 2.0, 2, 18.0),
        "middle": (94.0, 94.0, 6.0, 6, 36.0),
        "largest": (170.0, 120.0, 8.0, 12, 48.0),
    }
    found = []
    for leaning in (True, False):
        for size, (across, tall, thickness, count, height) in sizes.items():
            spec = LidsSpec(1, 1, module.height(height), across, tall, thickness, count, leaning)
            cols, rows = lids_cells(module, spec)
            made = nest_lids(module, LidsSpec(cols, rows, spec.height, across, tall, thickness, count, leaning))
            found.append(Example(size, made, 0))
    return tuple(found)
