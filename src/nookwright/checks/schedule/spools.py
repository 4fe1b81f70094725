"""Whether each bedful has a spool that holds it, and what is to be bought is what the schedule needs.

What this does not know: the upper end of what a print may weigh, which the tool counts with; so a spool is only found
to be short where the likely masses alone are too much for it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING

from nookwright.checks.record.claims import Wrong, between, figure, words
from nookwright.checks.schedule.slots import learned_of, loads_of
from nookwright.checks.weights import G_PER_KG

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.exchange.kit import Bedful, Kit
    from nookwright.exchange.printing_models import KitLearned, KitPurchase, KitSlot
    from nookwright.exchange.trial_models import TrialBedful
    from nookwright.survey.models import Room

_NEW = re.compile(r"new-(.+)-[0-9]+")


def wrong_spools(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Spools that do not hold what is printed from them, and purchases that are not what is needed.

    Args:
        kit: with a schedule, all that it names known.
        room: with materials and spools.
    """
    loads, learned, owned = loads_of(kit), learned_of(kit), {one.id: one for one in room.spool}
    held = {one.id: one.spool_g for one in room.material}
    by_spool: dict[str, list[KitSlot]] = defaultdict(list)
    for slot in kit.printing.slots:
        if slot.spool:
            by_spool[slot.spool].append(slot)
    said = {finding.subject for finding in kit.findings if finding.code == "bedful-over-spool"}
    for slot in kit.printing.slots:
        if not slot.spool and slot.bedful not in said:
            yield Wrong(slot.bedful, "It is printed from no spool, and nothing says why.")
    for name, slots in by_spool.items():
        material = owned[name].material if name in owned else _material_of(name)
        for slot in slots:
            yield from words(slot.bedful, f"What is on its spool {name}", material, loads[slot.bedful].material)
        used = sum(_likely_g(loads[slot.bedful], learned, slot) for slot in slots)
        most = owned[name].left_g if name in owned else held.get(material, 0.0)
        yield from between(name, "From this spool is printed", used, 0.0, most, unit="g")
        yield from _on_two(name, slots)
    yield from _purchases(kit, room)
    yield from _mixed(kit, room)


def _material_of(spool: str) -> str:
    """The material of a spool that is to be bought."""
    match = _NEW.fullmatch(spool)
    return match[1] if match else ""


def _likely_g(load: Bedful | TrialBedful, learned: Mapping[tuple[str, str], KitLearned], slot: KitSlot) -> float:
    """What a bedful is likely to weigh, g; a purge of another filament is not from its spool."""
    change, known = getattr(load, "change", None), learned.get((slot.printer, load.material))
    return (load.mass_g - (change.purge_g if change else 0.0)) * (known.heaviness if known else 1.0)


def _on_two(name: str, slots: list[KitSlot]) -> Iterator[Wrong]:
    """One spool on two printers at a time."""
    for number, one in enumerate(slots):
        for other in slots[number + 1 :]:
            if one.printer != other.printer and one.change_s < other.end_s and other.change_s < one.end_s:
                yield Wrong(name, f"{one.bedful} and {other.bedful} are printed from it at once, on two printers.")


def _purchases(kit: Kit, room: Room) -> Iterator[Wrong]:
    """What is to be bought: as many spools as are printed from and not there yet, and those to spare."""
    materials = {one.id: one for one in room.material}
    new: dict[str, dict[str, float]] = defaultdict(dict)
    for slot in kit.printing.slots:
        if material := _material_of(slot.spool):
            new[material][slot.spool] = min(new[material].get(slot.spool, slot.change_s), slot.change_s)
    bought = {one.material: one for one in kit.printing.purchases}
    needed = [*new, *(one.material for one in kit.printing.purchases if one.spare and one.material not in new)]
    listed = sorted(one.material for one in kit.printing.purchases)
    yield from words("printing", "Materials to buy", listed, sorted(needed))
    for name, one in bought.items():
        if name in materials:
            yield from _purchase(one, new[name], materials[name].spool_g, materials[name].price_per_kg)


def _purchase(said: KitPurchase, new: dict[str, float], spool_g: float, price_per_kg: float) -> Iterator[Wrong]:
    """One of them."""
    yield from figure(said.material, "Spools to buy of it", said.spools, len(new) + max(0, said.spare))
    yield from figure(said.material, "On a full spool is", said.spool_g, spool_g, unit="g")
    yield from figure(said.material, "They cost", said.price, said.spools * spool_g / G_PER_KG * price_per_kg)
    if new:
        yield from figure(said.material, "The first of them is needed at", said.by_s, min(new.values()), unit="s")


def _mixed(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Batches that are said to meet in a space and are printed from nowhere."""
    batch = {one.id: one.batch or one.id for one in room.spool}
    loads, used = loads_of(kit), defaultdict[str, set[str]](set)
    for slot in kit.printing.slots:
        if slot.spool:
            used[loads[slot.bedful].material].add(batch.get(slot.spool, "new"))
    for one in kit.printing.mixed:
        yield from words(
            one.space,
            f"Batches of {one.material} that it gets",
            sorted(one.batches),
            sorted(used[one.material] & set(one.batches)),
        )
        if len(one.batches) <= 1:
            yield Wrong(one.space, f"Its {one.material} is said to be mixed, of one batch.")
