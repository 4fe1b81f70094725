"""Trials written to ``trials/`` of a kit, and what kit.json says of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nookwright.exchange.trial_models import KitTrial, KitTrials, TrialBedful, TrialLength, TrialPiece
from nookwright.exchange.written import unwritten, write_meshes
from nookwright.making.expected import TRIAL_BEDFUL
from nookwright.making.jobs import make
from nookwright.making.pilots import keys_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from nookwright.exchange.written import Written
    from nookwright.ground.progress import Progress
    from nookwright.layout.plan import Plan
    from nookwright.making.gauge_sets import GaugeSet
    from nookwright.making.jobs import Making
    from nookwright.making.pilots import Pilot
    from nookwright.making.trials import Trials
    from nookwright.parts.design import Copy
    from nookwright.solids.mesh import Mesh
    from nookwright.survey.models import Room

FOLDER = "trials"
_DIGITS = 6


@dataclass(frozen=True)
class _Made:
    """The pieces of all trials, and their files."""

    making: Making
    written: Written

    def pieces(self, copies: Iterable[Copy]) -> tuple[TrialPiece, ...]:
        """What is printed for some copies, counted."""
        count = Counter((self.making.part_ids[copy.part.recipe.digest], copy.material) for copy in copies)
        return tuple(
            TrialPiece(
                name=one.piece.name,
                file=f"{FOLDER}/{self.written.piece[one.id][0]}",
                sha256=self.written.piece[one.id][1],
                count=count[one.part, one.material],
                material=one.material,
                size=(_r(one.piece.size[0]), _r(one.piece.size[1]), _r(one.piece.size[2])),
                mass_g=_r(one.mass_g),
            )
            for one in self.making.pieces
            if count[one.part, one.material]
        )

    def time_s(self, pieces: Iterable[TrialPiece]) -> float:
        """To print some pieces one after the other, s."""
        by_file = {f"{FOLDER}/{self.written.piece[one.id][0]}": one.time_s for one in self.making.pieces}
        return _r(sum(by_file[piece.file] * piece.count for piece in pieces))


def write_trials(
    folder: Path,
    room: Room,
    plan: Plan,
    trials: Trials,
    *,
    making: Making,
    meshes: Mapping[str, Mesh],
    progress: Progress,
) -> KitTrials:
    """Write the pieces and bedfuls of all trials.

    Args:
        folder: of the kit.
        room: as surveyed.
        plan: what goes where.
        trials: what is printed first.
        making: pieces and bedfuls of the trials.
        meshes: by the digest of their recipe, those of the trials among them.
        progress: who is told how far it is.
    """
    if not trials.copies:
        return KitTrials()
    (folder / FOLDER).mkdir()
    written = write_meshes(folder / FOLDER, room, making, meshes, progress, whole_parts=False)
    return _said(room, plan, trials, _Made(making, written))


def trials_to_write(room: Room, plan: Plan, trials: Trials) -> KitTrials:
    """The same before there is any file: names with the hash of nothing, figures in closed form.

    Args:
        room: as surveyed.
        plan: what goes where.
        trials: what is printed first.
    """
    if not trials.copies:
        return KitTrials()
    making = make(room, trials.copies, trials.cut, lambda piece: piece.plastic.body_mm3)
    return _said(room, plan, trials, _Made(making, unwritten(making)))


def _said(room: Room, plan: Plan, trials: Trials, made: _Made) -> KitTrials:
    pilots = (_pilot(pilot, room, plan, made) for pilot in trials.pilots)
    gauges = (_gauges(one, room, made) for one in trials.gauges)
    bedfuls = tuple(
        TrialBedful(
            id=TRIAL_BEDFUL.format(number),
            printer=load.printer,
            material=load.material,
            file=f"{FOLDER}/{written[0]}",
            model_sha256=written[1],
            time_s=_r(load.time_s),
            mass_g=_r(load.mass_g),
        )
        for number, (load, written) in enumerate(zip(made.making.loads, made.written.bedful, strict=True), start=1)
    )
    return KitTrials(trials=(*pilots, *gauges, *_seat(trials, made)), bedfuls=bedfuls)


def _pilot(pilot: Pilot, room: Room, plan: Plan, made: _Made) -> KitTrial:
    pieces = made.pieces((*pilot.copies, *keys_of(pilot, room, plan)))
    left_out = f" Left out as too heavy or too slow: {' and '.join(pilot.left_out)}." if pilot.left_out else ""
    tray = " The tray is one of the kit's own: print one fewer later." if pilot.tray else ""
    first = pilot.strips[0] if pilot.strips else None
    space = next(one for one in room.space if one.id == pilot.space)
    return KitTrial(
        id=f"pilot-{pilot.space}",
        kind="pilot",
        subject=pilot.space,
        name=f"pilot of {space.name or space.id}",
        proves="Sides, square, bow, seat and colour: lay each strip, push it to one side, measure what is left."
        + tray
        + left_out,
        enter=f'[[found]]\nspace = "{pilot.space}"\naxis = "{first.axis}"\npilot = {_typed(first.length, room)}\n'
        f"loose = {_typed(round(max(0.1, first.expected_gap), 1), room)}  # or tight = {_typed(0.5, room)}"
        if first
        else "",
        lengths=tuple(
            TrialLength(axis=one.axis.value, length=_r(one.length), gap=_r(one.expected_gap), whole=one.whole)
            for one in pilot.strips
        ),
        tray=pilot.tray.part.name if pilot.tray else "",
        pieces=pieces,
        mass_g=_mass(pieces),
        time_s=made.time_s(pieces),
    )


def _gauges(one: GaugeSet, room: Room, made: _Made) -> KitTrial:
    pieces = made.pieces(one.copies)
    sizes = ", ".join(_typed(round(size, 1), room) for size in one.sizes)
    return KitTrial(
        id=f"gauge-{one.lot}",
        kind="gauge",
        subject=one.lot,
        name=f"gauges of {one.name}",
        proves=f"Its pocket of {one.pocket:.2f} mm: try every thing of the lot in each; the tightest thing counts.",
        enter=f'[[found]]\ngauge = "{one.lot}"\nsizes = [{sizes}]\nsays = ["tight", "goes in", "loose"]',
        sizes=tuple(_r(size) for size in one.sizes),
        goes_in=_r(one.goes_in),
        holds=_r(one.holds),
        risk_g=_r(one.risk_g),
        pieces=pieces,
        mass_g=_mass(pieces),
        time_s=made.time_s(pieces),
    )


def _seat(trials: Trials, made: _Made) -> tuple[KitTrial, ...]:
    if not trials.seat:
        return ()
    pieces = made.pieces(trials.seat)
    return (
        KitTrial(
            id="seat-bar",
            kind="seat",
            subject="",
            name="bar of the seat",
            proves="Cones and sockets over a length: it drops onto a strip by itself, along the width and the depth.",
            enter='[[found]]\nseat = "goes in"  # or "tight", "loose"',
            pieces=pieces,
            mass_g=_mass(pieces),
            time_s=made.time_s(pieces),
        ),
    )


def _typed(length: float, room: Room) -> str:
    """A length as a room file takes it: a plain number in mm only where plain numbers there are mm."""
    return f"{length:g}" if room.room.units == "mm" else f'"{length:g} mm"'


def _mass(pieces: Iterable[TrialPiece]) -> float:
    return _r(sum(piece.mass_g * piece.count for piece in pieces))


def _r(value: float) -> float:
    return round(value, _DIGITS) + 0.0
