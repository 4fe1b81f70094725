"""Whether what is tried first is what the kit needs tried, and can be entered afterwards.

Trials are printed before all else, and the room file gets what they show; so a trial that is missing, printed too few
times, or that asks for the wrong entry spoils what is made next. What this does not know: the printing time of a piece
of a trial, and whether a gauge that is left out would have paid.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from nookwright.checks.masses import brim_mm3, brims_of, may_weigh_g
from nookwright.checks.record.claims import Wrong, between, figure, said_once, words
from nookwright.checks.soundness import volume_of
from nookwright.checks.weights import MM3_PER_CM3
from nookwright.ground.errors import LengthError
from nookwright.ground.findings import Severity
from nookwright.ground.lengths import read_length
from nookwright.ground.sources import Fact, Kind
from nookwright.sizing.usable import usable_of
from nookwright.survey.trials import Found

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.exchange.kit import Kit, Size
    from nookwright.exchange.trial_models import KitTrial, TrialPiece
    from nookwright.ground.findings import Finding
    from nookwright.survey.models import Room

JOINED = Fact(1.0, unit="mm", kind=Kind.CALCULATED, source="Of gaps at both edges of a panel: 0.4, and roundings.")
LIGHT_LOADS = Fact(
    0.8, unit="1", kind=Kind.CHOICE, source="Of the pieces of trials, which another printer may fill less."
)
HEAVY_LOADS = Fact(
    1.6, unit="1", kind=Kind.CHOICE, source="The same: skirts, brims and pads of small pieces come on top."
)
A_LOAD_G = Fact(30.0, unit="g", kind=Kind.CHOICE, source="No load purges or lays down more beside its pieces.")
SHORT_LOADS = Fact(0.5, unit="1", kind=Kind.CHOICE, source="Of the times of trials one by one: a faster printer.")
LONG_LOADS = Fact(2.0, unit="1", kind=Kind.CHOICE, source="The same: a slower printer, and moves between pieces.")
A_LOAD_S = Fact(3600.0, unit="s", kind=Kind.CHOICE, source="No load takes longer to heat up and to be primed.")
SUMMED = Fact(1e-4, unit="mm", kind=Kind.CALCULATED, source="Two lengths that are written in millionths.")
SHOWN = Fact(0.05, unit="mm", kind=Kind.CHOICE, source="Of a length that is written with one place behind the point.")
_PANEL, _SEAT = "panel", "seat"
_TRAYS = ("tray", "cradle")  # kinds of parts that a pilot takes one of


def check_trials(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """One finding about everything that is wrong with the trials.

    Args:
        kit: the kit, its references sound.
        room: with what was found in earlier trials.
        shapes: meshes by file.
    """
    trials = kit.first.trials
    wrong = [
        *_missing(kit, room),
        *_ids(kit, room),
        *(one for trial in trials for one in _trial(trial, kit, room)),
        *_pieces(kit, room, shapes),
        *_sums(kit),
    ]
    yield from said_once("trial-wrong", Severity.STOP, wrong)


def _missing(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Spaces with a liner and no pilot, although nothing was found there yet, and a liner whose seat nobody tries."""
    panels = {part.id for part in kit.parts if part.kind == _PANEL}
    lined = {one.space for one in kit.placements if one.part in panels}
    tried = {trial.subject for trial in kit.first.trials if trial.kind == "pilot"} | {one.space for one in room.found}
    for space in sorted(lined - tried):
        yield Wrong(space, "It has a liner and no pilot that tries it.")


def _ids(kit: Kit, room: Room) -> Iterator[Wrong]:
    """Ids that are there twice, or are not those of what is tried."""
    named = Counter([one.id for one in kit.first.trials] + [one.id for one in kit.first.bedfuls])
    yield from (Wrong(name, f"{count} trials have this id.") for name, count in sorted(named.items()) if count > 1)
    for number, load in enumerate(kit.first.bedfuls, start=1):
        yield from words(load.id, "The id of this load of trials", load.id, f"trial-{number:02d}")
    names = {"pilot": {one.id: one.name or one.id for one in room.space}, _SEAT: {"": ""}}
    names |= {"gauge": {one.id: one.name or one.id for one in room.lot}}
    for trial in kit.first.trials:
        known = names[trial.kind]
        if trial.subject not in known:
            yield Wrong(trial.id, f"It tries {trial.subject!r}, which is nothing that a {trial.kind} tries.")
            continue
        said = {
            "pilot": (f"pilot-{trial.subject}", f"pilot of {known[trial.subject]}"),
            "gauge": (f"gauge-{trial.subject}", f"gauges of {known[trial.subject]}"),
            _SEAT: ("seat-bar", "bar of the seat"),
        }[trial.kind]
        yield from words(trial.id, "Its id and name", (trial.id, trial.name), said)


def _trial(trial: KitTrial, kit: Kit, room: Room) -> Iterator[Wrong]:
    """One of them: its sum, its strips, what is entered, and the tray that is one of the kit's."""
    grams = sum(one.mass_g * one.count for one in trial.pieces)
    yield from figure(trial.id, "Its pieces weigh", trial.mass_g, grams, unit="g")
    yield from between(trial.id, "All go in with a probability of", trial.goes_in, 0.0, 1.0)
    yield from between(trial.id, "Its fit holds with a probability of", trial.holds, 0.0, trial.goes_in)
    files = [one.file for one in trial.pieces]
    if len(set(files)) < len(files):
        yield Wrong(trial.id, "A piece of it is listed twice.")
    yield from _entered(trial, room)
    if trial.kind == "gauge":
        yield from figure(trial.id, "Gauges of it", sum(one.count for one in trial.pieces), len(trial.sizes))
        marked = {word for one in trial.pieces for word in one.name.split()}
        for size in trial.sizes:
            if f"{size:.1f}" not in marked:
                yield Wrong(trial.id, f"A gauge of {size:.1f} mm is listed, and none of its pieces has that size.")
    if trial.kind == "pilot":
        yield from _strips(trial, kit, room)
        yield from _tray(trial, kit)


def _strips(trial: KitTrial, kit: Kit, room: Room) -> Iterator[Wrong]:
    """Strips that do not come to the inside of their space with their gap, or are longer than what is printed."""
    space = next((one for one in room.space if one.id == trial.subject), None)
    if space is None:
        return
    usable = usable_of(space, room.found)
    axes = [one.axis for one in trial.lengths]
    if len(set(axes)) < len(axes):
        yield Wrong(trial.id, "Two of its strips lie along the same side.")
    for strip in trial.lengths:
        side = getattr(usable, strip.axis)
        what = f"Its strip along the {strip.axis} and the gap beside it come to"
        yield from figure(trial.id, what, strip.length + strip.gap, side, unit="mm", off=SUMMED)
    panels = sum(max(one.size[:2]) * one.count for one in trial.pieces if one.name.startswith(_PANEL))
    strips = sum(strip.length for strip in trial.lengths)
    fillers = len(axes) * 2 * kit.module.pitch + sum(one.count for one in trial.pieces) * JOINED
    yield from between(trial.id, "The panels of its strips are long", panels, strips - fillers, strips, unit="mm")


def _tray(trial: KitTrial, kit: Kit) -> Iterator[Wrong]:
    """A tray of the kit that is printed for the pilot and not said, or said and not printed."""
    names = {part.id: part.name for part in kit.parts if part.kind in _TRAYS}
    mine = [one for one in kit.pieces if one.part in names]
    if trial.tray:
        sizes = {one.size for one in mine if names[one.part] == trial.tray}
        named = any(one.name.startswith(trial.tray) for one in trial.pieces)
        if not named and not any(_alike(one.size, size) for one in trial.pieces for size in sizes):
            yield Wrong(trial.id, f"{trial.tray} is said to be printed for it, and none of its pieces is of that part.")
        return
    own = {one.stl_sha256: names[one.part] for one in mine}
    for name in sorted({own[one.sha256] for one in trial.pieces if one.sha256 in own}):
        yield Wrong(trial.id, f"{name} is printed for it, and kit.json does not say that the kit needs one fewer then.")


def _alike(one: Size, other: Size) -> bool:
    """Whether two pieces are as large: which mesh a piece has is looked at on its bed."""
    return max(abs(side - same) for side, same in zip(one, other, strict=True)) <= JOINED


def _entered(trial: KitTrial, room: Room) -> Iterator[Wrong]:
    """Lines for the room file that cannot be read, or are about something else."""
    if not trial.enter and not (trial.lengths or trial.kind != "pilot"):
        return
    try:
        (read,) = tomllib.loads(trial.enter)["found"]
        entry = Found.model_validate(read | _in_mm(read, room))
    except (ValueError, KeyError, TypeError, ValidationError, LengthError) as error:
        yield Wrong(trial.id, f"What to enter after it cannot be read: {str(error).splitlines()[0]}.")
        return
    about = {"pilot": entry.space, "gauge": entry.gauge, _SEAT: "" if entry.seat else None}[trial.kind]
    yield from words(trial.id, "What to enter after it is about", about, trial.subject)
    if trial.lengths and entry.pilot is not None:
        strip = next((one for one in trial.lengths if one.axis == entry.axis), trial.lengths[0])
        yield from figure(
            trial.id, "The strip that is to be entered is", entry.pilot, strip.length, unit="mm", off=SHOWN
        )
    if trial.kind == "pilot":
        yield from words(trial.id, "A strip is to be entered", entry.pilot is not None, bool(trial.lengths))
    if trial.kind == "gauge":
        asked, sizes = ([round(size, 1) for size in some] for some in (entry.sizes, trial.sizes))
        yield from words(trial.id, "Sizes to be entered", asked, sizes)


def _in_mm(read: Mapping[str, Any], room: Room) -> dict[str, Any]:
    """The lengths of an entry as the room file would have them read: plain numbers are in its unit."""
    found: dict[str, Any] = {}
    for key in ("pilot", "tight", "loose"):
        if key in read:
            found[key] = read_length(read[key], room.room.units)
    if "sizes" in read:
        found["sizes"] = tuple(read_length(one, room.room.units) for one in read["sizes"])
    return found


def _pieces(kit: Kit, room: Room, shapes: Mapping[str, Shape]) -> Iterator[Wrong]:
    """Pieces of trials that weigh what their solid cannot, or are of a material that there is not."""
    densities, brims = {one.id: one.density_g_cm3 for one in room.material}, brims_of(kit)
    for trial in kit.first.trials:
        for piece in trial.pieces:
            if piece.material not in densities:
                yield Wrong(trial.id, f"{piece.name} is of {piece.material!r}, which is no material of the room.")
            elif piece.file in shapes:
                g_mm3 = densities[piece.material] / MM3_PER_CM3
                solid_g = volume_of(shapes[piece.file].corners) * g_mm3
                may_g = may_weigh_g(solid_g, brim_mm3(piece.size, brims) * g_mm3)
                yield from between(trial.id, f"One {piece.name} weighs", piece.mass_g, *may_g, unit="g")
            yield from _named(trial, piece)


def _named(trial: KitTrial, piece: TrialPiece) -> Iterator[Wrong]:
    """A file that is named for another material."""
    if not piece.file.rpartition("/")[2].partition(".stl")[0].endswith(f"x_{piece.material}"):
        yield Wrong(trial.id, f"{piece.name} is of {piece.material} by kit.json; its file is {piece.file}.")


def _sums(kit: Kit) -> Iterator[Wrong]:
    """Loads of trials that do not weigh or take about as much as the trials."""
    grams, seconds = (sum(getattr(one, key) for one in kit.first.trials) for key in ("mass_g", "time_s"))
    loads = kit.first.bedfuls
    if not kit.first.trials:
        return
    said_g, said_s, count = sum(one.mass_g for one in loads), sum(one.time_s for one in loads), len(loads)
    most_g, most_s = HEAVY_LOADS * grams + A_LOAD_G * count, LONG_LOADS * seconds + A_LOAD_S * count
    yield from between("trials", "All loads of trials weigh", said_g, LIGHT_LOADS * grams, most_g, unit="g")
    yield from between("trials", "All loads of trials take", said_s, SHORT_LOADS * seconds, most_s, unit="s")
