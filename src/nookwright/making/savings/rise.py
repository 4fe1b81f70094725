"""The saving of a finer rise: no wall higher than its things need by more than a small step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.making.savings import model
from nookwright.making.savings.keys import Key, Table
from nookwright.making.savings.model import Leaves, Saving, Weight
from nookwright.module.choice import module_of, rises
from nookwright.module.part_plastic import plastic_of
from nookwright.parts.design import material_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.layout.plan import Plan
    from nookwright.survey.models import Room


def finer_rise(room: Room, plan: Plan) -> Iterator[Saving]:
    """What the finest rise would save; nothing where the household has it or has parts of another one.

    Args:
        room: as surveyed.
        plan: what goes where.
    """
    layer = plan.module.seat.layer
    finest = min(rises(layer))
    if finest >= plan.module.rise or room.module.kept_rise:
        return
    fine = module_of(plan.module.pitch, finest, layer, "")
    density = {one.id: one.density_g_cm3 for one in room.material}
    groups = {lot.id: lot.group for lot in room.lot}
    coarse = max(printer.layer for printer in room.printer)
    saved = Weight()
    for placed in plan.layout.placed:
        one = placed.candidate
        if one is None:
            continue
        cols, rows = (placed.rows, placed.cols) if placed.turned else (placed.cols, placed.rows)
        lower = placed.height - one.height + fine.height(plan.module.seat.dome + one.way.wall_height)
        high, low = (plastic_of(plan.module, one.way, cols, rows, height) for height in (placed.height, lower))
        material = density[material_of(room, groups[one.lot])]
        saved += Weight(high.mass_g(material) - low.mass_g(material), high.time_s(coarse) - low.time_s(coarse))
    yield Saving(
        leaves=Leaves.RISE,
        text=f"A rise of {finest:g} in place of {plan.module.rise:g}: no wall higher than its things need",
        mass_g=saved.mass_g,
        time_s=saved.time_s,
        gives_up="More different heights of rims: rows read less calmly, and fewer trays are alike.",
        missed=float(model.MISSED_RIMS),
        keys=(Key(Table.MODULE, "pitch", plan.module.pitch), Key(Table.MODULE, "rise", finest)),
        relaid=True,
    )
