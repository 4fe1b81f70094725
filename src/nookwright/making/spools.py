"""Which spool each bedful is printed from, what must be bought, and what must be dried by when.

Nothing begins that its spool cannot finish: the upper end of each mass is counted, and some grams stay on every spool.
One spool is on one printer at a time. Then as few spools are bought as will do; then what is seen of one space comes
from one batch where that is possible; then as few spools are opened as can be. New spools of a material count as one
batch: they are to be bought together.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, Any

from nookwright.ground.findings import Finding, Severity
from nookwright.ground.sources import Fact, Kind
from nookwright.making.schedule.effort import solver_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from nookwright.making.schedule.model import Bedful, Slot
    from nookwright.survey.making_wishes import Spool
    from nookwright.survey.models import Material

LEFT_ON_G = Fact(
    15.0, unit="g", kind=Kind.COMMON_PRACTICE, source="The last windings slip or are bent; loading takes some."
)
STEPS = Fact(
    1.0, unit="steps", kind=Kind.CHOICE, source="Of the solver for one material; a few dozen bedfuls need less."
)
_NEW, _MIXED, _OPENED = 10**9, 10**6, 10**4  # a spool bought, a batch more in a space, one opened, one begun early
NEW_BATCH = "new"


@dataclass(frozen=True)
class Use:
    """A bedful and the spool that it is printed from."""

    bedful: str
    spool: str
    batch: str


@dataclass(frozen=True)
class Purchase:
    """What must be bought of one material.

    Attributes:
        material: id.
        spools: how many, of one batch.
        spool_g: filament on each.
        spare: how many of them only for prints that fail.
        by: minute at which the first of them is needed; drying comes before.
        price: of all.
    """

    material: str
    spools: int
    spool_g: float
    spare: int
    by: int
    price: float


@dataclass(frozen=True)
class Mixed:
    """A space in which one material comes from several batches."""

    space: str
    material: str
    batches: tuple[str, ...]


@dataclass(frozen=True)
class SpoolPlan:
    """Spools for a whole schedule.

    Attributes:
        uses: one for each bedful that has a spool, in order of time.
        purchases: by material.
        mixed: spaces whose colour may differ from part to part.
        findings: what there is to say.
    """

    uses: tuple[Use, ...]
    purchases: tuple[Purchase, ...]
    mixed: tuple[Mixed, ...]
    findings: tuple[Finding, ...]

    def spool_of(self, bedful: str) -> str:
        """The id of a bedful's spool; empty where it has none."""
        return next((use.spool for use in self.uses if use.bedful == bedful), "")


@dataclass(frozen=True)
class _Reel:
    """A spool that may be used: one that is there, or one that may be bought."""

    id: str
    batch: str
    holds_g: int
    new: bool


def plan_spools(
    slots: Sequence[Slot],
    bedfuls: Mapping[str, Bedful],
    materials: Sequence[Material],
    spools: Sequence[Spool],
    *,
    spoilage: float = 0.0,
) -> SpoolPlan:
    """Give each bedful of a schedule a spool.

    Args:
        slots: in order of time.
        bedfuls: by id.
        materials: of the room.
        spools: that are there.
        spoilage: share of bedfuls that fail, whose filament is lost.
    """
    uses: list[Use] = []
    purchases: list[Purchase] = []
    mixed: list[Mixed] = []
    findings: list[Finding] = []
    for material in materials:
        mine = [slot for slot in sorted(slots) if bedfuls[slot.bedful].material == material.id]
        there = [_reel(spool) for spool in spools if spool.material == material.id]
        largest = max([_usable(material.spool_g), *(reel.holds_g for reel in there)])
        able = [slot for slot in mine if _need_g(bedfuls[slot.bedful]) <= largest]
        findings += [_too_heavy(bedfuls[slot.bedful], largest) for slot in mine if slot not in able]
        if not able:
            continue
        chosen = _assigned(able, bedfuls, there, _usable(material.spool_g))
        uses += [Use(slot.bedful, chosen[slot.bedful].id, chosen[slot.bedful].batch) for slot in able]
        mixed += _mixed(able, bedfuls, chosen, material.id)
        bought = _purchase(able, bedfuls, chosen, material, there=there, spoilage=spoilage)
        purchases += [bought] if bought else []
    order = {slot.bedful: number for number, slot in enumerate(sorted(slots))}
    findings += [_differs(one) for one in mixed]
    return SpoolPlan(
        tuple(sorted(uses, key=lambda use: order[use.bedful])), tuple(purchases), tuple(mixed), tuple(findings)
    )


def _reel(spool: Spool) -> _Reel:
    return _Reel(spool.id, spool.batch or spool.id, _usable(spool.left_g), new=False)


def _usable(mass_g: float) -> int:
    """Whole grams of a spool that may be counted on."""
    return max(0, math.floor(mass_g - LEFT_ON_G))


def _need_g(bedful: Bedful) -> int:
    return math.ceil(max(bedful.high_g, bedful.mass_g))


def _assigned(
    slots: Sequence[Slot], bedfuls: Mapping[str, Bedful], there: Sequence[_Reel], new_g: int
) -> dict[str, _Reel]:
    """The spool of each bedful of one material."""
    first = _first_fit(slots, bedfuls, there, new_g)
    reels = list(dict.fromkeys([*there, *sorted((one for one in first.values() if one.new), key=lambda one: one.id)]))
    return _searched(slots, bedfuls, reels, first)


def _first_fit(
    slots: Sequence[Slot], bedfuls: Mapping[str, Bedful], there: Sequence[_Reel], new_g: int
) -> dict[str, _Reel]:
    """The first spool with enough left that is on no other printer, in order of time; a new one where none has."""
    reels = list(there)
    left = {reel.id: reel.holds_g for reel in reels}
    found: dict[str, _Reel] = {}
    for slot in slots:
        need = _need_g(bedfuls[slot.bedful])
        busy = {found[other.bedful].id for other in slots if other.bedful in found and _together(slot, other)}
        free = [reel for reel in reels if left[reel.id] >= need and reel.id not in busy]
        if not free:
            material = bedfuls[slot.bedful].material
            number = sum(reel.new for reel in reels) + 1
            free = [_Reel(f"new-{material}-{number:02d}", NEW_BATCH, new_g, new=True)]
            reels.append(free[0])
            left[free[0].id] = new_g
        found[slot.bedful] = free[0]
        left[free[0].id] -= need
    return found


def _together(one: Slot, other: Slot) -> bool:
    """Whether two bedfuls are printed at the same time, so that one spool cannot serve both."""
    return one.work < other.end and other.work < one.end


def _searched(
    slots: Sequence[Slot], bedfuls: Mapping[str, Bedful], reels: Sequence[_Reel], first: Mapping[str, _Reel]
) -> dict[str, _Reel]:
    """The best that the solver finds, beginning from the first fit."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    takes = {
        (slot.bedful, reel.id): model.new_bool_var(f"{slot.bedful} from {reel.id}") for slot in slots for reel in reels
    }
    opened = {reel.id: model.new_bool_var(f"{reel.id} opened") for reel in reels}
    for slot in slots:
        model.add_exactly_one(takes[slot.bedful, reel.id] for reel in reels)
    for reel in reels:
        needs = sum(_need_g(bedfuls[slot.bedful]) * takes[slot.bedful, reel.id] for slot in slots)
        model.add(needs <= reel.holds_g * opened[reel.id])
        for one, other in combinations(slots, 2):
            if _together(one, other):
                model.add_at_most_one(takes[one.bedful, reel.id], takes[other.bedful, reel.id])
    new = [reel for reel in reels if reel.new]
    for before, after in pairwise(new):  # the first of them is opened first
        model.add_implication(opened[after.id], opened[before.id])
    cost: Any = sum((_NEW if reel.new else _OPENED) * opened[reel.id] for reel in reels)
    early = sum(  # what is there is used up first, so that there is time to buy
        (len(slots) - number) * takes[slot.bedful, reel.id] for number, slot in enumerate(slots) for reel in new
    )
    model.minimize(cost + early + _MIXED * sum(_batches(model, slots, bedfuls, reels, takes)))
    for slot in slots:
        for reel in reels:
            model.add_hint(takes[slot.bedful, reel.id], first[slot.bedful] == reel)
    solver = solver_of(float(STEPS))
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return dict(first)
    by_id = {reel.id: reel for reel in reels}
    return {slot.bedful: by_id[next(r for r in by_id if solver.value(takes[slot.bedful, r]))] for slot in slots}


def _batches(
    model: Any,  # noqa: ANN401 - the solver's own type
    slots: Sequence[Slot],
    bedfuls: Mapping[str, Bedful],
    reels: Sequence[_Reel],
    takes: Mapping[tuple[str, str], Any],
) -> list[Any]:
    """A literal for each batch that is seen in a space."""
    found = []
    for space in dict.fromkeys(space for slot in slots for space in bedfuls[slot.bedful].visible):
        mine = [slot for slot in slots if space in bedfuls[slot.bedful].visible]
        for batch in dict.fromkeys(reel.batch for reel in reels):
            seen = model.new_bool_var(f"{batch} in {space}")
            for slot in mine:
                for reel in reels:
                    if reel.batch == batch:
                        model.add_implication(takes[slot.bedful, reel.id], seen)
            found.append(seen)
    return found


def _mixed(
    slots: Sequence[Slot], bedfuls: Mapping[str, Bedful], chosen: Mapping[str, _Reel], material: str
) -> Iterable[Mixed]:
    """Spaces that see several batches of one material."""
    seen: dict[str, dict[str, None]] = defaultdict(dict)
    for slot in slots:
        for space in bedfuls[slot.bedful].visible:
            seen[space][chosen[slot.bedful].batch] = None
    return [Mixed(space, material, tuple(batches)) for space, batches in seen.items() if len(batches) > 1]


def _purchase(
    slots: Sequence[Slot],
    bedfuls: Mapping[str, Bedful],
    chosen: Mapping[str, _Reel],
    material: Material,
    *,
    there: Sequence[_Reel],
    spoilage: float,
) -> Purchase | None:
    """What must be bought of a material; one spool more where what fails would not be covered."""
    new = {reel.id: reel for reel in chosen.values() if reel.new}
    used = sum(_need_g(bedfuls[slot.bedful]) for slot in slots)
    holds = sum(reel.holds_g for reel in (*there, *new.values()))
    lost = spoilage * sum(bedfuls[slot.bedful].mass_g for slot in slots)
    each = _usable(material.spool_g)
    spare = math.ceil(max(0.0, used + lost - holds) / each) if each else 0
    count = len(new) + spare
    if not count:
        return None
    first = [slot.work for slot in slots if chosen[slot.bedful].new] or [max(slot.end for slot in slots)]
    price = count * material.spool_g / 1000 * material.price_per_kg
    return Purchase(material.id, count, material.spool_g, spare, min(first), price)


def _too_heavy(bedful: Bedful, largest: int) -> Finding:
    text = f"needs up to {_need_g(bedful)} g of {bedful.material}, and no spool has more than {largest} g to give."
    return Finding("bedful-over-spool", Severity.STOP, bedful.id, text, "Split the bedful, or have a larger spool.")


def _differs(mixed: Mixed) -> Finding:
    batches = ", ".join(mixed.batches)
    text = f"Parts of {mixed.material} come from {len(mixed.batches)} batches, {batches}: shades may differ."
    return Finding(
        "colour-differs", Severity.NOTE, mixed.space, text, "Buy enough of one batch, or compare them first."
    )
