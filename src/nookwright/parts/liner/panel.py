"""A panel of the liner: a frame, lean straps between its cones, a pad and a cone wherever its pattern has one.

What it is drawn from is in ``panel_members``. The number of its openings follows from its cells, see ``openings``.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.layout.liner import EDGE_INSET, PanelSpec, SetBack, Side, Slot
from nookwright.layout.liner_model import check_panel
from nookwright.module.pattern import Pattern
from nookwright.parts.liner.panel_members import middles, outline, sheet, slot_holes
from nookwright.parts.liner.panel_openings import openings
from nookwright.parts.liner.panel_plastic import FIRST_LAYER_INSET, first_step, panel_plastic
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.shapes.cutters import open_below
from nookwright.shapes.regions import Offset, Region, RegionDifference, RegionUnion
from nookwright.shapes.solids import Difference, Move, Prism, Repeat, Revolution, Solid, Union

if TYPE_CHECKING:
    from nookwright.module.module import Module
    from nookwright.module.seat import Seat
    from nookwright.parts.model import Value


def panel(module: Module, spec: PanelSpec) -> Part:
    """A panel; its edges lie ``EDGE_INSET`` and its set-back inside its cells, so its bounding box does too.

    Args:
        module: the household's module.
        spec: cells, cones and slots.

    Raises:
        RecipeError: fewer than 2 x 2 cells, or a cone that no cell of it carries.
    """
    check_panel(spec)
    left, right, front, back = (side + EDGE_INSET for side in spec.set_back.sides)
    edge = outline(spec, module.pitch)
    body = _solid(spec, module, sheet(spec, module.pitch, edge), edge)
    width, depth = spec.cols * module.pitch - left - right, spec.rows * module.pitch - front - back
    return Part(
        kind=Kind.PANEL,
        name=f"panel {size_name(width, depth)}{_usual(spec)}",
        parameters=_parameters(module, spec),
        recipe=Move(body, x=-left, y=-front),
        plastic=panel_plastic(module, spec),
    )


def _usual(spec: PanelSpec) -> str:
    """The pattern, where it is not the usual one."""
    return "" if spec.pattern is Pattern.CHESSBOARD else f", cones {spec.pattern}"


def _parameters(module: Module, spec: PanelSpec) -> tuple[tuple[str, Value], ...]:
    """What it was made from; what is as usual is not named."""
    named: dict[str, Value] = {
        "cols": spec.cols,
        "first_has_cone": spec.first_has_cone,
        "missing": _pairs(spec.missing),
        "pitch": module.pitch,
        "rows": spec.rows,
        "slots": " ".join(f"{slot.side}:{slot.at}" for slot in spec.slots),
        "thickness": module.seat.panel,
    }
    if spec.pattern is not Pattern.CHESSBOARD:
        named |= {"pattern": spec.pattern.value, "cones": _pairs(spec.cones)}
    if any(spec.set_back.sides):
        named["set_back"] = spec.set_back.sides
    return tuple(sorted(named.items()))


def _pairs(cells: tuple[tuple[int, int], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((float(col), float(row)) for col, row in cells)


def _solid(spec: PanelSpec, module: Module, flat: Region, edge: Region) -> Solid:
    """The sheet, its first layer drawn in along the edge and the slots, and the cones."""
    seat = module.seat
    rim: Region = RegionDifference(Offset(edge, OVERSHOOT), (Offset(edge, -FIRST_LAYER_INSET),))
    if spec.slots:
        rim = RegionUnion((rim, *slot_holes(spec, module.pitch, float(FIRST_LAYER_INSET))))
    plate = Difference(Prism(flat, seat.panel), (open_below(rim, 0.0, first_step(seat)),))
    if not spec.cones:
        return plate
    return Union((plate, Repeat(_cone(seat), middles(spec, module.pitch))))


def _cone(seat: Seat) -> Solid:
    """A cone with its root inside its pad."""
    top, root = seat.panel + seat.cone_height, first_step(seat)
    return Revolution(
        (
            (0.0, root),
            (seat.cone_base, root),
            (seat.cone_base, seat.panel),
            (seat.cone_top, top),
            (0.0, top),
        )
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Every pattern small and large, with slots, holes, a missing corner, edges off a cove; and a frame of strips."""
    corner = ((0, 0), (0, 1), (1, 0), (1, 1))
    hole = tuple((c, r) for c in (3, 4) for r in (3, 4))
    ring = tuple((c, r) for c in range(2, 8) for r in range(2, 6))
    slots = (Slot(Side.LEFT, 2), Slot(Side.RIGHT, 3), Slot(Side.FRONT, 3), Slot(Side.BACK, 2))
    cove = SetBack(left=2.0, front=3.0)
    spread = ((1, 1), (4, 1), (1, 4), (4, 4))
    plain = PanelSpec(6, 6, (), first_has_cone=True, slots=())
    found = [
        ("smallest", replace(plain, cols=2, rows=2)),
        ("middle", replace(plain, slots=slots)),
        ("largest", replace(plain, cols=11, rows=10)),
        ("middle", replace(plain, missing=corner)),
        ("middle", replace(plain, cols=8, rows=8, missing=hole)),
        ("middle", replace(plain, set_back=cove)),
        ("largest", replace(plain, cols=10, rows=8, missing=ring)),
        ("middle", replace(plain, pattern=Pattern.UNDER_LAYOUT, chosen=spread, first_has_cone=False)),
    ]
    for pattern in (Pattern.EVERY_CELL, Pattern.EVERY_SECOND):
        found += [(size, replace(spec, pattern=pattern)) for size, spec in found[:6]]
    return tuple(Example(size, panel(module, spec), openings(spec, module.pitch)) for size, spec in found)
