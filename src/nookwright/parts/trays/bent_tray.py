"""A tray bent round a blocked corner, an L, or round a notch in a side, a U: around a waste pipe, say.

Its wall follows the blocked cells at the gap that parts keep to each other; it has sockets only where cells are. Its
inside is the union of one convex bowl a leg, so the roll of the floor has its exact radius everywhere.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from nookwright.ground.tolerances import OVERSHOOT
from nookwright.module.estimates import Plastic, domes_mm3, sockets_mm3, sparse_floor_mm3
from nookwright.module.floor import CORNER_RADIUS
from nookwright.module.seat import whole_layers
from nookwright.parts.model import Example, Kind, Part, size_name
from nookwright.parts.refusals import refuse_part
from nookwright.parts.trays.bent_plan import BentPlan, Missing
from nookwright.parts.trays.tray_frame import LEAST_CLEAR
from nookwright.parts.underside import block, domes_of, inner_radius, seated_on
from nookwright.shapes.solids import Bowl, Difference, Move, Solid, Union
from nookwright.sizing.ways import HAND_WIDTH, SHELL_FILLET, SMOOTH_FILLET

if TYPE_CHECKING:
    from nookwright.module.module import Module


def bent_tray(
    module: Module,
    *,
    cols: int,
    rows: int,
    missing: Missing,
    height: float,
    smooth: bool = False,
    picked_by_hand: bool = True,
) -> Part:
    """A bent tray; its surface has genus 0. Two fingers spread in a leg are its grip.

    Args:
        module: the household's module.
        cols: cells of its bounding box along x.
        rows: cells of its bounding box along y.
        missing: the cells that it goes round.
        height: outer height, mm, a whole number of rises.
        smooth: a flat floor above the sockets instead of a thin one with domes.
        picked_by_hand: whether things are picked from it by hand, so that each leg must take one.

    Raises:
        RecipeError: the bite is neither a corner nor a notch, a leg is too narrow, or the tray too low.
    """
    plan = BentPlan(module, cols, rows, missing)
    _check(plan, height, picked_by_hand=picked_by_hand)
    width, depth = plan.size
    return Part(
        kind=Kind.TRAY,
        name=f"tray {size_name(width, depth)} h{height:g}{' smooth' if smooth else ''} round {plan.name}",
        parameters=(
            ("cols", cols),
            ("floor", "smooth" if smooth else "shell"),
            ("height", height),
            ("missing_cells", tuple(map(float, (missing.col, missing.row, missing.cols, missing.rows)))),
            ("picked_by_hand", picked_by_hand),
            ("pitch", module.pitch),
            ("rows", rows),
            ("wall", module.wall),
        ),
        recipe=seated_on(_solid(plan, height, smooth=smooth), module, plan.rings()),
        plastic=_plastic(plan, height, smooth=smooth),
    )


def examples(module: Module) -> tuple[Example, ...]:
    """Bent trays round a corner and round a notch in each kind of side; genus 0."""
    kinds = (
        ("smallest", 2, 2, Missing(1, 1, 1, 1), 12.0),
        ("middle", 6, 5, Missing(0, 3, 3, 2), 36.0),
        ("largest", 14, 10, Missing(9, 0, 5, 6), 90.0),
        ("smallest", 3, 2, Missing(1, 1, 1, 1), 12.0),
        ("middle", 4, 7, Missing(0, 2, 2, 3), 48.0),
        ("largest", 15, 8, Missing(6, 4, 4, 4), 120.0),
    )
    return tuple(
        Example(
            size,
            bent_tray(module, cols=cols, rows=rows, missing=gone, height=high, smooth=smooth, picked_by_hand=False),
            genus=0,
        )
        for size, cols, rows, gone, high in kinds
        for smooth in (False, True)
    )


def _check(plan: BentPlan, height: float, *, picked_by_hand: bool) -> None:
    seat = plan.module.seat
    least = whole_layers(seat.dome + LEAST_CLEAR, seat.layer)
    if not height >= least:
        refuse_part(
            "bent tray", "there is room above the floor", found=f"{height:g}", allowed=f"at least {least:g}",
            remedy="Make it higher.",
        )  # fmt: skip
    narrowest = min(min(x1 - x0, y1 - y0) for x0, y0, x1, y1 in plan.legs(plan.module.wall))
    if picked_by_hand and not narrowest >= HAND_WIDTH:
        refuse_part(
            "bent tray", "each leg takes a hand", found=f"{narrowest:.1f} inside", allowed=f"at least {HAND_WIDTH:g}",
            remedy="Make the legs wider, or say that nothing is picked from it by hand.",
        )  # fmt: skip


def _solid(plan: BentPlan, height: float, *, smooth: bool) -> Solid:
    """Blocks less bowls, and domes."""
    module = plan.module
    floor = module.seat.dome if smooth else module.seat.shell_floor
    fillet, radius = float(SMOOTH_FILLET if smooth else SHELL_FILLET), inner_radius(module)
    full = Union(tuple(Move(block(x1 - x0, y1 - y0, height), x=x0, y=y0) for x0, y0, x1, y1 in plan.legs(0.0)))
    bowls = tuple(
        Move(Bowl(x1 - x0, y1 - y0, radius, fillet, height - floor + OVERSHOOT), x=x0, y=y0, z=floor)
        for x0, y0, x1, y1 in plan.legs(module.wall)
    )
    hollow = Difference(full, bowls)
    return hollow if smooth else Union((hollow, *domes_of(module, plan.rings())))


def _plastic(plan: BentPlan, height: float, *, smooth: bool) -> Plastic:
    """Floor, walls, fillets, domes and sockets; it leaves out the lead-in. Sockets by the share of cells there."""
    module, seat = plan.module, plan.module.seat
    size, share = (plan.cols, plan.rows), plan.cells / (plan.cols * plan.rows)
    outside = plan.area_mm2(0.0, CORNER_RADIUS)
    inside = plan.area_mm2(module.wall, inner_radius(module))
    floor, fillet = (seat.dome, SMOOTH_FILLET) if smooth else (seat.shell_floor, SHELL_FILLET)
    domes = 0.0 if smooth else domes_mm3(seat, *size, module.pitch)
    extra = (domes - sockets_mm3(seat, *size, module.pitch)) * share
    fillets = (1 - math.pi / 4) * fillet**2 * plan.perimeter(module.wall)
    return Plastic(
        body_mm3=outside * floor + (outside - inside) * (height - floor) + fillets + extra,
        sparse_mm3=sparse_floor_mm3(seat, *size, module.pitch) * share if smooth else 0.0,
        first_mm2=outside - plan.cells * math.pi * seat.cone_base**2,
        height=height,
        hops=0.0,
    )
