"""A fence: a long, low member, one cell wide, that keeps trays in place in a space that is only partly filled.

It sits on the cones of free cells: a thin base with a socket a cell, a wall along its back edge, buttresses behind it.
Turned by half a turn the wall is on the other side. Fences are joined end to end by an upright dovetail: the next one
is set down over the tongue of the one before. An end without a neighbour is plain, so that it claims no other cell.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact
from nookwright.ground.sources import Kind as SourceKind
from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, domes_mm3, sockets_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import LEAD_IN, LEAD_IN_HEIGHT, outer_size
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part, require_whole_layers
from nookwright.parts.underside import body, domes, seated
from nookwright.shapes.cutters import open_above, through
from nookwright.shapes.regions import Polygon, Rect, Region, RegionMove
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Solid, Tip, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module

JOINT_NECK = Fact(5.0, unit="mm", kind=SourceKind.CHOICE, source="Narrow end of the tongue, where cells are wide.")
JOINT_SPREAD = Fact(
    1.6, unit="mm", kind=SourceKind.CALCULATED, source="A tongue is wider by this at its head: 14 degrees a side hold."
)
JOINT_SHOULDER = Fact(
    0.4, unit="mm", kind=SourceKind.CHOICE, source="A side, a line of the flat end stays between slot and round corner."
)
JOINT_REACH = Fact(
    3.2, unit="mm", kind=SourceKind.CALCULATED, source="From the cells' border: a wall stays before the widest socket."
)
JOINT_CLEARANCE = Fact(
    0.2, unit="mm", kind=SourceKind.COMMON_PRACTICE, source="A side, free enough to be set down from above."
)
JOINT_ROOT = Fact(1.0, unit="mm", kind=SourceKind.CHOICE, source="The tongue starts this far inside its fence.")
SOCKET_TO_LAND = Fact(
    2.0, unit="mm", kind=SourceKind.CHOICE, source="The thick end ends this far before the middle of its socket."
)
BUTTRESSES_APART = Fact(2, unit="cells", kind=SourceKind.CHOICE, source="A buttress at every second border of cells.")
BUTTRESS_LEAN = Fact(
    1.0, unit="1", kind=SourceKind.CHOICE, source="As deep as it is high where there is room: 45 degrees."
)
FEWEST_CELLS = Fact(2, unit="cells", kind=SourceKind.CALCULATED, source="A single cell may meet no cone.")
LOWEST = Fact(2, unit="rises", kind=SourceKind.CHOICE, source="Lower, the domes are as high as the wall.")


class End(StrEnum):
    """How an end of a fence is joined."""

    PLAIN = "plain"
    SLOT = "slot"
    TONGUE = "tongue"


@dataclass(frozen=True)
class FenceSpec:
    """A fence.

    Attributes:
        cells: its length.
        height: outer height, mm, a whole number of layers.
        left: plain, or with the slot for the fence before.
        right: plain, or with the tongue for the fence behind.
    """

    cells: int
    height: float
    left: End = End.PLAIN
    right: End = End.PLAIN


def fence_run(cells: int, longest: int, height: float) -> tuple[FenceSpec, ...]:
    """The fences that together make a run, nearly equal, joined where they meet.

    Args:
        cells: length of the run.
        longest: most cells that one fence may have, by the printer's bed.
        height: outer height, mm.

    Raises:
        RecipeError: the run or a fence of it would be shorter than two cells.

    >>> [(fence.cells, fence.left.value, fence.right.value) for fence in fence_run(10, 6, 12.0)]
    [(5, 'plain', 'tongue'), (5, 'slot', 'plain')]
    """
    if min(cells, longest) < FEWEST_CELLS:
        _refuse_length(min(cells, longest))
    count = -(-cells // longest)
    marks = [cells * number // count for number in range(count + 1)]
    return tuple(
        FenceSpec(
            marks[number + 1] - marks[number],
            height,
            End.SLOT if number else End.PLAIN,
            End.TONGUE if number < count - 1 else End.PLAIN,
        )
        for number in range(count)
    )


def fence(module: Module, spec: FenceSpec) -> Part:
    """A fence; its box holds its tongue too.

    Args:
        module: the household's module.
        spec: its sizes and ends.

    Raises:
        RecipeError: shorter than two cells, too low, not in whole layers, or an end that cannot be there.
    """
    _check(module, spec)
    length, width = outer_size(spec.cells, module.pitch), outer_size(1, module.pitch)
    block = body(module, spec.cells, 1, spec.height)
    base = Difference(block, _above_base(module, spec, length, width))
    members: list[Solid] = [base, *domes(module, spec.cells, 1), *_buttresses(module, spec, length, width)]
    if spec.right is End.TONGUE:
        members.append(_tongue(module, spec, length, width))
    solid = seated(Union(tuple(members)), module, spec.cells, 1)
    if spec.left is End.SLOT:
        slot = through(_joint(module, JOINT_CLEARANCE, OVERSHOOT + _half_gap(module, spec)), 0.0, module.seat.dome)
        solid = Difference(solid, (Move(slot, x=-_half_gap(module, spec), y=width / 2),))
    return Part(
        kind=Kind.FENCE,
        name=f"fence {size_name(length, width)} h{spec.height:g}{_ends_name(spec)}",
        parameters=(
            ("cells", spec.cells),
            ("height", spec.height),
            ("left", spec.left.value),
            ("pitch", module.pitch),
            ("right", spec.right.value),
            ("wall", module.wall),
        ),
        recipe=solid,
        plastic=_plastic(module, spec, length, width),
    )


def _ends_name(spec: FenceSpec) -> str:
    """Which ends are joined, where any is."""
    joined = [name for name, end in (("left", spec.left), ("right", spec.right)) if end is not End.PLAIN]
    return f", joined {' and '.join(joined)}" if joined else ""


def _check(module: Module, spec: FenceSpec) -> None:
    """Refuse what cannot be made."""
    if spec.cells < FEWEST_CELLS:
        _refuse_length(spec.cells)
    require_whole_layers("fence", spec.height, module.seat.layer)
    least = LOWEST * module.rise
    if spec.height < least:
        refuse_part(
            "fence",
            "it stands above its own sockets",
            found=f"{spec.height:g}",
            allowed=f"at least {least:g}",
            remedy="Make it higher.",
        )
    for name, end, allowed in (("left", spec.left, End.SLOT), ("right", spec.right, End.TONGUE)):
        if end not in (End.PLAIN, allowed):
            refuse_part(
                f"fence, {name} end",
                "tongues are on the right and slots on the left",
                found=end.value,
                allowed=f"{End.PLAIN.value}, {allowed.value}",
                remedy="Turn the fence.",
            )


def _refuse_length(cells: int) -> None:
    refuse_part(
        "fence",
        "it is long enough to meet a cone everywhere",
        found=f"{cells} cells",
        allowed=f"at least {FEWEST_CELLS:g} cells",
        remedy="Take a filler, or let a tray grow.",
    )


def _half_gap(module: Module, spec: FenceSpec) -> float:
    """From the end of a fence to the border of its cells, mm."""
    return (spec.cells * module.pitch - outer_size(spec.cells, module.pitch)) / 2


def _land(module: Module) -> float:
    """Length of the thick end around a joint, mm."""
    return module.pitch / 2 - SOCKET_TO_LAND


def _above_base(module: Module, spec: FenceSpec, length: float, width: float) -> tuple[Solid, ...]:
    """What is taken off a block: all in front of the wall, down to the base or, at a joint, to the domes' height."""
    seat, deep = module.seat, width - module.wall + OVERSHOOT
    left = _land(module) if spec.left is End.SLOT else -OVERSHOOT
    right = length - _land(module) if spec.right is End.TONGUE else length + OVERSHOOT
    low = open_above(RegionMove(Rect(right - left, deep), x=left, y=-OVERSHOOT), seat.shell_floor, spec.height)
    whole = RegionMove(Rect(length + 2 * OVERSHOOT, deep), x=-OVERSHOOT, y=-OVERSHOOT)
    return low, open_above(whole, seat.dome, spec.height)


def _buttresses(module: Module, spec: FenceSpec, length: float, width: float) -> tuple[Solid, ...]:
    """Triangles behind the wall on borders of cells, printed without support; they start inside floor and wall."""
    seat, wall = module.seat, module.wall
    places = tuple(
        (length / 2 + (border - spec.cells / 2) * module.pitch - wall / 2, 0.0)
        for border in range(1, spec.cells)
        if border % BUTTRESSES_APART == spec.cells // 2 % BUTTRESSES_APART
    )
    foot, low = _buttress_foot(module, spec, width), seat.shell_floor - seat.layer
    back = width - wall / 2
    profile = Polygon(((foot, low), (back, low), (back, spec.height), (width - wall, spec.height)))
    lying = Move(Tip(Prism(profile, wall), "x"), quarter_turns=1)  # drawn in y and z, as thick along x as a wall
    return (Repeat(lying, places),) if places else ()


def _buttress_foot(module: Module, spec: FenceSpec, width: float) -> float:
    """Where a buttress begins, from the front edge, mm."""
    high = spec.height - module.seat.shell_floor
    return max(width - module.wall - high * BUTTRESS_LEAN, module.wall)


def _tongue(module: Module, spec: FenceSpec, length: float, width: float) -> Solid:
    """The tongue at the right end, as high as the domes."""
    gap = _half_gap(module, spec)
    return Move(Prism(_joint(module, 0.0, gap + JOINT_ROOT), module.seat.dome), x=length + gap, y=width / 2)


def _neck(module: Module) -> float:
    """Narrow end of the tongue, mm: beside its slot some of the flat end is left, or the fence would be shorter."""
    flat = outer_size(1, module.pitch) - 2 * CORNER_RADIUS
    return min(float(JOINT_NECK), flat - 2 * (JOINT_CLEARANCE + JOINT_SHOULDER))


def _joint(module: Module, clearance: float, behind: float) -> Region:
    """The dovetail, from ``behind`` the border of the cells to its reach, pointing in +x; grown for the slot."""
    slope = JOINT_SPREAD / 2 / JOINT_REACH
    neck, reach = _neck(module) / 2 + clearance, JOINT_REACH + clearance
    low, high = neck - slope * behind, neck + slope * reach
    return Polygon(((-behind, -low), (reach, -high), (reach, high), (-behind, low)))


def _plastic(module: Module, spec: FenceSpec, length: float, width: float) -> Plastic:
    """Base, domes, wall, buttresses, thick ends and tongue less sockets; what its parts share is left out."""
    seat, wall = module.seat, module.wall
    count = sum(border % BUTTRESSES_APART == spec.cells // 2 % BUTTRESSES_APART for border in range(1, spec.cells))
    high = spec.height - seat.shell_floor
    foot = _buttress_foot(module, spec, width)
    ends = (spec.left is End.SLOT) + (spec.right is End.TONGUE)
    round_front = (1 - math.pi / 4) * CORNER_RADIUS**2
    land = _land(module) * (width - wall) - 2 * round_front
    thick = ends * land * (seat.dome - seat.shell_floor)
    joint = (_neck(module) + JOINT_SPREAD / 2) * JOINT_REACH * seat.dome
    joints = ((spec.right is End.TONGUE) - (spec.left is End.SLOT)) * joint
    corners = (4 - math.pi) * CORNER_RADIUS**2
    mouths = spec.cells * 2 * math.pi * (seat.cone_base + LEAD_IN)
    lead_in = LEAD_IN / 2 * (LEAD_IN * 2 * (length + width) + LEAD_IN_HEIGHT * mouths)
    solid = (
        (length * width - corners) * seat.shell_floor
        - lead_in
        + (length * wall - 2 * _rounded_off(wall)) * high
        + count * wall * high * (width - wall - foot) / 2
        + thick
        + joints
        + domes_mm3(seat, spec.cells, 1, module.pitch)
        - sockets_mm3(seat, spec.cells, 1, module.pitch)
    )
    return Plastic(body_mm3=solid, sparse_mm3=0.0, first_mm2=length * width * 2 / 3, height=spec.height, hops=0.0)


def _rounded_off(wall: float) -> float:
    """What the round corner takes off an end of the wall, mm2: its square less half a circular segment."""
    radius = float(CORNER_RADIUS)
    chord = math.sqrt(wall * (2 * radius - wall))
    segment = radius**2 * math.acos(1 - wall / radius) - (radius - wall) * chord
    return radius * wall - segment / 2


def examples(module: Module) -> tuple[Example, ...]:
    """Plain, joined on one end and on both; sockets, slots and tongues make no handles."""
    low, middle, high = (rises * module.rise for rises in (2, 3, 5))
    plain = (FenceSpec(2, low), FenceSpec(5, middle), FenceSpec(11, high))
    first = (FenceSpec(3, low, right=End.TONGUE), FenceSpec(6, middle, right=End.TONGUE))
    both = (FenceSpec(4, low, End.SLOT, End.TONGUE), FenceSpec(10, high, End.SLOT, End.TONGUE))
    sizes = ("smallest", "middle", "largest", "smallest", "largest", "smallest", "largest")
    specs = (*plain, *first, *both)
    return tuple(Example(size, fence(module, spec), 0) for size, spec in zip(sizes, specs, strict=True))
