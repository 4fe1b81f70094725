"""Faults of kit.json alone: what people buy, saw, try, wait for and look up by, told otherwise than the kit has it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from nookwright.checks.record.claims import ROUNDED, SHARE
from nookwright.checks.record.places import WRITTEN as OF_A_SIDE
from nookwright.checks.record.sizes import WRITTEN as OF_A_SIZE
from nookwright.exchange.kit import KitStep
from nookwright.ground.findings import Severity

from .table import plain, sized

if TYPE_CHECKING:
    from nookwright.exchange.printing_models import KitSlot

    from .harness import Sample

KNIFE, CLIPS, DICE, SPICE = "knife", "clips", "dice", "spice"


def _gone(sample: Sample, kind: str, space: str, count: int = 1) -> Sample:
    """With so many placements of a kind gone from a space."""
    kinds = {part.id: part.kind for part in sample.kit.parts}
    mine = [one.id for one in sample.kit.placements if one.space == space and kinds[one.part] == kind]
    for name in mine[:count]:
        sample = sample.lacking("placements", name)
    return sample


@plain("filler-missing", besides=("piece-count", "sawing-wrong"))
def filler_gone(sample: Sample) -> Sample:
    """A strip at a wall is not in its place."""
    return _gone(sample, "filler", "drawer")


@plain("key-missing", besides=("piece-count",))
def key_gone(sample: Sample) -> Sample:
    """A key between two panels is not in its place."""
    return _gone(sample, "key", "drawer")


@plain("belonging-missing", besides=("piece-count",))
def divider_gone(sample: Sample) -> Sample:
    """A tray is to have two loose dividers and has one."""
    return _gone(sample, "divider", "wide")


@plain("belonging-missing", besides=("piece-count",))
def strip_gone(sample: Sample) -> Sample:
    """A tray is to have a name strip and has none."""
    return _gone(sample, "name strip", "wide")


@plain("belonging-missing")
def inlay_gone(sample: Sample) -> Sample:
    """A tray is to have an inlay, and no sheet is cut for it."""
    return sample.saying(sheets=())


@plain("belonging-missing")
def too_many_sheets(sample: Sample) -> Sample:
    """Two inlays are to be cut for a tray that has room for one."""
    return sample.having("sheets", sample.kit.sheets[0].id, count=2)


@plain("belonging-missing", besides=("piece-count",))
def cap_gone(sample: Sample) -> Sample:
    """A hollow riser for ballast has no cap."""
    caps = {part.id for part in sample.kit.parts if part.kind == "cap"}
    return sample.saying(orders=tuple(one for one in sample.kit.orders if one.part not in caps))


@sized("total-wrong", f"{SHARE:.3%} of it and {ROUNDED:g} g")
def total_mass(sample: Sample, size: float) -> Sample:
    """The whole kit is said to weigh more than its pieces."""
    mass_g = sample.kit.totals.mass_g
    more = {"mass_g": mass_g + size * (SHARE * mass_g + ROUNDED)}
    more["g_per_dm2"] = more["mass_g"] / sample.kit.totals.area_dm2
    return replace(sample.saying(totals=sample.kit.totals.model_copy(update=more)), as_weighed=True)


@plain("total-wrong")
def spools_wrong(sample: Sample) -> Sample:
    """A spool fewer is asked for than holds what is printed."""
    return replace(sample.having("materials", "white", spools=0), as_weighed=True)


@plain("total-wrong")
def box_unlisted(sample: Sample) -> Sample:
    """A box of the person's own is in use and not listed."""
    return sample.saying(boxes=())


@plain("time-wrong")
def part_time(sample: Sample) -> Sample:
    """A part is said to be printed in half the time of its pieces."""
    part = sample.part("shoe")
    return replace(sample.having("parts", part.id, time_s=part.time_s / 2), as_weighed=True)


@sized("size-record", f"{OF_A_SIZE:g} mm")
def limit_wrong(sample: Sample, size: float) -> Sample:
    """The largest that a thing may be is told otherwise than its readings give it."""
    return _sized_otherwise(sample, DICE, "width", limit=lambda one: one.limit + size * OF_A_SIZE)


@plain("size-record")
def reading_lost(sample: Sample) -> Sample:
    """A reading of the room file is not in the table of sizes."""
    return _sized_otherwise(sample, SPICE, "diameter", readings=lambda one: one.readings[:1])


@plain("size-record")
def pocket_lost(sample: Sample) -> Sample:
    """How a pocket got its diameter is not told."""
    return _sized_otherwise(sample, SPICE, "diameter", pocket=lambda _: None)


def _sized_otherwise(sample: Sample, lot: str, dimension: str, **changes: Any) -> Sample:  # noqa: ANN401
    """With keys of one dimension of a lot worked out from it."""
    (one,) = (entry for entry in sample.kit.lots if entry.id == lot)
    sizes = tuple(
        size.model_copy(update={key: change(size) for key, change in changes.items()})
        if size.dimension == dimension
        else size
        for size in one.sizes
    )
    return sample.having("lots", lot, sizes=sizes)


@sized("thing-otherwise", f"{OF_A_SIDE:g} mm", severity=Severity.WARN)
def thing_wider(sample: Sample, size: float) -> Sample:
    """A thing stands in kit.json wider than it is."""
    return sample.keeping(DICE, lambda place: {"size": (place.size[0] + size * OF_A_SIDE, *place.size[1:])})


@plain("place-otherwise", besides=("thing-grip-blocked",))
def handle_gone(sample: Sample) -> Sample:
    """A knife lies in its rest without a handle."""
    return sample.keeping(KNIFE, lambda _: {"beside": None})


@plain("place-otherwise")
def box_passes_for_round(sample: Sample) -> Sample:
    """A box passes for a round thing."""
    return sample.keeping(DICE, lambda _: {"round_axis": "z"})


@plain("name-otherwise", severity=Severity.WARN)
def label_swapped(sample: Sample) -> Sample:
    """A tray is called by what is in another one."""
    return sample.having("placements", sample.placed(DICE).id, label="cards")


@plain("name-otherwise", severity=Severity.WARN)
def space_renamed(sample: Sample) -> Sample:
    """A space is called otherwise than in the room file."""
    spaces = [one.model_copy(update={"name": "Drawer of the hall"}) for one in sample.kit.spaces if one.id == "drawer"]
    return sample.saying(spaces=(*spaces, *(one for one in sample.kit.spaces if one.id != "drawer")))


@plain("space-record", severity=Severity.WARN)
def margin_wrong(sample: Sample) -> Sample:
    """More is said to be taken off a space than is."""
    (space,) = (one for one in sample.kit.spaces if one.id == "bay")
    return sample.having("spaces", "bay", margins=(space.margins[0] + 0.5, *space.margins[1:]))


@plain("space-record", severity=Severity.WARN)
def cell_unblocked(sample: Sample) -> Sample:
    """A cell below a lock is not blocked in kit.json."""
    (space,) = (one for one in sample.kit.spaces if one.id == "drawer")
    return sample.having("spaces", "drawer", blocked_cells=space.blocked_cells[1:])


@plain("printer-errors-otherwise")
def errors_otherwise(sample: Sample) -> Sample:
    """A printer is said to err less than is known of it."""
    errors = sample.kit.printers[0].errors[0]
    surer = tuple(one.model_copy(update={"uncertainty": one.uncertainty / 2}) for one in errors.components)
    mine = (errors.model_copy(update={"components": surer}), *sample.kit.printers[0].errors[1:])
    return sample.having("printers", sample.kit.printers[0].id, errors=mine)


@plain("module-otherwise")
def rise_wrong(sample: Sample) -> Sample:
    """The household is said to have another rise than its trays."""
    return sample.saying(module=sample.kit.module.model_copy(update={"rise": 7.0}))


@plain("record-disagrees", severity=Severity.WARN)
def chance_above_one(sample: Sample) -> Sample:
    """The first print is said to fit more surely than its parts do."""
    return sample.saying(first_print=sample.kit.first_print.model_copy(update={"kit": 1.0, "seat": 0.9}))


@plain("record-disagrees", severity=Severity.WARN)
def saving_unreadable(sample: Sample) -> Sample:
    """The lines of a saving are none that a room file takes."""
    first, *others = sample.kit.savings
    return sample.saying(savings=(first.model_copy(update={"toml": "[choices\nliner"}), *others))


@plain("recipe-differs")
def recipe_of_another(sample: Sample) -> Sample:
    """A piece has the recipe of another one."""
    pieces = sample.kit.pieces
    mine = sample.piece(sample.placed(DICE).part)
    other = next(one for one in pieces if one.part != mine.part)
    return sample.having("pieces", mine.id, recipe=other.recipe)


@plain("step-differs", severity=Severity.WARN)
def step_gone(sample: Sample) -> Sample:
    """An exact solid is listed and not there."""
    part = sample.part("shoe")
    return sample.saying(steps=(KitStep(part=part.id, file="step/shoe.step", sha256="0" * 64),))


@plain("trial-wrong", besides=("bed-file-differs",))
def pilot_gone(sample: Sample) -> Sample:
    """A space has a liner and no pilot that tries it."""
    trials = tuple(one for one in sample.kit.first.trials if one.subject != "bay")
    kept = {piece.file for one in trials for piece in one.pieces}
    return _first(sample, trials=trials) if kept else sample


@plain("trial-wrong")
def entry_of_another(sample: Sample) -> Sample:
    """What is to be entered after a pilot is about another space."""
    changed = {"enter": lambda text: text.replace('"bay"', '"low"')}
    return _trial(sample, "pilot-bay", **changed)


@sized("trial-wrong", "0.05 mm")
def pilot_length(sample: Sample, size: float) -> Sample:
    """The strip of a pilot is said to be shorter than what is to be entered of it."""

    def shorter(lengths: Any) -> Any:  # noqa: ANN401 - strips of a pilot
        first, *others = lengths
        less = {"length": first.length - size * 0.05, "gap": first.gap + size * 0.05}
        return (first.model_copy(update=less), *others)

    return _trial(sample, "pilot-bay", lengths=shorter)


@plain("piece-count")
def trial_bed_gone(sample: Sample) -> Sample:
    """A load of trials is not printed."""
    return _first(sample, bedfuls=sample.kit.first.bedfuls[:-1])


def _first(sample: Sample, **changes: Any) -> Sample:  # noqa: ANN401 - any key of the trials
    """With keys of what is tried first changed; what was planned of it is left out."""
    gone = sample.saying(printing=type(sample.kit.printing)())
    return gone.saying(first=sample.kit.first.model_copy(update=changes))


def _trial(sample: Sample, name: str, **changes: Any) -> Sample:  # noqa: ANN401
    """With keys of one trial worked out from what they are."""
    trials = tuple(
        one.model_copy(update={key: change(getattr(one, key)) for key, change in changes.items()})
        if one.id == name
        else one
        for one in sample.kit.first.trials
    )
    return _first(sample, trials=trials)


@sized("sawing-wrong", "0.01 mm", besides=())
def strip_short(sample: Sample, size: float) -> Sample:
    """A strip of wood is to be sawn shorter than what it stands for."""
    first, *others = sample.kit.sawing.strips
    placed = {one.part for one in sample.kit.placements}
    length = sum(
        part.size[0]
        for name in first.instead_of
        for part in sample.kit.parts
        if part.name == name and part.id in placed
    )
    shorter = first.model_copy(update={"length": length - size * 0.01})
    return sample.saying(sawing=sample.kit.sawing.model_copy(update={"strips": (shorter, *others)}))


@plain("pads-otherwise", severity=Severity.WARN)
def pads_heavier(sample: Sample) -> Sample:
    """Pads are said to weigh twice as much as they do."""
    bedful = next(one for one in sample.kit.bedfuls if one.pads)
    pads = tuple(one.model_copy(update={"mass_g": 2 * one.mass_g}) for one in bedful.pads)
    return sample.having("bedfuls", bedful.id, pads=pads)


@plain("schedule-wrong")
def nobody_there(sample: Sample) -> Sample:
    """A bed is to be changed in the middle of the night."""
    return _slot(sample, -1, lambda slot: _shifted(slot, 11 * 3600))


@plain("schedule-wrong")
def two_at_once(sample: Sample) -> Sample:
    """A bedful begins before the one before it on the same printer is done."""
    slots = sample.kit.printing.slots
    last = slots[-1]
    before = next(one for one in reversed(slots[:-1]) if one.printer == last.printer)
    return _slot(sample, -1, lambda slot: _shifted(slot, before.end_s - slot.change_s - 600))


@plain("schedule-wrong", besides=("purchase-wrong",))
def bedful_twice(sample: Sample) -> Sample:
    """A bedful is printed twice."""
    plan = sample.kit.printing
    again = plan.slots[-1].model_copy(update={"bedful": plan.slots[-2].bedful})
    return sample.saying(printing=plan.model_copy(update={"slots": (*plan.slots[:-1], again)}))


@plain("schedule-wrong")
def ready_too_soon(sample: Sample) -> Sample:
    """A space is said to be complete a day before its last print ends."""
    plan = sample.kit.printing
    sooner = plan.ready[0].model_copy(update={"at_s": plan.ready[0].at_s - 86_400})
    return sample.saying(printing=plan.model_copy(update={"ready": (sooner, *plan.ready[1:])}))


@plain("purchase-wrong")
def too_little_bought(sample: Sample) -> Sample:
    """A spool fewer is to be bought than is printed from."""
    plan = sample.kit.printing
    fewer = plan.purchases[0].model_copy(update={"spools": plan.purchases[0].spools - 1})
    return sample.saying(printing=plan.model_copy(update={"purchases": (fewer, *plan.purchases[1:])}))


@plain("cost-wrong", severity=Severity.WARN)
def cost_wrong(sample: Sample) -> Sample:
    """The filament is said to cost half of what it does."""
    plan = sample.kit.printing
    assert plan.cost
    half = plan.cost.model_copy(update={"filament": plan.cost.filament / 2})
    return sample.saying(printing=plan.model_copy(update={"cost": half}))


def _slot(sample: Sample, number: int, change: Any) -> Sample:  # noqa: ANN401 - a function of a slot
    """With one bedful of the schedule put elsewhere."""
    plan = sample.kit.printing
    slots = list(plan.slots)
    slots[number] = change(slots[number])
    return sample.saying(printing=plan.model_copy(update={"slots": tuple(slots)}))


def _shifted(slot: KitSlot, by_s: float) -> KitSlot:
    keys = ("change_s", "start_s", "likely_s", "end_s")
    return slot.model_copy(update={key: getattr(slot, key) + by_s for key in keys})
