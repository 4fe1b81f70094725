"""What printing costs: filament, electricity, machine hours, what fails; for an offer also work and margin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import HOUR_MIN, MINUTE_S

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nookwright.making.schedule.hours import Hours
    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.survey.making_wishes import Costs
    from nookwright.survey.models import Material

SPOILAGE = Fact(
    0.05, unit="1", kind=Kind.COMMON_PRACTICE, source="Share of bedfuls that fail, until prints tell better."
)
W_A_KW = Fact(1000, unit="W/kW", kind=Kind.STANDARD, source="ISO 80000-1: kilo is a thousand.")
G_A_KG = Fact(1000, unit="g/kg", kind=Kind.STANDARD, source="The same.")
PERCENT = Fact(100, unit="1", kind=Kind.STANDARD, source="ISO 80000-1: per cent is a hundredth.")


@dataclass(frozen=True)
class Cost:
    """What a schedule costs, in the person's currency.

    Attributes:
        filament: by material.
        electricity, machine: of all bedfuls.
        spoiled: of those that fail: their filament, electricity and machine hours.
        labour: of changing beds and what else was said; 0 unless it is an offer.
        margin: 0 unless it is an offer.
        energy_kwh, printing_h, labour_h: what they were worked out from, without what fails.
    """

    filament: tuple[tuple[str, float], ...]
    electricity: float
    machine: float
    spoiled: float
    labour: float
    margin: float
    energy_kwh: float
    printing_h: float
    labour_h: float

    @property
    def making(self) -> float:
        """Without work and margin."""
        return sum(price for _, price in self.filament) + self.electricity + self.machine + self.spoiled

    @property
    def total(self) -> float:
        """All of it."""
        return self.making + self.labour + self.margin


def cost_of(
    slots: Sequence[Slot],
    bedfuls: Mapping[str, Bedful],
    materials: Sequence[Material],
    hours: Sequence[Hours],
    costs: Costs,
    *,
    spoilage: float = float(SPOILAGE),
) -> Cost:
    """Work out what a schedule costs, by the likely times and masses.

    Args:
        slots: of the schedule.
        bedfuls: by id.
        materials: of the room, with their prices.
        hours: of the printers, with their power.
        costs: as the room file says them.
        spoilage: share of bedfuls that fail and are printed again.
    """
    used = [(slot, bedfuls[slot.bedful]) for slot in slots]
    grams = {one.id: sum(bedful.mass_g for _, bedful in used if bedful.material == one.id) for one in materials}
    filament = tuple((one.id, grams[one.id] / G_A_KG * one.price_per_kg) for one in materials if grams[one.id])
    power_w = {one.printer: one.power_w for one in hours}
    run_h = [(slot, bedful.on(slot.printer).likely_s / MINUTE_S / HOUR_MIN) for slot, bedful in used]
    printing_h = sum(length for _, length in run_h)
    energy_kwh = sum(length * power_w[slot.printer] for slot, length in run_h) / W_A_KW
    electricity, machine = energy_kwh * costs.electricity_kwh, printing_h * costs.machine_h
    once = sum(price for _, price in filament) + electricity + machine
    spoiled = once * spoilage
    labour_h = (sum(slot.begin - slot.work for slot in slots) + costs.labour_min) / HOUR_MIN
    labour = labour_h * costs.labour_h if costs.offer else 0.0
    margin = (once + spoiled + labour) * costs.margin_percent / PERCENT if costs.offer else 0.0
    return Cost(filament, electricity, machine, spoiled, labour, margin, energy_kwh, printing_h, labour_h)
