"""The module, the two layouts and the savings as kit.json says them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.exchange.layout_models import (
    CostPart,
    KitLayout,
    KitModule,
    KitModuleRow,
    KitSaving,
    KitSpaceLayout,
)
from nookwright.exchange.rounding import rounded
from nookwright.layout.model import COUNTED
from nookwright.layout.spaces import G_PER_KG
from nookwright.module.estimates import MM2_PER_DM2
from nookwright.survey.layout_wishes import Style

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from nookwright.layout import model
    from nookwright.layout.calm.room import SpacePrice
    from nookwright.layout.plan import Plan
    from nookwright.making.savings.model import Saving
    from nookwright.module.choice import ModuleRow


MODULE_PLOT = "module.svg"


def module_record(plan: Plan) -> KitModule:
    """The module and what it was chosen from."""
    return KitModule(
        pitch=plan.module.pitch,
        rise=plan.module.rise,
        chosen=plan.module.chosen,
        pitches=tuple(_row(row) for row in plan.choice.pitches),
        rises=tuple(_row(row) for row in plan.choice.rises),
        plot=MODULE_PLOT if len(plan.choice.pitches) > 1 else "",
    )


def _row(row: ModuleRow) -> KitModuleRow:
    return KitModuleRow(
        pitch=row.pitch,
        rise=row.rise,
        edge_dm2=rounded(row.edge_dm2),
        inside_dm2=rounded(row.inside_dm2),
        mass_g=rounded(row.mass_g),
        time_s=rounded(row.time_s),
        parts=row.parts,
        dead=rounded(row.dead),
        homeless=row.homeless,
        judged_g=rounded(row.price_g),
    )


def layout_record(plan: Plan, style: Style) -> KitLayout:
    """How good the layout is, and what the other one would cost.

    Args:
        plan: of the room.
        style: which of the two layouts was built.
    """
    chosen, tight, price = plan.laid.chosen, plan.laid.tight, plan.laid.calm.price
    judged = [part for part in plan.laid.calm.tightest if part.name not in COUNTED]
    besides = [part for part in chosen.cost if part.name not in COUNTED]
    if style is Style.TIGHTEST:
        besides = [*judged, *besides]
    return KitLayout(
        style=style.value,
        cost=_parts(part for part in chosen.cost if part.name in COUNTED),
        total=rounded(chosen.counted),
        bound=rounded(chosen.bound),
        gap=rounded(chosen.gap),
        tightest_total=rounded(tight.counted),
        arrangement=_parts(besides),
        tightest=_parts((*(part for part in tight.cost if part.name in COUNTED), *judged)),
        calm_dm2=_dm2(price[-1].cells, plan),
        calm_g=rounded(price[-1].part_g),
        spaces=tuple(_space(row, plan) for row in price[:-1]),
        proven=chosen.proven,
        by_clock=chosen.by_clock,
        seed=chosen.seed,
        iterations=chosen.iterations,
    )


def _space(row: SpacePrice, plan: Plan) -> KitSpaceLayout:
    worth = next((one for one in plan.laid.tight.prices if one.space == row.space), None)
    cells_per_dm2 = MM2_PER_DM2 / plan.module.pitch**2
    return KitSpaceLayout(
        space=row.space,
        calm=row.calm,
        calm_dm2=_dm2(row.cells, plan),
        calm_g=rounded(row.part_g),
        worth_per_dm2=rounded(worth.cell * cells_per_dm2) if worth else 0.0,
        worth_per_kg=rounded(worth.gram * G_PER_KG) if worth else 0.0,
    )


def _dm2(cells: int, plan: Plan) -> float:
    return rounded(cells * plan.module.pitch**2 / MM2_PER_DM2)


def _parts(parts: Iterable[model.CostPart]) -> tuple[CostPart, ...]:
    return tuple(CostPart(name=part.name, value=rounded(part.value)) for part in parts)


def saving_records(found: Sequence[Saving]) -> tuple[KitSaving, ...]:
    """What could be left out, the cheapest first."""
    return tuple(
        KitSaving(
            text=one.text,
            mass_g=rounded(one.mass_g),
            time_s=rounded(one.time_s),
            gives_up=one.gives_up,
            toml=one.toml,
        )
        for one in found
    )
