"""Whether every piece of a kit and of its trials prints without support, in the layers and lines of its printers.

Only pieces are looked at: a part that is cut is never printed whole. A verdict is remembered by the mesh, the layer and
the line.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import chain
from typing import TYPE_CHECKING

from nookwright.checks.files import trial_pieces
from nookwright.checks.print_words import CODES, Flaw, finding
from nookwright.checks.printable import flaws
from nookwright.module.lines import WALL, lines_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from nookwright.checks.bodies import Shape
    from nookwright.checks.verdicts import Verdicts
    from nookwright.exchange.kit import Kit
    from nookwright.ground.findings import Finding
    from nookwright.ground.progress import Progress
    from nookwright.survey.models import Printer, Room

_Setting = tuple[float, float]
_NUMBERS = 6  # of a remembered flaw


def check_prints(
    kit: Kit, room: Room, shapes: Mapping[str, Shape], verdicts: Verdicts, progress: Progress
) -> tuple[Finding, ...]:
    """Check every piece as it lies on a bed.

    Args:
        kit: the kit, its references sound.
        room: says which layer and nozzle a printer has.
        shapes: sound meshes by file; a piece whose mesh is not among them is passed over.
        verdicts: those reached before.
        progress: hears how far it has come.
    """
    settings = _settings(kit, room)
    asked: dict[tuple[str, _Setting], list[str]] = defaultdict(list)
    meshes = {shape.key: shape for shape in shapes.values()}
    for piece in kit.pieces:
        if piece.file in shapes:
            for setting in sorted(settings[piece.id]):
                asked[shapes[piece.file].key, setting].append(piece.id)
    for trial in trial_pieces(kit):
        if trial.file in shapes:
            for setting in sorted(_trial_settings(kit, room, trial.material)):
                asked[shapes[trial.file].key, setting].append(trial.name)
    findings = []
    for (key, setting), pieces in progress.track(asked.items(), len(asked), "looking at how pieces print"):
        found = _flaws(meshes[key], setting, verdicts)
        findings += [finding(piece, flaw) for piece in pieces for flaw in found]
    return tuple(findings)


def _settings(kit: Kit, room: Room) -> Mapping[str, set[_Setting]]:
    """Layer and line of the printers that print each piece."""
    printers = {printer.id: printer for printer in room.printer}
    found: dict[str, set[_Setting]] = defaultdict(set)
    for bedful in kit.bedfuls:
        for item in bedful.items:
            found[item.piece].add(_setting(printers[bedful.printer]))
    return found


def _trial_settings(kit: Kit, room: Room, material: str) -> set[_Setting]:
    """Layer and line of the printers that print trials in a material."""
    names = {bedful.printer for bedful in kit.first.bedfuls if bedful.material == material}
    return {_setting(printer) for printer in room.printer if printer.id in names}


def _setting(printer: Printer) -> _Setting:
    """Layer, and the line that makes the household's wall; where none does, a line as wide as the nozzle."""
    lines = lines_of(WALL, printer.nozzle, printer.layer)
    return printer.layer, lines.width if lines else printer.nozzle


def _flaws(shape: Shape, setting: _Setting, verdicts: Verdicts) -> tuple[Flaw, ...]:
    """The flaws of a mesh, remembered as numbers."""
    layer, line = setting

    def reach() -> tuple[float, ...]:
        return _as_numbers(flaws(shape.vertices, shape.triangles, layer=layer, line=line))

    return _from_numbers(verdicts.of(f"prints {shape.key} {layer} {line}", reach))


def _as_numbers(found: Iterable[Flaw]) -> tuple[float, ...]:
    return tuple(
        chain.from_iterable((float(CODES.index(each.code)), each.count, each.measure, *each.at) for each in found)
    )


def _from_numbers(numbers: tuple[float, ...]) -> tuple[Flaw, ...]:
    rows = [numbers[start : start + _NUMBERS] for start in range(0, len(numbers), _NUMBERS)]
    return tuple(Flaw(CODES[int(code)], int(count), measure, (x, y, z)) for code, count, measure, x, y, z in rows)
