"""Whether every piece of a kit and of its trials prints without support, with what its printers print it with.

Only pieces are looked at: a part that is cut is never printed whole. A verdict is remembered by the mesh and by all
that it was printed with.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from itertools import chain
from typing import TYPE_CHECKING

from nookwright.checks.closing import losses_of
from nookwright.checks.files import trial_pieces
from nookwright.checks.print_words import CODES, Flaw, finding
from nookwright.checks.printable import Setting, flaws
from nookwright.checks.shrinking import shrinkage_of
from nookwright.checks.strength.plastics import plastic_of
from nookwright.module.lines import WALL, lines_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit, Piece
    from nookwright.exchange.trial_models import TrialPiece
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.survey.models import Room

_NUMBERS = 8  # of a remembered flaw


def check_prints(
    kit: Kit, room: Room, shapes: Mapping[str, Shape], verdicts: Verdicts, progress: Progress
) -> tuple[Finding, ...]:
    """Check every piece as it lies on a bed.

    Args:
        kit: the kit, its references sound.
        room: says which layer and nozzle a printer has, and which plastic a material is.
        shapes: sound meshes by file; a piece whose mesh is not among them is passed over.
        verdicts: those reached before.
        progress: hears how far it has come.
    """
    settings = Settings(kit, room)
    asked: dict[tuple[str, Setting], list[str]] = defaultdict(list)
    meshes = {shape.key: shape for shape in shapes.values()}
    for piece in kit.pieces:
        if piece.file in shapes:
            for setting in settings.of_piece(piece):
                asked[shapes[piece.file].key, setting].append(piece.id)
    for trial in trial_pieces(kit):
        if trial.file in shapes:
            for setting in settings.of_trial(trial):
                asked[shapes[trial.file].key, setting].append(trial.name)
    findings = []
    for (key, setting), pieces in progress.track(asked.items(), len(asked), "looking at how pieces print"):
        found = _flaws(meshes[key], setting, verdicts)
        findings += [finding(piece, flaw) for piece in pieces for flaw in found]
    return tuple(findings)


class Settings:
    """What the pieces of a kit are printed with."""

    def __init__(self, kit: Kit, room: Room) -> None:
        """Of a kit.

        Args:
            kit: says what is printed where, and what is known of its printers.
            room: says layer, nozzle and plastic.
        """
        self._printers = {printer.id: printer for printer in room.printer}
        self._shrinkage = {material.id: shrinkage_of(plastic_of(material)) for material in room.material}
        self._errors = {(printer.id, errors.material): errors for printer in kit.printers for errors in printer.errors}
        self._lettered = {part.id: bool(part.parameters.get("text")) for part in kit.parts}
        self._on: dict[str, set[str]] = defaultdict(set)
        self._held = {(pads.piece, bedful.printer) for bedful in kit.bedfuls for pads in bedful.pads}
        for bedful in kit.bedfuls:
            for item in bedful.items:
                self._on[item.piece].add(bedful.printer)
        self._trials: dict[str, set[str]] = defaultdict(set)
        for load in kit.first.bedfuls:
            self._trials[load.material].add(load.printer)

    def of_piece(self, piece: Piece) -> list[Setting]:
        """Those of the printers that print a piece."""
        lettered = self._lettered[piece.part]
        found = set()
        for name in self._on[piece.id]:
            setting = self._of(name, piece.material, lettered=lettered)
            # Pads hold the corners down: that they lie where they should is looked at on the bed.
            found.add(replace(setting, shrinkage=0.0) if (piece.id, name) in self._held else setting)
        return sorted(found)

    def of_trial(self, trial: TrialPiece) -> list[Setting]:
        """Those of the printers that print trials in its material."""
        return sorted({self._of(name, trial.material, lettered=False) for name in self._trials[trial.material]})

    def _of(self, name: str, material: str, *, lettered: bool) -> Setting:
        """Layer, and the line that makes the household's wall; where none does, a line as wide as the nozzle."""
        printer = self._printers[name]
        lines = lines_of(WALL, printer.nozzle, printer.layer)
        return Setting(
            layer=printer.layer,
            line=lines.width if lines else printer.nozzle,
            losses=losses_of(self._errors.get((name, material))),
            shrinkage=self._shrinkage[material],
            lettered=lettered,
        )


def _flaws(shape: Shape, setting: Setting, verdicts: Verdicts) -> tuple[Flaw, ...]:
    """The flaws of a mesh, remembered as numbers."""

    def reach() -> tuple[float, ...]:
        return _as_numbers(flaws(shape.vertices, shape.triangles, setting))

    return _from_numbers(verdicts.of(f"how {shape.key} prints with {setting}", reach))


def _as_numbers(found: Iterable[Flaw]) -> tuple[float, ...]:
    return tuple(
        chain.from_iterable(
            (float(CODES.index(each.code)), each.count, each.measure, each.limit, *each.at, each.extent)
            for each in found
        )
    )


def _from_numbers(numbers: tuple[float, ...]) -> tuple[Flaw, ...]:
    rows = [numbers[start : start + _NUMBERS] for start in range(0, len(numbers), _NUMBERS)]
    return tuple(
        Flaw(CODES[int(code)], int(count), measure, limit, (x, y, z), extent)
        for code, count, measure, limit, x, y, z, extent in rows
    )
