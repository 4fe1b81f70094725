"""Which lots get gauges, and in which sizes: those whose pockets put the most plastic at risk.

What is at risk is the cradle's mass times the probability that its fit does not hold: too tight, or loose. A set of
gauges is printed where that is more than the gauges weigh: then it pays on average, before any second evening counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.errors import RecipeError
from nookwright.ground.sources import Fact, Kind
from nookwright.parts.design import Copy
from nookwright.parts.trials.gauge import gauge
from nookwright.parts.trials.gauge_tag import GaugeSpec
from nookwright.parts.workshop import TraySpec
from nookwright.sizing.fits.chain import Pockets
from nookwright.sizing.fits.found import needed_by, tried_of
from nookwright.sizing.fits.gauges import ENOUGH, gauge_sizes
from nookwright.sizing.lot_sizes import fit_of, judged_of
from nookwright.sizing.ways import capacity

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nookwright.layout.plan import Plan
    from nookwright.sizing.fits.gauges import Needed
    from nookwright.survey.models import Lot, Room

MOST_SETS = Fact(6, unit="1", kind=Kind.CHOICE, source="More gauges than this at once nobody tries with care.")


@dataclass(frozen=True)
class GaugeSet:
    """Three gauges of one lot.

    Attributes:
        lot: id of the lot.
        name: of the lot, for people.
        sizes: as they are marked, mm.
        pocket: as it is drawn without them, mm.
        goes_in: how likely every thing goes into that pocket, between 0 and 1.
        holds: how likely it is not loose either.
        risk_g: mass of its cradles times the probability that it does not.
        copies: the gauges.
        mass_g, time_s: of all three, in closed form.
    """

    lot: str
    name: str
    sizes: tuple[float, ...]
    pocket: float
    goes_in: float
    holds: float
    risk_g: float
    copies: tuple[Copy, ...]
    mass_g: float
    time_s: float


def gauge_sets(room: Room, plan: Plan, copies: Sequence[Copy]) -> tuple[GaugeSet, ...]:
    """The gauges that are worth printing, the largest risk first.

    Args:
        room: as surveyed.
        plan: what goes where.
        copies: all copies of all parts that have a place.
    """
    found = [one for lot in room.lot if (one := _gauge_set(room, plan, lot, copies)) and one.risk_g > one.mass_g]
    return tuple(sorted(found, key=lambda one: (-one.risk_g, one.lot))[: int(MOST_SETS)])


def _gauge_set(room: Room, plan: Plan, lot: Lot, copies: Sequence[Copy]) -> GaugeSet | None:
    """The gauges of a lot; ``None`` where it has no cradle, is known well enough, or is too wide for gauges."""
    cradles = [
        copy
        for copy in copies
        if copy.contents and copy.contents.lot.id == lot.id and isinstance(copy.spec, TraySpec) and copy.spec.pockets
    ]
    if not cradles:
        return None
    wanted = _wanted(plan, lot)
    pocket = cradles[0].contents.way.pocket if cradles[0].contents else 0.0
    holds = wanted.holds(pocket, fit_of(lot))
    if holds >= ENOUGH:
        return None
    sizes = gauge_sizes(wanted)
    try:
        parts = [gauge(plan.module, GaugeSpec(size)) for size in sizes]
    except RecipeError:  # wider than any gauge may be
        return None
    density = {material.id: material.density_g_cm3 for material in room.material}
    layer = max(printer.layer for printer in room.printer)
    material = cradles[0].material
    return GaugeSet(
        lot=lot.id,
        name=lot.name or lot.id,
        sizes=sizes,
        pocket=pocket,
        goes_in=wanted.goes_in(pocket),
        holds=holds,
        risk_g=(1 - holds) * sum(copy.part.plastic.mass_g(density[copy.material]) for copy in cradles),
        copies=tuple(
            Copy(
                part=part,
                spec=None,
                space="",
                label=f"gauge {size:.1f}, {lot.name or lot.id}",
                material=material,
                x=0.0,
                y=0.0,
                z=0.0,
                quarter_turns=0,
                lined=False,
                contents=None,
            )
            for part, size in zip(parts, sizes, strict=True)
        ),
        mass_g=sum(part.plastic.mass_g(density[material]) for part in parts),
        time_s=sum(part.plastic.time_s(layer) for part in parts),
    )


def _wanted(plan: Plan, lot: Lot) -> Needed:
    terms = plan.terms
    return needed_by(
        judged_of(lot, "diameter", terms),
        terms.errors,
        pockets=Pockets(capacity(lot), round_hole=True),
        fit=fit_of(lot),
        tried=tried_of(terms.found, lot.id),
    )
