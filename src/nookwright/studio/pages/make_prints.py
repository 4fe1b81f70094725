"""What to print when: the chart of the schedule, the same as a table, and each bedful with its drawing."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from nicegui import ui

from nookwright.documents import words
from nookwright.documents.printing_view import printing_view, when
from nookwright.studio.pages.frame import text
from nookwright.studio.pages.tables import scrolling, table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nookwright.exchange.kit import Bedful, Kit
    from nookwright.exchange.printing_models import KitSlot

_NIGHT, _CHANGE = "runs through a night", "change the filament first"


class Load(NamedTuple):
    """One load of a bed, as it stands in the list.

    Attributes:
        id: of the bedful or of the trial.
        bed: what lies on it; nothing for a trial.
        slot: when it is printed; nothing where there is no schedule, or it is noted as printed.
        noted: whether it is noted as printed.
    """

    id: str
    bed: Bedful | None
    slot: KitSlot | None
    noted: bool


def loads_of(kit: Kit) -> list[Load]:
    """All loads in the order in which they are printed; those that are noted as printed come last.

    Args:
        kit: planned or built.
    """
    beds = {bed.id: bed for bed in kit.bedfuls}
    listed = [Load(slot.bedful, beds.get(slot.bedful), slot, noted=False) for slot in kit.printing.slots]
    left = set(kit.printing.unplaced)
    scheduled = {one.id for one in listed} | left
    rest = [bed for bed in kit.bedfuls if bed.id not in {one.id for one in listed}]
    return listed + [Load(bed.id, bed, None, noted=bool(scheduled) and bed.id not in left) for bed in rest]


def draw_prints(kit: Kit, *, built: bool) -> None:
    """The chart, the table, and the list of bedfuls.

    Args:
        kit: planned or built.
        built: whether it is built: then it has a schedule.
    """
    text("What to print when", "h2")
    if not built:
        text("Bedfuls are shared out here from boxes; built, the kit has them by outline, with the schedule.", "p")
    elif kit.printing.slots:
        _schedule(kit)
    if kit.printing.unplaced:
        late = f"{len(kit.printing.unplaced)} bedfuls have no place in your hours: {', '.join(kit.printing.unplaced)}."
        text(late, "p", "warn")
    names = _Names.of(kit)
    with ui.element("ol").classes("beds").props('aria-label="Loading list"'):
        for load in loads_of(kit):
            with ui.element("li").classes("bed").props(f'id="bed-{load.id}" data-bed="{load.id}"'):
                if load.bed is not None:
                    ui.html(_drawing(kit, load.bed), sanitize=False)
                with ui.element("div"):
                    text(load.id, "h3")
                    for words_ in _lines(kit, load, names):
                        text(words_, "p")


class _Names(NamedTuple):
    """What ids are called."""

    spaces: dict[str, str]
    printers: dict[str, str]
    materials: dict[str, str]
    parts: dict[str, str]
    part_of: dict[str, str]
    where: dict[str, list[str]]

    @classmethod
    def of(cls, kit: Kit) -> _Names:
        where: dict[str, list[str]] = {}
        for one in kit.placements:
            where.setdefault(one.part, []).append(one.space)
        spaces, printers, materials = (
            {one.id: one.name or one.id for one in some} for some in (kit.spaces, kit.printers, kit.materials)
        )
        parts = {one.id: one.name for one in kit.parts}
        return cls(spaces, printers, materials, parts, {piece.id: piece.part for piece in kit.pieces}, where)


def _schedule(kit: Kit) -> None:
    """The chart, and the same in words for who cannot see it, or has a small screen."""
    view = printing_view(kit)
    trials = {one.id for one in kit.first.bedfuls}
    first = sum(slot.bedful in trials for slot in kit.printing.slots)
    loads = f"{len(kit.printing.slots) - first} bedfuls" + (f" and {first} prints for trials" if first else "")
    text(f"{loads} in {view.length}; the last one ends {view.end}.", "p").props("data-loads")
    if first:
        tried = "; ".join(one.name for one in kit.first.trials)
        text(f"The trials come first, to see that all fits before the rest is printed: {tried}.", "p")
    with scrolling("The schedule as a chart"):
        ui.element("img").classes("chart").props(
            'src="/kit/schedule.svg" alt="The schedule, a band a day; the table below says the same"'
        )
    with ui.element("details").classes("panel"):
        text("The schedule as a table", "summary").props("data-schedule")
        head = ("Bedful", "Printer", "Filament", "Starts", "Likely ends", "Ends at the latest", "Mind")
        table("The schedule as a table", head, _rows(kit))


def _rows(kit: Kit) -> Iterator[tuple[str, ...]]:
    names, beds = _Names.of(kit), {bed.id: bed.material for bed in kit.bedfuls}
    trials = {one.id: one.material for one in kit.first.bedfuls}
    for slot in kit.printing.slots:
        material = beds.get(slot.bedful, trials.get(slot.bedful, ""))
        mind = "; ".join(said for said, holds in ((_CHANGE, slot.filament), (_NIGHT, slot.night)) if holds)
        times = (when(kit.printing, at).removeprefix("on ") for at in (slot.start_s, slot.likely_s, slot.end_s))
        printer = names.printers.get(slot.printer, slot.printer)
        yield slot.bedful, printer, names.materials.get(material, material), *times, mind


def _lines(kit: Kit, load: Load, names: _Names) -> Iterator[str]:
    """What is said of a load, a paragraph each."""
    made = load.bed or next((one for one in kit.first.bedfuls if one.id == load.id), None)
    if made is not None:
        printer, material = names.printers.get(made.printer, ""), names.materials.get(made.material, "")
        yield f"{printer}, {material}: {words.grams(made.mass_g)}, {words.duration(made.time_s)}."
    if load.slot is not None:
        minds = [said for said, holds in ((_CHANGE, load.slot.filament), (_NIGHT, load.slot.night)) if holds]
        mind = f" Mind: {' and '.join(minds)}." if minds else ""
        yield f"Starts {when(kit.printing, load.slot.start_s)}.{mind}"
    if load.bed is None:
        number = [one.id for one in kit.first.bedfuls].index(load.id) + 1 if made is not None else 1
        yield f"For the trials, print {number} of {len(kit.first.bedfuls)}."
    else:
        yield _what(load.bed, names)
    yield "Noted as printed." if load.noted else "Not noted as printed yet."


def _what(bed: Bedful, names: _Names) -> str:
    """What lies on a bed, counted, and for which spaces."""
    used = [names.part_of[item.piece] for item in bed.items]
    counts = Counter(names.parts[part] for part in used)
    where = dict.fromkeys(names.spaces[space] for part in dict.fromkeys(used) for space in names.where.get(part, ()))
    listed = "; ".join(f"{count} x {name}" for name, count in counts.items())
    return f"{listed}. For {', '.join(where)}." if where else f"{listed}."


def _drawing(kit: Kit, bed: Bedful) -> str:
    """A bed from above: boxes of what lies on it, to scale."""
    printer = next(one for one in kit.printers if one.id == bed.printer)
    sizes = {piece.id: piece.size for piece in kit.pieces}
    wide, deep = printer.bed[:2]
    boxes = []
    for item in bed.items:
        (a, b, _, x), (c, d, _, y) = item.bed_from_piece[:2]
        width, depth, _ = sizes[item.piece]
        xs = [x + a * u + b * v for u in (0, width) for v in (0, depth)]
        ys = [y + c * u + d * v for u in (0, width) for v in (0, depth)]
        boxes.append(
            f'<rect x="{min(xs):.1f}" y="{deep - max(ys):.1f}" width="{max(xs) - min(xs):.1f}" '
            f'height="{max(ys) - min(ys):.1f}"/>'
        )
    return (
        f'<svg class="bed-picture" viewBox="-2 -2 {wide + 4:g} {deep + 4:g}" role="img" aria-label="Bed with '
        f'{len(bed.items)} pieces"><rect class="edge" width="{wide:g}" height="{deep:g}"/>{"".join(boxes)}</svg>'
    )
