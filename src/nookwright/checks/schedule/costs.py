"""Whether the costs of printing are what the schedule, the masses and the prices of the room file come to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nookwright.checks.record.claims import WRITTEN, Wrong, between, figure, words
from nookwright.checks.schedule.slots import learned_of, loads_of
from nookwright.checks.weights import G_PER_KG
from nookwright.ground.sources import Fact, Kind
from nookwright.ground.times import HOUR_MIN, MINUTE_S
from nookwright.sizing.printers.errors import PERCENT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Bedful, Kit
    from nookwright.exchange.printing_models import KitCost, KitLearned
    from nookwright.exchange.trial_models import TrialBedful
    from nookwright.survey.models import Room

W_PER_KW = Fact(1000.0, unit="W/kW", kind=Kind.STANDARD, source="ISO 80000-1: kilo is a thousand.")
CENT = Fact(
    0.02, unit="1", kind=Kind.CALCULATED, source="Of the currency: sums of figures that kit.json rounds to 1e-6."
)
_HOUR_S = float(HOUR_MIN * MINUTE_S)


def wrong_costs(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Costs that are not what they come to, and what was learned of printers that do not print.

    Args:
        kit: with a schedule, all that it names known.
        room: with prices, and what printers draw.
    """
    yield from _learned(kit)
    cost = kit.printing.cost
    if cost is None:
        if kit.printing.slots:
            yield Wrong("printing", "Nothing is said of what the printing costs.")
        return
    yield from _running(kit, cost, room)
    once = cost.filament + cost.electricity + cost.machine
    yield from figure("printing", "Prints that fail cost", cost.spoiled, once * kit.printing.spoilage, off=CENT)
    yield from _offer(kit, cost, room)
    total = once + cost.spoiled + cost.labour + cost.margin
    yield from figure("printing", "All of it costs", cost.total, total)


def _learned(kit: Kit) -> Iterator[Wrong]:
    """What was learned: once of each printer and material in use, and the share of prints that fail."""
    loads = loads_of(kit)
    pairs = sorted({(load.printer, load.material) for load in loads.values()})
    said = [(one.printer, one.material) for one in kit.printing.learned]
    yield from words(
        "printing", "Printers and materials in use", [" ".join(one) for one in said], [" ".join(one) for one in pairs]
    )
    by_pair = learned_of(kit)
    shares = [by_pair[pair].fails for load in loads.values() if (pair := (load.printer, load.material)) in by_pair]
    if shares:
        yield from figure(
            "printing", "The share of prints that fail", kit.printing.spoilage, sum(shares) / len(shares), off=WRITTEN
        )
    for one in kit.printing.learned:
        if not one.timed:
            yield from figure(one.printer, "With no print timed, it is slower by a factor of", one.slowness, 1.0)
            yield from figure(
                one.printer, "With no print timed, a start takes it longer by", one.start_s, 0.0, unit="s"
            )
        if not one.weighed:
            yield from figure(
                one.printer, "With no print weighed, prints are heavier by a factor of", one.heaviness, 1.0
            )


def _running(kit: Kit, cost: KitCost, room: Room) -> Iterator[Wrong]:
    """Filament, hours, current and wear. Hours in the schedule are whole minutes, those of the costs are not."""
    price = {one.id: one.price_per_kg / G_PER_KG for one in room.material}
    power = {one.id: one.running.power_w / W_PER_KW for one in room.printer}
    loads, learned, slots = loads_of(kit), learned_of(kit), kit.printing.slots
    by_g = [(loads[slot.bedful], learned.get((slot.printer, loads[slot.bedful].material))) for slot in slots]
    filament = [_grams(*one) * price.get(one[0].material, 0.0) for one in by_g]
    purged = sum(_purged(load) * price.get(load.material, 0.0) for load, _ in by_g)
    yield from between("printing", "The filament costs", cost.filament, sum(filament) - purged, sum(filament))
    run_h = [(slot.likely_s - slot.start_s) / _HOUR_S for slot in slots]
    rounded_h = len(slots) / float(HOUR_MIN)
    yield from between("printing", "Printers run", cost.printing_h, sum(run_h) - rounded_h, sum(run_h), unit="h")
    most = [hours * power.get(slot.printer, 0.0) for hours, slot in zip(run_h, slots, strict=True)]
    less = sum(power.get(slot.printer, 0.0) for slot in slots) / float(HOUR_MIN)
    yield from between("printing", "They draw", cost.energy_kwh, sum(most) - less, sum(most), unit="kWh")
    costs = room.costs
    yield from figure(
        "printing", "The current costs", cost.electricity, cost.energy_kwh * costs.electricity_kwh, off=CENT
    )
    yield from figure("printing", "Wear and upkeep cost", cost.machine, cost.printing_h * costs.machine_h, off=CENT)


def _offer(kit: Kit, cost: KitCost, room: Room) -> Iterator[Wrong]:
    """Work and margin, which only an offer has."""
    costs, slots = room.costs, kit.printing.slots
    hours = sum(slot.start_s - slot.change_s for slot in slots) / _HOUR_S + costs.labour_min / float(HOUR_MIN)
    labour = hours * costs.labour_h if costs.offer else 0.0
    yield from figure("printing", "Work costs", cost.labour, labour, off=CENT)
    before = cost.filament + cost.electricity + cost.machine + cost.spoiled + cost.labour
    margin = before * costs.margin_percent * PERCENT if costs.offer else 0.0
    yield from figure("printing", "The margin is", cost.margin, margin, off=CENT)


def _grams(load: Bedful | TrialBedful, learned: KitLearned | None) -> float:
    """What a bedful is likely to weigh, g."""
    return load.mass_g * (learned.heaviness if learned else 1.0)


def _purged(load: Bedful | TrialBedful) -> float:
    """What of it is purged for another filament, which may be counted or not, g."""
    change = getattr(load, "change", None)
    return change.purge_g * 2 if change else 0.0
