"""Every field of kit.json changed in turn, and the fields that may change without anybody being told, each with why.

A field is a path such as ``spaces[].margins[]``. One number is made larger and smaller by a tenth, a word another word
that stands in its place somewhere else, a list shorter, empty, or longer by its first entry. What can be seen without
looking into solids is looked at for every change; the rest is named in ``IN_SOLIDS`` and left to the whole proof.
"""

from __future__ import annotations

import json
from collections import defaultdict
from fnmatch import fnmatchcase
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from nookwright.checks.beds import _miscounted as miscounted
from nookwright.checks.liner_whole import check_liner_whole
from nookwright.checks.masses import check_masses
from nookwright.checks.record.belongs import check_belongs
from nookwright.checks.record.household import check_household
from nookwright.checks.record.judged import check_judged
from nookwright.checks.record.names import check_names
from nookwright.checks.record.places import check_places
from nookwright.checks.record.recipes import check_recipes
from nookwright.checks.record.sawing import check_sawing
from nookwright.checks.record.sizes import check_sizes
from nookwright.checks.record.spaces import check_spaces
from nookwright.checks.record.surveyed import check_surveyed
from nookwright.checks.record.things import check_things
from nookwright.checks.record.totals import check_totals
from nookwright.checks.record.trials import check_trials
from nookwright.checks.record.turned import check_turned
from nookwright.checks.references import dangling, uncounted
from nookwright.checks.schedule.check import check_schedule
from nookwright.checks.sheets import check_sheets
from nookwright.checks.usable import check_usable
from nookwright.exchange.kit import Kit
from nookwright.ground.findings import Finding, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape

    from .harness import Sample

Step = str | int
TENTH = 0.1

FREE: Mapping[str, str] = {
    "findings*": "what was found is said by whoever found it",
    "looked*": "how much was looked at is counted by whoever looked",
    "room_sha256": "of the room file's bytes, which the proof does not get; building compares them",
    "version": "which version made it is not for the same version to doubt",
    "module.chosen": "a sentence for people; the pitch and the rise beside it are looked at",
    "module.plot": "a picture of the comparison, written after the proof",
    "module.pitches[].*": "how another pitch would have done: a forecast to compare; the chosen one is looked at",
    "module.pitches": "as many as were judged; the chosen one must be among them",
    "module.rises[].*": "the same of the rises",
    "module.rises": "the same of the rises",
    "next_readings*": "what a reading would gain is a forecast; what it is asked of is looked at",
    "more_readings": "how many more there are is a forecast",
    "first_print.helps*": "how much a step would help is a forecast; that it adds up is looked at",
    "layout.arrangement*": "how a layout is judged besides: figures of the search, with no sum to hold them against",
    "layout.tightest*": "the same of the other layout; the parts of its cost are added up",
    "layout.spaces*": "what a space is worth at the margin is a forecast; floor and grams are added up",
    "layout.proven": "whether the search ended by itself is known to the search alone",
    "layout.by_clock": "the same",
    "layout.seed": "repeats the layout, which is looked at as it is",
    "layout.iterations": "the same",
    "savings": "which savings are the cheapest is a forecast",
    "savings[].gives_up": "the same",
    "savings[].mass_g": "a forecast; no more than all there is",
    "savings[].time_s": "the same",
    "savings[].toml": "its lines are read, and may say anything that a room file may",
    "spaces[].budget_g": "what prints of such a floor should weigh: a yardstick",
    "spaces[].liners*": "what other levels of liner would cost: a forecast; that one is chosen is looked at",
    "bedfuls[].also_on*": "other printers that could do it: an offer; that they are there is looked at",
    "bedfuls[].night": "whether a bedful may be left alone at night is judged where pieces are put on beds",
    "bedfuls[].settings.skirt": "the distance of a skirt that there is none of",
    "first.trials[].proves": "a sentence for people",
    "first.trials[].goes_in": "how likely a gauge shows nothing new: a forecast; a share, and no less than the next",
    "first.trials[].holds": "the same",
    "first.trials[].risk_g": "what is at risk without it: a forecast",
    "first.trials[].time_s": "to print one after the other: a forecast; all together must be about that of their beds",
    "first.trials[].lengths[].whole": "a word for people; the gap beside it says the same",
    "first.trials[].pieces[].name": "what people call a piece of a trial; its file is looked at",
    "pieces[].lies": "a sentence for people; how a piece lies is looked at on its bed",
    "parts[].parameters*": "what it was made from, for who makes it again; what counts is measured in the solid",
    "parts[].joints[].area_mm2": "how much there is to glue, said in words; that joints hold is looked at in solids",
    "parts[].joints[].dry": "whether it may stay unglued is said in words beside it",
    "parts[].joints[].places*": "where dovetails are is looked at where they hold, in solids",
    "parts[].joints[].across*": "from where to where a cut goes along y, of cuts across z alone",
    "parts[].joints[].span*": "from where to where a cut goes: what is glued is measured in the solids",
    "parts[].joints": "how many there are is looked at where pieces are put together, in solids",
    "orders[].id": "two orders that change names are printed all the same",
    "printing.mixed*": "batches that meet in a space: a hint; that they are printed from is looked at",
    "printing.slots[].end_s": "at the latest: no less than likely; the next bedful and the end rest on it",
    "sawing.strips[].height": "plywood of 3 in place of a lip of 2.6: within what is sold",
    "sawing.strips": "wood is an offer; everything is printed besides",
    "lots[].places[].held": "an empty list says the same as ones alone; other numbers are looked at",
    "printing.chart": "the name of a drawing that is written after the proof; that there is one is looked at",
    "printing.loading_list": "the same of the list",
    "sheets[].id": "a name of its own that nothing else uses",
    "printing.learned[].timed": "how many prints were noted is known to the notes alone",
    "printing.learned[].weighed": "the same",
}
"""Why a field may change and nobody is told, by path; a star stands for anything."""

IN_SOLIDS: Mapping[str, str] = {
    "bedfuls[].card": "card-unreadable",
    "bedfuls[].file": "file-unreadable",
    "bedfuls[].model_sha256": "bed-file-differs",
    "bedfuls[].items*": "bed-file-differs",
    "bedfuls[].pads*": "bed-file-differs",
    "bedfuls[].settings*": "card-differs",
    "bedfuls[].change*": "card-differs",
    "first.bedfuls*": "piece-count",
    "first.trials": "bed-file-differs",
    "first.trials[].pieces*": "piece-count",
    "parts[].joints[].*": "joint-differs",
    "parts[].stl*": "file-changed",
    "pieces[].file": "file-unreadable",
    "placements[].stands_on*": "stands-otherwise",
    "placements[].travel": "spring-blocked",
    "lots[].places[].at*": "thing-outside",
}
"""What only looking into solids and files of beds finds, with a code that is found then."""


def paths(content: Any, path: tuple[Step, ...] = (), name: str = "") -> Iterator[tuple[str, tuple[Step, ...], Any]]:  # noqa: ANN401
    """Every value of a kit as JSON: the path of its field, where it is, and what it is."""
    if name:
        yield name, path, content
    if isinstance(content, dict):
        for key, value in content.items():
            yield from paths(value, (*path, key), f"{name}.{key}".lstrip("."))
    elif isinstance(content, list):
        for number, value in enumerate(content):
            yield from paths(value, (*path, number), f"{name}[]")


def changes(value: Any, others: list[Any]) -> Iterator[tuple[str, Any]]:  # noqa: ANN401
    """What a value is changed to, each with a word for it.

    Args:
        value: as it is.
        others: what stands in its place elsewhere in the kit.
    """
    if isinstance(value, bool):
        yield "the other", not value
    elif isinstance(value, int | float):
        step = 1 if isinstance(value, int) or not value else value * TENTH
        yield "more", value + step
        if value:
            yield "less", value - step
    elif isinstance(value, str):
        other = next((one for one in others if one != value), None)
        yield ("another", other) if isinstance(other, str) else ("altered", f"{value}x")
    elif isinstance(value, list) and value:
        yield "empty", []
        yield "the first twice", [value[0], *value]
        if len(value) > 1:
            yield "the last gone", value[:-1]
    elif isinstance(value, dict) and None in others:
        yield "gone", None


def fields_of(kit: Kit) -> Iterator[tuple[str, str, Kit | None]]:
    """The path of every field, once, with each change of it and the kit that comes of it.

    ``None`` where the format itself refuses the change.
    """
    raw = kit.model_dump(mode="json")
    known: dict[str, list[tuple[tuple[Step, ...], Any]]] = defaultdict(list)
    for name, path, value in paths(raw):
        known[name].append((path, value))
    for name, places in known.items():
        path, value = next((place for place in places if place[1] not in ("", [], None, 0)), places[0])
        for what, new in changes(value, [other for _, other in places]):
            yield name, what, _with(raw, path, new)


def _with(raw: dict[str, Any], path: tuple[Step, ...], new: Any) -> Kit | None:  # noqa: ANN401
    """The kit with one value changed; the JSON is as it was, afterwards."""
    holder: Any = raw
    for step in path[:-1]:
        holder = holder[step]
    before, holder[path[-1]] = holder[path[-1]], new
    try:
        return Kit.model_validate(json.loads(json.dumps(raw)))
    except ValidationError:
        return None
    finally:
        holder[path[-1]] = before


def covered(name: str, table: Mapping[str, str]) -> bool:
    """Whether a table has a field, by its path."""
    return any(fnmatchcase(name.replace("[]", "()"), one.replace("[]", "()")) for one in table)


def looked(kit: Kit, sample: Sample, shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """All that is found without looking into solids."""
    room, folder = sample.room, sample.folder
    broken = [*dangling(kit, room), *check_turned(kit)]
    yield from broken
    if broken:
        return
    yield from uncounted(kit, room)
    for check in (
        *(check_things, check_masses, check_totals, check_names, check_belongs, check_sizes, check_places),
        *(check_surveyed, check_schedule, check_spaces, check_household, check_judged),
    ):
        yield from check(kit, room)
    yield from check_usable(kit.spaces, room.space)
    yield from check_trials(kit, room, shapes)
    yield from check_sawing(kit, room, shapes)
    yield from miscounted(kit)
    yield from check_liner_whole(kit)
    yield from check_recipes(folder, kit)
    yield from check_sheets(folder, kit)
    yield from _figures(kit, sample.kit)


def _figures(kit: Kit, sound: Kit) -> Iterator[Finding]:
    """Sizes, volumes and hashes that are no longer those of the sound kit, which were looked at in its files."""
    for what in ("parts", "pieces"):
        for one, same in zip(getattr(kit, what), getattr(sound, what), strict=False):
            if (one.size, one.volume_mm3, one.stl_sha256) != (same.size, same.volume_mm3, same.stl_sha256):
                yield Finding("file-changed", Severity.STOP, one.id, "It is not what its file holds.", "")


def loud(kit: Kit, sample: Sample, shapes: Mapping[str, Shape]) -> str:
    """The first code that warns or stops; empty where all keep silent."""
    return next((one.code for one in looked(kit, sample, shapes) if one.severity is not Severity.NOTE), "")
